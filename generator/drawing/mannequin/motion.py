"""Key positions to frames: where the root is, what stays planted, and how limbs go from place to place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import cos, pi, sin

from ...reading.model.figure import ON_THE_BODY, Figure, Position, singles
from .pose import (
    ON_TOES,
    SIDES,
    THICK,
    Pose,
    ankle_over,
    between,
    body,
    reach_arm,
    reach_leg,
    rest_elbow,
    rest_knee,
    spread,
)
from .vectors import AHEAD, UP, ZERO, Vector, add, minus, mixed, scaled, size

HEIGHTS = {"floor": 0.0, "chair": 45.0, "step": 18.0, "rail": 104.0, "worktop": 90.0}
"""Tops in cm: a dining chair, a stair, the rail above it, a kitchen worktop. Common sizes, no source."""
STEPS = 4
"""Frames from one key position to the next: even, so that a quick way can be drawn with half of them."""
_LIFT = 9.0
_STEPS = ("foot", "toes")
_SAME = 0.5


@dataclass(frozen=True, slots=True)
class Contact:
    """What a part is planted on, and the point of it; a hand on the own body moves with the body."""

    support: str
    at: Vector = ZERO

    @property
    def moves(self) -> bool:
        """Whether it is on the own body."""
        return self.support in ON_THE_BODY


@dataclass(frozen=True, slots=True)
class Key:
    """A key position that is solved. `planted` is by single part: left foot, right hand, seat."""

    position: Position
    pose: Pose
    planted: Mapping[str, Contact]
    base: str


@dataclass(frozen=True, slots=True, eq=False)
class Movement:
    """A figure that is solved: key positions, the frames of the way to the next, and where things stand.

    It is equal to itself alone, so that what is made of it can be kept by it.
    """

    figure: Figure
    keys: tuple[Key, ...]
    ways: tuple[tuple[Pose, ...], ...]
    places: Mapping[str, float]

    def frames(self) -> Iterator[Pose]:
        """Every pose that is ever shown."""
        for way in self.ways:
            yield from way
        if not self.ways:
            yield self.keys[0].pose


def movement(figure: Figure) -> Movement:
    """The figure's poses, solved once however often it is drawn."""
    return _solved(_Same(figure))


class _Same:
    """A figure by what it says, so that its poses can be kept."""

    __slots__ = ("figure", "text")

    def __init__(self, figure: Figure) -> None:
        self.figure, self.text = figure, figure.model_dump_json()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.text == other.text

    def __hash__(self) -> int:
        return hash(self.text)


@lru_cache(maxsize=1024)
def _solved(same: _Same) -> Movement:
    return _Solver(same.figure).run()


class _Solver:
    def __init__(self, figure: Figure) -> None:
        self.figure = figure
        self.places: dict[str, float] = {name: x for name, x in figure.places.items()}

    def run(self) -> Movement:
        keys: list[Key] = []
        for position in self.figure.positions:
            keys.append(self._key(position, keys[-1] if keys else None))
        return Movement(self.figure, tuple(keys), ways(keys), self.places)

    def _key(self, position: Position, before: Key | None) -> Key:
        planted = singles(position.planted if position.planted is not None else self.figure.planted)
        values = spread(self.figure.joints, position.joints)
        for part in planted:
            side, _, what = part.partition(" ")
            if what == "toes" and not values[f"{side} heel"]:
                values[f"{side} heel"] = ON_TOES
        base = next((part for part, support in planted.items() if support not in ON_THE_BODY), "")
        steps = singles(dict.fromkeys(position.steps, "floor"))
        known = {part: at for part, at in (before.planted if before else {}).items() if part not in steps}
        pose = body(values, self._root(position, body(values), base, planted, known))
        contacts = {}
        for part, support in planted.items():
            held = known.get(part)
            if support in ON_THE_BODY:
                contacts[part] = Contact(support)
            elif held and held.support == support:
                contacts[part] = held
            else:
                contacts[part] = Contact(support, self._project(pose, part, support))
        _plant(pose, contacts)
        return Key(position, pose, contacts, base)

    def _root(
        self,
        position: Position,
        free: Pose,
        base: str,
        planted: Mapping[str, str],
        known: Mapping[str, Contact],
    ) -> Vector:
        """Where the middle between the hips has to be so that the base stands where it is planted."""
        if not base:
            lowest = min(point[1] for point in free.at.values())
            return position.along, position.rise - lowest, position.aside
        support, held = planted[base], known.get(base)
        at = contact_of(free, base, support)
        if held and held.support == support:
            return minus(held.at, at)
        return position.along - at[0], HEIGHTS.get(support, 0.0) - at[1], position.aside

    def _project(self, pose: Pose, part: str, support: str) -> Vector:
        """The point of the support nearest to where the angles alone put the part."""
        x, y, z = contact_of(pose, part, support)
        if support == "wall":
            return self.places.setdefault("wall", x), y, z
        if support != "floor":
            self.places.setdefault(support, x)
        return x, HEIGHTS[support], z


def ways(keys: Sequence[Key]) -> tuple[tuple[Pose, ...], ...]:
    """The frames from each position to the next, those from the last to the first at the end."""
    if len(keys) == 1:
        return ()
    return tuple(_way(first, last) for first, last in zip(keys, [*keys[1:], keys[0]], strict=True))


def _way(first: Key, last: Key) -> tuple[Pose, ...]:
    return tuple(_frame(first, last, (1 - cos(pi * step / STEPS)) / 2) for step in range(STEPS + 1))


def _frame(first: Key, last: Key, share: float) -> Pose:
    if share in (0.0, 1.0):
        return (last if share else first).pose
    values = between(first.pose.values, last.pose.values, share)
    kept = {part: at for part, at in first.planted.items() if _stays(at, last.planted.get(part))}
    driven = first.base in kept and first.base == last.base
    if driven:
        at = kept[first.base]
        pelvis = minus(at.at, contact_of(body(values), first.base, at.support))
    else:
        pelvis = mixed(first.pose.pelvis, last.pose.pelvis, share)
    pose = body(values, pelvis)
    _swing(pose, first, last, share, set(kept), driven)
    _plant(pose, kept)
    return pose


def _swing(pose: Pose, first: Key, last: Key, share: float, kept: set[str], driven: bool) -> None:
    """Take limbs from place to place that are planted at one end of the way, or at other places."""
    whole = share
    for side in SIDES:
        share = _own_share(side, first, last, kept, whole)
        leg = {f"{side} {part}" for part in ("foot", "toes", "knee", "ankle")}
        if not leg & kept and (not driven or leg & (first.planted.keys() | last.planted.keys())):
            start, end = first.pose.at[f"{side} ankle"], last.pose.at[f"{side} ankle"]
            ankle = mixed(start, end, share)
            if size(minus(start, end)) > _SAME and leg & (first.planted.keys() | last.planted.keys()):
                ankle = add(ankle, UP, _LIFT * sin(pi * share) * (first.base != "" and last.base != ""))
            _blend_pole(pose, first, last, side, "leg", share)
            reach_leg(pose, side, ankle, planted=False)
            for name in ("heel", "ball", "toe"):
                a = minus(first.pose.at[f"{side} {name}"], start)
                b = minus(last.pose.at[f"{side} {name}"], end)
                pose.at[f"{side} {name}"] = add(pose.at[f"{side} ankle"], mixed(a, b, share))
        arm = {f"{side} {part}" for part in ("hand", "elbow")}
        if not arm & kept and arm & (first.planted.keys() | last.planted.keys()):
            _swing_arm(pose, first, last, side, share)


def _own_share(side: str, first: Key, last: Key, kept: set[str], share: float) -> float:
    """How far a leg is on its way: in a step one foot goes down before the other is lifted."""
    stood, stands = (any(part.endswith(_STEPS) for part in key.planted) for key in (first, last))
    if not (stood and stands) or any(part.endswith(_STEPS) for part in kept):
        return share
    feet = (f"{side} foot", f"{side} toes")
    before, after = (any(part in key.planted for part in feet) for key in (first, last))
    if before == after:
        return share
    return max(0.0, 2 * share - 1) if before else min(1.0, 2 * share)


def _swing_arm(pose: Pose, first: Key, last: Key, side: str, share: float) -> None:
    ends = [minus(key.pose.at[f"{side} wrist"], key.pose.at[f"{side} shoulder"]) for key in (first, last)]
    hands = [minus(key.pose.at[f"{side} fingers"], key.pose.at[f"{side} wrist"]) for key in (first, last)]
    _blend_pole(pose, first, last, side, "arm", share)
    wrist = add(pose.at[f"{side} shoulder"], mixed(ends[0], ends[1], share))
    hand = mixed(hands[0], hands[1], share)
    reach_arm(pose, side, wrist, scaled(hand, 1 / max(size(hand), 1e-6)))


def _blend_pole(pose: Pose, first: Key, last: Key, side: str, limb: str, share: float) -> None:
    name = f"{side} {limb}"
    pose.bends[name] = mixed(first.pose.bends[name], last.pose.bends[name], share)


def _stays(at: Contact, later: Contact | None) -> bool:
    return later is not None and at.support == later.support and size(minus(at.at, later.at)) <= _SAME


def contact_of(pose: Pose, part: str, support: str) -> Vector:
    """The point of a part that touches what it is planted on, as the pose has it."""
    side, _, what = part.partition(" ")
    if what in ("foot", "toes"):
        return add(pose.at[f"{side} ankle"], ankle_over(pose.values, side, ZERO), -1.0)
    if what == "hand":
        wrist = pose.at[f"{side} wrist"]
        return add(
            wrist, AHEAD if support == "wall" else UP, THICK["hand"] * (1 if support == "wall" else -1)
        )
    if what in ("knee", "elbow", "ankle"):
        return add(pose.at[part], UP, -THICK[what])
    if part == "seat":
        return add(pose.at["pelvis"], UP, -THICK["seat"])
    back = add(pose.at["chest"], pose.forward, -THICK["back"])
    return back if part == "back" else add(pose.at["chest"], UP, -THICK["shoulders"])


def _plant(pose: Pose, contacts: Mapping[str, Contact]) -> None:
    """Bend the limbs so that planted parts are where they are planted. Legs first: hands may lie on them."""
    for part, contact in sorted(contacts.items(), key=lambda item: item[1].moves):
        side, _, what = part.partition(" ")
        at = contact.at
        if contact.moves:
            reach_arm(pose, side, on_the_body(pose, side, contact.support), None)
        elif what in ("foot", "toes"):
            reach_leg(pose, side, ankle_over(pose.values, side, at), planted=True)
        elif what == "ankle":
            reach_leg(pose, side, add(at, UP, THICK["ankle"]), planted=False)
        elif what == "hand":
            on_wall = contact.support == "wall"
            wrist = add(at, AHEAD, -THICK["hand"]) if on_wall else add(at, UP, THICK["hand"])
            reach_arm(pose, side, wrist, UP if on_wall else AHEAD)
        elif what == "knee":
            rest_knee(pose, side, at[1] + THICK["knee"], shin_back=True)
        elif what == "elbow":
            rest_elbow(pose, side, at[1] + THICK["elbow"])
        else:
            x, y, _ = minus(contact_of(pose, part, contact.support), at)
            pose.gaps[part] = abs(x if contact.support == "wall" else y)


def on_the_body(pose: Pose, side: str, where: str) -> Vector:
    """Where the wrist is when the hand lies on a part of the own body."""
    sign = SIDES[side]
    if where in ("thighs", "knees"):
        hip, knee = pose.at[f"{side} hip"], pose.at[f"{side} knee"]
        return add(mixed(hip, knee, 0.16 if where == "thighs" else 0.72), pose.bends[f"{side} leg"], 7.0)
    if where == "hips":
        return add(add(pose.at[f"{side} hip"], pose.right, sign * 5), pose.up, 10.0)
    if where == "chest":
        return add(add(pose.at["chest"], pose.up, -12.0), pose.forward, 12.0)
    if where == "head":
        return add(pose.at["head"], pose.right, sign * 8)
    other = "left" if side == "right" else "right"
    return add(pose.at[f"{other} shoulder"], pose.forward, 6.0)
