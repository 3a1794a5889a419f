"""`club.yaml` and `programme.yaml`: who trains, and what the coach has decided for all phases."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, StrictInt, StringConstraints, model_validator

from generator.amounts import Number
from generator.model.base import FileModel, Model
from generator.model.fields import (
    Duration,
    Experience,
    Id,
    Line,
    Mass,
    Part,
    Percent,
    Prose,
    Title,
    Volume,
    faulty,
)

KG_PER_LITRE = 1
"""Water, for this purpose; 0.998 kg at 20 °C (CRC handbook values, second-hand)."""


class KitItem(Model):
    """A thing that a home can load a bag with: a vessel that `holds` water, or a thing with a `mass`."""

    item: Title
    holds: Volume | None = None
    mass: Mass | None = None

    @model_validator(mode="after")
    def _one_way_to_weigh(self) -> KitItem:
        given = [amount for amount in (self.holds, self.mass) if amount is not None]
        if len(given) != 1:
            message = f"{'both' if given else 'neither'} holds {'and' if given else 'nor'} mass for an item"
            raise faulty(Part("key", (), message, "give holds: 2 l, or mass: 2.5 kg"))
        if given[0] == 0:
            raise faulty(Part("value", (), "an item that weighs nothing", "give its real amount"))
        return self

    @property
    def kg(self) -> Number:
        """Mass in kg, water counted as 1 kg a litre."""
        if self.mass is not None:
            return self.mass
        assert self.holds is not None
        return self.holds * KG_PER_LITRE


class Club(FileModel):
    """The club, the cautions that stand on every day page and sheet, and the household kit."""

    club: Title
    sport: Title | None = None
    contact: Title | None = None
    language: Annotated[str, StringConstraints(pattern=r"^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$")] = "en"
    cautions: tuple[Line, ...] = ()
    kit: tuple[KitItem, ...] = ()


class Audience(Model):
    """Whom a programme is for. `ages`: youngest and oldest, in years."""

    ages: Annotated[tuple[StrictInt, ...], Field(min_length=2, max_length=2)]

    @model_validator(mode="after")
    def _youngest_first(self) -> Audience:
        if not 3 <= self.ages[0] <= self.ages[1] <= 99:
            message = f"found ages {self.ages[0]} to {self.ages[1]}, allowed the youngest and then the oldest"
            raise faulty(Part("value", ("ages",), message, "write it like [13, 16]"))
        return self


class Level(Model):
    """A group that an athlete trains in."""

    id: Id
    name: Title
    experience: Experience
    who: Line | None = None


class Limits(Model):
    """What the coach holds a session and a week to. `session` in seconds, `week_step` in per cent."""

    session: Duration | None = None
    sessions_per_week: Annotated[int, Field(strict=True, ge=1, le=14)] | None = Field(
        None, alias="sessions per week"
    )
    week_step: Percent | None = Field(None, alias="week step")


class Programme(FileModel):
    """The whole plan for one squad, over several phases."""

    title: Title
    summary: Prose | None = None
    audience: Audience | None = None
    levels: Annotated[tuple[Level, ...], Field(min_length=1, max_length=12)]
    limits: Limits = Limits()

    @model_validator(mode="after")
    def _each_level_once(self) -> Programme:
        seen: set[str] = set()
        for index, level in enumerate(self.levels):
            if level.id in seen or level.id == "other":
                why = "stands twice" if level.id in seen else "has a meaning of its own in a dose"
                path = ("levels", index, "id")
                raise faulty(Part("value", path, f"the level id {level.id} {why}", "choose another id"))
            seen.add(level.id)
        return self

    def level(self, level_id: str) -> Level:
        """The level with this id. Raises StopIteration when there is none."""
        return next(level for level in self.levels if level.id == level_id)
