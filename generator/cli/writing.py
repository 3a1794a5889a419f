"""What holds for every verb that writes into a tree."""

from __future__ import annotations

from pathlib import Path

from .saying import misuse


def is_no_link(*paths: Path) -> None:
    """What is written into a tree stays in it."""
    for path in paths:
        if path.is_symlink():
            misuse(f"{path} is a link, and nothing is written through one; put the folder itself there")
