"""A pose or a thing as lines on the picture's plane: which, in what order, how thick. Pure.

Near limbs are solid, far limbs hollow, so that they are told apart without colour.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin
from typing import NamedTuple

from ...reading.model.figure import Figure
from .motion import HEIGHTS, Movement
from .pose import Pose
from .vectors import UP, Vector, add, minus, mixed, scaled, size, unit

Point = tuple[float, float]
"""Across and down, in cm."""


class Line(NamedTuple):
    """Points that are joined; `kind` is how they are drawn."""

    name: str
    kind: str
    points: tuple[Point, ...]


def project(figure: Figure, point: Vector) -> Point:
    """From the figure's right side, from its front, or from above; `turned` to its left as it says."""
    (x, y, z), angle = point, radians(figure.turned)
    x, z = x * cos(angle) + z * sin(angle), z * cos(angle) - x * sin(angle)
    return (
        (x, -y)
        if figure.view == "side"
        else (-z, -y)
        if figure.view == "front"
        else (x + STEEP * y, z - STEEP * y)
    )


STEEP = 0.5
"""From above one looks aslant, so that what is lifted leaves its shade: cm in the picture for a cm up."""


def body_lines(figure: Figure, pose: Pose) -> list[Line]:
    """A pose from the farthest to the nearest: far limbs, trunk and head, near limbs."""
    at, view = pose.at, figure.view

    def line(name: str, kind: str, *points: Vector) -> Line:
        return Line(name, kind, tuple(project(figure, point) for point in points))

    def leg(side: str, kind: str) -> Line:
        hip, knee, ankle = (at[f"{side} {name}"] for name in ("hip", "knee", "ankle"))
        heel, ball, toe = (at[f"{side} {name}"] for name in ("heel", "ball", "toe"))
        lift = scaled(unit(minus(ankle, mixed(heel, ball, 0.32))), 2.5)
        level = add(toe, lift) if size(minus(toe, ball)) > 4 and toe[1] != ball[1] else add(toe, UP, 2.5)
        return line(f"{side} leg", kind, hip, knee, ankle, add(heel, lift), add(ball, lift), level)

    def arm(side: str, kind: str) -> Line:
        wrist = at[f"{side} wrist"]
        hand = mixed(wrist, at[f"{side} fingers"], 0.55)
        return line(f"{side} arm", kind, at[f"{side} shoulder"], at[f"{side} elbow"], wrist, hand)

    head = [line("neck", "neck", at["chest"], at["head"]), line("face", "face", at["head"], at["nose"])]
    head.append(line("head", "head", at["head"], at["head"]))
    held = list(_held(figure, pose))
    if view == "side":
        trunk = line("trunk", "trunk", at["pelvis"], at["chest"])
        far = [arm("left", "far"), leg("left", "far")]
        return [*far, trunk, *head, leg("right", "near"), *held, arm("right", "near")]
    corners = (
        mixed(at["pelvis" if joint == "hip" else "chest"], at[f"{side} {joint}"], _WIDE[joint])
        for side, joint in _CORNERS
    )
    trunk = line("trunk", "chest", *corners)
    arms = [arm("left", "near"), arm("right", "near")]
    shades = [
        line(
            f"{side} shade",
            "shade",
            *(
                (at[name][0], 0.0, at[name][2])
                for name in (f"{side} shoulder", f"{side} elbow", f"{side} wrist")
            ),
        )
        for side in ("left", "right")
    ]
    legs = [leg("left", "near"), leg("right", "near")]
    if view == "above":
        return [*shades, *held, *legs, trunk, *head, *arms]
    if "broom" in figure.holds:
        return [*legs, trunk, *head, *held, *arms]
    return [*legs, trunk, *head, *arms, *held]


_WIDE = {"hip": 0.6, "shoulder": 0.75}
_CORNERS = (("left", "hip"), ("left", "shoulder"), ("right", "shoulder"), ("right", "hip"))
"""The trunk seen from the front, with how far out it reaches: the line around it is thick."""


def _held(figure: Figure, pose: Pose) -> Iterator[Line]:
    for thing, where in figure.holds.items():
        for points in _thing(figure, pose, thing, where):
            yield Line(thing, thing, points)


def _thing(figure: Figure, pose: Pose, thing: str, where: str) -> Iterator[tuple[Point, ...]]:
    at = pose.at
    hands = [project(figure, mixed(at[f"{s} wrist"], at[f"{s} fingers"], 0.4)) for s in ("left", "right")]
    if thing == "bag":
        yield _bag(figure, pose, where, hands)
    elif where == "feet":
        soles = project(figure, at["right ball"])
        yield (hands[1], soles, hands[0])
    elif where == "head":
        x, y = project(figure, at["nose"])
        yield ((x - 7, y), (x + 7, y))
    else:
        (x, y), (u, v) = hands
        far = 0.35 if thing == "broom" else 0.12
        yield ((x - far * (u - x), y - far * (v - y)), (u + far * (u - x), v + far * (v - y)))


def _bag(figure: Figure, pose: Pose, where: str, hands: list[Point]) -> tuple[Point, ...]:
    if where == "chest":
        up, wide = project(figure, pose.up), 10 if figure.view == "side" else 15
        x, y = project(figure, add(add(pose.at["chest"], pose.up, -14), pose.forward, 19))
        ux, uy = up
        corners = [(-wide, -17), (-wide, 17), (wide, 17), (wide, -17), (-wide, -17)]
        return tuple((x + a * -uy + b * ux, y + a * ux + b * uy) for a, b in corners)
    x = (hands[0][0] + hands[1][0]) / 2 if where == "hands" else hands[where == "right hand"][0]
    y = (hands[0][1] + hands[1][1]) / 2 if where == "hands" else hands[where == "right hand"][1]
    return ((x, y), (x - 7, y + 9), (x - 9, y + 34), (x + 9, y + 34), (x + 7, y + 9), (x, y))


def prop_lines(move: Movement) -> list[Line]:
    """What stands still: the floor, and the things that parts are planted on."""
    if move.figure.view == "above":
        return [_mat(move)]
    found = []
    for name in move.figure.props:
        place = move.places.get(name, 0.0)
        found += [Line(name, kind, points) for kind, points in _prop(name, place, away(move, place))]
    return found


def _mat(move: Movement) -> Line:
    """What somebody lies on, seen from above: it tells lying from sitting."""
    body = [
        line
        for line in body_lines(move.figure, move.keys[0].pose)
        if not line.name.endswith(("arm", "shade"))
    ]
    points = [point for line in body for point in line.points]
    (left, right), (top, bottom) = ((min(ends) - 14, max(ends) + 14) for ends in zip(*points, strict=True))
    return Line("mat", "mat", ((left, top), (right, top), (right, bottom), (left, bottom)))


SPANS = {"chair": (-20.0, 20.0), "step": (-14.0, 18.0), "rail": (-22.0, 40.0), "worktop": (-3.0, 50.0)}
"""From where to where the top of a thing reaches from its place, in cm away from the figure."""


def away(move: Movement, place: float) -> float:
    """On which side of a thing the figure is not: 1 when the thing is in front of it, -1 when behind."""
    middle = sum(key.pose.at["chest"][0] for key in move.keys) / len(move.keys)
    return 1.0 if place >= middle else -1.0


def _prop(name: str, x: float, away: float) -> Iterator[tuple[str, tuple[Point, ...]]]:
    top = -HEIGHTS.get(name, 0.0)
    if name == "wall":
        yield "edge", ((x, 0), (x, -165))
        for y in range(0, 160, 12):
            yield "hatch", ((x, -y), (x + 7 * away, -y - 7))
    elif name == "side wall":
        for row, y in enumerate(range(-86, -160, -18)):
            for brick in range(2):
                start = x + brick * 34 + row % 2 * 17
                yield "hatch", ((start, y), (start + 22, y))
    elif name == "chair":
        back = x + 20 * away
        yield "edge", ((x - 20 * away, 0), (x - 20 * away, top), (back, top), (back, 0))
        yield "edge", ((back, top), (back + 4 * away, top - 42))
    elif name == "step":
        steps = ((-14, 0), (-14, top), (18, top), (18, 2 * top), (46, 2 * top))
        yield "edge", tuple((x + away * across, y) for across, y in steps)
    elif name == "rail":
        yield "edge", ((x - 22, top + 12), (x + 40, top - 26))
        yield "hatch", ((x + 30, top - 20), (x + 30, -20))
    elif name == "worktop":
        yield "edge", ((x + 50, top), (x - 3, top), (x - 3, top + 4), (x + 50, top + 4))
        yield "hatch", ((x + 4, top + 4), (x + 4, 0))
