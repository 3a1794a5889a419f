"""A movement as compact SVG files: one that moves in a tempo, and the strip of its key positions.

They are loaded as pictures. A picture moves by SMIL, which needs no script; its few styles follow the
reader's light or dark scheme. Both are whole numbers of half a centimetre, so equal input gives equal bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import cos, radians, sin
from typing import NamedTuple

from markupsafe import escape

from ...reading.theme import tokens
from .motion import Movement
from .pose import Pose
from .camera import Point, lies, project
from .lines import CLOSED, LOOKS, Limb, Line
from .props import prop_lines
from .scene import body_limbs
from .tempo import Schedule
from .vectors import across, add, minus, scaled, unit

UNITS = 2
"""Units of the picture for a cm: whole numbers are fine enough for 600 px."""
MARGIN = 6.0
_GAP = 52
_WIDTHS = {"thigh": 22, "shank": 16, "foot": 9, "arm": 13, "hand": 9, "towel": 17, "broom": 7}
"""Of the lines of limbs, in units."""


def _limb_styles() -> str:
    """Each of them as it is, with a gap round it, and hollow."""
    whole = "".join(f".{kind}{{stroke-width:{wide}}}" for kind, wide in _WIDTHS.items())
    gaps = "".join(f".{kind}.h{{stroke-width:{wide + 8}}}" for kind, wide in _WIDTHS.items())
    hollow = "".join(f".{kind}.b{{stroke-width:{max(1, wide - 8)}}}" for kind, wide in _WIDTHS.items())
    return f"{whole}.h,.b{{stroke:var(--p)}}.foot.h,.foot.b{{fill:var(--p)}}{gaps}{hollow}"


_STROKES = (
    "svg>path,g>path,use{fill:none;stroke:var(--i);stroke-linecap:round;stroke-linejoin:round}"
    ".trunk,.foot{fill:var(--i)}.trunk{stroke-width:9}.neck{stroke-width:13}.head{stroke-width:37}"
    ".nose{stroke-width:6}.face{stroke-width:22;stroke:var(--p)}.eyes{stroke-width:4}"
    + _limb_styles()
    + ".edge{stroke-width:5;stroke-linejoin:miter}.mark{stroke:var(--s);stroke-width:4}"
    ".solid,.mat{fill:var(--s);fill-opacity:.22;stroke:none}.shade{stroke:var(--s);stroke-width:14;opacity:.4}"
    ".bag{fill:var(--p);stroke-width:6}.arrow{stroke-width:5}"
    "text{font:700 22px system-ui,sans-serif;fill:var(--i);stroke:var(--p);stroke-width:5;paint-order:stroke}"
)


class Picture(NamedTuple):
    """The text of an SVG file, and its size in units."""

    text: str
    width: int
    height: int


class _Box(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float


def moving(move: Movement, times: Schedule, title: str) -> Picture:
    """The movement in the times of a dose. `title` is what is to be seen, in words."""
    still, box = prop_lines(move), _frame(move)
    drawn = "".join(_things(still, box)) + "".join(_moving(move, times, box)) + _floor(move, box)
    drawn += "".join(_marks_in_time(move, times, box))
    return _picture(drawn, _whole(box.right - box.left), _whole(box.bottom - box.top), title, tokens().light)


def strip(move: Movement, title: str) -> Picture:
    """The key positions side by side with arrows between; a hold is its one position."""
    still, whole = prop_lines(move), _frame(move)
    drawn, x = [], 0
    height = _whole(whole.bottom - whole.top)
    for index, key in enumerate(move.keys):
        if key.position.between:
            continue
        (limbs,) = _limbs(move, [key.pose])
        own = _box([_lines(limbs), still], floor=True)
        box = whole._replace(left=own.left, right=own.right)
        if x:
            drawn.append(f'<path class="arrow" d="M{x + 8} {height // 3}h{_GAP - 16}m-12-10 12 10-12 10"/>')
            x += _GAP
        drawn.append(f'<g transform="translate({x})">' if x else "<g>")
        drawn += [
            *_things(still, box),
            *_still(limbs, box),
            _floor(move, box),
            *_marks(move, index, box),
            "</g>",
        ]
        x += _whole(box.right - box.left)
    return _picture("".join(drawn), x, height, title, tokens().paper)


def shot(move: Movement, pose: Pose, index: int | None = None) -> Picture:
    """One pose of the movement in the frame of all of it, with the marks of key position `index`."""
    still, box = prop_lines(move), _frame(move)
    marks = "" if index is None else "".join(_marks(move, index, box))
    drawn = "".join([*_things(still, box), *_still(_limbs(move, [pose])[0], box), _floor(move, box), marks])
    return _picture(drawn, _whole(box.right - box.left), _whole(box.bottom - box.top), "", tokens().light)


def _inks(of: Mapping[str, str]) -> str:
    return f"svg{{--i:{of['ink']};--p:{of['paper']};--s:{of['soft']}}}"


def _picture(drawn: str, width: int, height: int, title: str, light: Mapping[str, str]) -> Picture:
    """`light` has its inks where it is light; a picture never learns that it is printed, only that."""
    dark = f"@media(prefers-color-scheme:dark){{{_inks(tokens().dark)}}}"
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
        f'height="{height}"><title>{escape(title)}</title><style>{_inks(light)}{dark}{_STROKES}</style>{drawn}</svg>\n'
    )
    return Picture(text, width, height)


def _frame(move: Movement) -> _Box:
    frames = [_lines(limbs) for limbs in _limbs(move, list(move.frames()))]
    return _box([*frames, prop_lines(move)], floor=not lies(move.figure))


def _whole(cm: float) -> int:
    return round(cm * UNITS)


def _box(layers: Iterable[Sequence[Line]], floor: bool) -> _Box:
    points = [point for lines in layers for line in lines for point in _around(line)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    bottom = max(MARGIN / 3, max(ys) + 1) if floor else max(ys) + MARGIN
    return _Box(min(xs) - MARGIN, min(ys) - MARGIN, max(xs) + MARGIN, bottom)


def _around(line: Line) -> Iterator[Point]:
    wide = 10.0 if line.kind == "head" else 1.0
    for x, y in line.points:
        yield x - wide, y - wide
        yield x + wide, y + wide


def _path(line: Line, box: _Box) -> str:
    """Path data in whole units from the corner of the box, each point from the one before: short, and much alike."""
    return "".join(_stroke(stroke, box) for stroke in line.strokes).replace(
        "|", "z" if line.kind in CLOSED else ""
    )


def _stroke(points: Sequence[Point], box: _Box) -> str:
    whole = [(_whole(x - box.left), _whole(y - box.top)) for x, y in points]
    steps = [f"{x - u} {y - v}" for (u, v), (x, y) in pairwise(whole)]
    return f"M{whole[0][0]} {whole[0][1]}l{' '.join(steps).replace(' -', '-')}|"


def _things(still: Sequence[Line], box: _Box) -> Iterator[str]:
    for kind in ("mat", "solid", "edge"):
        data = "".join(_path(line, box) for line in still if line.kind == kind)
        if data:
            yield f'<path class="{kind}" d="{data}"/>'


def _floor(move: Movement, box: _Box) -> str:
    """Over the rest, so that what stands on it leaves no gap in it."""
    if lies(move.figure):
        return ""
    return f'<path class="edge" d="M0 {_whole(-box.top)}H{_whole(box.right - box.left)}"/>'


def _class(kind: str, look: str) -> str:
    return f'class="{kind} {look}"' if look else f'class="{kind}"'


def _still(limbs: Sequence[Limb], box: _Box) -> Iterator[str]:
    for limb in limbs:
        for look in LOOKS[limb.look]:
            for line in limb.lines:
                yield f'<path {_class(line.kind, look)} d="{_path(line, box)}"/>'


def _moving(move: Movement, times: Schedule, box: _Box) -> Iterator[str]:
    shots = list(_shots(move, times))
    total = times.seconds
    clock = ";".join(f"{at / total:.3f}".rstrip("0").rstrip(".") or "0" for at, _ in shots)
    seen = _limbs(move, [pose for _, pose in shots])
    drawn = []
    names = iter("abcdefghijklmnopqrstuvwxyzABCDEFGH")
    yield "<defs>"
    for index, limb in enumerate(seen[0]):
        own = []
        for number in range(len(limb.lines)):
            own.append(next(names))
            values = [_path(limbs[index].lines[number], box) for limbs in seen]
            yield f'<path id="{own[-1]}" d="{values[0]}"'
            if len(set(values)) > 1:
                yield (
                    f'><animate attributeName="d" dur="{total:g}s" repeatCount="indefinite" '
                    f'keyTimes="{clock}" values="{";".join(values)}"/></path>'
                )
            else:
                yield "/>"
        drawn += [
            f'<use href="#{name}" {_class(line.kind, look)}/>'
            for look in LOOKS[limb.look]
            for name, line in zip(own, limb.lines, strict=True)
        ]
    yield "</defs>"
    yield from drawn


def _limbs(move: Movement, poses: Sequence[Pose]) -> list[list[Limb]]:
    """The limbs of poses in one order, which is that of the key positions."""
    keys = [key.pose for key in move.keys]
    return [body_limbs(move.figure, pose, keys) for pose in poses]


def _lines(limbs: Sequence[Limb]) -> list[Line]:
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


_QUICK = 0.4
"""Seconds up to which a way is drawn with half of its frames: no eye sees more."""


def _marks_in_time(move: Movement, times: Schedule, box: _Box) -> Iterator[str]:
    """The marks of a position, seen while the figure is there and just before and after."""
    total, start = times.seconds, 0.0
    for index, (stays, moves) in enumerate(zip(times.stays, times.moves, strict=True)):
        drawn = "".join(_marks(move, index, box))
        if drawn:
            seen = min(_SEEN, (total - stays) / 2)
            first, last = start - seen, start + stays + seen
            at = ";".join(f"{edge:.3f}" for edge in sorted((first % total / total, last % total / total)))
            values = "0;1;0" if first >= 0 and last < total else "1;0;1"
            yield (
                f'<g opacity="0">{drawn}<animate attributeName="opacity" calcMode="discrete" '
                f'dur="{total:g}s" repeatCount="indefinite" keyTimes="0;{at}" values="{values}"/></g>'
            )
        start += stays + moves


_SEEN = 0.3
"""Seconds for which a mark is seen before and after its position: long enough to be noticed."""


def _marks(move: Movement, index: int, box: _Box) -> Iterator[str]:
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
            yield f'<path class="mark" d="{_path(Line(name, "mark", (points,)), box)}"/>'
            continue
        half = add(scaled(first, cos(radians(inside) / 2)), aside, sin(radians(inside) / 2))
        x, y = project(move.figure, add(middle, half, _LABEL))
        path = _path(Line(name, "mark", (points,)), box)
        yield f'<path class="mark" d="{path}"/>'
        yield f'<text x="{_whole(x - box.left) - 22}" y="{_whole(y - box.top) + 8}">{round(inside)}°</text>'


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
