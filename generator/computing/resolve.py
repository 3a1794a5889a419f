"""One session with every default filled in: (version, day, level, week) → blocks and stations with numbers.

Rules: an amount of 0 leaves the station out for that level and week (rounds, minutes and lasts: the block);
a block without stations is left out too. Labels follow the order of the file, whatever is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate
from string import ascii_uppercase
from typing import Any, Literal, NamedTuple

from ..reading.amounts import OTHER, Number, Tempo, Varying
from ..reading.catalogue import Catalogue, VersionEntry
from ..reading.model import AnyBlock, Circuit, Day, EveryMinute, SetsStation, Station, TimedRounds

Section = Literal["warm-up", "day", "cool-down"]
REST_AFTER = 60
REST_BETWEEN_ROUNDS = 60
REST_BETWEEN_SETS = 60
CHANGEOVER = 15
CHANGEOVER_STRAIGHT_SETS = 30
"""Defaults in seconds, used where the file is silent."""
NONE = 0
"""What a kind of block does not have, or what every file says: rounds, minutes, how long it lasts."""
MOST_KEPT = 2000
"""Stations in those plans of one block that are kept for the sessions that share them."""
MOST_KEPT_OF_A_STATION = 700
"""The same of one station: more than there are levels and weeks in a version."""


class PlannedStation(NamedTuple):
    """One station of one session. Times in seconds, load in kg.

    `measure` says what `amount` counts: reps (per side for one-sided exercises), or seconds of a hold, of
    a time or of a distance. `rep` is None where no tempo is known; all of it is time under
    tension. `rep_before_pause_high` lacks the fourth count: it is kept so that published fingerprints stay.
    `sets` and `rest` are those of straight sets, else 1 and 0; `setting` says in words how hard it is set.
    """

    label: str
    section: Section
    exercise: str
    pattern: str
    sides: str
    measure: str
    amount: Number
    metres: Number
    rep: Number | None
    rep_before_pause_high: Number | None
    tempo: Tempo | None
    load: Number
    contacts: int
    landing: str
    sets: int
    rest: Number
    setting: str = ""

    @property
    def one_sided(self) -> bool:
        """Whether the dose counts reps per side."""
        return self.sides != "both"

    @property
    def total_reps(self) -> int:
        """Reps of one bout, both sides; 0 for time, hold and distance doses."""
        if self.measure != "reps":
            return 0
        return int(self.amount) * (2 if self.one_sided else 1)


@dataclass(frozen=True, slots=True, eq=False)
class PlannedBlock:
    """One block of one session. `times` is rounds of a circuit, minutes of every minute, or seconds of timed
    rounds.

    A block is itself only: one object stands in every session of a day, or that shares a routine, in which
    its plan is the same, and what is worked out from it once is known again by it.
    """

    label: str
    section: Section
    kind: str
    times: Number
    rest: Number
    changeover: Number
    rest_after: Number
    stations: tuple[PlannedStation, ...]


@dataclass(frozen=True, slots=True)
class PlannedSession:
    """Warm-up, day and cool-down of one session, in order."""

    day: str
    level: str
    week: int
    blocks: tuple[PlannedBlock, ...]

    @property
    def is_trained(self) -> bool:
        """Whether anything is left of the day itself; a warm-up alone is no session."""
        return any(block.section == "day" for block in self.blocks)

    @property
    def stations(self) -> Iterator[PlannedStation]:
        """All stations in order, those of warm-up and cool-down too."""
        return (station for block in self.blocks for station in block.stations)

    @property
    def day_stations(self) -> Iterator[PlannedStation]:
        """The stations of the day itself, without those of its routines."""
        return (station for station in self.stations if station.section == "day")


def session(catalogue: Catalogue, day: Day, level: str, week: int) -> PlannedSession:
    """The session of `day` for `level` in `week` (from 1), everything resolved."""
    return PlannedSession(day.id, level, week, DayPlans(catalogue, day).blocks(level, week))


def sessions(catalogue: Catalogue, version: VersionEntry) -> Iterator[PlannedSession]:
    """Every session of a version: by day, level and week.

    Within a day, blocks with equal plans are one object, so that what is worked out from them is worked out
    once.
    """
    for day in version.model.days:
        plans = DayPlans(catalogue, day)
        for level in version.levels:
            for week in version.weeks:
                yield PlannedSession(day.id, level.id, week, plans.blocks(level.id, week))


def routine_alone(catalogue: Catalogue, name: str, section: Section, level: str) -> PlannedSession:
    """A routine as it is in week 1, without a day."""
    every = [plans.at(level, 1) for plans in _routine(catalogue, name, section)]
    return PlannedSession("", level, 1, tuple([block for block in every if block is not None]))


class DayPlans:
    """The sessions of a day, resolved block by block."""

    def __init__(self, catalogue: Catalogue, day: Day) -> None:
        """`day` is one of a version of the catalogue."""
        self._warm_up = _routine(catalogue, day.warm_up, "warm-up")
        self._cool_down = _routine(catalogue, day.cool_down, "cool-down") if day.cool_down else []
        self._day = [
            BlockPlans(catalogue, block, "day", label, label)
            for label, block in zip(ascii_uppercase, day.blocks, strict=False)
        ]

    def blocks(self, level: str, week: int) -> tuple[PlannedBlock, ...]:
        """Those of warm-up, day and cool-down that are not left out."""
        every = [plans.at(level, week) for part in self._parts for plans in part]
        return tuple([block for block in every if block is not None])

    @property
    def _parts(self) -> tuple[list[BlockPlans], list[BlockPlans], list[BlockPlans]]:
        return self._warm_up, self._day, self._cool_down


def _routine(catalogue: Catalogue, name: str, section: Section) -> list[BlockPlans]:
    """The blocks of a routine; its stations are numbered through from block to block."""
    key = (section, name)
    if key not in catalogue.routines_planned:
        blocks = catalogue.routine(name).blocks
        before = accumulate([len(block.stations) for block in blocks], initial=0)
        catalogue.routines_planned[key] = [
            BlockPlans(catalogue, block, section, section, f"{section} ", first)
            for block, first in zip(blocks, before, strict=False)
        ]
    planned: list[BlockPlans] = catalogue.routines_planned[key]
    return planned


class BlockPlans:
    """One block of a file and its plans: one for all levels and weeks in which no dose of it differs.

    Its stations are labelled `mark` and a number, from `before` + 1.
    """

    __slots__ = ("_block", "_kept", "_label", "_plans", "_section", "_stations", "_timing", "_varies")

    def __init__(
        self, catalogue: Catalogue, block: AnyBlock, section: Section, label: str, mark: str, before: int = 0
    ) -> None:
        """Nothing is resolved yet, as a block may have faults of its own."""
        self._block, self._section, self._label = block, section, label
        self._stations = [
            _StationPlans(catalogue, station, section, f"{mark}{number}")
            for number, station in enumerate(block.stations, before + 1)
        ]
        self._timing = list(zip(_timing(block), _DEFAULTS[block.kind], strict=True))
        self._varies = any(amount is not None and amount.varies for amount, _ in self._timing) or any(
            station.varying for station in self._stations
        )
        self._plans: dict[object, PlannedBlock | None] = {}
        self._kept = 0

    def at(self, level: str, week: int) -> PlannedBlock | None:
        """The block for a level and a week (from 1); None where it is left out. Raises LookupError."""
        if not self._varies:
            if None not in self._plans:
                self._plans[None] = self._planned(level, week)
            return self._plans[None]
        return self._planned(level, week)

    def _planned(self, level: str, week: int) -> PlannedBlock | None:
        timing = [default if amount is None else amount.at(level, week) for amount, default in self._timing]
        if not timing[0]:
            return None
        found = [station.at(level, week) for station in self._stations]
        stations = tuple([station for station in found if station is not None])
        if not stations:
            return None
        # Equal stations are one object already, so their names in memory tell them apart.
        key = (*timing, *map(id, stations))
        known = self._plans.get(key)
        if known is None:
            self._make_room(len(stations))
            times, rest, changeover, rest_after = timing
            known = PlannedBlock(
                self._label, self._section, self._block.kind, times, rest, changeover, rest_after, stations
            )
            self._plans[key] = known
        return known

    def _make_room(self, stations: int) -> None:
        """Forget what was planned before it is too much: a routine lives as long as its tree."""
        self._kept += stations
        if self._kept > MOST_KEPT:
            self._plans.clear()
            self._kept = stations


class _StationPlans:
    """One station of a file and its plans: one for all levels and weeks in which its dose does not differ."""

    __slots__ = ("_amounts", "_catalogue", "_fixed", "_label", "_measure", "_plans", "_section", "varying")

    def __init__(self, catalogue: Catalogue, station: Station, section: Section, label: str) -> None:
        self._catalogue, self._section, self._label = catalogue, section, label
        self._measure, dose = station.dose
        sets, rest = (station.sets, station.rest) if isinstance(station, SetsStation) else (None, None)
        amounts: list[Varying[Any] | None] = [
            station.exercise, dose, station.takes, station.tempo, station.load, sets, rest, station.setting,
        ]  # fmt: skip
        unsaid = (None, None, 0, None, 0, 1, REST_BETWEEN_SETS if sets else 0, "")
        self._fixed: list[Any] = [
            default if amount is None else None if amount.varies else amount.rows[OTHER]
            for amount, default in zip(amounts, unsaid, strict=True)
        ]
        self._amounts = [(n, one) for n, one in enumerate(amounts) if one is not None and one.varies]
        self.varying = bool(self._amounts)
        self._plans: dict[tuple[object, ...], PlannedStation | None] = {}

    def at(self, level: str, week: int) -> PlannedStation | None:
        """The station for a level and a week; None where a 0 leaves it out. Raises LookupError."""
        key = tuple([amount.at(level, week) for _, amount in self._amounts]) if self.varying else ()
        # With other entries it is another station, or left out: entries that are not used are errors.
        found = self._plans.get(key, self)
        if found is not self:
            return found  # type: ignore[return-value]
        if len(self._plans) > MOST_KEPT_OF_A_STATION:
            self._plans.clear()
        planned = self._plans[key] = self._resolved(key)
        return planned

    def _resolved(self, entries: tuple[Any, ...]) -> PlannedStation | None:
        every = list(self._fixed)
        for (number, _), entry in zip(self._amounts, entries, strict=True):
            every[number] = entry
        name, amount, takes, tempo, load, sets, rest, setting = every
        metres: Number = 0
        measure = self._measure
        if measure == "distance":
            metres, amount = amount, takes
            if not metres:
                return None
        if not amount or not sets:
            return None
        exercise = self._catalogue.exercise(name)
        return PlannedStation(
            self._label,
            self._section,
            name,
            exercise.pattern,
            exercise.sides,
            measure,
            amount,
            metres,
            exercise.rep_seconds(tempo),
            exercise.rep_before_pause_high(tempo),
            (tempo or exercise.tempo) if measure in ("reps", "time") else None,
            load,
            exercise.contacts,
            exercise.landing,
            sets,
            rest,
            setting,
        )


_Amount = Varying[int] | Varying[Number] | None
_DEFAULTS: dict[str, tuple[Number, Number, Number, Number]] = {
    "circuit": (NONE, REST_BETWEEN_ROUNDS, CHANGEOVER, REST_AFTER),
    "every minute": (NONE, NONE, NONE, REST_AFTER),
    "timed rounds": (NONE, NONE, CHANGEOVER, REST_AFTER),
    "straight sets": (1, NONE, CHANGEOVER_STRAIGHT_SETS, REST_AFTER),
}


def _timing(block: AnyBlock) -> tuple[_Amount, _Amount, _Amount, _Amount]:
    """What decides times, rest, changeover and rest after; None where the default does."""
    if isinstance(block, Circuit):
        return block.rounds, block.rest, block.changeover, block.rest_after
    if isinstance(block, EveryMinute):
        return block.minutes, None, None, block.rest_after
    if isinstance(block, TimedRounds):
        return block.lasts, None, block.changeover, block.rest_after
    return None, None, block.changeover, block.rest_after
