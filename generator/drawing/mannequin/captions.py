"""Words that the drawing does not keep: an angle that is told, a part that is told to touch.

English words alone, those that captions of figures have. What is said of a position (`says`) has to be so
there; what is said of the movement (`shows`, the exercise's cues) at one of its positions. And an elbow that
the file gives an angle, and a planted hand another one.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from math import asin, degrees
from typing import NamedTuple

from ...reading.findings import Path
from ...reading.model import Exercise
from .breaks import Break
from .motion import HEIGHTS, Key, Movement, movement
from .pose import SIDES
from .vectors import minus, size, unit

STRAIGHT, LEVEL, RIGHT_ANGLE = 20.0, 12.0, 12.0
"""Degrees up to which a limb counts as straight, a thigh as level, a joint as at a right angle."""
OVERRIDDEN = 15.0
"""Degrees by which a planted hand may bend an elbow otherwise than its file says."""


class _Rule(NamedTuple):
    """Words, with a group `many` where both sides are meant; how far a side is off, and the most allowed."""

    words: re.Pattern[str]
    off: Callable[[Key, str], float]
    most: float
    says: str


def _bent(joint: str) -> Callable[[Key, str], float]:
    return lambda key, side: abs(key.pose.bend(side, joint))


def _from_right_angle(joint: str) -> Callable[[Key, str], float]:
    return lambda key, side: abs(key.pose.bend(side, joint) - 90)


def _slope_of_thigh(key: Key, side: str) -> float:
    thigh = unit(minus(key.pose.at[f"{side} knee"], key.pose.at[f"{side} hip"]))
    return abs(degrees(asin(max(-1.0, min(1.0, thigh[1])))))


def _rule(words: str, off: Callable[[Key, str], float], most: float, says: str) -> _Rule:
    return _Rule(re.compile(words, re.IGNORECASE), off, most, says)


_IS = r"(?:is|are|stays?|kept)?\s*"
_RULES = (
    _rule(
        rf"\barm(?P<many>s)? {_IS}(?:straight|long)\b", _bent("elbow"), STRAIGHT, "the elbow is bent by {}"
    ),
    _rule(r"\b(?:straight|long) arm(?P<many>s)?\b", _bent("elbow"), STRAIGHT, "the elbow is bent by {}"),
    _rule(rf"\bleg(?P<many>s)? {_IS}straight\b", _bent("knee"), STRAIGHT, "the knee is bent by {}"),
    _rule(rf"\bthigh(?P<many>s)? {_IS}level\b", _slope_of_thigh, LEVEL, "the thigh slopes by {}"),
    _rule(
        rf"\bknee(?P<many>s)? {_IS}(?:at|to|bent to) (?:a right angle|90)",
        _from_right_angle("knee"),
        RIGHT_ANGLE,
        "the knee is {} from a right angle",
    ),
    _rule(
        rf"\belbow(?P<many>s)? {_IS}(?:at|to|bent to) (?:a right angle|90)",
        _from_right_angle("elbow"),
        RIGHT_ANGLE,
        "the elbow is {} from a right angle",
    ),
    _rule(
        r"\bone (?:straight |long )?(?:sloping )?(?:line|plank)\b",
        _bent("hip"),
        STRAIGHT,
        "the hip is bent by {}",
    ),
)
_TOUCH = re.compile(
    r"\b(?:touch|tap)(?:es|s)? (?:the |a )?(other shoulder|floor|wall|seat|chair|stair|step|worktop)\b",
    re.IGNORECASE,
)
_THINGS = {"seat": "chair", "stair": "step"}
_REACH = re.compile(r"\b(hips|knee|chest) (?:to|on|at) the (wall|edge|worktop)\b", re.IGNORECASE)
_FLESH = {"hips": ("pelvis", 13.0), "knee": ("knee", 9.0), "chest": ("chest", 15.0)}
"""For what is said to reach a thing: its joint, and cm from the joint's middle up to which it does."""


def captions(exercise: Exercise) -> Iterator[Break]:
    """Every caption of an exercise's figure that its drawing does not keep."""
    if exercise.figure is None:
        return
    move = movement(exercise.figure)
    for index, key in enumerate(move.keys):
        path: Path = ("figure", "positions", index)
        for what in _wrong(key.position.says, [key], move):
            yield Break((*path, "says"), f"{key.position.says}: {what}", _MEND)
        yield from _overridden(key, exercise, path)
    for what in _wrong(exercise.figure.shows, move.keys, move):
        yield Break(("figure", "shows"), f"at no position so: {what}", _MEND)
    for index, cue in enumerate(exercise.cues):
        for what in _wrong(cue, move.keys, move):
            yield Break(("cues", index), f"the figure does not show it: {what}", _MEND)


_MEND = "change the angles, or the words"


def _wrong(text: str, keys: tuple[Key, ...] | list[Key], move: Movement) -> Iterator[str]:
    for rule in _RULES:
        for found in rule.words.finditer(text):
            both = max if found.groupdict().get("many") else min
            off = min(both(rule.off(key, side) for side in SIDES) for key in keys)
            if off > rule.most:
                yield f"“{found[0].strip()}”, but {rule.says.format(f'{off:.0f}°')}"
    for found in _TOUCH.finditer(text):
        thing = _THINGS.get(found[1].lower(), found[1].lower())
        leans = thing == "wall" and any(
            _distance(key, part, move) <= far for key in keys for part, (_, far) in _FLESH.items()
        )
        if not leans and not any(
            contact.support == thing for key in keys for contact in key.planted.values()
        ):
            yield f"“{found[0]}”, but nothing is planted there"
    for found in _REACH.finditer(text):
        far = min((_distance(key, found[1].lower(), move) for key in keys), default=0.0)
        if far > _FLESH[found[1].lower()][1]:
            yield f"“{found[0]}”, but it stays {far - _FLESH[found[1].lower()][1]:.0f} cm short"


def _distance(key: Key, part: str, move: Movement) -> float:
    """Cm from the joint of a part to the wall's plane or the edge of the worktop; 0 where neither stands."""
    joint, _ = _FLESH[part]
    ends = [joint] if joint in key.pose.at else [f"{side} {joint}" for side in SIDES]
    points = [key.pose.at[end] for end in ends]
    if "worktop" in move.places:
        edge = (move.places["worktop"], HEIGHTS["worktop"], 0.0)
        return min(size(minus((x, y, 0.0), edge)) for x, y, _ in points)
    if "wall" in move.places:
        return min(abs(x - move.places["wall"]) for x, _, _ in points)
    return 0.0


def _overridden(key: Key, exercise: Exercise, path: Path) -> Iterator[Break]:
    """Elbows that the file gives an angle, and the planted hand another one."""
    figure = exercise.figure
    assert figure is not None
    for side in SIDES:
        names = (f"{side} elbow", "elbow")
        written = next((name for name in names if name in key.position.joints), None)
        place: Path = (*path, "joints")
        if written is None:
            written, place = (
                next((name for name in names if name in figure.joints), None),
                ("figure", "joints"),
            )
        contact = key.planted.get(f"{side} hand")
        if written is None or contact is None or contact.moves:
            continue
        told, bent = key.pose.values[f"{side} elbow"], key.pose.bend(side, "elbow")
        if abs(told - bent) > OVERRIDDEN:
            what = f"{key.position.says}: {written} {told:g}°, but the planted hand bends it to {bent:.0f}°"
            yield Break((*place, written), what, f"write {bent:.0f}, or move the body")
            return
