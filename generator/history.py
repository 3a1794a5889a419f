"""The door to git, which no other module runs: a tree of programme files as it is at another commit."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from generator.escaping import printable
from generator.findings import nearest

_OF_A_HOOK = frozenset({"GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX"})
_LINK, _MODULE = "120000", "160000"
_GONE = {
    b"symlink": "leads out of the checkout",
    b"dangling": "leads to nothing",
    b"loop": "leads to itself",
    b"notdir": "leads through a file",
}


class HistoryError(Exception):
    """The other tree cannot be read: why, and what to do."""


class _Entry(NamedTuple):
    """A file at a commit: `name` below the folder that is asked for, `object` by which git finds it."""

    mode: str
    object: str
    name: str


def tree_at(root: Path, ref: str, into: Path) -> bool:
    """Write the files that `root` has at the commit `ref` into the folder `into`, which exists.

    Gives False, and writes nothing, where `root` does not exist in that commit. Links inside the commit are
    followed there. Raises HistoryError.
    """
    top = _top(root)
    prefix = root.resolve().relative_to(top).as_posix()
    commit = _commit(top, ref)
    folder = commit if prefix == "." else f"{commit}:{prefix}"
    try:
        entries = list(_entries(top, folder))
    except HistoryError:
        return False
    _no_modules(entries)
    linked = _followed(top, commit, prefix, [entry for entry in entries if entry.mode == _LINK])
    plain = [entry for entry in entries if entry.mode != _LINK]
    for entry, content in zip(plain, _contents(top, [e.object for e in plain]), strict=True):
        _write(into, entry.name, content)
    for name, content in linked:
        _write(into, name, content)
    return True


def _top(root: Path) -> Path:
    """The folder of the checkout that `root` lies in."""
    try:
        told = _git(root, "rev-parse", "--show-toplevel")
    except HistoryError as error:
        if "not a git repository" not in str(error):
            raise
        hint = "run the command in a clone made with git, or leave --base out"
        raise HistoryError(f"{root} lies in no git checkout, so nothing earlier is known; {hint}") from None
    return Path(os.fsdecode(told.removesuffix(b"\n"))).resolve()


def _commit(top: Path, ref: str) -> str:
    """The full name of the commit that `ref` means."""
    if not ref or ref.startswith("-"):
        raise HistoryError(f"{printable(ref)!r} is no name of a branch, a tag or a commit")
    try:
        return _git(top, "rev-parse", "--verify", "--quiet", f"{ref}^{{commit}}").decode().strip()
    except HistoryError:
        raise HistoryError(_unknown(top, ref)) from None


def _unknown(top: Path, ref: str) -> str:
    message = f"this checkout has no commit called {printable(ref)!r}"
    known = _git(top, "for-each-ref", "--format=%(refname:short)").decode("utf-8", "replace").split("\n")
    remote = next((name for name in known if name.endswith(f"/{ref}")), "")
    if remote:
        return f"{message}; did you mean {remote}?"
    if _git(top, "rev-parse", "--is-shallow-repository").strip() != b"true":
        return f"{message}; {nearest(ref, filter(None, known)) or f'fetch it first: git fetch origin {ref}'}"
    how = f"git fetch --depth=1 origin {ref}, then compare with FETCH_HEAD"
    if ref.startswith(("HEAD", "@", "FETCH_HEAD")) or "~" in ref or "^" in ref:
        how = "git fetch --unshallow"
    return f"{message}: it is a shallow clone, which holds the newest commits only. Fetch it first: {how}"


def _entries(top: Path, folder: str) -> Iterator[_Entry]:
    """Every file below a folder of a commit; raises HistoryError where it is none."""
    for line in _git(top, "ls-tree", "-r", "-z", folder).split(b"\0"):
        if line:
            about, name = line.split(b"\t", 1)
            mode, _, sha = about.decode().split()
            yield _Entry(mode, sha, os.fsdecode(name))


def _followed(top: Path, commit: str, prefix: str, links: Sequence[_Entry]) -> Iterator[tuple[str, bytes]]:
    """The files that links lead to, each under the name of its link."""
    before = "" if prefix == "." else f"{prefix}/"
    for link in links:
        told = _batch(top, [f"{commit}:{before}{link.name}"], "--follow-symlinks")
        head, _, rest = told.partition(b"\n")
        word, *more = head.split()
        if word in _GONE or not more or more[0] == b"missing":
            why = _GONE.get(word, "leads to nothing")
            message = f"{printable(before + link.name)} is a link that {why}"
            raise HistoryError(f"{message}, so its earlier content is not known; keep the file itself there")
        if more[0] == b"blob":
            yield link.name, rest[: int(more[1])]
            continue
        below = list(_entries(top, word.decode()))
        _no_modules(below)
        if any(entry.mode == _LINK for entry in below):
            message = f"{printable(before + link.name)} is a link to a folder that holds links itself"
            raise HistoryError(f"{message}; keep the files themselves there")
        for entry, content in zip(below, _contents(top, [e.object for e in below]), strict=True):
            yield f"{link.name}/{entry.name}", content


def _no_modules(entries: Sequence[_Entry]) -> None:
    for entry in entries:
        if entry.mode == _MODULE:
            raise HistoryError(
                f"{printable(entry.name)} is a repository inside this one, whose files git keeps elsewhere; "
                "take the files over, or leave --base out"
            )


def _contents(top: Path, objects: Sequence[str]) -> Iterator[bytes]:
    """The files behind object names, in order."""
    told, at = _batch(top, objects), 0
    for _ in objects:
        end = told.index(b"\n", at)
        head = told[at:end].split()
        if head[-1] == b"missing":
            raise HistoryError(
                "a file of the other commit is not in this clone; fetch it: git fetch --refetch"
            )
        size = int(head[2])
        yield told[end + 1 : end + 1 + size]
        at = end + 1 + size + 1


def _write(into: Path, name: str, content: bytes) -> None:
    path = into / PurePosixPath(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)


def _batch(top: Path, objects: Sequence[str], *options: str) -> bytes:
    asked = "".join(f"{one}\n" for one in objects)
    return _git(top, "cat-file", "--batch", *options, asked=os.fsencode(asked))


def _git(where: Path, *words: str, asked: bytes = b"") -> bytes:
    """What git prints. Raises HistoryError with what it says when it fails."""
    try:
        done = subprocess.run(
            ["git", "-C", str(where), *words],
            input=asked,
            capture_output=True,
            env=_surroundings(),
            check=False,
        )
    except OSError as error:
        message = f"git cannot be run ({error.strerror}); --base reads the other tree from it"
        raise HistoryError(f"{message}: install git, or leave --base out") from None
    if done.returncode:
        said = done.stderr.decode("utf-8", "replace").strip().removeprefix("fatal: ")
        raise HistoryError(f"git says: {printable(said)}" if said else "git gave no answer")
    return done.stdout


def _surroundings() -> dict[str, str]:
    """Those of the command, less what a hook says about another checkout; messages are to be in English."""
    own = {name: value for name, value in os.environ.items() if name not in _OF_A_HOOK}
    return {**own, "LC_ALL": "C"}
