"""Which repository says what was published: never one that a proposal can bring along."""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

from ..escaping import printable
from .commit import commit_of, looked_up
from .program import Clone, HistoryError

_LONGEST_PATH = 4096


def clone_of(root: Path, ref: str) -> Clone:
    """The checkout that a tree lies in: that of the settings beside it, or else its own.

    What a proposal can bring along is no checkout of ours: a folder that poses as one, or a module in the
    place of a folder of `ref`.
    """
    tree = Path(os.path.abspath(root))
    start = tree.parent if os.path.lexists(tree.parent / "mkdocs.yml") else tree
    clones = list(_clones(start, tree))
    if not clones:
        hint = "run the command in a clone made with git, or leave --base out"
        raise HistoryError(f"{root} lies in no git checkout, so nothing earlier is known; {hint}")
    for inner, outer in pairwise(clones):
        if not inner.is_module:
            break
        _is_module_there(inner, outer, ref)
    return clones[0]


def clones_above(folder: Path) -> Iterator[Clone]:
    """Every checkout that a folder lies in, the nearest first. Raises HistoryError for what poses as one."""
    return _clones(folder, folder)


def _clones(start: Path, tree: Path) -> Iterator[Clone]:
    """Every checkout from a folder upwards."""
    for top in (start, *start.parents):
        mark = top / ".git"
        if mark.is_symlink():
            raise HistoryError(f"{mark} is a link, and a link is never taken for a repository")
        git = mark if mark.is_dir() else _named_by(mark) if mark.is_file() else None
        if git and (git == tree / ".git" or not git.is_relative_to(tree)):
            yield Clone(top, git, is_module=git != mark and not (git / "commondir").is_file())


def _named_by(mark: Path) -> Path:
    """The repository that the file `.git` of a worktree or module names. Raises HistoryError."""
    try:
        with mark.open("rb") as file:
            word, _, path = file.read(_LONGEST_PATH).partition(b": ")
    except OSError as error:
        raise HistoryError(f"{mark} cannot be read: {error.strerror}") from None
    git = mark.parent / os.fsdecode(path.rstrip(b"\r\n"))
    if word != b"gitdir" or b"\0" in path or not git.is_dir():
        raise HistoryError(f"{mark} names no repository; is the clone that it belongs to still there?")
    return git.resolve()


def _is_module_there(inner: Clone, outer: Clone, ref: str) -> None:
    """Raise HistoryError if what is a module here is a folder of the outer checkout at `ref`."""
    try:
        commit = commit_of(outer, ref)
    except HistoryError:
        return
    path = path_in(outer.top, inner.top)
    (found,) = looked_up(outer, commit, [path])
    if found.kind == "tree":
        message = f"{path} is a repository of its own here, and a folder of {outer.top} at {ref}"
        raise HistoryError(printable(f"{message}; put the folder back, so that it can be compared"))


def path_in(top: Path, root: Path) -> str:
    """Where a tree lies below `top`, as it is written: a link would lead elsewhere in the commit."""
    tree = Path(os.path.abspath(root))
    path = tree.relative_to(top).as_posix()
    for folder in (top, *tree.parents):
        if folder.is_relative_to(top) and folder.is_symlink():
            raise HistoryError(f"{printable(str(folder))} is a link; name the folder itself")
    if "\n" in path:
        raise HistoryError("--base cannot be used where the name of a folder has a line break; rename it")
    return "" if path == "." else path
