"""The archive: every version of a programme, a row each."""

from __future__ import annotations

from dataclasses import dataclass

from .changed import ChangeView
from .versions import VersionPage

MOST_LINES = 10
"""Sentences of one version in the archive; the rest is on its own page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ArchiveRow:
    """A version in the archive, with what differs from the one before. `left` counts sentences not shown."""

    name: str
    phase: str
    dates: str
    address: str
    plan: str
    changes: str
    change: ChangeView | None
    lines: tuple[str, ...]
    left: int


def archive_row(page: VersionPage) -> ArchiveRow:
    """The archive's line of a version."""
    told = page.change.days if page.change else ()
    lines = [f"{title}: {line}" if title else line for title, own in told for line in own]
    left = max(len(lines) - MOST_LINES, 0) + (len(page.change.more) if page.change else 0)
    return ArchiveRow(
        name=page.name,
        phase=page.phase,
        dates=page.dates,
        address=page.address,
        plan=page.plan,
        changes=page.changes,
        change=page.change,
        lines=tuple(lines[:MOST_LINES]),
        left=left,
    )
