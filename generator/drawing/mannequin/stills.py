"""Pictures that stand still: a pose, right and not so, the small one by which an exercise is known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import copysign
from typing import NamedTuple

from ...reading.theme import tokens
from .draw import floor, limbs_of, lines_of, things
from .ink import Box, Picture, box_of, limbs_drawn, path, picture, whole
from .lines import Limb, Line
from .motion import HEIGHTS, Movement, movement
from .pair import Pair
from .props import WALL, prop_lines
from .scene import body_limbs
from .seen import seen

MOST = 1024
"""Bytes of a thumbnail, which stands in the page itself."""


def fault(pair: Pair, title: str, paper: bool = False) -> Picture:
    """Right and not so, each with its mark, a tick and a cross.

    Who stands is side by side, who lies below each other. `paper` has the inks of paper.
    """
    still = [*prop_lines(movement(pair.figure)), *([_STEP] if pair.step else [])]
    poses = [body_limbs(pair.figure, pose, seen(pair.figure, [pose])) for pose in (pair.right, pair.wrong)]
    # No wall is drawn higher than its body: the pair would be small.
    top = min(box_of([lines_of(limbs)], floor=True).top for limbs in poses)
    if pair.wall:
        still += _wall([line for limbs in poses for line in lines_of(limbs)], top)
    boxes = [box_of([lines_of(limbs), still], floor=True) for limbs in poses]
    bottom = max(box.bottom for box in boxes)
    boxes = [box._replace(left=box.left - _ROOM, top=top, bottom=bottom) for box in boxes]
    (wide, high), (_, _) = sizes = [box.size for box in boxes]
    lies = wide > _LIES * high
    places = [(0, 0), (0, high + _APART) if lies else (wide + _APART, 0)]
    drawn = []
    for limbs, box, (x, y), mark in zip(poses, boxes, places, _VERDICTS, strict=True):
        ground = f'<path class="edge" d="M0 {whole(-top)}H{box.size[0]}"/>'
        drawn.append(f'<g transform="translate({x} {y})">{ground}')
        drawn += [*things(still, box), *limbs_drawn(limbs, box), f'<path class="verdict" d="{mark}"/></g>']
    ends = [(x + wide, y + high) for (x, y), (wide, high) in zip(places, sizes, strict=True)]
    across, down = max(x for x, _ in ends), max(y for _, y in ends)
    return picture("".join(drawn), across, down, title, tokens().paper if paper else tokens().light)


def _wall(lines: list[Line], top: float) -> list[Line]:
    """A wall beside the body, seen from the front, at the hand that is out farthest."""
    edge = max((x for line in lines for x, _ in line.points), key=abs)
    behind = edge + copysign(WALL, edge)
    corners = ((edge, 0.0), (edge, top), (behind, top), (behind, 0.0))
    return [Line("wall", "solid", (corners,)), Line("wall", "edge", (corners[:2],))]


_LIES = 1.6
"""Breadth over height of one from which two are larger below each other than side by side."""
_HIGH = HEIGHTS["step"]
_STEP = Line("step", "solid", (((-26, 0), (-26, -_HIGH), (26, -_HIGH), (26, 0)),))
"""A step from the front."""
_VERDICTS = ("M8 26l12 12 22-30", "M10 10l28 28m0-28l-28 28")
_ROOM, _APART = 16.0, 16
"""Cm to the left of a body for the mark that says whether it is right, and units between the two."""


def telling(move: Movement) -> int:
    """The key position by which the exercise is known: the one that the file marks, else the last."""
    keys = [index for index, key in enumerate(move.keys) if not key.position.between]
    return next((index for index in keys if move.keys[index].position.tells), keys[-1])


def thumbnail(move: Movement, flip: bool = False, index: int | None = None) -> str:
    """The telling position, or that of an index, as SVG to stand in a page: at most 1 kB.

    Its styles are in the page's sheet. It says nothing to who does not see it: the name beside it does.
    """
    drawn, wide, high = small(move, flip, index)
    return f'<svg class="still" viewBox="0 0 {wide} {high}" aria-hidden="true">{drawn}</svg>'


class Small(NamedTuple):
    """What is drawn of a position as a thumbnail, and its width and height in cm."""

    drawn: str
    wide: int
    high: int


def small(move: Movement, flip: bool = False, index: int | None = None) -> Small:
    """The telling position, or that of an index, for `for_paper`."""
    pose = move.keys[telling(move) if index is None else index].pose
    still, limbs = prop_lines(move), limbs_of(move, [pose])[0]
    box = box_of([lines_of(limbs), still], floor=True)._replace(flip=flip, units=1)
    wide, high = box.size
    drawn = "".join([*_small_things(still, box), *_small(limbs, box)])
    treads = "".join(path(line, box) for line in still if line.kind == "tread")
    ground = f'<path class="g" d="M0 {round(-box.top)}h{wide}{treads}"/>' if floor(move, box) else ""
    return Small(f"{drawn}{ground}", wide, high)


def for_paper(smalls: Mapping[str, Small]) -> str:
    """The telling positions of several exercises as one SVG file, black on white: `file.svg#name` shows one.

    Each is seen in a frame of 5 to 4, as high as it needs.
    """
    drawn, top = [], 0.0
    for name, (inner, wide, high) in smalls.items():
        tall = max(_LEAST_TALL, high, wide * 4 / 5)
        x, y = tall * 5 / 8 - wide / 2, top + (tall - high) / 2
        drawn.append(f'<view id="{name}" viewBox="0 {top:g} {tall * 5 / 4:g} {tall:g}"/>')
        drawn.append(f'<g transform="translate({x:g} {y:g})">{inner}</g>')
        top += tall + _BETWEEN
    return f'<svg xmlns="http://www.w3.org/2000/svg"><style>{_PAPER}</style>{"".join(drawn)}</svg>'


_LEAST_TALL = 110
"""Cm that a frame shows at least, so that who lies is not much larger than who stands."""
_BETWEEN = 40
"""Cm between two frames, so that none shows what is in another."""
_PAPER = (
    "path{fill:none;stroke:#000;stroke-linecap:round;stroke-linejoin:round;stroke-width:9}"
    ".a{stroke-width:6}.h{stroke:#fff;stroke-width:13}.a.h{stroke-width:10}.b{stroke:#fff;stroke-width:4}"
    ".a.b{stroke-width:2.5}.t{fill:#000;stroke-width:4}.o{stroke-width:18}.w{stroke:#fff;stroke-width:10}"
    ".g{stroke-width:3}.s{fill:#777;fill-opacity:.25;stroke:none}.k{fill:#fff;stroke-width:3.5}"
)
"""The looks of a thumbnail, as `day.css` has them for screens."""


def _small_things(still: list[Line], box: Box) -> Iterator[str]:
    for kinds, mark in ((("mat", "solid"), "s"), (("edge",), "g")):
        data = "".join(path(line, box) for line in still if line.kind in kinds)
        if data:
            yield f'<path class="{mark}" d="{data}"/>'


_LOOKS = {"plain": ("",), "near": (" h", ""), "far": ("", " b")}
_KINDS = {
    "trunk": "t",
    "neck": "a",
    "head": "o",
    "face": "w",
    "arm": "a",
    "bag": "k",
    "towel": "a",
    "broom": "g",
}
"""The class of each line that a thumbnail has; a leg and its foot are one line."""


def _small(limbs: list[Limb], box: Box) -> Iterator[str]:
    for limb in limbs:
        lines = [("l", _leg(limb.lines))] if limb.lines[0].kind == "thigh" else _others(limb)
        for look in _LOOKS[limb.look]:
            for kind, line in lines:
                yield f'<path class="{kind}{look}" d="{path(line, box)}"/>'


def _leg(lines: tuple[Line, ...]) -> Line:
    thigh, shank, foot = lines
    return Line(thigh.name, "leg", ((*thigh.points, shank.points[1], foot.points[1], foot.points[-2]),))


def _others(limb: Limb) -> list[tuple[str, Line]]:
    return [(_KINDS[line.kind], line) for line in limb.lines if line.kind in _KINDS]
