"""What is worked out of one version: its sessions with their sums, and the phase before it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any, TypeVar

from ..reading.amounts import Number
from ..reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from ..reading.findings import Path, in_weeks, listed
from .load_recipe import Kit
from .resolve import PlannedSession
from .running_order import RunningOrder
from .totals import Totals
from .weeks import WeekTotals, week_totals

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class ComputedSession:
    """One session of a version: its plan, running order and totals."""

    plan: PlannedSession
    order: RunningOrder
    totals: Totals


def exercises_of(sessions: Iterable[ComputedSession]) -> list[str]:
    """The ids of all exercises of these sessions, each once, in the order in which they are met."""
    return list(dict.fromkeys(station.exercise for one in sessions for station in one.plan.stations))


def loads_of(sessions: Iterable[ComputedSession]) -> list[Number]:
    """The loads of these sessions in kg, each once, the lightest first."""
    return sorted({station.load for one in sessions for station in one.plan.stations if station.load})


@dataclass(frozen=True, slots=True)
class Tree:
    """What checks know of all versions together."""

    catalogue: Catalogue
    kit: Kit
    _worked_out: dict[Callable[[Catalogue], Any], Any] = field(default_factory=dict)

    def once(self, work_out: Callable[[Catalogue], T]) -> T:
        """What `work_out` gives for the catalogue, worked out for the first version that asks."""
        if work_out not in self._worked_out:
            self._worked_out[work_out] = work_out(self.catalogue)
        found: T = self._worked_out[work_out]
        return found


@dataclass(frozen=True, slots=True)
class Earlier:
    """What is looked back at of the phase before, in its newest edition; little, as a season has many phases.

    `weeks` are totals by level id, `heaviest` kg by level and exercise; `landed` are the levels of the
    programme that have trained a land exercise in it or in a phase before it, `lands` those that have had any
    landings, of warm-ups too.
    """

    name: str
    ends: date
    weeks: Mapping[str, tuple[WeekTotals, ...]]
    heaviest: Mapping[tuple[str, str], Number]
    landed: frozenset[str]
    lands: frozenset[str]


@dataclass(frozen=True)
class VersionFacts:
    """What a check may look at: one version with all its sessions, and the phase before it.

    `sessions` has every day, level and week, also those of which nothing is left. Where not all versions of
    the programme can be read, `whole` is false and nothing comes before.
    """

    tree: Tree
    programme: ProgrammeEntry
    version: VersionEntry
    sessions: tuple[ComputedSession, ...]
    look_back: Callable[[], Earlier | None]
    whole: bool = True

    @cached_property
    def before(self) -> Earlier | None:
        """The phase before in time; None for the first, or where it cannot be read."""
        return self.look_back()

    @property
    def follows_on(self) -> bool:
        """Whether the phase before ends on the day before this one starts."""
        return self.before is not None and (self.version.model.starts - self.before.ends).days == 1

    @cached_property
    def trained(self) -> tuple[ComputedSession, ...]:
        """The sessions of which something of the day itself is left."""
        return tuple(one for one in self.sessions if one.plan.is_trained)

    @cached_property
    def weeks(self) -> dict[str, tuple[WeekTotals, ...]]:
        """Totals by level id, week after week."""
        times = {day.id: len(day.on) for day in self.version.model.days}
        counted = [(one.plan.level, one.plan.week, times[one.plan.day], one.totals) for one in self.trained]
        levels = [level.id for level in self.version.levels]
        return week_totals(levels, self.version.model.weeks, counted)

    def experience(self, level: str) -> str:
        """Of the level with this id."""
        return self.programme.model.level(level).experience

    def day_path(self, day: str) -> Path:
        """Where the day stands in the version file."""
        return ("days", self._day_ids.index(day))

    def station_path(self, day: str, label: str) -> Path:
        """Where the station with this label (A1, B2) stands in the version file."""
        return (*self.day_path(day), "blocks", ord(label[0]) - ord("A"), "stations", int(label[1:]) - 1)

    def by_day_and_level(self) -> Iterator[tuple[str, str, list[ComputedSession]]]:
        """Day id, level id, and its sessions by week."""
        for (day, level), sessions in self._grouped.items():
            yield day, level, sessions

    def whose(self, sessions: Iterable[ComputedSession]) -> str:
        """Which levels and weeks these sessions are of: `starter in weeks 1 and 2; steady in week 2`."""
        return self.which((one.plan.level, one.plan.week) for one in sessions)

    def which(self, levels_and_weeks: Iterable[tuple[str, int]]) -> str:
        """The same for pairs of a level id and a week."""
        weeks: dict[str, dict[int, None]] = {}
        for level, week in levels_and_weeks:
            weeks.setdefault(level, {})[week] = None
        levels: dict[tuple[int, ...], list[str]] = {}
        for level, numbers in weeks.items():
            levels.setdefault(tuple(sorted(numbers)), []).append(level)
        everybody = len(self.version.levels)
        return "; ".join(
            f"{listed(names, 'and') if len(names) < everybody or everybody == 1 else 'every level'} "
            f"in {in_weeks(numbers)}"
            for numbers, names in levels.items()
        )

    @cached_property
    def _day_ids(self) -> list[str]:
        return [day.id for day in self.version.model.days]

    @cached_property
    def _grouped(self) -> dict[tuple[str, str], list[ComputedSession]]:
        grouped: dict[tuple[str, str], list[ComputedSession]] = {}
        for session in self.sessions:
            grouped.setdefault((session.plan.day, session.plan.level), []).append(session)
        return grouped


def once_an_order(work_out: Callable[[RunningOrder], T]) -> Callable[[RunningOrder], T]:
    """`work_out`, run once for a running order, however many sessions share that."""
    known: dict[int, tuple[RunningOrder, T]] = {}

    def found(order: RunningOrder) -> T:
        if id(order) not in known:
            # The order is kept too: no other one takes its place in memory.
            known[id(order)] = order, work_out(order)
        return known[id(order)][1]

    return found
