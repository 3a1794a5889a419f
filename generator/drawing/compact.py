"""A moving figure as a script carries it: without style and words, and with about half of its frames. Pure.

The guided session shows figures at a third of their size, and brings all of a session's at once. What it
puts back: `js/guided/figures.js`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

_LEFT_OUT = re.compile(r"<style>.*?</style>|<title>.*?</title>|<g opacity=.*?</g>|<text.*?</text>", re.DOTALL)
"""What the page's own style says, and what only a coach reads."""
_SIZE = re.compile(r' width="\d+" height="\d+"')
"""How large the file is by itself; a page says so of its own."""
_MOVES = re.compile(
    r' d="[^"]*"><animate attributeName="d" dur="([\d.]+)s" repeatCount="indefinite" '
    r'keyTimes="([^"]*)" values="([^"]*)"/>'
)
_STROKE = re.compile("M[^M]*")
_NUMBER = re.compile(r"-?\d+")
FAR = 8.0
"""Units (half centimetres) by which a point may be off a frame that is left out: two pixels on a phone."""
Frame = list[int]


def compact(svg: str, still: float) -> str:
    """The text of an SVG file of `mannequin.draw`, made small. One that stands still loses style and words
    alone.

    `data-s` has the seconds of one time through, `data-t` its times from 0 to 1, `data-i` which of the frames
    is seen at each; `values` of an `animate` has the frames.
    """
    svg = _SIZE.sub("", _LEFT_OUT.sub("", svg).strip(), count=1)
    found = _MOVES.findall(svg)
    if not found:
        return svg
    seconds, times = found[0][0], found[0][1].split(";")
    lines = [values.split(";") for _, _, values in found]
    frames = [[place for line in lines for place in _places(line[index])] for index in range(len(times))]
    kept = list(_kept(frames))
    seen: dict[tuple[str, ...], int] = {}
    order = [seen.setdefault(tuple(line[index] for line in lines), len(seen)) for index in kept]
    columns = iter(zip(*seen, strict=True))
    svg = _MOVES.sub(lambda _: f'><animate values="{";".join(next(columns))}"/>', svg)
    told = ";".join(times[index] for index in kept)
    # `still` is when it shows what the exercise is known by, in seconds, for those who want no motion.
    data = f'data-s="{seconds}" data-t="{told}" data-i="{";".join(map(str, order))}" data-k="{still:g}"'
    return svg.replace("<svg ", f"<svg {data} ", 1)


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
