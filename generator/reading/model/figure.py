"""`figure:` of an exercise: joint angles at key positions, what is planted where, and things."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Literal, get_args

from pydantic import ConfigDict, Field, model_validator

from ..amounts import AmountError
from ..findings import listed, shown
from .base import Maybe, Model
from .fields import Duration, Id, Line, Part, Reader, faulty

JointName = Literal[
    "hip", "hip out", "hip turn", "knee", "ankle", "heel",
    "shoulder", "shoulder out", "shoulder turn", "elbow",
    "left hip", "left hip out", "left hip turn", "left knee", "left ankle", "left heel",
    "left shoulder", "left shoulder out", "left shoulder turn", "left elbow",
    "right hip", "right hip out", "right hip turn", "right knee", "right ankle", "right heel",
    "right shoulder", "right shoulder out", "right shoulder turn", "right elbow",
    "lean", "tilt", "twist", "neck",
]  # fmt: skip
PartName = Literal[
    "feet", "left foot", "right foot", "toes", "left toes", "right toes",
    "knees", "left knee", "right knee", "hands", "left hand", "right hand",
    "elbows", "left elbow", "right elbow", "ankles", "left ankle", "right ankle", "seat", "back", "shoulders",
]  # fmt: skip
Support = Literal[
    "floor",
    "wall",
    "chair",
    "step",
    "rail",
    "worktop",
    "hips",
    "thighs",
    "knees",
    "chest",
    "head",
    "other shoulder",
]
PropName = Literal["wall", "side wall", "chair", "step", "rail", "worktop"]
HeldName = Literal["bag", "towel", "broom"]
HeldAt = Literal["hands", "left hand", "right hand", "chest", "back", "feet", "head"]
MarkName = Literal[
    "hip", "knee", "elbow", "left hip", "left knee", "left elbow", "right hip", "right knee", "right elbow"
]  # fmt: skip
JOINT_NAMES: tuple[str, ...] = get_args(JointName)
ON_THE_BODY = ("hips", "thighs", "knees", "chest", "head", "other shoulder")
"""What a hand alone can lie on, and what moves with the body."""
_PLURALS = {
    "feet": "foot",
    "toes": "toes",
    "knees": "knee",
    "hands": "hand",
    "elbows": "elbow",
    "ankles": "ankle",
}
_SINGLE = {many: (f"right {one}", f"left {one}") for many, one in _PLURALS.items()}
_LIMBS = {"foot": "leg", "toes": "leg", "knee": "leg", "ankle": "leg", "hand": "arm", "elbow": "arm"}
_HOLDS: dict[str, tuple[str, ...]] = {
    "bag": ("hands", "left hand", "right hand", "chest", "back"),
    "towel": ("hands", "feet", "head"),
    "broom": ("hands",),
}
"""Where each thing can be drawn."""


def _number(least: int, most: int, what: str, example: int) -> Reader:
    def read(raw: object) -> float:
        if isinstance(raw, int | float) and not isinstance(raw, bool) and least <= raw <= most:
            return float(raw)
        hint = f"write the number alone, such as {example}"
        raise AmountError(f"found {shown(raw)}, allowed {what} from {least} to {most}", hint)

    return Reader(read, {"type": "number", "minimum": least, "maximum": most, "examples": [example]})


Angle = Annotated[float, _number(-180, 180, "an angle in degrees", 90)]
Centimetres = Annotated[float, _number(-200, 200, "a number of centimetres", 20)]
Joints = dict[JointName, Angle]
Planted = dict[PartName, Support]


class Position(Model):
    """One key position. Joints that it does not name stay as the figure's own `joints` have them.

    One that is `between` is moved through, and left out where the positions stand side by side. The one that
    `tells` is the still by which the exercise is known; without one it is the last that is not between.
    """

    at: Maybe[Literal["high", "low"]] = None
    between: bool = False
    tells: bool = False
    says: Line
    joints: Joints = Field(default_factory=dict)
    planted: Maybe[Planted] = None
    rise: Centimetres = 0.0
    along: Centimetres = 0.0
    aside: Centimetres = 0.0
    steps: tuple[PartName, ...] = ()
    moves: Maybe[Duration] = None
    stays: Maybe[Duration] = None
    marks: tuple[MarkName, ...] = ()


def _like_or_whole(schema: dict[str, Any]) -> None:
    """For editors: a figure has all that it needs, or is like another one."""
    schema["anyOf"] = [{"required": schema.pop("required")}, {"required": ["like"]}]


class Figure(Model):
    """How an exercise looks. Lengths are cm on a figure of 150 cm; `shows` is the picture in words.

    One that is `like` that of another exercise says what differs; the rest is filled in before it is read.
    `side` is the one that works in the drawing: the right one where it is not said.
    """

    model_config = ConfigDict(json_schema_extra=_like_or_whole)

    like: Maybe[Id] = None
    view: Literal["side", "front", "above"]
    turned: Annotated[float, _number(-180, 180, "degrees by which the figure is turned to its left", 25)] = (
        0.0
    )
    raised: Maybe[Annotated[float, _number(0, 80, "degrees from which one looks down on it", 30)]] = None
    shows: Line
    side: Maybe[Literal["left", "right"]] = None
    props: tuple[PropName, ...] = ()
    places: dict[PropName, Centimetres] = Field(default_factory=dict)
    holds: dict[HeldName, HeldAt] = Field(default_factory=dict)
    joints: Joints = Field(default_factory=dict)
    planted: Planted = Field(default_factory=dict)
    positions: Annotated[tuple[Position, ...], Field(min_length=1, max_length=8)]

    @model_validator(mode="after")
    def _can_be_drawn(self) -> Figure:
        parts = [*_wrong_plants(("planted",), self.planted), *_wrong_holds(self.holds), *_wrong_times(self)]
        for index, position in enumerate(self.positions):
            parts += _wrong_plants(("positions", index, "planted"), position.planted or {})
        if parts:
            raise faulty(*parts)
        return self


def singles(planted: Mapping[PartName, Support]) -> dict[str, str]:
    """Parts with their sides: `feet` is left foot and right foot."""
    return {part: support for name, support in planted.items() for part in _SINGLE.get(name, (name,))}


def _wrong_plants(path: tuple[str | int, ...], planted: Planted) -> Iterator[Part]:
    """Parts on what only a hand can lie on, and limbs that are planted twice."""
    taken: dict[str, str] = {}
    for name, support in planted.items():
        ends = _SINGLE.get(name, (name,))
        if support in ON_THE_BODY and not all(end.endswith("hand") for end in ends):
            message = f"found {shown(support)} for {name}, allowed for hands alone"
            yield Part("value", (*path, name), message, "write what it stands or lies on, such as floor")
        for end in ends:
            side, _, what = end.partition(" ")
            limb = f"{side} {_LIMBS[what]}" if what in _LIMBS else ""
            if limb in taken:
                message = f"{name}: the {limb} is planted twice, by {taken[limb]} as well"
                yield Part("value", (*path, name), message, "keep one of the two", at_key=True)
                break
            if limb:
                taken[limb] = name


def _wrong_holds(holds: Mapping[HeldName, HeldAt]) -> Iterator[Part]:
    for thing, where in holds.items():
        if where not in _HOLDS[thing]:
            message = f"found {shown(where)} for a {thing}, allowed {listed(_HOLDS[thing])}"
            yield Part("value", ("holds", thing), message, "write where it can be drawn")


def _wrong_times(figure: Figure) -> Iterator[Part]:
    still, moving = ([getattr(one, name) for one in figure.positions] for name in ("stays", "moves"))
    if len(figure.positions) > 1 and not any(still) and all(one == 0 for one in moving):
        message = "found positions between which no time passes"
        yield Part("value", ("positions",), message, "take moves: 0 s out, or write how long it takes")
    if all(position.between for position in figure.positions):
        message = "found nothing but positions between others"
        yield Part("value", ("positions",), message, "take between: true out where a position is to be shown")
