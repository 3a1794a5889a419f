"""A moving figure as a script carries it: without style and words, and with about half of its frames. Pure.

The guided session shows figures at a third of their size, and brings all of a session's at once. What it
puts back: `js/guided/figures.js`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import takewhile

_LEFT_OUT = re.compile(r"<style>.*?</style>|<title>.*?</title>|<g opacity=.*?</g>|<text.*?</text>", re.DOTALL)
"""What the page's own style says, and what only a coach reads."""
_SIZE = re.compile(r' width="\d+" height="\d+"')
"""How large the file is by itself; a page says so of its own."""
_CLOCK = re.compile(r' dur="([\d.]+)s" repeatCount="indefinite" keyTimes="([^"]*)"')
_LINE = re.compile(r'<path id="(\w)" d="([^"]*)"(?:/>|><animate [^>]*values="([^"]*)"/></path>)')
_DEFS = re.compile("<defs>.*?</defs>", re.DOTALL)
_USES = re.compile(r'(?:<use href="#\w" class="[^"]*"/>)+')
_USE = re.compile(r'<use href="#(\w)" class="(\w+) ?(\w*)"/>')
_STROKE = re.compile("M[^M]*")
_NUMBER = re.compile(r"-?\d+")
_SIGNS = [chr(code) for code in range(ord("("), ord("~") + 1) if chr(code) not in "<\\"]
"""Of numbers from -42 to 42; none of them needs to be escaped in JSON or XML."""
_MOST = len(_SIGNS) // 2
FAR = 11.0
"""Units (half centimetres) by which a point may be off for a frame left out: some three pixels on a phone."""
Frame = list[int]
_Use = tuple[str, str, str]
"""The name of a path, what it is of the body, and the look in which it is drawn."""


def compact(svg: str, still: float) -> str:
    """The text of an SVG file of `mannequin.draw`, made small. One that stands still loses style and words
    alone.

    `data-s` has the seconds of one time through, `data-t` its times from 0 to 1, `data-i` which of the frames
    is seen at each. A path that moves has `data-d`, with `#` for each number; a group is drawn once for each
    look of its `data-l`. The numbers are in `data-f`, path by path and frame by frame: steps of the pen,
    which goes on from path to path, as what is added to the same step in the frame before. See `_signs`.
    """
    svg = _SIZE.sub("", _LEFT_OUT.sub("", svg).strip(), count=1)
    clock = _CLOCK.search(svg)
    if not clock:
        return svg
    seconds, times = clock[1], clock[2].split(";")
    lines = {name: (many or one).split(";") for name, one, many in _LINE.findall(svg)}
    lines = {name: line if len(line) > 1 else line * len(times) for name, line in lines.items()}
    frames = [
        [place for line in lines.values() for place in _places(line[index])] for index in range(len(times))
    ]
    kept = list(_kept(frames))
    seen: dict[tuple[str, ...], int] = {}
    order = [seen.setdefault(tuple(line[index] for line in lines.values()), len(seen)) for index in kept]
    columns = dict(zip(lines, zip(*seen, strict=True), strict=True))
    drawn: list[str] = []
    svg = _USES.sub(lambda run: "".join(_groups(_USE.findall(run[0]), columns, drawn)), _DEFS.sub("", svg))
    told = ";".join(times[index] for index in kept)
    signs = "".join(_signs(_steps([columns[name] for name in drawn])))
    # `still` is when it shows what the exercise is known by, in seconds, for those who want no motion.
    data = f'data-s="{seconds}" data-t="{told}" data-i="{";".join(map(str, order))}" data-k="{still:g}"'
    return svg.replace("<svg ", f'<svg {data} data-f="{signs}" ', 1)


def _groups(uses: Sequence[_Use], columns: Mapping[str, Sequence[str]], drawn: list[str]) -> Iterator[str]:
    """Paths in the order in which they are drawn, those of a limb once for all of its looks."""
    while uses:
        limb = _alike(uses)
        looks = _looks(uses, limb)
        uses = uses[len(limb) * len(looks) :]
        drawn += _names(limb)
        forms = [(kind, _form(columns[name][0])) for name, kind, _ in limb]
        paths = "".join(f'<path class="{kind}" data-d="{form}"/>' for kind, form in forms)
        yield paths if looks == [""] else f'<g data-l="{",".join(looks)}">{paths}</g>'


def _alike(uses: Sequence[_Use]) -> Sequence[_Use]:
    """The first ones, which all have the same look."""
    return list(takewhile(lambda use: use[2] == uses[0][2], uses))


def _looks(uses: Sequence[_Use], limb: Sequence[_Use]) -> list[str]:
    """How a limb is drawn, each time over the former."""
    times = (uses[at : at + len(limb)] for at in range(0, len(uses), len(limb)))
    return [one[0][2] for one in takewhile(lambda one: _names(one) == _names(limb), times)]


def _names(uses: Sequence[_Use]) -> list[str]:
    return [name for name, _, _ in uses]


def _form(path: str) -> str:
    """The commands of a path, with a `#` for each number."""
    return re.sub(r"[ ]?-?\d+", "#", path)


def _steps(lines: Iterable[Sequence[str]]) -> Iterator[int]:
    """What is added to each step of the pen, path by path and frame by frame."""
    pens: dict[int, tuple[int, int]] = {}
    for line in lines:
        before: list[int] = []
        for frame, path in enumerate(line):
            numbers = [int(number) for number in _NUMBER.findall(path)]
            x, y = pens.get(frame, (0, 0))
            pens[frame] = sum(numbers[::2]), sum(numbers[1::2])
            numbers[:2] = numbers[0] - x, numbers[1] - y
            yield from (now - then for now, then in zip(numbers, before or [0] * len(numbers), strict=True))
            before = numbers


def _signs(numbers: Iterable[int]) -> Iterator[str]:
    """A sign for each number; before one that is too large, the last or first sign as often as needed."""
    for number in numbers:
        whole, rest = divmod(abs(number), _MOST)
        sign = 1 if number > 0 else -1
        yield _SIGNS[_MOST + sign * _MOST] * whole + _SIGNS[_MOST + sign * rest]


def _places(path: str) -> Iterator[int]:
    """The points of a path's strokes, each of which begins at a place and goes on by steps."""
    for stroke in _STROKE.findall(path):
        x, y, *steps = map(int, _NUMBER.findall(stroke))
        yield from (x, y)
        for right, down in zip(steps[::2], steps[1::2], strict=True):
            x, y = x + right, y + down
            yield from (x, y)


def _kept(frames: Sequence[Frame]) -> Iterator[int]:
    """The frames that stay: both ends, where it stands still or turns back, never fewer than every second."""
    last = 0
    yield last
    for index in range(1, len(frames) - 1):
        before, now, after = frames[index - 1 : index + 2]
        turns = now in (before, after) or before == after
        if turns or last < index - 1 or _off(frames[last], now, after) > FAR:
            last = index
            yield last
    yield len(frames) - 1


def _off(before: Frame, now: Frame, after: Frame) -> float:
    """How far the farthest point of a frame is from where it would be on the straight way past it."""
    way = [there - here for here, there in zip(before, after, strict=True)]
    own = [there - here for here, there in zip(before, now, strict=True)]
    length = sum(step * step for step in way)
    share = sum(a * b for a, b in zip(way, own, strict=True)) / length if length else 0.0
    return max((abs(a * share - b) for a, b in zip(way, own, strict=True)), default=0.0)
