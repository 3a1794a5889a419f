"""One session with every default filled in: (version, day, level, week) → blocks and stations with numbers.

Rules: an amount of 0 leaves the station out for that level and week (rounds, minutes and cap: the block);
a block without stations is left out too. Labels follow the order of the file, whatever is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from generator.amounts import Number, Tempo, Varying
from generator.catalogue import Catalogue, VersionEntry
from generator.model import (
    AnyBlock,
    Circuit,
    Day,
    EveryMinute,
    Exercise,
    Routine,
    SetsStation,
    Station,
    TimeCap,
)

Section = Literal["warm-up", "day", "cool-down"]
REST_AFTER = 60
REST_BETWEEN_ROUNDS = 60
REST_BETWEEN_SETS = 60
CHANGEOVER = 15
CHANGEOVER_STRAIGHT_SETS = 30
"""Defaults in seconds, used where the file is silent."""


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

    A block is itself only: the same object stands in every session that shares a routine, and what is worked
    out from it once is known again by it.
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
    def day_stations(self) -> Iterator[PlannedStation]:
        """The stations of the day itself, without those of its routines."""
        return (s for block in self.blocks if block.section == "day" for s in block.stations)


def session(catalogue: Catalogue, day: Day, level: str, week: int) -> PlannedSession:
    """The session of `day` for `level` in `week` (from 1), everything resolved."""
    return PlannedSession(day.id, level, week, tuple(_blocks(catalogue, day, level, week)))


def sessions(catalogue: Catalogue, version: VersionEntry) -> Iterator[PlannedSession]:
    """Every session of a version: by day, level and week."""
    for day in version.model.days:
        for level in version.levels:
            for week in version.weeks:
                yield session(catalogue, day, level.id, week)


def _blocks(catalogue: Catalogue, day: Day, level: str, week: int) -> Iterator[PlannedBlock]:
    yield from _routine(catalogue, day.warm_up, "warm-up", level, week)
    resolving = _Resolving(catalogue, level, week, "day")
    for index, block in enumerate(day.blocks):
        planned = resolving.block(block, chr(ord("A") + index), chr(ord("A") + index))
        if planned is not None:
            yield planned
    if day.cool_down is not None:
        yield from _routine(catalogue, day.cool_down, "cool-down", level, week)


def _routine(
    catalogue: Catalogue, name: str, section: Section, level: str, week: int
) -> tuple[PlannedBlock, ...]:
    """The blocks of a routine; its stations are numbered through from block to block."""
    key = (section, name, level, week)
    if key not in catalogue.routines_planned:
        resolving = _Resolving(catalogue, level, week, section)
        catalogue.routines_planned[key] = tuple(resolving.routine(catalogue.routine(name)))
    planned: tuple[PlannedBlock, ...] = catalogue.routines_planned[key]
    return planned


def lone_block(catalogue: Catalogue, block: AnyBlock, level: str, week: int) -> PlannedBlock | None:
    """A block by itself, to be judged before its day can be read; None where it is left out."""
    return _Resolving(catalogue, level, week, "day").block(block, "A", "A")


@dataclass(slots=True)
class _Resolving:
    catalogue: Catalogue
    level: str
    week: int
    section: Section

    def routine(self, routine: Routine) -> Iterator[PlannedBlock]:
        before = 0
        for block in routine.blocks:
            planned = self.block(block, self.section, f"{self.section} ", before)
            before += len(block.stations)
            if planned is not None:
                yield planned

    def block(self, block: AnyBlock, label: str, mark: str, before: int = 0) -> PlannedBlock | None:
        """The block with its stations labelled `mark` and a number, from `before` + 1."""
        times, rest, changeover = self._timing(block)
        if times == 0:
            return None
        numbered = enumerate(block.stations, before + 1)
        found = (self._station(f"{mark}{number}", station) for number, station in numbered)
        stations = tuple(station for station in found if station is not None)
        if not stations:
            return None
        rest_after = self._at(block.rest_after, REST_AFTER)
        return PlannedBlock(label, self.section, block.kind, times, rest, changeover, rest_after, stations)

    def _timing(self, block: AnyBlock) -> tuple[Number, Number, Number]:
        at = self._at
        if isinstance(block, Circuit):
            rest = at(block.rest, REST_BETWEEN_ROUNDS)
            return at(block.rounds, 0), rest, at(block.changeover, CHANGEOVER)
        if isinstance(block, EveryMinute):
            return at(block.minutes, 0), 0, 0
        if isinstance(block, TimeCap):
            return at(block.cap, 0), 0, at(block.changeover, CHANGEOVER)
        return 1, 0, at(block.changeover, CHANGEOVER_STRAIGHT_SETS)

    def _at(self, amount: Varying[int] | Varying[Number] | None, default: Number) -> Number:
        return default if amount is None else amount.at(self.level, self.week)

    def _station(self, label: str, station: Station) -> PlannedStation | None:
        measure, amounts = station.dose
        amount = metres = amounts.at(self.level, self.week)
        if measure == "distance":
            amount = self._at(station.takes, 0)
        sets = 1
        rest: Number = 0
        if isinstance(station, SetsStation):
            sets = station.sets.at(self.level, self.week)
            rest = self._at(station.rest, REST_BETWEEN_SETS)
        if not amount or not metres or not sets:
            return None
        name = station.exercise.at(self.level, self.week)
        exercise = self.catalogue.exercise(name)
        tempo = station.tempo.at(self.level, self.week) if station.tempo else None
        return PlannedStation(
            label=label,
            section=self.section,
            exercise=name,
            pattern=exercise.pattern,
            sides=exercise.sides,
            measure=measure,
            amount=amount,
            metres=metres if measure == "distance" else 0,
            rep=exercise.rep_seconds(tempo),
            rep_tension=exercise.rep_tension(tempo),
            tempo=self._tempo_used(measure, tempo, exercise),
            load=self._at(station.load, 0),
            contacts=exercise.contacts,
            landing=exercise.landing,
            sets=sets,
            rest=rest,
        )

    @staticmethod
    def _tempo_used(measure: str, tempo: Tempo | None, exercise: Exercise) -> Tempo | None:
        return (tempo or exercise.tempo) if measure in ("reps", "time") else None
