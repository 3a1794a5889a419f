"""Left and right: a movement done with the other side, and both sides in turn. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple, TypeVar

from ...reading.model import Exercise
from ...reading.model.figure import Position
from .motion import Contact, Key, Movement, movement, ways
from .pose import Pose
from .vectors import Vector, minus, scaled, size

_T = TypeVar("_T")
_SAME = 3.0
"""Cm by which joints of two positions may differ that count as one."""


class Shown(NamedTuple):
    """What moves on a screen, and how many reps one time through has."""

    move: Movement
    reps: int


def shown(exercise: Exercise) -> Shown | None:
    """The movement of an exercise: both sides in turn where it alternates and the file draws one alone."""
    if exercise.figure is None:
        return None
    move = movement(exercise.figure)
    if exercise.sides != "alternating" or len(move.keys) < _MOVES or _alternates(move):
        return Shown(move, 1)
    return Shown(in_turn(move), 2)


_MOVES = 2


@lru_cache(maxsize=1024)
def in_turn(move: Movement) -> Movement:
    """The movement as it is and then with the other side. What stands in the picture stays where it is."""
    keys = (*move.keys, *(_mirrored_key(key) for key in move.keys))
    figure = move.figure.model_copy(update={"positions": tuple(key.position for key in keys)})
    return Movement(figure, keys, ways(keys), move.places)


def _alternates(move: Movement) -> bool:
    """Whether a position that is not the same on both sides has its mirror image among the others."""
    poses = [key.pose for key in move.keys]
    for pose in poses:
        other = mirrored(pose)
        if not _same(pose, other) and any(_same(one, other) for one in poses):
            return True
    return False


def _same(one: Pose, other: Pose) -> bool:
    """Whether two poses are alike, wherever they are."""
    return all(
        size(minus(minus(at, one.pelvis), minus(other.at[name], other.pelvis))) < _SAME
        for name, at in one.at.items()
    )


def other_side(name: str) -> str:
    """`left knee` for `right knee`, and a name without a side as it is."""
    side, space, rest = name.partition(" ")
    return f"{_OTHER[side]}{space}{rest}" if side in _OTHER else name


_OTHER = {"left": "right", "right": "left"}


def _swapped(of: Mapping[str, _T]) -> dict[str, _T]:
    return {other_side(name): value for name, value in of.items()}


def _over(point: Vector) -> Vector:
    return point[0], point[1], -point[2]


def mirrored(pose: Pose) -> Pose:
    """The pose with left and right changed over."""
    values = _swapped(pose.values)
    values |= {name: -values[name] for name in ("tilt", "twist")}
    return Pose(
        values=values,
        pelvis=_over(pose.pelvis),
        forward=_over(pose.forward),
        up=_over(pose.up),
        right=scaled(_over(pose.right), -1),
        at={name: _over(at) for name, at in _swapped(pose.at).items()},
        gaps=_swapped(pose.gaps),
        bends={name: _over(at) for name, at in _swapped(pose.bends).items()},
        thumbs={name: _over(at) for name, at in _swapped(pose.thumbs).items()},
    )


def _mirrored_key(key: Key) -> Key:
    planted = {
        other_side(part): Contact(contact.support, _over(contact.at)) for part, contact in key.planted.items()
    }
    return Key(_mirrored_position(key.position), mirrored(key.pose), planted, other_side(key.base))


def _mirrored_position(position: Position) -> Position:
    """What is drawn by name alone: the marks."""
    return position.model_copy(update={"marks": tuple(other_side(mark) for mark in position.marks)})
