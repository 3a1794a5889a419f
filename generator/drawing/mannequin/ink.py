"""How lines become an SVG file: units, thickness, colours, and paths as short as they can be.

A file is loaded as a picture; its inks are greys, so that a page can turn them over where the screen is dark
(`sheet.css`). All is whole numbers of half a centimetre, so equal input gives equal bytes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from markupsafe import escape

from .camera import Point
from .lines import CLOSED, LOOKS, Limb, Line

UNITS = 2
"""Units of the picture for a cm: whole numbers are fine enough for 600 px."""
MARGIN = 6.0
_WIDTHS = {"thigh": 22, "shank": 16, "foot": 9, "arm": 13, "hand": 9, "towel": 17, "broom": 7}
"""Of the lines of limbs, in units."""


_LINES = {
    "trunk": "fill:var(--i);stroke-width:9",
    "neck": "stroke-width:13",
    "head": "stroke-width:37",
    "nose": "stroke-width:6",
    "face": "stroke:var(--p);stroke-width:22",
    "eyes": "stroke-width:4",
    "edge": "stroke-width:5;stroke-linejoin:miter",
    "mark": "stroke:var(--s);stroke-width:4",
    "solid": "fill:var(--s);fill-opacity:.22;stroke:none",
    "mat": "fill:var(--s);fill-opacity:.22;stroke:none",
    "shade": "stroke:var(--s);stroke-width:14;opacity:.4",
    "bag": "fill:var(--p);stroke-width:6",
    "arrow": "stroke-width:5",
    "verdict": "stroke-width:8",
}
_ALL = "svg>path,g>path,use{fill:none;stroke:var(--i);stroke-linecap:round;stroke-linejoin:round}"
_TEXT = (
    "text{font:700 22px system-ui,sans-serif;fill:var(--i);stroke:var(--p);stroke-width:5;paint-order:stroke}"
)


def _styles(drawn: str) -> str:
    """The rules of the classes that a picture has, and no others: each file carries its own."""
    used = set(re.findall(r'class="([^"]+)"', drawn))
    rules = [f".{kind}{{{rule}}}" for kind, rule in _LINES.items() if kind in used]
    for kind, wide in _WIDTHS.items():
        filled = "fill:var({});" if kind == "foot" else ""
        if kind in used:
            rules.append(f".{kind}{{{filled.format('--i')}stroke-width:{wide}}}")
        for look, broad in (("h", wide + 8), ("b", max(1, wide - 8))):
            if f"{kind} {look}" in used:
                rules.append(f".{kind}.{look}{{{filled.format('--p')}stroke:var(--p);stroke-width:{broad}}}")
    return _ALL + "".join(rules) + (_TEXT if "<text" in drawn else "")


def every_style() -> str:
    """The rules of every class that any picture may have, for pages that hold pictures themselves."""
    kinds = [*_LINES, *_WIDTHS, *(f"{kind} {look}" for kind in _WIDTHS for look in "hb")]
    return _styles("<text" + "".join(f'class="{kind}"' for kind in kinds))


class Picture(NamedTuple):
    """The text of an SVG file, and its size in units."""

    text: str
    width: int
    height: int


class Box(NamedTuple):
    """The part of the plane that is seen, in cm, and its scale."""

    left: float
    top: float
    right: float
    bottom: float
    flip: bool = False
    """Whether the picture is the mirror image: the station of the other side."""
    units: int = UNITS

    def place(self, point: Point) -> tuple[int, int]:
        """A point in units from the corner."""
        x, y = point
        across = self.right - x if self.flip else x - self.left
        return round(across * self.units), round((y - self.top) * self.units)

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in units."""
        return round((self.right - self.left) * self.units), round((self.bottom - self.top) * self.units)


def _inks(of: Mapping[str, str], styles: str) -> str:
    soft = f";--s:{of['soft']}" if "--s" in styles else ""
    return f"svg{{--i:{of['ink']};--p:{of['paper']}{soft}}}"


def picture(drawn: str, width: int, height: int, title: str, light: Mapping[str, str]) -> Picture:
    """`light` has its inks; a picture learns in some engines alone that it is in a dark page, and in none
    that it is printed."""
    styles = _styles(drawn)
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
        f'height="{height}"><title>{escape(title)}</title><style>{_inks(light, styles)}{styles}</style>'
        f"{drawn}</svg>\n"
    )
    return Picture(text, width, height)


def whole(cm: float) -> int:
    """Units for cm."""
    return round(cm * UNITS)


def box_of(layers: Iterable[Sequence[Line]], floor: bool) -> Box:
    """What all lines need, with a margin; down to the floor alone where that is a line."""
    points = [point for lines in layers for line in lines for point in _around(line)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    bottom = max(MARGIN / 3, max(ys) + 1) if floor else max(ys) + MARGIN
    return Box(min(xs) - MARGIN, min(ys) - MARGIN, max(xs) + MARGIN, bottom)


def _around(line: Line) -> Iterator[Point]:
    wide = 10.0 if line.kind == "head" else 1.0
    for x, y in line.points:
        yield x - wide, y - wide
        yield x + wide, y + wide


def path(line: Line, box: Box) -> str:
    """Path data in whole units of the box, each point from the one before: short, and much alike."""
    end = "z" if line.kind in CLOSED else ""
    places = [[box.place(point) for point in stroke] for stroke in line.strokes]
    drawn = [f"M{places[0][0][0]} {places[0][0][1]}{_steps(places[0])}{end}"]
    for before, after in pairwise(places):
        # A closed stroke ends where it began.
        u, v = before[0 if end else -1]
        x, y = after[0]
        drawn.append(f"m{x - u} {y - v}{_steps(after)}{end}")
    return "".join(drawn).replace(" -", "-")


def _steps(places: Sequence[tuple[int, int]]) -> str:
    return "l" + " ".join(f"{x - u} {y - v}" for (u, v), (x, y) in pairwise(places))


def class_of(kind: str, look: str) -> str:
    """The attribute that gives a line its thickness."""
    return f'class="{kind} {look}"' if look else f'class="{kind}"'


def limbs_drawn(limbs: Sequence[Limb], box: Box) -> Iterator[str]:
    """Elements of limbs that stand still."""
    for limb in limbs:
        for look in LOOKS[limb.look]:
            for line in limb.lines:
                yield f'<path {class_of(line.kind, look)} d="{path(line, box)}"/>'
