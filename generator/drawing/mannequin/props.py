"""The things of a figure as lines on the picture's plane: what looks like it and where it stands. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from .camera import Point, lies, project
from .lines import Line
from .motion import HEIGHTS, Movement

SPANS = {"chair": (-20.0, 20.0), "step": (-14.0, 18.0), "rail": (-22.0, 40.0), "worktop": (-3.0, 50.0)}
"""From where to where the top of a thing reaches from its place, in cm away from the figure."""
WALL, _ROOM = 9.0, 168.0
"""Cm of a wall's thickness and height as drawn."""
_Shape = tuple[str, tuple[Point, ...]]


def prop_lines(move: Movement) -> list[Line]:
    """What stands still: the mat, and the things that parts are planted on."""
    if lies(move.figure):
        return [_mat(move)]
    found = []
    for name in move.figure.props:
        place = move.places.get(name, 0.0)
        found += [Line(name, kind, (points,)) for kind, points in _prop(move, name, place, away(move, place))]
    return found


def _mat(move: Movement) -> Line:
    """What somebody lies on: it tells lying from sitting."""
    body = [
        at
        for key in move.keys
        for name, at in key.pose.at.items()
        if not name.endswith(("elbow", "wrist", "fingers", "nose"))
    ]
    (left, right), (far, near) = ((min(ends) - 14, max(ends) + 14) for ends in _floor_of(body))
    corners = ((left, 0.0, far), (right, 0.0, far), (right, 0.0, near), (left, 0.0, near))
    return Line("mat", "mat", (tuple(project(move.figure, corner) for corner in corners),))


def _floor_of(points: list[tuple[float, float, float]]) -> tuple[list[float], list[float]]:
    return [x for x, _, _ in points], [z for _, _, z in points]


def away(move: Movement, place: float) -> float:
    """On which side of a thing the figure is not: 1 when the thing is in front of it, -1 when behind."""
    middle = sum(key.pose.at["chest"][0] for key in move.keys) / len(move.keys)
    return 1.0 if place >= middle else -1.0


def _box(x: float, left: float, right: float, top: float, bottom: float, away: float) -> tuple[Point, ...]:
    """A rectangle from `left` to `right` of the place x, from `top` to `bottom` above the floor."""
    a, b = x + left * away, x + right * away
    return ((a, -top), (b, -top), (b, -bottom), (a, -bottom), (a, -top))


def _wall(x: float, away: float) -> Iterator[_Shape]:
    yield "solid", _box(x, 0, WALL, _ROOM, 0, away)
    yield "edge", ((x, 0), (x, -_ROOM))


def _prop(move: Movement, name: str, x: float, away: float) -> Iterator[_Shape]:
    top = HEIGHTS.get(name, 0.0)
    if name == "wall":
        yield from _wall(x, away)
    elif name == "side wall":
        yield "solid", _behind(move)
    elif name == "chair":
        yield "solid", _box(x, -20, 20, top, top - 5, away)
        yield "edge", _box(x, -20, 20, top, top - 5, away)
        yield "edge", ((x - 18 * away, 5 - top), (x - 18 * away, 0))
        yield "edge", ((x + 18 * away, 5 - top), (x + 18 * away, 0))
        yield "edge", ((x + 19 * away, -top), (x + 23 * away, -top - 42))
    elif name == "step":
        steps = ((-14.0, 0.0), (-14.0, top), (18.0, top), (18.0, 2 * top), (50.0, 2 * top), (50.0, 0.0))
        yield "solid", tuple((x + away * across, -up) for across, up in steps)
        yield "edge", tuple((x + away * across, -up) for across, up in steps[:2])
        yield "edge", ((x + 18 * away, -top), (x + 18 * away, -2 * top))
        # A tread is a board that stands out over the riser.
        yield "tread", ((x - 18 * away, -top), (x + 18 * away, -top))
        yield "tread", ((x + 14 * away, -2 * top), (x + 50 * away, -2 * top))
    elif name == "rail":
        yield "edge", ((x - 22 * away, 12 - top), (x + 46 * away, -top - 27))
        yield "edge", ((x + 40 * away, -top - 24), (x + 40 * away, -2 * HEIGHTS["step"]))
    elif name == "worktop":
        yield from _wall(x + 52 * away, away)
        yield "solid", _box(x, 2, 52, top - 4, 8, away)
        yield "edge", _box(x, -3, 52, top, top - 4, away)
        yield "edge", ((x + 2 * away, 4 - top), (x + 2 * away, -8), (x + 7 * away, -8), (x + 7 * away, 0))
        yield "edge", ((x + 2 * away, 20 - top), (x + 52 * away, 20 - top))
        yield "edge", ((x + 22 * away, 13 - top), (x + 32 * away, 13 - top))


def _behind(move: Movement) -> tuple[Point, ...]:
    """A plain wall behind all that is ever drawn of the body."""
    xs = [at[0] for pose in move.frames() for at in pose.at.values()]
    left, right = min(xs) - 8, max(xs) + 8
    return ((left, 0.0), (left, -_ROOM), (right, -_ROOM), (right, 0.0), (left, 0.0))
