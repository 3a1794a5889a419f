"""How lines become an SVG file: units, thickness, colours, and paths as short as they can be.

A file is loaded as a picture; its few styles follow the reader's light or dark scheme. All is whole numbers of half a
centimetre, so equal input gives equal bytes.
"""

from __future__ import annotations

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


def _limb_styles() -> str:
    """Each of them as it is, with a gap round it, and hollow."""
    plain = "".join(f".{kind}{{stroke-width:{wide}}}" for kind, wide in _WIDTHS.items())
    gaps = "".join(f".{kind}.h{{stroke-width:{wide + 8}}}" for kind, wide in _WIDTHS.items())
    hollow = "".join(f".{kind}.b{{stroke-width:{max(1, wide - 8)}}}" for kind, wide in _WIDTHS.items())
    return f"{plain}.h,.b{{stroke:var(--p)}}.foot.h,.foot.b{{fill:var(--p)}}{gaps}{hollow}"


_STROKES = (
    "svg>path,g>path,use{fill:none;stroke:var(--i);stroke-linecap:round;stroke-linejoin:round}"
    ".trunk,.foot{fill:var(--i)}.trunk{stroke-width:9}.neck{stroke-width:13}.head{stroke-width:37}"
    ".nose{stroke-width:6}.face{stroke-width:22;stroke:var(--p)}.eyes{stroke-width:4}"
    + _limb_styles()
    + ".edge{stroke-width:5;stroke-linejoin:miter}.mark{stroke:var(--s);stroke-width:4}"
    ".solid,.mat{fill:var(--s);fill-opacity:.22;stroke:none}.shade{stroke:var(--s);stroke-width:14;opacity:.4}"
    ".bag{fill:var(--p);stroke-width:6}.arrow{stroke-width:5}.verdict{stroke-width:8}"
    "text{font:700 22px system-ui,sans-serif;fill:var(--i);stroke:var(--p);stroke-width:5;paint-order:stroke}"
)


STROKES = _STROKES
"""The styles of every figure, by three inks: `--i` the line, `--p` the paper, `--s` what is soft."""


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


def _inks(of: Mapping[str, str]) -> str:
    return f"svg{{--i:{of['ink']};--p:{of['paper']};--s:{of['soft']}}}"


def picture(drawn: str, width: int, height: int, title: str, light: Mapping[str, str]) -> Picture:
    """`light` has its inks; a picture learns in some engines alone that it is in a dark page, and in none that it
    is printed."""
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
        f'height="{height}"><title>{escape(title)}</title><style>{_inks(light)}{_STROKES}</style>{drawn}</svg>\n'
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
    """Path data in whole units from the corner of the box, each point from the one before: short, and much alike."""
    return "".join(_stroke(stroke, box) for stroke in line.strokes).replace(
        "|", "z" if line.kind in CLOSED else ""
    )


def _stroke(points: Sequence[Point], box: Box) -> str:
    places = [box.place(point) for point in points]
    steps = [f"{x - u} {y - v}" for (u, v), (x, y) in pairwise(places)]
    return f"M{places[0][0]} {places[0][1]}l{' '.join(steps).replace(' -', '-')}|"


def class_of(kind: str, look: str) -> str:
    """The attribute that gives a line its thickness."""
    return f'class="{kind} {look}"' if look else f'class="{kind}"'


def limbs_drawn(limbs: Sequence[Limb], box: Box) -> Iterator[str]:
    """Elements of limbs that stand still."""
    for limb in limbs:
        for look in LOOKS[limb.look]:
            for line in limb.lines:
                yield f'<path {class_of(line.kind, look)} d="{path(line, box)}"/>'
