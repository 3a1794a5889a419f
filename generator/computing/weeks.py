"""Weeks as sums over their sessions, and how one week compares with another. Pure.

A day that is trained twice a week counts twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ..reading.amounts import Number
from .totals import Totals

Counted = tuple[str, int, int, Totals]
"""Level id, week, how often the session is trained in it, and its totals."""


@dataclass(slots=True)
class WeekTotals:
    """What a level does in a week. Times in seconds, `load_volume` in kg; `patterns` has sets."""

    sessions: int = 0
    seconds: Number = 0
    sets: int = 0
    tension: Number = 0
    contacts: int = 0
    load_volume: Number = 0
    patterns: dict[str, int] = field(default_factory=dict)

    def add(self, times: int, counted: Totals) -> None:
        """Count a session in, as often as it is trained."""
        self.sessions += times
        self.seconds += times * counted.seconds
        self.sets += times * counted.work.sets
        self.tension += times * counted.work.tension
        self.contacts += times * counted.contacts
        self.load_volume += times * counted.load_volume
        for pattern, work in counted.patterns.items():
            self.patterns[pattern] = self.patterns.get(pattern, 0) + times * work.sets

    def sets_of(self, patterns: Iterable[str]) -> int:
        """Sets of these patterns together."""
        return sum(self.patterns.get(pattern, 0) for pattern in patterns)

    def lighter_than(self, before: WeekTotals) -> bool:
        """Fewer sets or less time under tension, and no more of the other; of equal work, the same for
        landings and load-volume. Common practice, no source."""
        now, then = (self.sets, self.tension), (before.sets, before.tension)
        if now == then:
            now, then = (self.contacts, self.load_volume), (before.contacts, before.load_volume)
        return now != then and all(mine <= theirs for mine, theirs in zip(now, then, strict=True))


def week_totals(
    levels: Sequence[str], weeks: int, sessions: Iterable[Counted]
) -> dict[str, tuple[WeekTotals, ...]]:
    """Totals of every level, by week; of 0 where nothing is trained."""
    totals = {level: tuple(WeekTotals() for _ in range(weeks)) for level in levels}
    for level, week, times, counted in sessions:
        totals[level][week - 1].add(times, counted)
    return totals


def change(before: Number, now: Number) -> float | None:
    """Per cent from one amount to another; None where there was none, as no percentage says how much."""
    return float(now - before) * 100 / float(before) if before else None


def up_by_more(before: Number, now: Number, per_cent: Number) -> bool:
    """Whether an amount goes up by more than so many per cent; exact, and never from nothing."""
    return before > 0 and now * 100 > before * (100 + per_cent)
