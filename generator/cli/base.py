"""What a verb compares with: the tree as it is at another commit."""

from __future__ import annotations

from pathlib import Path

from ..comparing import Base, base_at
from ..reading.git_tree import HistoryError, past
from ..reading.source import MOST_BYTES
from .saying import misuse


def base_of(root: Path, ref: str) -> Base:
    """What `root` holds at the commit `ref`."""
    try:
        return base_at(ref, past(root, ref, MOST_BYTES))
    except HistoryError as error:
        misuse(str(error))
