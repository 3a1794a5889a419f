"""The plan against what was done: stations of each day and level, and days by week. Sums over the whole squad."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from ..reading.amounts import Number
from .held import HeldSession, mean
from .plans import PlannedBouts

DayKey = tuple[str, str, str, str]
"""Programme, version, day and level."""


@dataclass(slots=True)
class StationSum:
    """One station of a day and level over all its sessions: bouts, and the athletes who met, eased or skipped it."""

    plan: PlannedBouts
    label: str
    exercise: str
    planned: int = 0
    done: int = 0
    skipped: int = 0
    ways: Counter[str] = field(default_factory=Counter)
    met_by: set[str] = field(default_factory=set)
    eased_by: set[str] = field(default_factory=set)
    skipped_by: set[str] = field(default_factory=set)

    @property
    def easier(self) -> int:
        """Bouts done an easier way."""
        return self.ways.total()

    @property
    def key(self) -> DayKey:
        """Which day and level it is of."""
        return self.plan.key


@dataclass(frozen=True, slots=True)
class DaySum:
    """A day of a level in a week: means of its sessions, done and begun. Times in seconds."""

    plan: PlannedBouts
    sessions: int
    seconds: float | None
    effort: float | None
    above_meant: float | None
    """Mean of felt - meant, of the sessions that have both."""

    @property
    def planned_seconds(self) -> Number:
        """Of the running order."""
        return self.plan.seconds


def station_sums(sessions: Iterable[HeldSession]) -> list[StationSum]:
    """Every station that was planned in one of these sessions, as the plan has them."""
    found: dict[tuple[DayKey, str, str], StationSum] = {}
    for one in sessions:
        for label, done in (one.stations or {}).items():
            exercise = one.plan.exercises[label]
            key = (one.plan.key, label, exercise)
            if key not in found:
                found[key] = StationSum(one.plan, label, exercise)
            sums = found[key]
            sums.planned += done.planned
            sums.done += done.done
            sums.skipped += done.skipped
            sums.ways.update(done.ways)
            sums.met_by.add(one.athlete)
            if done.easier:
                sums.eased_by.add(one.athlete)
            if done.skipped:
                sums.skipped_by.add(one.athlete)
    return [found[key] for key in sorted(found, key=lambda key: (key[0], _place(key[1]), key[2]))]


def _place(label: str) -> tuple[str, int]:
    return label[0], int(label[1:])


def day_sums(sessions: Iterable[HeldSession]) -> list[DaySum]:
    """Every day, level and week of these sessions."""
    found: dict[tuple[DayKey, int], list[HeldSession]] = defaultdict(list)
    for one in sessions:
        found[one.plan.key, one.plan.week].append(one)
    return [
        DaySum(
            own[0].plan,
            len(own),
            mean(one.session.seconds for one in own),
            mean(one.session.effort for one in own),
            mean(one.above_meant for one in own),
        )
        for _, own in sorted(found.items(), key=lambda item: item[0])
    ]
