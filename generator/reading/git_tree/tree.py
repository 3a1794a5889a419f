"""A tree of programme files as it is at a commit, in memory."""

from __future__ import annotations

import errno
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from ..tree import Kind


class Committed:
    """A tree as it is at a commit, held in memory. Its paths begin with `root`, as those of the tree here do.

    A link inside the commit is followed there; one that cannot be is a file that cannot be read.
    """

    def __init__(self, root: Path, files: Mapping[str, bytes | str]) -> None:
        """Take files by their names below the root: their bytes, or why they cannot be read."""
        self.root, self._files = root, files
        self._folders: dict[str, dict[str, Kind]] = {"": {}}
        for name in files:
            self._add(PurePosixPath(name), "file")

    def _add(self, path: PurePosixPath, kind: Kind) -> None:
        folder = "" if len(path.parts) == 1 else str(path.parent)
        if folder not in self._folders:
            self._folders[folder] = {}
            self._add(path.parent, "folder")
        self._folders[folder][path.name] = kind

    def entries(self, folder: Path) -> Mapping[str, Kind]:
        """What each name in a folder is. Raises OSError."""
        name = folder.relative_to(self.root).as_posix()
        return self._folders["" if name == "." else name]

    def content(self, file: Path, most: int) -> bytes:
        """The first `most` bytes of a file. Raises OSError."""
        found = self._files[file.relative_to(self.root).as_posix()]
        if isinstance(found, str):
            raise OSError(errno.EINVAL, found)
        return found[:most]
