"""What holds for every verb that writes into a tree."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from ..reading.tree import Kind, OnDisk
from .saying import misuse


def is_no_link(*paths: Path) -> None:
    """What is written into a tree stays in it."""
    for path in paths:
        if path.is_symlink():
            misuse(f"{path} is a link, and nothing is written through one; put the folder itself there")


class Changed(OnDisk):
    """The tree as it would be with another text in one file."""

    def __init__(self, root: Path, file: Path, text: bytes) -> None:
        super().__init__(root)
        self._file, self._text = file, text

    def content(self, file: Path, most: int) -> bytes:
        """What the file holds, or would hold."""
        return self._text[:most] if file == self._file else super().content(file, most)

    def entries(self, folder: Path) -> Mapping[str, Kind]:
        """What each name in a folder is, or would be."""
        found = super().entries(folder)
        return {**found, self._file.name: "file"} if folder == self._file.parent else found
