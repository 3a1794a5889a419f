"""`exercises/<id>.yaml`: one exercise, what makes it right, and what is easier or harder."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field, StrictBool, model_validator

from ..amounts import Number, Tempo
from .base import FileModel, Maybe, Model
from .fields import (
    Begins,
    Clip,
    Contacts,
    FixedTempo,
    Id,
    Landing,
    Line,
    Measure,
    Part,
    Pattern,
    PictureName,
    Positions,
    SecondsPerRep,
    Sides,
    Title,
    Word,
    faulty,
)
from .figure import Figure


class Option(Model):
    """An easier or harder way: another exercise, words on how to do it, or both."""

    exercise: Maybe[Id] = None
    how: Maybe[Line] = None

    @model_validator(mode="after")
    def _says_something(self) -> Option:
        if self.exercise is None and self.how is None:
            message = "found an option with neither exercise nor how, allowed one or both"
            raise faulty(Part("key", (), message, "add exercise: and an id, or how: and what to change"))
        return self


def _id_is_an_option(raw: object) -> object:
    return {"exercise": raw} if isinstance(raw, str) else raw


InsteadOption = Annotated[
    Option,
    BeforeValidator(_id_is_an_option, json_schema_input_type=Annotated[str, Field()] | Option),
]


class Photo(Model):
    """A picture of the club's own, a file in `media/`, and what is to be seen on it, in words."""

    file: PictureName
    shows: Line


class TempoWords(Model):
    """What lowering and lifting are called in this exercise, where those words would puzzle."""

    lowering: Maybe[Word] = None
    lifting: Maybe[Word] = None

    @model_validator(mode="after")
    def _says_something(self) -> TempoWords:
        if self.lowering is None and self.lifting is None:
            message = "found neither lowering nor lifting, allowed one or both"
            raise faulty(Part("key", (), message, "add lowering: and lifting:, each with a word or two"))
        return self


class Exercise(FileModel):
    """One exercise. `sides`: a dose for `each` or `alternating` counts reps per side.

    `side_is` says what "left" means there, `instead` what to do without a thing, or without jumps.
    """

    name: Title
    pattern: Pattern
    works: tuple[Line, ...] = ()
    sides: Sides
    measure: Measure
    tempo: Maybe[FixedTempo] = None
    seconds_per_rep: Maybe[SecondsPerRep] = Field(None, alias="seconds per rep")
    parts: Positions = 1
    begins: Maybe[Begins] = None
    contacts: Contacts = 0
    landing: Landing = "none"
    needs: tuple[Title, ...] = ()
    loadable: StrictBool = False
    setup: Annotated[tuple[Line, ...], Field(min_length=1)]
    cues: Annotated[tuple[Line, ...], Field(min_length=2, max_length=6)]
    faults: tuple[Line, ...] = ()
    cautions: Annotated[tuple[Line, ...], Field(min_length=1)]
    easier: tuple[Option, ...] = ()
    harder: tuple[Option, ...] = ()
    instead: dict[Title, InsteadOption] = Field(default_factory=dict)
    side_is: Maybe[Line] = Field(None, alias="side is")
    tempo_words: Maybe[TempoWords] = Field(None, alias="tempo words")
    figure: Maybe[Figure] = None
    photos: Annotated[tuple[Photo, ...], Field(max_length=4)] = ()
    clip: Maybe[Clip] = None

    @property
    def has_landings(self) -> bool:
        """Whether something comes down on its feet."""
        return self.contacts > 0 or self.landing != "none" or self.pattern == "jump"

    @property
    def begins_with(self) -> str:
        """What a rep begins with, `lifting` or `lowering`: the order of a tempo's counts does not say it."""
        return self.begins or ("lifting" if self.pattern == "pull" else "lowering")

    def rep_seconds(self, tempo: Tempo | None) -> Number | None:
        """Seconds of one rep at a station's `tempo`, else at the exercise's own; None without either."""
        used = tempo or self.tempo
        return used.seconds * self.parts if used else self.seconds_per_rep

    def rep_before_pause_high(self, tempo: Tempo | None) -> Number | None:
        """The same without the pause high; all of `seconds per rep`. No figure but the fingerprint has it."""
        used = tempo or self.tempo
        return used.before_pause_high * self.parts if used else self.seconds_per_rep
