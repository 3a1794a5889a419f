"""The door to git, which no other room runs: a tree of programme files as it is at another commit.

What is proposed lies in the checkout too, so nothing in it is believed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import NamedTuple

from ..escaping import printable
from ..tree import OnDisk
from .clone import clone_of, path_in
from .commit import GONE, commit_of, looked_up
from .contents import files_of
from .kept import is_kept
from .names import FILES, entries, module_at
from .program import HistoryError
from .tree import Committed

__all__ = ["Committed", "HistoryError", "Past", "is_kept", "past"]


class Past(NamedTuple):
    """A commit: the tree that is asked for; or else YAML files anywhere, as it may have moved."""

    tree: Committed | None
    elsewhere: frozenset[str] = frozenset()
    """Paths below the top of the checkout."""
    gone: frozenset[str] = frozenset()
    """Those that are no plain files here, by exactly that path."""


def past(root: Path, ref: str, most: int) -> Past:
    """What the commit `ref` has where `root` lies here.

    Of files longer than `most` bytes only that they are too long is known. Raises HistoryError.
    """
    clone = clone_of(root, ref)
    prefix = path_in(clone.top, root)
    commit = commit_of(clone, ref)
    (found,) = looked_up(clone, commit, [prefix])
    if found.kind == "tree":
        return Past(Committed(root, files_of(clone, commit, prefix, found.object, most)))
    if found.kind == "commit":
        raise HistoryError(module_at(prefix))
    if found.kind in GONE and found.kind != "dangling":
        raise HistoryError(f"{printable(prefix)} is a link at {printable(ref)} that {GONE[found.kind]}")
    # Lists all of the commit, so that one of which a part is missing is told, and not taken for an empty one.
    files = [name for name, entry in entries(clone, commit) if entry.mode in FILES]
    elsewhere = frozenset(name for name in files if name.endswith(".yaml"))
    return Past(None, elsewhere, elsewhere - _here(clone.top, elsewhere))


def _here(top: Path, names: Iterable[str]) -> set[str]:
    """Those names that are plain files below `top`, in exactly these letters and through no link."""
    disk = OnDisk(top)

    @cache
    def entries(folder: Path) -> Mapping[str, str]:
        if folder != top and entries(folder.parent).get(folder.name) != "folder":
            return {}
        with suppress(OSError):
            return disk.entries(folder)
        return {}

    return {name for name in names if entries((top / name).parent).get((top / name).name) == "file"}
