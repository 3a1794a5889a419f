"""`N.E.yaml` and `routines/<id>.yaml`: days, blocks, stations and their doses."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal

from pydantic import Field, model_validator

from ..addresses import reserved
from ..amounts import Number, Varying
from .base import FileModel, Maybe, Model
from .club import Acceptance
from .fields import (
    DayChoice,
    Efforts,
    Id,
    Minutes,
    Monday,
    Part,
    Prose,
    Reps,
    Rounds,
    Said,
    Sets,
    Setting,
    Title,
    VaryingDistance,
    VaryingDuration,
    VaryingId,
    VaryingMass,
    VaryingTempo,
    Weekday,
    Weeks,
    faulty,
)

BLOCK_KINDS = ("circuit", "straight sets", "every minute", "timed rounds")
MEASURES = {"reps": "reps", "hold": "hold", "work": "time", "distance": "distance"}
"""Key of a dose → measure of the exercise that it doses."""
RESERVED_DAYS = reserved("day")


class Station(Model):
    """One exercise with its dose: exactly one of reps, hold, work and distance.

    `say` is a line of the coach's: words for people, not part of the plan.
    """

    exercise: VaryingId
    reps: Maybe[Reps] = None
    hold: Maybe[VaryingDuration] = None
    work: Maybe[VaryingDuration] = None
    distance: Maybe[VaryingDistance] = None
    takes: Maybe[VaryingDuration] = None
    tempo: Maybe[VaryingTempo] = None
    load: Maybe[VaryingMass] = None
    say: Maybe[Said] = None
    setting: Maybe[Setting] = None

    @cached_property
    def dose(self) -> tuple[str, Varying[int] | Varying[Number]]:
        """The measure that is dosed and its amounts. Raises LookupError for a station without a dose."""
        for key, measure in MEASURES.items():
            amount = getattr(self, key)
            if amount is not None:
                return measure, amount
        raise LookupError("a station without a dose")


class SetsStation(Station):
    """A station of straight sets; `rest` is between its sets."""

    sets: Sets
    rest: Maybe[VaryingDuration] = None


class Block(Model):
    """Stations that belong together. `rest_after` is before the next block."""

    rest_after: Maybe[VaryingDuration] = Field(None, alias="rest after")


class Circuit(Block):
    """Rounds through all stations: `changeover` between stations, `rest` between rounds."""

    kind: Literal["circuit"]
    rounds: Rounds
    rest: Maybe[VaryingDuration] = None
    changeover: Maybe[VaryingDuration] = None
    stations: Annotated[tuple[Station, ...], Field(min_length=1, max_length=40)]


class StraightSets(Block):
    """All sets of one station before the next: `changeover` between stations."""

    kind: Literal["straight sets"]
    changeover: Maybe[VaryingDuration] = None
    stations: Annotated[tuple[SetsStation, ...], Field(min_length=1, max_length=40)]


class EveryMinute(Block):
    """One station begins at each full minute, in turn."""

    kind: Literal["every minute"]
    minutes: Minutes
    stations: Annotated[tuple[Station, ...], Field(min_length=1, max_length=40)]


class TimedRounds(Block):
    """The round is repeated until the time is up."""

    kind: Literal["timed rounds"]
    lasts: VaryingDuration
    changeover: Maybe[VaryingDuration] = None
    stations: Annotated[tuple[Station, ...], Field(min_length=1, max_length=40)]


AnyBlock = Annotated[Circuit | StraightSets | EveryMinute | TimedRounds, Field(discriminator="kind")]
Blocks = Annotated[tuple[AnyBlock, ...], Field(min_length=1, max_length=26)]


class Routine(FileModel):
    """A warm-up or a cool-down."""

    name: Title
    kind: Literal["warm-up", "cool-down"]
    blocks: Blocks


class Day(Model):
    """One training session of the week; `on` has one entry for each time it is trained.

    `effort` is how hard the session is meant to feel, 0 to 10, and `say` a line of the coach's: words for
    people, not part of the plan.
    """

    id: Id
    title: Title
    on: Annotated[tuple[DayChoice, ...], Field(min_length=1, max_length=7)]
    warm_up: Id = Field(alias="warm-up")
    cool_down: Maybe[Id] = Field(None, alias="cool-down")
    effort: Maybe[Efforts] = None
    say: Maybe[Said] = None
    blocks: Blocks

    @model_validator(mode="after")
    def _has_its_own_address(self) -> Day:
        if self.id in RESERVED_DAYS:
            message = f"the day id {self.id} is the address of another page of the site"
            raise faulty(Part("value", ("id",), message, "choose another id"))
        return self


class Version(FileModel):
    """One phase as published. `starts` is the Monday of week 1."""

    phase: Title
    aim: Prose
    starts: Monday
    weeks: Weeks
    levels: Maybe[Annotated[tuple[Id, ...], Field(min_length=1)]] = None
    match_days: tuple[Weekday, ...] = Field((), alias="match days")
    changes: Maybe[Prose] = None
    days: Annotated[tuple[Day, ...], Field(min_length=1, max_length=14)]
    accept: tuple[Acceptance, ...] = ()
