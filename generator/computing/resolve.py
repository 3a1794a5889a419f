"""One session with every default filled in: (version, day, level, week) → blocks and stations with numbers.

Rules: an amount of 0 leaves the station out for that level and week (rounds, minutes and cap: the block);
a block without stations is left out too. Labels follow the order of the file, whatever is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate, chain
from string import ascii_uppercase
from typing import Any, Literal, NamedTuple

from ..reading.amounts import Number, Tempo, Varying
from ..reading.catalogue import Catalogue, VersionEntry
from ..reading.model import MEASURES, AnyBlock, Circuit, Day, EveryMinute, SetsStation, Station, TimeCap

Section = Literal["warm-up", "day", "cool-down"]
REST_AFTER = 60
REST_BETWEEN_ROUNDS = 60
REST_BETWEEN_SETS = 60
CHANGEOVER = 15
CHANGEOVER_STRAIGHT_SETS = 30
"""Defaults in seconds, used where the file is silent."""
MOST_KEPT = 2000
"""Stations in those plans of one block that are kept for the sessions that share them."""
MOST_KEPT_OF_A_STATION = 700
"""The same of one station: more than there are levels and weeks in a version."""


class PlannedStation(NamedTuple):
    """One station of one session. Times in seconds, load in kg.

    `measure` says what `amount` counts: reps (per side for one-sided exercises), or seconds of a hold, of
    a time or of a distance. `rep` and `rep_tension` are None where no tempo is known. `sets` and `rest` are
    those of straight sets, else 1 and 0.
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
    rep_tension: Number | None
    tempo: Tempo | None
    load: Number
    contacts: int
    landing: str
    sets: int
    rest: Number

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
    """One block of one session. `times` is rounds of a circuit, minutes of every minute, seconds of a cap.

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

    __slots__ = ("_block", "_equal", "_found", "_kept", "_label", "_section", "_stations", "_varying")

    def __init__(
        self, catalogue: Catalogue, block: AnyBlock, section: Section, label: str, mark: str, before: int = 0
    ) -> None:
        """Nothing is resolved yet, as a block may have faults of its own."""
        self._block, self._section, self._label = block, section, label
        self._stations = [
            _StationPlans(catalogue, station, section, f"{mark}{number}")
            for number, station in enumerate(block.stations, before + 1)
        ]
        own = [amount for amount in _timing(block) if amount is not None and amount.varies]
        self._varying = [*own, *chain.from_iterable([station.varying for station in self._stations])]
        self._found: dict[tuple[object, ...], PlannedBlock | None] = {}
        self._equal: dict[tuple[object, ...], PlannedBlock] = {}
        self._kept = 0

    def at(self, level: str, week: int) -> PlannedBlock | None:
        """The block for a level and a week (from 1); None where it is left out. Raises LookupError."""
        key = tuple([amount.at(level, week) for amount in self._varying])
        if key not in self._found:
            self._found[key] = self._resolved(level, week)
        return self._found[key]

    def _resolved(self, level: str, week: int) -> PlannedBlock | None:
        block = self._block
        times, rest, changeover, rest_after = [
            default if amount is None else amount.at(level, week)
            for amount, default in zip(_timing(block), _DEFAULTS[block.kind], strict=True)
        ]
        if times == 0:
            return None
        found = [station.at(level, week) for station in self._stations]
        stations = tuple([station for station in found if station is not None])
        if not stations:
            return None
        # Equal stations are one object already, so their names in memory tell them apart.
        key = (times, rest, changeover, rest_after, *map(id, stations))
        if key not in self._equal:
            self._make_room(len(stations))
            self._equal[key] = PlannedBlock(
                self._label, self._section, block.kind, times, rest, changeover, rest_after, stations
            )
        return self._equal[key]

    def _make_room(self, stations: int) -> None:
        """Forget what was planned before it is too much: a routine lives as long as its tree."""
        self._kept += stations
        if self._kept > MOST_KEPT:
            self._found.clear()
            self._equal.clear()
            self._kept = stations


class _StationPlans:
    """One station of a file and its plans: one for all levels and weeks in which its dose does not differ."""

    __slots__ = ("_catalogue", "_equal", "_found", "_label", "_section", "_station", "varying")

    def __init__(self, catalogue: Catalogue, station: Station, section: Section, label: str) -> None:
        self._catalogue, self._station, self._section, self._label = catalogue, station, section, label
        amounts = [getattr(station, name) for name in _AMOUNTS]
        if isinstance(station, SetsStation):
            amounts += [station.sets, station.rest]
        self.varying: list[Varying[Any]] = [one for one in amounts if one is not None and one.varies]
        self._found: dict[tuple[object, ...], PlannedStation | None] = {}
        self._equal: dict[PlannedStation, PlannedStation] = {}

    def at(self, level: str, week: int) -> PlannedStation | None:
        """The station for a level and a week; None where a 0 leaves it out. Raises LookupError."""
        key = tuple([amount.at(level, week) for amount in self.varying])
        if key not in self._found:
            if len(self._found) > MOST_KEPT_OF_A_STATION:
                self._found.clear()
                self._equal.clear()
            found = self._resolved(level, week)
            self._found[key] = None if found is None else self._equal.setdefault(found, found)
        return self._found[key]

    def _resolved(self, level: str, week: int) -> PlannedStation | None:
        station = self._station
        measure, amounts = station.dose
        amount = metres = amounts.at(level, week)
        if measure == "distance":
            amount = station.takes.at(level, week) if station.takes is not None else 0
        sets = 1
        rest: Number = 0
        if isinstance(station, SetsStation):
            sets = station.sets.at(level, week)
            rest = REST_BETWEEN_SETS if station.rest is None else station.rest.at(level, week)
        if not amount or not metres or not sets:
            return None
        name = station.exercise.at(level, week)
        exercise = self._catalogue.exercise(name)
        tempo = station.tempo.at(level, week) if station.tempo else None
        return PlannedStation(
            label=self._label,
            section=self._section,
            exercise=name,
            pattern=exercise.pattern,
            sides=exercise.sides,
            measure=measure,
            amount=amount,
            metres=metres if measure == "distance" else 0,
            rep=exercise.rep_seconds(tempo),
            rep_tension=exercise.rep_tension(tempo),
            tempo=(tempo or exercise.tempo) if measure in ("reps", "time") else None,
            load=0 if station.load is None else station.load.at(level, week),
            contacts=exercise.contacts,
            landing=exercise.landing,
            sets=sets,
            rest=rest,
        )


_AMOUNTS = ("exercise", *MEASURES, "takes", "tempo", "load")
_Amount = Varying[int] | Varying[Number] | None
_DEFAULTS: dict[str, tuple[Number, Number, Number, Number]] = {
    "circuit": (0, REST_BETWEEN_ROUNDS, CHANGEOVER, REST_AFTER),
    "every minute": (0, 0, 0, REST_AFTER),
    "time cap": (0, 0, CHANGEOVER, REST_AFTER),
    "straight sets": (1, 0, CHANGEOVER_STRAIGHT_SETS, REST_AFTER),
}


def _timing(block: AnyBlock) -> tuple[_Amount, _Amount, _Amount, _Amount]:
    """What decides times, rest, changeover and rest after; None where the default does."""
    if isinstance(block, Circuit):
        return block.rounds, block.rest, block.changeover, block.rest_after
    if isinstance(block, EveryMinute):
        return block.minutes, None, None, block.rest_after
    if isinstance(block, TimeCap):
        return block.cap, None, block.changeover, block.rest_after
    return None, None, block.changeover, block.rest_after
