"""What no body can do: joints past their range, planted parts off their place, limbs through the floor."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ...reading.findings import Path
from ...reading.model.figure import Figure, JointName, singles
from .body import RANGES
from .mechanics import off_balance
from .motion import Key, Movement, movement
from .pose import SIDES, Pose
from .props import SPANS, away

MOST_GAP = 3.0
"""Cm by which a planted part may miss its place: what a hand or heel gives."""
MOST_TIP = 3.0
"""Cm by which the centre of mass may lie outside the base of support; the model is no finer."""
_CLEAR = {
    "pelvis": 5.0, "chest": 5.0, "head": 6.5, "knee": 1.5, "elbow": 0.5,
    "wrist": -0.5, "fingers": -2.0, "ankle": 1.0, "heel": -2.0, "ball": -2.0, "toe": -2.0,
}  # fmt: skip
"""Cm above the floor below which a joint's middle would be inside it: its flesh less what gives."""


@dataclass(frozen=True, slots=True)
class Break:
    """Something wrong with a figure: where in its exercise's file, what, how to mend it, and how grave."""

    path: Path
    what: str
    hint: str
    grave: bool = True


def breaks(figure: Figure) -> Iterator[Break]:
    """Everything wrong with a figure, position by position."""
    yield from _missing_props(figure)
    yield from _useless_props(figure)
    yield from _useless_steps(figure)
    yield from _half_marked(figure)
    yield from _named_joints(figure.joints, ("figure", "joints"))
    move = movement(figure)
    for index, key in enumerate(move.keys):
        path: Path = ("figure", "positions", index)
        yield from _named_joints(key.position.joints, (*path, "joints"))
        yield from _solved_joints(key, path)
        yield from _gaps(key, path)
        yield from _off_support(key, move, path)
        yield from _through(key.pose, move, path, "")
        rests = key.position.at or key.position.stays or not move.ways
        if rests and not key.planted and (gap := min(at[1] for at in key.pose.at.values())) > MOST_GAP:
            what = f"{key.position.says}: rests in the air, {gap:.0f} cm above the floor"
            yield Break(path, what, "plant a part of it, or take rise out")
        tip = off_balance(key, figure.view)
        if tip is not None and tip > MOST_TIP and rests:
            what = f"{key.position.says}: the middle of the weight is {tip:.0f} cm outside what it stands on"
            yield Break(path, what, "lean the other way, or shift the feet", grave=False)
    for index, way in enumerate(move.ways):
        yield from _on_the_way(move, index, way)


def _missing_props(figure: Figure) -> Iterator[Break]:
    own = [(("figure", "planted"), figure.planted)]
    for index, position in enumerate(figure.positions):
        own.append((("figure", "positions", index, "planted"), position.planted or {}))  # type: ignore[arg-type]
    for path, planted in own:
        for part, support in planted.items():
            if support in _PROPS and support not in figure.props:
                what = f"{part} planted on the {support}, which is not among the props"
                yield Break((*path, part), what, f"add {support} to props")


def _useless_props(figure: Figure) -> Iterator[Break]:
    """Things that are not drawn, or of which nobody knows where they are."""
    planted = [figure.planted, *(position.planted or {} for position in figure.positions)]
    used = {support for one in planted for support in one.values()}
    for index, prop in enumerate(figure.props):
        if figure.view != "side":
            what = f"a {prop} is drawn in the view from the side alone"
            yield Break(("figure", "props", index), what, "take it out, or write view: side")
        elif prop not in used and prop not in figure.places:
            what = f"nothing is planted on the {prop}, so it is not known where it stands"
            yield Break(
                ("figure", "props", index),
                what,
                f"add places: {{{prop}: -40}}, cm in front of what is planted first",
            )
    for name in figure.places:
        if name not in figure.props:
            what = f"a place for the {name}, which is not among the props"
            yield Break(("figure", "places", name), what, f"add {name} to props, or take the place out")


def _useless_steps(figure: Figure) -> Iterator[Break]:
    for index, position in enumerate(figure.positions):
        planted = singles(position.planted if position.planted is not None else figure.planted)
        for number, part in enumerate(position.steps):
            if not singles({part: "floor"}).keys() & planted.keys():
                what = f"{position.says}: steps with the {part}, which is not planted"
                yield Break(
                    ("figure", "positions", index, "steps", number), what, f"plant the {part}, or take it out"
                )


_PROPS = ("wall", "chair", "step", "rail", "worktop")


def _half_marked(figure: Figure) -> Iterator[Break]:
    marks = {position.at for position in figure.positions} - {None}
    if len(marks) == 1:
        other = "low" if marks == {"high"} else "high"
        what = f"no position at: {other}, so it cannot move in the tempo of a dose"
        yield Break(("figure", "positions"), what, f"mark the {other} position with at: {other}", grave=False)


def _named_joints(joints: Mapping[JointName, float], path: Path) -> Iterator[Break]:
    for name, degrees in joints.items():
        least, most = RANGES[name.removeprefix("left ").removeprefix("right ")]
        if not least <= degrees <= most:
            what = f"{name} at {degrees:g}°, past what the joint does: {least:g} to {most:g}"
            yield Break((*path, name), what, "write a smaller angle")


def _solved_joints(key: Key, path: Path) -> Iterator[Break]:
    """Joints that a planted part decides, where the file has no angle of its own to blame."""
    for side in SIDES:
        for joint, part in _DECIDED:
            if f"{side} {part}" not in key.planted:
                continue
            degrees = key.pose.bend(side, joint)
            least, most = RANGES[joint]
            if joint == "shoulder" and degrees < least - _OVER:
                degrees += 360
            if not least - 1 <= degrees <= most + 1:
                bent = f"{side} {joint} has to bend to {degrees:.0f}°, past {least:g} to {most:g}"
                yield Break(
                    (*path, "joints"), f"{key.position.says}: {bent}", f"change the angles of the {side} side"
                )


_DECIDED = (("hip", "foot"), ("knee", "foot"), ("ankle", "foot"), ("shoulder", "hand"), ("elbow", "hand"))
_OVER = 55.0
"""Degrees past the arm's way back from which it rather came up in front and over the head."""


def _gaps(key: Key, path: Path) -> Iterator[Break]:
    for part, gap in sorted(key.pose.gaps.items()):
        if gap > MOST_GAP:
            what = f"{key.position.says}: {part} misses what it is planted on by {gap:.0f} cm"
            yield Break((*path, "planted"), what, "bring the body nearer, or change the angles")


def _off_support(key: Key, move: Movement, path: Path) -> Iterator[Break]:
    """Parts that are as high as the thing they are planted on, but beside it."""
    for part, contact in sorted(key.planted.items()):
        if contact.support not in SPANS or contact.support not in move.places:
            continue
        place = move.places[contact.support]
        near, far = SPANS[contact.support]
        ahead = (contact.at[0] - place) * away(move, place)
        beside = max(near - ahead, ahead - far)
        if beside > MOST_GAP:
            what = f"{key.position.says}: {part} is {beside:.0f} cm beside the {contact.support}"
            hint = f"write places: {{{contact.support}: {contact.at[0]:.0f}}}, or move the body"
            yield Break((*path, "planted"), what, hint)


def _through(pose: Pose, move: Movement, path: Path, when: str) -> Iterator[Break]:
    if move.figure.view == "above":
        return
    says = when or f"{move.figure.positions[int(path[-1])].says}: "
    below = [name for name, at in pose.at.items() if at[1] < _CLEAR.get(name.split(" ")[-1], -9.0)]
    if below:
        yield Break(path, f"{says}{below[0]} inside the floor", "lift it, or plant it on the floor")
    if "wall" in move.places and move.figure.view == "side":
        wall = move.places["wall"]
        front = move.keys[0].pose.at["pelvis"][0] < wall
        past = {name: at[0] - wall if front else wall - at[0] for name, at in pose.at.items()}
        names = [name for name, far in past.items() if far > MOST_GAP and name != "nose"]
        if names:
            yield Break(path, f"{says}{names[0]} inside the wall", "move the wall, or bend the limb")


def _on_the_way(move: Movement, index: int, way: tuple[Pose, ...]) -> Iterator[Break]:
    """The first thing that breaks between two positions that are whole themselves."""
    after = (index + 1) % len(move.keys)
    path: Path = ("figure", "positions", after)
    ends = [move.keys[at] for at in (index, after)]
    if any(True for key in ends for _ in (*_gaps(key, path), *_through(key.pose, move, path, "the end, "))):
        return
    for pose in way[1:-1]:
        yield from (found := [*_through(pose, move, path, _ON_THE_WAY), *_slips(pose, path)])
        if found:
            return


_ON_THE_WAY = "on the way to this position, "


def _slips(pose: Pose, path: Path) -> Iterator[Break]:
    for part, gap in sorted(pose.gaps.items()):
        if gap > MOST_GAP:
            what = f"{_ON_THE_WAY}{part} leaves its place by {gap:.0f} cm"
            yield Break(path, what, "add a position between, or change the angles")
