"""Joint angles to points: forward kinematics, and limbs that reach for what they are planted on. Pure.

Angles are anatomical, in degrees, 0 standing at ease: hip, knee, shoulder and elbow bend forward (the knee
back), `out` leads away from the middle, `turn` outward. `lean` tips the trunk forward (90 is face down, -90
on the back), `tilt` to the right, `twist` turns the chest to the left. The spine is straight from hip to
shoulder.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import asin, atan2, degrees, sqrt

from ...reading.model.figure import JointName
from .body import HEEL, HIPS, SHOULDERS, STATURE, TOES, length
from .vectors import UP, ZERO, Vector, across, add, dot, minus, scaled, size, turned, unit

SIDES = {"left": -1.0, "right": 1.0}
THICK = {"hand": 2.0, "knee": 4.5, "elbow": 3.5, "ankle": 6.0, "seat": 8.0, "back": 8.0, "shoulders": 8.0}
"""Centimetres from a joint's middle to the skin that touches the support; choices of ours."""
_UPPER_ARM, _FOREARM, _HAND = length("upper arm"), length("forearm"), length("hand")
_THIGH, _SHANK, _ANKLE = length("thigh"), length("shank"), length("ankle height")
_TRUNK = length("trunk")
ON_TOES = 70.0
"""Degrees by which the heel is raised where toes are planted and nothing else is said."""

_ASIDE = 0.1
"""Below this square of its length seen from the side, a limb points to the side."""

Values = Mapping[str, float]
"""Degrees by joint, each limb's with its side."""


@dataclass(slots=True)
class Pose:
    """The points of one body in cm, by name, and `gaps`: by how much a planted part misses its place."""

    values: Values
    pelvis: Vector
    forward: Vector = ZERO
    up: Vector = ZERO
    right: Vector = ZERO
    at: dict[str, Vector] = field(default_factory=dict)
    gaps: dict[str, float] = field(default_factory=dict)
    bends: dict[str, Vector] = field(default_factory=dict)
    """For each limb the direction in which its thigh or upper arm faces."""
    thumbs: dict[str, Vector] = field(default_factory=dict)
    """By side, where the thumb points."""

    def bend(self, side: str, joint: str) -> float:
        """Degrees at a hip, knee, ankle, shoulder or elbow as the points have it.

        At a hip or shoulder how far the limb is forward; a limb that points to the side has 0 there.
        """
        if joint == "elbow":
            return _between(self._along(side, "shoulder", "elbow"), self._along(side, "elbow", "wrist"))
        if joint == "shoulder":
            return self._forward(self._along(side, "shoulder", "elbow"))
        thigh, shank = self._along(side, "hip", "knee"), self._along(side, "knee", "ankle")
        if joint == "knee":
            return _between(thigh, shank)
        if joint == "hip":
            return self._forward(thigh)
        sole = self._along(side, "heel", "toe")
        return degrees(asin(max(-1.0, min(1.0, -dot(sole, shank)))))

    def _forward(self, limb: Vector) -> float:
        ahead, down = dot(limb, self.forward), -dot(limb, self.up)
        return degrees(atan2(ahead, down)) if ahead * ahead + down * down > _ASIDE else 0.0

    def _along(self, side: str, first: str, last: str) -> Vector:
        return unit(minus(self.at[f"{side} {last}"], self.at[f"{side} {first}"]))


def _between(a: Vector, b: Vector) -> float:
    return degrees(atan2(size(minus(a, scaled(b, dot(a, b)))), dot(a, b)))


def spread(*layers: Mapping[JointName, float]) -> dict[str, float]:
    """Every joint of both sides; a later layer overrules an earlier one, a named side the word for both."""
    values = {f"{side} {joint}": 0.0 for side in SIDES for joint in _LIMB_JOINTS}
    values |= {"lean": 0.0, "tilt": 0.0, "twist": 0.0, "neck": 0.0}
    for layer in layers:
        for name, degree in layer.items():
            if name in _LIMB_JOINTS:
                values |= {f"{side} {name}": degree for side in SIDES}
        values |= {name: degree for name, degree in layer.items() if name not in _LIMB_JOINTS}
    return values


_LIMB_JOINTS = (
    "hip", "hip out", "hip turn", "knee", "ankle", "heel",
    "shoulder", "shoulder out", "shoulder turn", "elbow",
)  # fmt: skip


def body(values: Values, pelvis: Vector = ZERO) -> Pose:
    """The body as its angles alone have it, with the middle between the hips at `pelvis`."""
    pose = Pose(values, pelvis)
    up, forward = turned(UP, (1.0, 0.0, 0.0), values["lean"])
    up, right = turned(up, (0.0, 0.0, 1.0), values["tilt"])
    pose.forward, pose.up, pose.right = forward, up, right
    chest_right, chest_forward = turned(right, forward, values["twist"])
    chest = add(pelvis, up, _TRUNK)
    looks, nod = turned(up, chest_forward, values["neck"])
    head = add(chest, looks, length("neck") + length("head") / 2)
    pose.at |= {"pelvis": pelvis, "chest": chest, "head": head}
    pose.at |= {"nose": add(head, nod, length("head") / 2 + 2), "chest front": add(chest, chest_forward)}
    for side, sign in SIDES.items():
        _leg(pose, side, sign, forward, up, right)
        _arm(pose, side, sign, chest_forward, up, chest_right)
    return pose


def _ball_joint(
    values: Values, joint: str, sign: float, forward: Vector, up: Vector, right: Vector
) -> tuple[Vector, Vector]:
    """Direction of the thigh or upper arm, and of what faces forward on it."""
    down, front = turned(scaled(up, -1), forward, values[joint])
    down, side = turned(down, scaled(right, sign), values[f"{joint} out"])
    front, _ = turned(front, side, values[f"{joint} turn"])
    return down, front


def _leg(pose: Pose, side: str, sign: float, forward: Vector, up: Vector, right: Vector) -> None:
    hip = add(pose.pelvis, right, sign * HIPS * STATURE / 2)
    thigh, front = _ball_joint(pose.values, f"{side} hip", sign, forward, up, right)
    knee = add(hip, thigh, _THIGH)
    shank, shin = turned(thigh, scaled(front, -1), pose.values[f"{side} knee"])
    ankle = add(knee, shank, _SHANK)
    toes, sole = turned(scaled(shin, -1), scaled(shank, -1), pose.values[f"{side} ankle"])
    pose.bends[f"{side} leg"] = front
    pose.at |= {f"{side} hip": hip, f"{side} knee": knee, f"{side} ankle": ankle}
    _foot(pose, side, toes, scaled(sole, -1))


def _foot(pose: Pose, side: str, toes: Vector, sole: Vector) -> None:
    """The points of a foot that points along `toes` with its sole facing `sole`."""
    under = add(pose.at[f"{side} ankle"], sole, _ANKLE)
    pose.at[f"{side} heel"] = add(under, toes, -HEEL * STATURE)
    pose.at[f"{side} ball"] = add(under, toes, TOES * STATURE)
    pose.at[f"{side} toe"] = add(under, toes, length("foot") - HEEL * STATURE)


def _arm(pose: Pose, side: str, sign: float, forward: Vector, up: Vector, right: Vector) -> None:
    shoulder = add(pose.at["chest"], right, sign * SHOULDERS * STATURE / 2)
    upper, front = _ball_joint(pose.values, f"{side} shoulder", sign, forward, up, right)
    elbow = add(shoulder, upper, _UPPER_ARM)
    forearm, pose.thumbs[side] = turned(upper, front, pose.values[f"{side} elbow"])
    wrist = add(elbow, forearm, _FOREARM)
    pose.bends[f"{side} arm"] = scaled(front, -1)
    pose.at |= {f"{side} shoulder": shoulder, f"{side} elbow": elbow, f"{side} wrist": wrist}
    pose.at[f"{side} fingers"] = add(wrist, forearm, _HAND)


def foot_directions(values: Values, side: str) -> tuple[Vector, Vector]:
    """Toes and sole of a planted foot: level, turned out with the hip, its heel raised as `heel` says."""
    ahead, _ = turned((1.0, 0.0, 0.0), (0.0, 0.0, SIDES[side]), values[f"{side} hip turn"])
    toes, sole_up = turned(ahead, UP, -values[f"{side} heel"])
    return toes, scaled(sole_up, -1)


def ankle_over(values: Values, side: str, ball: Vector) -> Vector:
    """Where the ankle is when the ball of a planted foot is at `ball`."""
    toes, sole = foot_directions(values, side)
    return add(add(ball, toes, -TOES * STATURE), sole, -_ANKLE)


def reach_leg(pose: Pose, side: str, ankle: Vector, planted: bool) -> None:
    """Bend a leg so that its ankle is at `ankle`; a planted foot is level as its values say."""
    hip = pose.at[f"{side} hip"]
    knee, gap = _reach(hip, ankle, _THIGH, _SHANK, pose.bends[f"{side} leg"])
    end = add(knee, unit(minus(ankle, knee)), _SHANK)
    before = {name: minus(pose.at[f"{side} {name}"], pose.at[f"{side} ankle"]) for name in _FOOT}
    pose.at |= {f"{side} knee": knee, f"{side} ankle": end}
    if planted:
        _foot(pose, side, *foot_directions(pose.values, side))
        _flatten_toes(pose, side)
        pose.gaps[f"{side} foot"] = gap
    else:
        pose.at |= {f"{side} {name}": add(end, offset) for name, offset in before.items()}


def _flatten_toes(pose: Pose, side: str) -> None:
    """Where the heel of a planted foot is raised, the toes in front of the ball still lie flat."""
    if pose.values[f"{side} heel"]:
        ahead, _ = turned((1.0, 0.0, 0.0), (0.0, 0.0, SIDES[side]), pose.values[f"{side} hip turn"])
        long = length("foot") - (HEEL + TOES) * STATURE
        pose.at[f"{side} toe"] = add(pose.at[f"{side} ball"], ahead, long)


_FOOT = ("heel", "ball", "toe")


def reach_arm(pose: Pose, side: str, wrist: Vector, hand: Vector | None = None) -> None:
    """Bend an arm so that its wrist is at `wrist`; the hand lies along `hand`, or follows the forearm."""
    shoulder = pose.at[f"{side} shoulder"]
    elbow, gap = _reach(shoulder, wrist, _UPPER_ARM, _FOREARM, pose.bends[f"{side} arm"])
    forearm = unit(minus(wrist, elbow))
    end = add(elbow, forearm, _FOREARM)
    pose.at |= {f"{side} elbow": elbow, f"{side} wrist": end}
    pose.at[f"{side} fingers"] = add(end, hand or forearm, _HAND)
    # A palm that lies on something has its thumb inward; else the thumb is on the side to which the elbow bends.
    inward = scaled(pose.right, -SIDES[side]) if hand else minus(shoulder, elbow)
    pose.thumbs[side] = unit(across(inward, hand or forearm))
    pose.gaps[f"{side} hand"] = gap


def _reach(root: Vector, end: Vector, first: float, second: float, pole: Vector) -> tuple[Vector, float]:
    """The middle joint of a limb of two segments from `root` to `end`, and by how much it falls short.

    The limb bends towards `pole`. The law of cosines; an end out of reach gets the straight limb towards it.
    """
    line = minus(end, root)
    far = size(line)
    reached = max(min(far, first + second), abs(first - second) + 1e-6)
    axis = unit(line)
    along = (first * first - second * second + reached * reached) / (2 * reached)
    aside = sqrt(max(first * first - along * along, 0.0))
    middle = add(add(root, axis, along), unit(across(pole, axis)), aside)
    return middle, abs(far - reached)


def rest_knee(pose: Pose, side: str, at: float, shin_back: bool) -> None:
    """Let a knee come down to the height `at`; the shin lies behind it when `shin_back`."""
    hip, knee = pose.at[f"{side} hip"], pose.at[f"{side} knee"]
    level = unit((knee[0] - hip[0], 0.0, knee[2] - hip[2]))
    drop = hip[1] - at
    pose.gaps[f"{side} knee"] = max(0.0, abs(drop) - _THIGH)
    drop = max(-_THIGH, min(_THIGH, drop))
    knee = add((hip[0], hip[1] - drop, hip[2]), level, sqrt(_THIGH**2 - drop**2))
    shank = unit((-1.0, -0.02, 0.0)) if shin_back else unit(minus(pose.at[f"{side} ankle"], knee))
    pose.at |= {f"{side} knee": knee, f"{side} ankle": add(knee, shank, _SHANK)}
    if shin_back:
        _foot(pose, side, unit((-1.0, -0.35, 0.0)), unit((-0.35, 1.0, 0.0)))


def rest_elbow(pose: Pose, side: str, at: float) -> None:
    """Let an elbow come down to the height `at`, with the forearm flat and pointing forward."""
    shoulder, elbow = pose.at[f"{side} shoulder"], pose.at[f"{side} elbow"]
    level = unit((elbow[0] - shoulder[0], 0.0, elbow[2] - shoulder[2]))
    drop = shoulder[1] - at
    pose.gaps[f"{side} elbow"] = max(0.0, abs(drop) - _UPPER_ARM)
    drop = max(-_UPPER_ARM, min(_UPPER_ARM, drop))
    elbow = add((shoulder[0], shoulder[1] - drop, shoulder[2]), level, sqrt(_UPPER_ARM**2 - drop**2))
    wrist = add(elbow, (1.0, 0.0, 0.0), _FOREARM)
    pose.at |= {f"{side} elbow": elbow, f"{side} wrist": wrist}
    pose.at[f"{side} fingers"] = add(wrist, (1.0, 0.0, 0.0), _HAND)
    pose.thumbs[side] = scaled(pose.right, -SIDES[side])


def between(first: Values, last: Values, share: float) -> dict[str, float]:
    """Angles on the way from `first` to `last`."""
    return {name: degree + share * (last[name] - degree) for name, degree in first.items()}
