"""A movement as compact SVG files: one that moves in a tempo, and the strip of its key positions.

They are loaded as pictures. A picture moves by SMIL, which needs no script; its inks are greys, so that a page can
turn them over where the screen is dark (`sheet.css`). Both are whole numbers of half a centimetre, so equal input gives equal bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import cos, radians, sin
from typing import NamedTuple

from markupsafe import escape

from ...reading.theme import tokens
from .motion import Movement
from .pose import Pose
from .scene import Line, Point, body_lines, project, prop_lines
from .tempo import Schedule
from .vectors import across, add, minus, scaled, unit

UNITS = 2
"""Units of the picture for a cm: whole numbers are fine enough for 600 px."""
MARGIN = 6.0
_GAP = 52
_STROKES = (
    "svg>path,g>path,use{fill:none;stroke:var(--i);stroke-width:17;stroke-linecap:round;stroke-linejoin:round}"
    ".c{stroke:var(--p);stroke-width:25}.b{stroke:var(--p);stroke-width:9}"
    ".trunk{stroke-width:30}.chest{stroke-width:18;fill:var(--i)}.neck{stroke-width:12}"
    ".head{stroke-width:37}.face{stroke-width:9}.edge{stroke-width:5;stroke-linejoin:miter}"
    ".hatch,.mark,.mat,.shade{stroke:var(--s);stroke-width:2.5}.mark{stroke-width:4}.shade{stroke-width:5}"
    ".bag{fill:var(--p);stroke-width:6}"
    ".broom{stroke-width:7}.arrow{stroke-width:5}"
    "text{font:700 22px system-ui,sans-serif;fill:var(--i)}"
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
        lines = body_lines(move.figure, key.pose)
        own = _box([lines, still], floor=True)
        box = whole._replace(left=own.left, right=own.right)
        if x:
            drawn.append(f'<path class="arrow" d="M{x + 8} {height // 3}h{_GAP - 16}m-12-10 12 10-12 10"/>')
            x += _GAP
        drawn.append(f'<g transform="translate({x})">' if x else "<g>")
        drawn += [
            *_things(still, box),
            *_still(lines, box),
            _floor(move, box),
            *_marks(move, index, box),
            "</g>",
        ]
        x += _whole(box.right - box.left)
    return _picture("".join(drawn), x, height, title, tokens().paper)


def _inks(of: Mapping[str, str]) -> str:
    return f"svg{{--i:{of['ink']};--p:{of['paper']};--s:{of['soft']}}}"


def _picture(drawn: str, width: int, height: int, title: str, light: Mapping[str, str]) -> Picture:
    """`light` has its inks; a picture learns in some engines alone that it is in a dark page, and in none that it is
    printed."""
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
        f'height="{height}"><title>{escape(title)}</title><style>{_inks(light)}{_STROKES}</style>{drawn}</svg>\n'
    )
    return Picture(text, width, height)


def _frame(move: Movement) -> _Box:
    frames = [body_lines(move.figure, pose) for pose in move.frames()]
    return _box([*frames, prop_lines(move)], floor=move.figure.view != "above")


def _whole(cm: float) -> int:
    return round(cm * UNITS)


def _box(layers: Iterable[Sequence[Line]], floor: bool) -> _Box:
    points = [point for lines in layers for line in lines for point in _around(line)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    bottom = MARGIN / 3 if floor else max(ys) + MARGIN
    return _Box(min(xs) - MARGIN, min(ys) - MARGIN, max(xs) + MARGIN, bottom)


def _around(line: Line) -> Iterator[Point]:
    wide = 10.0 if line.kind == "head" else 1.0
    for x, y in line.points:
        yield x - wide, y - wide
        yield x + wide, y + wide


def _path(line: Line, box: _Box) -> str:
    """Path data in whole units from the corner of the box."""
    points = [f"{_whole(x - box.left)} {_whole(y - box.top)}" for x, y in line.points]
    return f"M{points[0]}L{' '.join(points[1:])}" + ("z" if line.kind in ("chest", "bag", "mat") else "")


def _things(still: Sequence[Line], box: _Box) -> Iterator[str]:
    for kind in ("mat", "hatch", "edge"):
        data = "".join(_path(line, box) for line in still if line.kind == kind)
        if data:
            yield f'<path class="{kind}" d="{data}"/>'


def _floor(move: Movement, box: _Box) -> str:
    """Over the rest, so that what stands on it leaves no gap in it."""
    if move.figure.view == "above":
        return ""
    return f'<path class="edge" d="M0 {_whole(-box.top)}H{_whole(box.right - box.left)}"/>'


_DRAWN = {"near": ("c", ""), "far": ("", "b"), "towel": ("c", "", "b"), "broom": ("c", "broom")}
"""How often a line is drawn, each time with this class, the later over the earlier."""


def _uses(name: str, kind: str) -> str:
    marks = [f' class="{one}"' if one else "" for one in _DRAWN.get(kind, (kind,))]
    return "".join(f'<use href="#{name}"{mark}/>' for mark in marks)


def _still(lines: Sequence[Line], box: _Box) -> Iterator[str]:
    for line in lines:
        data = _path(line, box)
        for one in _DRAWN.get(line.kind, (line.kind,)):
            mark = f' class="{one}"' if one else ""
            yield f'<path{mark} d="{data}"/>'


def _moving(move: Movement, times: Schedule, box: _Box) -> Iterator[str]:
    shots = list(_shots(move, times))
    total = times.seconds
    clock = ";".join(f"{at / total:.3f}".rstrip("0").rstrip(".") or "0" for at, _ in shots)
    lines = [body_lines(move.figure, pose) for _, pose in shots]
    drawn = []
    yield "<defs>"
    for index, first in enumerate(lines[0]):
        name = "abcdefghijklmnop"[index]
        values = [_path(shot[index], box) for shot in lines]
        drawn.append(_uses(name, first.kind))
        yield f'<path id="{name}" d="{values[0]}">' if len(set(values)) > 1 else f'<path id="{name}" '
        if len(set(values)) > 1:
            yield (
                f'<animate attributeName="d" dur="{total:g}s" repeatCount="indefinite" '
                f'keyTimes="{clock}" values="{";".join(values)}"/></path>'
            )
        else:
            yield f'd="{values[0]}"/>'
    yield "</defs>"
    yield from drawn


def _shots(move: Movement, times: Schedule) -> Iterator[tuple[float, Pose]]:
    """Seconds and pose, from 0 to the end of one time through, where the first comes again."""
    at = 0.0
    for index, way in enumerate(move.ways):
        yield at, way[0]
        if times.stays[index]:
            at += times.stays[index]
            yield at, way[0]
        step = times.moves[index] / (len(way) - 1)
        for number, pose in enumerate(way[1:-1], 1):
            yield at + step * number, pose
        at += times.moves[index]
    yield at, move.ways[-1][-1]


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
        if abs(inside - 90) <= RIGHT:
            ways = [first, add(first, aside), aside]
            far, inside = _CORNER, 90
        else:
            turns = (radians(inside) * step / 6 for step in range(7))
            ways = [add(scaled(first, cos(turn)), aside, sin(turn)) for turn in turns]
            far = _ARC
        points = tuple(project(move.figure, add(middle, way, far)) for way in ways)
        if move.figure.view != "side":
            # Seen aslant an angle is not what it measures: the corner alone tells a right one.
            yield f'<path class="mark" d="{_path(Line(name, "mark", points), box)}"/>'
            continue
        half = add(scaled(first, cos(radians(inside) / 2)), aside, sin(radians(inside) / 2))
        x, y = project(move.figure, add(middle, half, _LABEL))
        path = _path(Line(name, "mark", points), box)
        yield f'<path class="mark" d="{path}"/>'
        yield f'<text x="{_whole(x - box.left) - 22}" y="{_whole(y - box.top) + 8}">{round(inside)}°</text>'


RIGHT = 3.0
"""Degrees by which an angle may miss 90 and still be drawn as a right one: an eye sees no finer."""
_CORNER, _ARC, _LABEL = 11.0, 20.0, 27.0
_MARKED = {
    "hip": (("chest", "pelvis"), ("{} knee", "{} hip")),
    "knee": (("{} hip", "{} knee"), ("{} ankle", "{} knee")),
    "elbow": (("{} shoulder", "{} elbow"), ("{} wrist", "{} elbow")),
}
"""For each joint the ends of its two segments, from the far one to the joint."""
