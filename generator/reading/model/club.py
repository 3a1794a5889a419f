"""`club.yaml` and `programme.yaml`: who trains, and what the coach has decided for all phases."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, StrictBool, model_validator

from ..amounts import Number
from .base import FileModel, Maybe, Model
from .fields import (
    Age,
    Colour,
    Duration,
    Experience,
    Id,
    Language,
    Line,
    Mass,
    Part,
    Percent,
    PictureName,
    Prose,
    SessionsPerWeek,
    Title,
    Volume,
    faulty,
)

MOST_KINDS = 12
"""Bound on the kinds of things in the kit: recipes are looked for among all their combinations."""
KG_PER_LITRE = 1
"""Water, for this purpose; 0.998 kg at 20 °C (CRC handbook values, second-hand)."""


class KitItem(Model):
    """A thing in the house: a vessel that `holds` water, a thing with a `mass`, or one that is no load.

    One that `carries` is what loads are carried in: its own mass counts once in every recipe.
    """

    item: Title
    holds: Maybe[Volume] = None
    mass: Maybe[Mass] = None
    carries: StrictBool = False

    @model_validator(mode="after")
    def _one_way_to_weigh(self) -> KitItem:
        given = [amount for amount in (self.holds, self.mass) if amount is not None]
        if len(given) == 2:
            message = f"{self.item}: found both holds and mass, allowed one of them"
            raise faulty(Part("key", (), message, "write holds: 2 l for water, or mass: 2.5 kg"))
        if self.carries and self.mass is None:
            message = f"{self.item}: found carries without a mass"
            raise faulty(Part("key", (), message, "weigh it empty, and write mass: 0.6 kg"))
        if given and given[0] == 0:
            message = f"{self.item}: found an item that weighs nothing"
            raise faulty(Part("value", (), message, "write how much it holds or weighs, or leave that out"))
        return self

    @property
    def kg(self) -> Number | None:
        """Mass in kg, water counted as 1 kg a litre; None of what is no load."""
        if self.mass is not None:
            return self.mass
        return None if self.holds is None else self.holds * KG_PER_LITRE


class Look(Model):
    """What a club's pages wear: its colour, `#rrggbb`, and its crest, a file in `media/`."""

    colour: Maybe[Colour] = None
    crest: Maybe[PictureName] = None


class Club(FileModel):
    """The club, what every page says and wears for it, and the household kit.

    `signed` is who answers for the plans, `if_hurt` what to do when something hurts; `cautions` stand on
    every day page and sheet.
    """

    club: Title
    sport: Maybe[Title] = None
    contact: Maybe[Title] = None
    language: Language = "en"
    look: Look = Field(default_factory=Look)
    signed: Maybe[Title] = None
    if_hurt: Maybe[Line] = Field(None, alias="if hurt")
    cautions: tuple[Line, ...] = ()
    kit: Annotated[tuple[KitItem, ...], Field(max_length=MOST_KINDS)] = ()


class Audience(Model):
    """Whom a programme is for. `ages`: youngest and oldest, in years."""

    ages: Annotated[tuple[Age, ...], Field(min_length=2, max_length=2)]

    @model_validator(mode="after")
    def _youngest_first(self) -> Audience:
        if self.ages[0] > self.ages[1]:
            message = f"found {self.ages[0]} to {self.ages[1]}, allowed the youngest and then the oldest"
            raise faulty(Part("value", ("ages",), message, f"write [{self.ages[1]}, {self.ages[0]}]"))
        return self


class Level(Model):
    """A group that an athlete trains in."""

    id: Id
    name: Title
    experience: Experience
    who: Maybe[Line] = None


class Limits(Model):
    """What the coach holds a session and a week to. `session` in seconds, `week_step` in per cent."""

    session: Maybe[Duration] = None
    sessions_per_week: Maybe[SessionsPerWeek] = Field(None, alias="sessions per week")
    week_step: Maybe[Percent] = Field(None, alias="week step")


class Acceptance(Model):
    """A warning or note that the coach has weighed. `at` is a day's id; without it, the whole file's.

    In a programme's file it holds for all its versions.
    """

    check: Title
    at: Maybe[Title] = None
    because: Line


class Programme(FileModel):
    """The whole plan for one squad, over several phases."""

    title: Title
    summary: Maybe[Prose] = None
    audience: Maybe[Audience] = None
    levels: Annotated[tuple[Level, ...], Field(min_length=1, max_length=12)]
    limits: Limits = Field(default_factory=Limits)
    accept: tuple[Acceptance, ...] = ()

    @model_validator(mode="after")
    def _each_level_once(self) -> Programme:
        seen: set[str] = set()
        for index, level in enumerate(self.levels):
            if level.id in seen or level.id == "other":
                why = "stands twice" if level.id in seen else "means every level that a dose does not name"
                path = ("levels", index, "id")
                raise faulty(Part("value", path, f"the level id {level.id} {why}", "choose another id"))
            seen.add(level.id)
        return self

    def level(self, level_id: str) -> Level:
        """The level with this id. Raises StopIteration when there is none."""
        return next(level for level in self.levels if level.id == level_id)
