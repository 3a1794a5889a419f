"""Statics of a pose from published segment masses: where the weight is, and what share of it the hands carry.

Winter's table alone, of adults; for a child all of it is an estimate. The body is held still and stiff; the hands'
share follows from the moments about the feet, or about the knees where these stand. The hands press under the palm, at
right angles to what they lie on: upwards on a floor, a chair, a step and a worktop, level on a wall. Where hands and
feet are not at one height, friction lets the force lean as well, up to the direction of the arm: the share is then known
as a range. For the share the arms count with the trunk, as the table's row for head, arms and trunk has them.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from math import atan2, cos, degrees, radians, sin

from .body import HAT, LENGTHS, PALM, SEGMENTS, STATURE, TOES, length
from .motion import Contact, Key
from .pose import SIDES, Pose
from .vectors import ZERO, Vector, add, dot, minus, mixed, scaled, size, unit

_ENDS = {
    "hand": ("wrist", "fingers"),
    "forearm": ("elbow", "wrist"),
    "upper arm": ("shoulder", "elbow"),
    "foot": ("heel", "toe"),
    "shank": ("knee", "ankle"),
    "thigh": ("hip", "knee"),
}
BELOW_THE_KNEES = ("shank", "foot")
LEGS = ("thigh", *BELOW_THE_KNEES)
LEAN_NODES = ((30.0, 0.3744), (45.0, 0.5288), (60.0, 0.6808), (75.0, 0.7938))
"""Degrees from upright and share of body mass in an arm's-length hold of a strap, feet below its anchor."""
LEAN_SOURCE = "Melrose D, Dawes J (2015). J Athl Enhancement 4(1); 40 students, a hold and not a pull"


def parts(pose: Pose) -> Iterator[tuple[str, float, Vector]]:
    """Every segment with its share of the body's mass and its centre."""
    core = SEGMENTS["trunk, head and neck"]
    yield "trunk, head and neck", core.mass, mixed(pose.at["pelvis"], pose.at["chest"], core.centre)
    for side in SIDES:
        for name, (first, last) in _ENDS.items():
            segment = SEGMENTS[name]
            ends = pose.at[f"{side} {first}"], pose.at[f"{side} {last}"]
            yield name, segment.mass, mixed(*ends, segment.centre)


def centre_of_mass(pose: Pose) -> tuple[float, Vector]:
    """The masses of all segments summed, and their centre in cm."""
    total, centre = 0.0, ZERO
    for _, mass, at in parts(pose):
        total, centre = total + mass, add(centre, at, mass)
    return total, scaled(centre, 1 / total)


def off_balance(key: Key, view: str) -> float | None:
    """By how many cm the centre of mass lies outside the base of support, 0 inside; None where it is open.

    It is judged across the picture: forward and back from the side, left and right from the front.
    Hands or a back on a wall, and hands on a rail, hold the body too: with them nothing is said.
    """
    if view == "above" or any(contact.support in ("wall", "rail") for contact in key.planted.values()):
        return None
    base = [at for part, contact in key.planted.items() for at in _reach(key.pose, part, contact)]
    if not base:
        return None
    _, centre = centre_of_mass(key.pose)
    axis = 0 if view == "side" else 2
    return max(min(at[axis] for at in base) - centre[axis], centre[axis] - max(at[axis] for at in base), 0.0)


def _reach(pose: Pose, part: str, contact: Contact) -> Iterator[Vector]:
    """The points between which a planted part stands."""
    side, _, what = part.partition(" ")
    if contact.moves:
        return
    if what in ("foot", "toes"):
        back = "heel" if pose.values[f"{side} heel"] <= FLAT else "ball"
        for name in ("toe", back):
            for wide in (-1, 1):
                yield add(pose.at[f"{side} {name}"], pose.right, wide * length("foot breadth") / 2)
    elif part == "back":
        yield from (pose.at[f"{side} {joint}"] for side in SIDES for joint in ("shoulder", "hip"))
    elif part == "seat":
        yield from (add(pose.at[f"{side} hip"], (1.0, 0.0, 0.0), by) for side in SIDES for by in (-8, 8))
    elif what == "elbow":
        yield from (pose.at[f"{side} elbow"], pose.at[f"{side} fingers"])
    elif what == "knee":
        yield from (pose.at[f"{side} knee"], pose.at[f"{side} toe"])
    else:
        yield contact.at


def hands_share(key: Key) -> float | None:
    """The middle of the range that `hands_range` gives, by which exercises are told apart; None without one."""
    found = hands_range(key)
    return sum(found) / 2 if found else None


def hands_range(key: Key) -> tuple[float, float] | None:
    """Least and most of body weight on hands or forearms, 0 to 1, the same where it is known.

    None where they carry none, where something else than feet, toes, ankles or knees carries too, and on the knees
    with bent arms, where the estimate is off by up to 0.11 of what was measured.
    """
    parts = {part for part, contact in key.planted.items() if not contact.moves}
    hands = sorted(part for part in parts if part.endswith(("hand", "elbow")))
    feet = {part: contact for part, contact in key.planted.items() if part.endswith(_STANDS)}
    if not hands or not feet or key.planted.keys() & {"seat", "back", "shoulders"}:
        return None
    if any(key.planted[part].support == "rail" for part in hands):
        hold = _leaning_back(
            key, [key.planted[part].at for part in hands], [contact.at for contact in feet.values()]
        )
        return None if hold is None else (hold, hold)
    kneels = all(part.endswith("knee") for part in feet)
    if kneels and max(key.pose.bend(side, "elbow") for side in SIDES) > STRAIGHT and "hand" in hands[0]:
        return None
    found = _pressed(key, hands, _middle([contact.at for contact in feet.values()]), kneels)
    return found if found and all(0 < one < 1 for one in found) else None


def _pressed(key: Key, hands: list[str], pivot: Vector, kneels: bool) -> tuple[float, float] | None:
    """Least and most share that keeps the body from tipping about the pivot; None with hands too near to it."""
    mass, centre = _for_the_hands(key.pose, kneels)
    hand = _middle([_presses(key, part) for part in hands])
    level = (hand[0] - pivot[0], 0.0, hand[2] - pivot[2])
    far, high = size(level), hand[1] - pivot[1]
    on_wall = key.planted[hands[0]].support == "wall"
    lever = high if on_wall else far
    if min(lever, far) < NEAREST:
        return None
    moment = mass * dot(minus(centre, pivot), unit(level))
    square = moment / lever
    if not on_wall and abs(high) <= SLOPE:
        return square, square
    arm = unit(minus(key.pose.at["chest"], hand))
    along = moment / max(abs(far * arm[1] - high * dot(arm, unit(level))), 1e-6)
    return min(square, along), max(square, along)


def _presses(key: Key, part: str) -> Vector:
    """Where a hand's force acts: under its palm; a forearm's under its elbow."""
    side, _, what = part.partition(" ")
    if what == "elbow":
        return key.planted[part].at
    hand = minus(key.pose.at[f"{side} fingers"], key.pose.at[f"{side} wrist"])
    return add(key.planted[part].at, unit(hand), PALM * STATURE)


def _leaning_back(key: Key, hands: list[Vector], feet: list[Vector]) -> float | None:
    """The share in a hold at arm's length, away from what both hands hold; None for any other rail."""
    line = minus(key.pose.at["chest"], _middle(feet))
    away = line[0] * (_middle(hands)[0] - key.pose.at["chest"][0]) < 0
    bent = max(key.pose.bend(side, "elbow") for side in SIDES)
    if len(hands) < 2 or not away or bent > STRAIGHT:
        return None
    return leaning_hold(degrees(atan2(abs(line[0]), line[1])))


STRAIGHT = 20.0
"""Degrees up to which an arm counts as long."""
FLAT = 10.0
"""Degrees up to which a raised heel still touches."""
SLOPE = 10.0
"""Cm between the heights of hands and feet up to which the body counts as level, and the force as upright."""
NEAREST = 20.0
"""Cm between hands and feet below which nothing is said of how they share."""
_STANDS = ("foot", "toes", "knee", "ankle")


def _middle(points: list[Vector]) -> Vector:
    total = ZERO
    for point in points:
        total = add(total, point)
    return scaled(total, 1 / len(points))


def _for_the_hands(pose: Pose, kneels: bool) -> tuple[float, Vector]:
    """Share and centre of the mass that tips about the feet, or about the knees when these stand."""
    weighed = [(HAT.mass, mixed(pose.at["pelvis"], pose.at["chest"], HAT.centre))]
    for name, mass, at in parts(pose):
        if name in LEGS and not (kneels and name in BELOW_THE_KNEES):
            weighed.append((mass, at))
    total, centre = 0.0, ZERO
    for mass, at in weighed:
        total, centre = total + mass, add(centre, at, mass)
    return total, scaled(centre, 1 / total)


def press_up(hands: float, feet: float, *, knees: bool = False, upright_arms: bool = False) -> float:
    """Share of body weight on the hands in a stiff press-up, for heights of hands and feet over stature.

    The arms stand at right angles to the trunk, or upright, which decides how much a slope changes. On the
    knees the floor carries shanks and feet. The hands press upwards, under their palms. Raises ValueError for heights that the body does not span.
    """
    thigh, shank, trunk = (LENGTHS[name] for name in ("thigh", "shank", "trunk"))
    legs = thigh + (0.0 if knees else shank)
    weighed = [(HAT.mass, legs + trunk * HAT.centre)]
    weighed.append((2 * SEGMENTS["thigh"].mass, legs - thigh * SEGMENTS["thigh"].centre))
    if not knees:
        weighed.append((2 * SEGMENTS["shank"].mass, shank * (1 - SEGMENTS["shank"].centre)))
        weighed.append((2 * SEGMENTS["foot"].mass, 0.0))
    arm = LENGTHS["upper arm"] + LENGTHS["forearm"]
    pivot = 0.0 if knees else TOES
    tilt = _tilt(hands - feet, legs + trunk, arm, pivot, upright_arms)
    c, s = cos(tilt), sin(tilt)
    moment = sum(mass * (along * c - pivot * s) for mass, along in weighed)
    return moment / ((legs + trunk) * c - pivot * s + (0.0 if upright_arms else arm * s) + PALM)


def _tilt(rise: float, along: float, arm: float, pivot: float, upright_arms: bool) -> float:
    """The slope of the trunk in radians at which hands and feet have their heights; found by halving."""
    low, high = -radians(80), radians(80)
    for _ in range(60):
        middle = (low + high) / 2
        height = along * sin(middle) + (pivot - (0.0 if upright_arms else arm)) * cos(middle)
        low, high = (middle, high) if height - (arm if upright_arms else 0.0) < rise else (low, middle)
    if high > radians(79.9) or low < -radians(79.9):
        raise ValueError("the body does not span these heights")
    return (low + high) / 2


def leaning_hold(degrees_from_upright: float) -> float | None:
    """Share of body weight in a leaning hold at arm's length; None outside the measured 30 to 75 degrees.

    Straight lines between four published means; no value is made up beyond them.
    """
    at = [degrees for degrees, _ in LEAN_NODES]
    if not at[0] <= degrees_from_upright <= at[-1]:
        return None
    index = max(1, bisect_left(at, degrees_from_upright))
    (a, first), (b, last) = LEAN_NODES[index - 1], LEAN_NODES[index]
    return first + (last - first) * (degrees_from_upright - a) / (b - a)


def above_the_knees() -> float:
    """Share of body mass above both knees, which a squat moves."""
    return 1 - 2 * sum(SEGMENTS[name].mass for name in BELOW_THE_KNEES)
