"""The names in a commit; those that no git would check out are never followed."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from ..escaping import printable
from ..findings import shown
from .program import MOST_NAMES, TOO_MANY, Clone, HistoryError, git

FILES, LINK, MODULE = ("100644", "100755", "100664"), "120000", "160000"
_MOST_OUTPUT = MOST_NAMES * 200
# Signs that a file system may leave out of a name (HFS+; the list is from memory).
_IGNORED = re.compile("[\u200c-\u200f\u202a-\u202e\u206a-\u206f\ufeff]")
_NO_NAME = re.compile(r"|\.{1,2}|\.git([ .]*|:.*)|git~[0-9]+[ .]*|.*[\\\0].*", re.DOTALL | re.IGNORECASE)
"""Names that lead elsewhere, or to a repository, on one system or another."""


class Entry(NamedTuple):
    """What a name in a commit is, and the object by which git finds it."""

    mode: str
    object: str


def entries(clone: Clone, tree: str) -> Iterator[tuple[str, Entry]]:
    """Every name below a folder of a commit, folders too."""
    told = git(clone, "ls-tree", "-r", "-t", "-z", "--full-tree", tree, most=_MOST_OUTPUT)
    lines = told.split(b"\0")[:-1]
    if len(lines) > MOST_NAMES:
        raise HistoryError(TOO_MANY)
    for line in lines:
        about, name = line.split(b"\t", 1)
        mode, _, sha = about.decode("ascii").split()
        yield os.fsdecode(name), Entry(mode, sha)


def safe(entries: Iterable[tuple[str, Entry]]) -> dict[str, Entry]:
    """The same, where every name is one that can be checked out, and stands once."""
    found: dict[str, Entry] = {}
    for name, entry in entries:
        if any(_NO_NAME.fullmatch(_IGNORED.sub("", part)) for part in name.split("/")):
            raise HistoryError(f"the other commit has a name which no git checks out: {shown(name)}")
        if name in found:
            raise HistoryError(f"the other commit has one name twice: {shown(name)}")
        if entry.mode == MODULE:
            raise HistoryError(module_at(name))
        found[name] = entry
    return found


def module_at(name: str) -> str:
    """What is said of a module."""
    what = f"{printable(name)} is a repository inside this one, whose files git keeps elsewhere"
    return f"{what}; take the files over, or leave --base out"
