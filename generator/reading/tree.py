"""A folder of files as it lies on the disk or in a commit: names and bytes, no link followed."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Literal, Protocol

Kind = Literal["file", "folder", "link", "other"]
_PLAIN = (
    os.O_RDONLY
    | getattr(os, "O_BINARY", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NONBLOCK", 0)
)
"""How a file is opened: no link is followed, and a pipe is not waited for."""


class Tree(Protocol):
    """Files and folders below `root`, which is what their paths begin with in messages."""

    @property
    def root(self) -> Path:
        """The folder itself."""

    def entries(self, folder: Path) -> Mapping[str, Kind]:
        """What each name in a folder is. Raises OSError."""

    def content(self, file: Path, most: int) -> bytes:
        """The first `most` bytes of a file. Raises OSError, for all that is no plain file too."""


class OnDisk:
    """The files below a folder of this machine."""

    def __init__(self, root: Path) -> None:
        self.root = root

    def entries(self, folder: Path) -> Mapping[str, Kind]:
        """What each name in a folder is. Raises OSError."""
        with os.scandir(folder) as found:
            return {entry.name: _kind(entry) for entry in found}

    def content(self, file: Path, most: int) -> bytes:
        """The first `most` bytes of a file. Raises OSError, for all that is no plain file too."""
        with os.fdopen(os.open(file, _PLAIN), "rb") as opened:
            if not stat.S_ISREG(os.fstat(opened.fileno()).st_mode):
                raise OSError(errno.EINVAL, "Not a file")
            return opened.read(most)


def last_saved(root: Path) -> Path | None:
    """The programme file of a tree that was written last; links are not followed."""
    with suppress(OSError):
        folders = [Path(entry.path) for entry in os.scandir(root) if _kind(entry) == "folder"]
        found = [one for folder in (root, *folders) for one in _files(folder)]
        return max(found)[1] if found else None
    return None


def _files(folder: Path) -> Iterator[tuple[int, Path]]:
    for entry in os.scandir(folder):
        if entry.name.endswith(".yaml") and _kind(entry) == "file":
            yield entry.stat(follow_symlinks=False).st_mtime_ns, folder / entry.name


def _kind(entry: os.DirEntry[str]) -> Kind:
    if entry.is_symlink():
        return "link"
    if entry.is_dir(follow_symlinks=False):
        return "folder"
    return "file" if entry.is_file(follow_symlinks=False) else "other"
