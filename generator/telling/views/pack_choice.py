"""What of a version is printed as a pack: levels and weeks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ...computing.facts import ComputedSession
from ...reading.catalogue import VersionEntry
from ...reading.findings import in_weeks, listed

COLUMNS = 5
"""Most weeks side by side: what the width of a sheet holds beside names of exercises and levels."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What of a version is printed: ids of levels and numbers of weeks, each in the version's order."""

    levels: tuple[str, ...]
    weeks: tuple[int, ...]

    def facts(self, facts: Iterable[ComputedSession]) -> list[ComputedSession]:
        """The chosen ones."""
        return [one for one in facts if one.plan.level in self.levels and one.plan.week in self.weeks]


def whose(version: VersionEntry, choice: Choice) -> str:
    """`Starter and Steady, weeks 1 and 2`; nothing when the choice is the whole version."""
    names = [level.name for level in version.levels if level.id in choice.levels]
    parts = [
        listed(names, "and") if len(names) < len(version.levels) else "",
        in_weeks(choice.weeks) if len(choice.weeks) < version.model.weeks else "",
    ]
    return ", ".join(part for part in parts if part)


def columns(weeks: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """The weeks in groups as even as can be."""
    groups = -(-len(weeks) // COLUMNS)
    size = -(-len(weeks) // groups)
    for first in range(0, len(weeks), size):
        yield tuple(weeks[first : first + size])
