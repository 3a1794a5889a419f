"""A movement as compact SVG files: one that moves in a tempo, and the strip of its key positions.

They are loaded as pictures. A picture moves by SMIL, which needs no script; its few styles follow the
reader's light or dark scheme. Both are whole numbers of half a centimetre, so equal input gives equal bytes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import atan2, cos, degrees, pi, sin
from typing import NamedTuple

from markupsafe import escape

from generator.figures.motion import Movement
from generator.figures.pose import Pose
from generator.figures.scene import Line, Point, body_lines, project, prop_lines
from generator.figures.tempo import Schedule

UNITS = 2
"""Units of the picture for a cm: whole numbers are fine enough for 600 px."""
MARGIN = 6.0
_GAP = 52
_ON_PAPER = "svg{--i:#000;--p:#fff;--s:#000}"
STYLE = (
    "svg{--i:#17242b;--p:#fcfbf7;--s:#52626a}"
    "@media(prefers-color-scheme:dark){svg{--i:#ebe7db;--p:#12191c;--s:#a9b4b6}}"
    f"@media print{{{_ON_PAPER}}}"
    "svg>path,g>path,use{fill:none;stroke:var(--i);stroke-width:17;stroke-linecap:round;stroke-linejoin:round}"
    ".c{stroke:var(--p);stroke-width:25}.b{stroke:var(--p);stroke-width:9}"
    ".trunk{stroke-width:30}.chest{stroke-width:18;fill:var(--i)}.neck{stroke-width:12}"
    ".head{stroke-width:37}.face{stroke-width:9}.edge{stroke-width:5;stroke-linejoin:miter}"
    ".hatch,.mark{stroke:var(--s);stroke-width:2.5}.bag{fill:var(--p);stroke-width:6}"
    ".broom{stroke-width:7}.arrow{stroke-width:5}"
    "text{font:700 22px system-ui,sans-serif;fill:var(--i)}"
)


class Picture(NamedTuple):
    """The text of an SVG file, and its size in units."""

    text: str
    width: int
    height: int


def for_paper(text: str) -> str:
    """The text of a file in the inks of paper: a picture on a page is not told that it is printed."""
    return text.replace(f"@media print{{{_ON_PAPER}}}", _ON_PAPER)


class _Box(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float


def moving(move: Movement, times: Schedule, title: str) -> Picture:
    """The movement in the times of a dose. `title` is what is to be seen, in words."""
    still, box = prop_lines(move), _frame(move)
    drawn = "".join(_things(still, move, box)) + "".join(_moving(move, times, box))
    return _picture(drawn, _whole(box.right - box.left), _whole(box.bottom - box.top), title)


def strip(move: Movement, title: str) -> Picture:
    """The key positions side by side with arrows between; a hold is its one position."""
    still, whole = prop_lines(move), _frame(move)
    drawn, x = [], 0
    height = _whole(whole.bottom - whole.top)
    for index, key in enumerate(move.keys):
        lines = body_lines(move.figure, key.pose)
        own = _box([lines, still], floor=True)
        box = whole._replace(left=own.left, right=own.right)
        if index:
            drawn.append(f'<path class="arrow" d="M{x + 8} {height // 3}h{_GAP - 16}m-12-10 12 10-12 10"/>')
            x += _GAP
        drawn.append(f'<g transform="translate({x})">' if x else "<g>")
        drawn += [*_things(still, move, box), *_still(lines, box), *_marks(move, index, box), "</g>"]
        x += _whole(box.right - box.left)
    return _picture("".join(drawn), x, height, title)


def _picture(drawn: str, width: int, height: int, title: str) -> Picture:
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
        f'height="{height}"><title>{escape(title)}</title><style>{STYLE}</style>{drawn}</svg>\n'
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
    return f"M{points[0]}L{' '.join(points[1:])}" + ("z" if line.kind in ("chest", "bag") else "")


def _things(still: Sequence[Line], move: Movement, box: _Box) -> Iterator[str]:
    for kind in ("hatch", "edge"):
        data = "".join(_path(line, box) for line in still if line.kind == kind)
        if data:
            yield f'<path class="{kind}" d="{data}"/>'
    if move.figure.view != "above":
        yield f'<path class="edge" d="M0 {_whole(-box.top)}H{_whole(box.right - box.left)}"/>'


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


def _marks(move: Movement, index: int, box: _Box) -> Iterator[str]:
    """Arcs at the joints that a position marks, with their degrees."""
    key = move.keys[index]
    for name in key.position.marks:
        side, joint = name.split(" ") if " " in name else ("right", name)
        first, middle, last = (
            project(move.figure, key.pose.at[point if point in key.pose.at else f"{side} {point}"])
            for point in _MARKED[joint]
        )
        yield _arc(first, middle, last, box, round(180 - key.pose.bend(side, joint)))


_MARKED = {
    "hip": ("chest", "hip", "knee"),
    "knee": ("hip", "knee", "ankle"),
    "elbow": ("shoulder", "elbow", "wrist"),
}


def _arc(first: Point, middle: Point, last: Point, box: _Box, inside: int) -> str:
    start = atan2(first[1] - middle[1], first[0] - middle[0])
    turn = (atan2(last[1] - middle[1], last[0] - middle[0]) - start + pi) % (2 * pi) - pi
    x, y, far = _whole(middle[0] - box.left), _whole(middle[1] - box.top), 44
    ax, ay = round(x + far * cos(start)), round(y + far * sin(start))
    bx, by = round(x + far * cos(start + turn)), round(y + far * sin(start + turn))
    tx, ty = round(x + 74 * cos(start + turn / 2)), round(y + 74 * sin(start + turn / 2))
    return (
        f'<path class="mark" d="M{ax} {ay}A{far} {far} 0 0 {int(turn > 0)} {bx} {by}"/>'
        f'<text x="{tx - 22}" y="{ty + 8}">{abs(round(degrees(turn)))}°</text>'
        if inside
        else ""
    )
