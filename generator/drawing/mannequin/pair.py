"""Right and not so: the body of an exercise, as it should be and with its common fault.

From the front with the knee over the foot and with the knee fallen in; from the side with the body in one
line and with sagging hips. Which of the two, if any, follows from the exercise.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from ...reading.model import Exercise
from ...reading.model.figure import Figure, JointName, Position
from .motion import Key, movement
from .pose import SIDES, Pose, reach_leg
from .sides import mirrored
from .vectors import add, minus, scaled, size, unit


class Pair(NamedTuple):
    """A figure to draw both poses of, and what they are in words."""

    figure: Figure
    right: Pose
    wrong: Pose
    says_right: str
    says_wrong: str
    step: bool = False
    """Whether the leg that works stands on a step."""
    wall: bool = False
    """Whether a hand is at a wall beside the body."""


KNEES = ("knee over the foot", "knee fallen in")
HIPS = ("one line from head to heels", "hips sag")
_ON_LEGS = ("squat", "lunge", "jump", "land")
_UPRIGHT = 15.0
"""Cm by which the chest is above the hips of who stands."""
_BENT = 12.0
"""Degrees from which a knee counts as bent."""
_ARCH = 22.0
"""Degrees by which the hips stretch in a push-up that sags."""
_RISES = range(6, 22)
"""Degrees by which the trunk rises then: those that leave the arms as they are."""
_TOUCHES = 0.5
"""Cm by which a hand may miss its place."""
_BY_SAGGING: tuple[JointName, ...] = ("lean", "hip", "shoulder")
_IN = 13.0
"""Cm by which a knee that falls in leaves its place; two of them at most meet."""


def pair(exercise: Exercise) -> Pair | None:
    """Right and not so of an exercise whose common fault can be drawn; None for any other."""
    if exercise.figure is None:
        return None
    if exercise.pattern == "push" and _is_plank(exercise.figure):
        return _hips(exercise.figure)
    one_leg = exercise.pattern == "hinge" and exercise.sides != "both"
    if exercise.pattern in _ON_LEGS or one_leg:
        return _knees(exercise.figure)
    return None


def _is_plank(figure: Figure) -> bool:
    return (
        figure.view == "side"
        and any(part in figure.planted for part in ("feet", "toes"))
        and "hands" in figure.planted
    )


def _hips(figure: Figure) -> Pair:
    """The highest position, and the same hands and toes with the hips let go."""
    highest = max(movement(figure).keys, key=lambda key: key.pose.at["chest"][1]).position
    right, *sagging = (_held(highest, joints) for joints in (highest.joints, *_sagging(highest.joints)))
    keys = movement(figure.model_copy(update={"positions": (right, *sagging)})).keys
    straight = keys[0].pose.bend("right", "elbow")

    def from_right(key: Key) -> tuple[bool, float]:
        misses = max(key.pose.gaps.values(), default=0.0) > _TOUCHES
        return misses, abs(key.pose.bend("right", "elbow") - straight)

    return Pair(figure, keys[0].pose, min(keys[1:], key=from_right).pose, *HIPS)


def _sagging(joints: Mapping[JointName, float]) -> Iterator[dict[JointName, float]]:
    """Hips let go, with the trunk raised by more and more: on a wall by more than on the floor."""
    lean, hip, shoulder = (joints.get(name, 0.0) for name in _BY_SAGGING)
    for rise in _RISES:
        yield {**joints, "lean": lean - rise, "hip": hip - _ARCH, "shoulder": shoulder - rise}


def _held(position: Position, joints: Mapping[JointName, float]) -> Position:
    return position.model_copy(update={"joints": joints, "marks": ()})


def _knees(figure: Figure) -> Pair | None:
    """The position with the most bent standing leg, turned to the front."""
    front = figure.model_copy(
        update={"view": "front", "turned": 0.0, "raised": None, "props": (), "holds": {}}
    )
    shown = [key for key in movement(figure).keys if not key.position.between]
    found = [(bent, key) for key in shown for bent in [_most_bent(key)] if bent > _BENT]
    if not found:
        return None
    _, key = max(found, key=lambda one: one[0])
    right = _under(key.pose)
    legs = _standing(key)
    if len(legs) == 1 and legs[0] == "left":
        right, legs = mirrored(right), ["right"]
    right = _apart(right, legs) if len(legs) > 1 else right
    wrong = mirrored(mirrored(right))
    for side in legs:
        _fall_in(wrong, side, len(legs))
    on_step = any(contact.support == "step" for contact in key.planted.values())
    on_step = on_step and any(contact.support == "floor" for contact in key.planted.values())
    return Pair(front, right, wrong, *KNEES, on_step, "side wall" in figure.props)


def _standing(key: Key) -> list[str]:
    """The sides whose whole foot stands and whose knee is bent, for whoever is upright."""
    at = key.pose.at
    if at["chest"][1] < at["pelvis"][1] + _UPRIGHT:
        return []
    stands = [side for side in ("right", "left") if f"{side} foot" in key.planted]
    bent = [side for side in stands if key.pose.bend(side, "knee") > _BENT]
    deepest = max((key.pose.bend(side, "knee") for side in bent), default=0.0)
    return [side for side in bent if key.pose.bend(side, "knee") > deepest - _ALIKE]


def _under(pose: Pose) -> Pose:
    """The pose with its hips over the origin: seen from the front, what is ahead lies lower."""
    back = (pose.pelvis[0], 0.0, 0.0)
    moved = mirrored(mirrored(pose))
    moved.pelvis = minus(pose.pelvis, back)
    moved.at = {name: minus(at, back) for name, at in pose.at.items()}
    return moved


_ALIKE = 10.0
"""Degrees within which two knees do the same."""


def _most_bent(key: Key) -> float:
    return max((key.pose.bend(side, "knee") for side in _standing(key)), default=0.0)


_STANCE = 9.0
"""Cm by which either foot is set out from under its hip, so that knees that fall in are seen to."""


def _apart(pose: Pose, legs: list[str]) -> Pose:
    """The same with the feet at the shoulders' width and the knees over them."""
    wide = mirrored(mirrored(pose))
    for side in legs:
        out = scaled(wide.right, SIDES[side])
        wide.bends[f"{side} leg"] = add(wide.bends[f"{side} leg"], out, 0.15)
        values = dict(wide.values)
        values[f"{side} hip turn"] = values[f"{side} hip turn"] + 14.0
        wide.values = values
        reach_leg(wide, side, add(wide.at[f"{side} ankle"], out, _STANCE), planted=True)
    return wide


def _fall_in(pose: Pose, side: str, legs: int) -> None:
    """Let the knee of a standing leg fall in, about the line from hip to ankle."""
    hip, knee, ankle = (pose.at[f"{side} {name}"] for name in ("hip", "knee", "ankle"))
    axis = unit(minus(ankle, hip))
    out = minus(
        minus(knee, hip), scaled(axis, sum(a * b for a, b in zip(minus(knee, hip), axis, strict=True)))
    )
    inward = scaled(pose.right, -SIDES[side])
    most = _IN if legs == 1 else min(_IN, max(3.0, abs(knee[2] - pose.pelvis[2]) - _MEET))
    share = min(0.95, most / max(size(out), 1e-6))
    pose.bends[f"{side} leg"] = add(scaled(unit(out), (1 - share * share) ** 0.5), inward, share)
    reach_leg(pose, side, ankle, planted=True)


_MEET = 4.5
"""Cm from the middle at which knees meet."""
