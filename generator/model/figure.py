"""`figure:` of an exercise: joint angles at key positions, what is planted where, and things."""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field

from generator.amounts import AmountError
from generator.findings import shown
from generator.model.base import Maybe, Model
from generator.model.fields import Duration, Line, Reader

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
HeldAt = Literal["hands", "left hand", "right hand", "chest", "feet", "head"]
MarkName = Literal[
    "hip", "knee", "elbow", "left hip", "left knee", "left elbow", "right hip", "right knee", "right elbow"
]  # fmt: skip
JOINT_NAMES: tuple[str, ...] = get_args(JointName)


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

    One that is `between` is moved through, and left out where the positions stand side by side.
    """

    at: Maybe[Literal["high", "low"]] = None
    between: bool = False
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


class Figure(Model):
    """How an exercise looks. Lengths are cm on a figure of 150 cm; `shows` is the picture in words."""

    view: Literal["side", "front", "above"]
    turned: Annotated[float, _number(-60, 60, "degrees by which the figure is turned to its left", 25)] = 0.0
    shows: Line
    props: tuple[PropName, ...] = ()
    places: dict[PropName, Centimetres] = Field(default_factory=dict)
    holds: dict[HeldName, HeldAt] = Field(default_factory=dict)
    joints: Joints = Field(default_factory=dict)
    planted: Planted = Field(default_factory=dict)
    positions: Annotated[tuple[Position, ...], Field(min_length=1, max_length=8)]
