"""One session with every default filled in: (version, day, level, week) → blocks and stations with numbers.

Rules: an amount of 0 leaves the station out for that level and week (rounds, minutes and cap: the block); a block
without stations is left out too. Labels follow the order of the file, whatever is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.amounts import Number, Tempo, Varying
from generator.catalogue import Catalogue, VersionEntry
from generator.model import AnyBlock, Circuit, Day, EveryMinute, Exercise, SetsStation, Station, TimeCap

Section = Literal["warm-up", "day", "cool-down"]
REST_AFTER = 60
REST_BETWEEN_ROUNDS = 60
REST_BETWEEN_SETS = 60
CHANGEOVER = 15
CHANGEOVER_STRAIGHT_SETS = 30
"""Defaults in seconds, used where the file is silent."""


@dataclass(frozen=True, slots=True)
class PlannedStation:
    """One station of one session. Times in seconds, load in kg.

    `measure` says what `amount` counts: reps (per side for one-sided exercises), or seconds of a hold, of a time
    or of a distance. `rep` and `rep_tension` are None where no tempo is known. `sets` and `rest` are those of
    straight sets, else 1 and 0.
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


@dataclass(frozen=True, slots=True)
class PlannedBlock:
    """One block of one session. `times` is rounds of a circuit, minutes of every minute, seconds of a cap."""

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
    yield from _Resolving(catalogue, level, week, "warm-up").routine(day.warm_up)
    resolving = _Resolving(catalogue, level, week, "day")
    for index, block in enumerate(day.blocks):
        label = chr(ord("A") + index)
        planned = resolving.block(block, label, [f"{label}{n + 1}" for n in range(len(block.stations))])
        if planned is not None:
            yield planned
    if day.cool_down is not None:
        yield from _Resolving(catalogue, level, week, "cool-down").routine(day.cool_down)


def lone_block(catalogue: Catalogue, block: AnyBlock, level: str, week: int) -> PlannedBlock | None:
    """A block by itself, to be judged before its day can be read; None where it is left out."""
    labels = [f"A{n + 1}" for n in range(len(block.stations))]
    return _Resolving(catalogue, level, week, "day").block(block, "A", labels)


@dataclass(slots=True)
class _Resolving:
    catalogue: Catalogue
    level: str
    week: int
    section: Section

    def routine(self, routine_id: str) -> Iterator[PlannedBlock]:
        first = 1
        for block in self.catalogue.routine(routine_id).blocks:
            labels = [f"{self.section} {first + n}" for n in range(len(block.stations))]
            first += len(block.stations)
            planned = self.block(block, self.section, labels)
            if planned is not None:
                yield planned

    def block(self, block: AnyBlock, label: str, labels: list[str]) -> PlannedBlock | None:
        times, rest, changeover = self._timing(block)
        if times == 0:
            return None
        pairs = zip(labels, block.stations, strict=True)
        stations = tuple(planned for name, s in pairs if (planned := self._station(name, s)) is not None)
        rest_after = self._at(block.rest_after, REST_AFTER)
        return (
            PlannedBlock(label, self.section, block.kind, times, rest, changeover, rest_after, stations)
            if stations
            else None
        )

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
