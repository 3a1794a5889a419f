"""A movement as compact SVG files: one that moves in a tempo, and the strip of its key positions.

They are loaded as pictures. A picture moves by SMIL, which needs no script; its inks are near grey, so that a
page can turn them over where the screen is dark (`sheet.css`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, radians, sin

from ...reading.theme import tokens
from .camera import lies, project
from .ink import Box, Picture, box_of, class_of, limbs_drawn, path, picture, whole
from .lines import LOOKS, Limb, Line
from .motion import Movement
from .pose import Pose
from .props import prop_lines
from .scene import body_limbs
from .seen import seen
from .tempo import Schedule
from .vectors import across, add, minus, scaled, unit

GAP = 52
"""Units between the positions of a strip."""


def moving(move: Movement, times: Schedule, title: str, flip: bool = False) -> Picture:
    """The movement in the times of a dose. `title` names it; `flip` is the mirror image."""
    still, box = prop_lines(move), _frame(move)._replace(flip=flip)
    drawn = "".join(things(still, box)) + "".join(_moving(move, times, box)) + floor(move, box)
    drawn += "".join(_marks_in_time(move, times, box))
    return picture(drawn, *box.size, title, tokens().light)


def strip(move: Movement, title: str, flip: bool = False) -> Picture:
    """The key positions side by side with arrows between; a hold is its one position."""
    still, frame = prop_lines(move), _frame(move)._replace(flip=flip)
    drawn, x = [], 0
    height = frame.size[1]
    for index, key in enumerate(move.keys):
        if key.position.between:
            continue
        (limbs,) = limbs_of(move, [key.pose])
        own = box_of([lines_of(limbs), still], floor=True)
        box = frame._replace(left=own.left, right=own.right)
        if x:
            drawn.append(f'<path class="arrow" d="M{x + 8} {height // 3}h{GAP - 16}m-12-10 12 10-12 10"/>')
            x += GAP
        drawn.append(f'<g transform="translate({x})">' if x else "<g>")
        drawn += [
            *things(still, box),
            *limbs_drawn(limbs, box),
            floor(move, box),
            *marks(move, index, box),
            "</g>",
        ]
        x += box.size[0]
    return picture("".join(drawn), x, height, title, tokens().paper)


def _frame(move: Movement) -> Box:
    frames = [lines_of(limbs) for limbs in limbs_of(move, list(move.frames()))]
    return box_of([*frames, prop_lines(move)], floor=not lies(move.figure))


def things(still: Sequence[Line], box: Box) -> Iterator[str]:
    """Elements of what stands still behind the body."""
    for kind in ("mat", "solid", "edge"):
        data = "".join(path(line, box) for line in still if line.kind == kind)
        if data:
            yield f'<path class="{kind}" d="{data}"/>'


def floor(move: Movement, box: Box) -> str:
    """Floor and treads, over the rest, so that what stands on them leaves no gap in them."""
    if lies(move.figure):
        return ""
    treads = "".join(path(line, box) for line in prop_lines(move) if line.kind == "tread")
    return f'<path class="edge" d="M0 {whole(-box.top)}H{whole(box.right - box.left)}{treads}"/>'


def _moving(move: Movement, times: Schedule, box: Box) -> Iterator[str]:
    shots = list(_shots(move, times))
    total = times.seconds
    fine = 2 if total <= _SHORT else 3
    clock = ";".join(f"{at / total:.{fine}f}".rstrip("0").rstrip(".") or "0" for at, _ in shots)
    frames = limbs_of(move, [pose for _, pose in shots])
    drawn = []
    names = iter("abcdefghijklmnopqrstuvwxyzABCDEFGH")
    yield "<defs>"
    for index, limb in enumerate(frames[0]):
        own = []
        for number, line in enumerate(limb.lines):
            if line.kind in _TOO_SMALL:
                continue
            own.append(next(names))
            values = [path(limbs[index].lines[number], box) for limbs in frames]
            yield f'<path id="{own[-1]}" d="{values[0]}"'
            if len(set(values)) > 1:
                yield (
                    f'><animate attributeName="d" dur="{total:g}s" repeatCount="indefinite" '
                    f'keyTimes="{clock}" values="{";".join(values)}"/></path>'
                )
            else:
                yield "/>"
        drawn += [
            f'<use href="#{name}" {class_of(line.kind, look)}/>'
            for look in LOOKS[limb.look]
            for name, line in zip(own, _large(limb), strict=True)
        ]
    yield "</defs>"
    yield from drawn


_SHORT = 5.0
"""Seconds for which a hundredth of the time through is as exact as an eye is."""
_TOO_SMALL = ("eyes",)
"""What no eye sees in a figure that moves, and what would be carried in each of its frames."""


def _large(limb: Limb) -> list[Line]:
    return [line for line in limb.lines if line.kind not in _TOO_SMALL]


def limbs_of(move: Movement, poses: Sequence[Pose]) -> list[list[Limb]]:
    """The limbs of poses in one order, which is that of the key positions."""
    order = seen(move.figure, [key.pose for key in move.keys])
    return [body_limbs(move.figure, pose, order) for pose in poses]


def lines_of(limbs: Sequence[Limb]) -> list[Line]:
    """The lines of limbs, one after the other."""
    return [line for limb in limbs for line in limb.lines]


def _shots(move: Movement, times: Schedule) -> Iterator[tuple[float, Pose]]:
    """Seconds and pose, from 0 to the end of one time through, where the first comes again."""
    at = 0.0
    for index, way in enumerate(move.ways):
        yield at, way[0]
        if times.stays[index]:
            at += times.stays[index]
            yield at, way[0]
        step, every = times.moves[index] / (len(way) - 1), 2 if times.moves[index] <= _QUICK else 1
        for number in range(every, len(way) - 1, every):
            yield at + step * number, way[number]
        at += times.moves[index]
    yield at, move.ways[-1][-1]


_QUICK = 0.5
"""Seconds up to which a way is drawn with half of its frames: no eye sees more."""


def _marks_in_time(move: Movement, times: Schedule, box: Box) -> Iterator[str]:
    """The marks of a position, seen while the figure is there and just before and after."""
    total, start = times.seconds, 0.0
    for index, (stays, moves) in enumerate(zip(times.stays, times.moves, strict=True)):
        drawn = "".join(marks(move, index, box))
        if drawn:
            near = min(_SEEN, (total - stays) / 2)
            first, last = start - near, start + stays + near
            at = ";".join(f"{edge:.3f}" for edge in sorted((first % total / total, last % total / total)))
            values = "0;1;0" if first >= 0 and last < total else "1;0;1"
            yield (
                f'<g opacity="0">{drawn}<animate attributeName="opacity" calcMode="discrete" '
                f'dur="{total:g}s" repeatCount="indefinite" keyTimes="0;{at}" values="{values}"/></g>'
            )
        start += stays + moves


_SEEN = 0.3
"""Seconds for which a mark is seen before and after its position: long enough to be noticed."""


def marks(move: Movement, index: int, box: Box) -> Iterator[str]:
    """Arcs at the joints that a position marks, with their degrees; a right angle has its corner."""
    key = move.keys[index]
    for name in key.position.marks:
        side, joint = name.split(" ") if " " in name else ("right", name)
        first, last = (
            unit(minus(*(key.pose.at[end.format(side)] for end in ends))) for ends in _MARKED[joint]
        )
        inside = 180 - key.pose.bend(side, joint)
        aside = unit(across(last, first))
        middle = key.pose.at[f"{side} {joint}"]
        if abs(inside - RIGHT_ANGLE) <= RIGHT:
            ways = [first, add(first, aside), aside]
            far, inside = _CORNER, RIGHT_ANGLE
        else:
            turns = (radians(inside) * step / 6 for step in range(7))
            ways = [add(scaled(first, cos(turn)), aside, sin(turn)) for turn in turns]
            far = _ARC
        points = tuple(project(move.figure, add(middle, way, far)) for way in ways)
        if move.figure.view != "side" and inside != RIGHT_ANGLE:
            # Seen aslant an angle is not what it measures: an arc with its degrees would look wrong.
            yield f'<path class="mark" d="{path(Line(name, "mark", (points,)), box)}"/>'
            continue
        half = add(scaled(first, cos(radians(inside) / 2)), aside, sin(radians(inside) / 2))
        x, y = box.place(project(move.figure, add(middle, half, _LABEL)))
        drawn = path(Line(name, "mark", (points,)), box)
        yield f'<path class="mark" d="{drawn}"/>'
        yield f'<text x="{x - 22}" y="{y + 8}">{round(inside)}°</text>'


RIGHT_ANGLE = 90
RIGHT = 3.0
"""Degrees by which an angle may miss 90 and still be drawn as a right one: an eye sees no finer."""
_CORNER, _ARC, _LABEL = 11.0, 20.0, 27.0
_MARKED = {
    "hip": (("chest", "pelvis"), ("{} knee", "{} hip")),
    "knee": (("{} hip", "{} knee"), ("{} ankle", "{} knee")),
    "elbow": (("{} shoulder", "{} elbow"), ("{} wrist", "{} elbow")),
}
"""For each joint the ends of its two segments, from the far one to the joint."""
