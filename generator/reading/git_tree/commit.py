"""The one commit that a name means, and what lies at a path of it."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from typing import NamedTuple

from ..escaping import printable
from ..findings import listed, nearest
from .program import Clone, HistoryError, git

GONE = {
    "symlink": "leads out of the checkout",
    "dangling": "leads to nothing",
    "loop": "leads to itself",
    "notdir": "leads through a file",
}
_FULL = re.compile(r"[0-9a-f]{40}|[0-9a-f]{64}")
_NO_COMMIT = re.compile(r"\s*|[-^:].*|.*(\.\.|\^[!@{-]|:|[\x00-\x1f\x7f\ud800-\udfff]).*|.*@\{", re.DOTALL)
"""What git reads as an option, several commits, a search or a file; `main^{commit}` is not needed."""


def commit_of(clone: Clone, ref: str) -> str:
    """The full name of the one commit that `ref` means."""
    if _NO_COMMIT.fullmatch(ref):
        raise HistoryError(f"{printable(ref)!r} is no name of a branch, a tag or a commit")
    try:
        told = git(clone, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{ref}^{{commit}}")
    except HistoryError:
        raise HistoryError(_unknown(clone, ref)) from None
    commit = told.decode("ascii", "replace").strip()
    if not _FULL.fullmatch(commit):
        raise HistoryError(f"{printable(ref)!r} is no name of a branch, a tag or a commit")
    _is_clear(clone, ref)
    return commit


def _is_clear(clone: Clone, ref: str) -> None:
    """Git prefers a tag to a branch of its name, and whoever may push may make a tag."""
    name = re.split(r"[~^]|@\{", ref)[0]
    places = [f"refs/{below}{name}" for below in ("tags/", "heads/", "remotes/")]
    told = git(clone, "for-each-ref", "--format=%(refname) %(objectname) %(*objectname)", *places)
    found = dict(line.split(" ", 1) for line in told.decode("utf-8", "replace").splitlines())
    meant = {place: found[place].split()[-1] for place in places if place in found}
    if len(set(meant.values())) > 1:
        places_ = listed(list(meant), "and")
        raise HistoryError(f"{name!r} means more than one commit here: {places_}; write out the one you mean")


def _unknown(clone: Clone, ref: str) -> str:
    message = f"this checkout has no commit called {printable(ref)!r}"
    known = git(clone, "for-each-ref", "--format=%(refname:short)").decode("utf-8", "replace").split("\n")
    remote = next((name for name in known if name.endswith(f"/{ref}")), "")
    if remote:
        return f"{message}; did you mean {printable(remote)}?"
    if git(clone, "rev-parse", "--is-shallow-repository").strip() != b"true":
        return f"{message}; {nearest(ref, filter(None, known)) or f'fetch it first: git fetch origin {ref}'}"
    how = f"git fetch --depth=1 origin {ref}, then compare with FETCH_HEAD"
    if ref.startswith(("HEAD", "@", "FETCH_HEAD")) or "~" in ref or "^" in ref:
        how = "git fetch --unshallow"
    return f"{message}: it is a shallow clone, which holds the newest commits only. Fetch it first: {how}"


class Found(NamedTuple):
    """What lies at a path of a commit: `kind` is a type of git's, `missing`, or a reason in `GONE`."""

    kind: str
    object: str = ""


def looked_up(clone: Clone, commit: str, paths: Sequence[str]) -> list[Found]:
    """What lies at paths of a commit; links are followed inside it."""
    asked = "".join(f"{commit}:{path}\n" if path else f"{commit}^{{tree}}\n" for path in paths)
    told = git(clone, "cat-file", "--batch-check", "--follow-symlinks", asked=os.fsencode(asked))
    found, at = [], 0
    for _ in paths:
        end = told.index(b"\n", at)
        words = told[at:end].decode("utf-8", "replace").split(" ")
        at = end + 1
        if words[0] in GONE:
            found.append(Found(words[0]))
            at += int(words[1]) + 1
        elif _FULL.fullmatch(words[0]):
            found.append(Found(words[1], words[0]))
        else:
            found.append(Found("missing"))
    return found
