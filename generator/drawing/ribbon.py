"""Pictures drawn to scale from the running order: the session ribbon and the tempo trace, as SVG. Pure.

Colours come from the page (`currentColor`), so both read on light, dark and paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import accumulate

from ..computing.running_order import Segment
from ..reading.amounts import Number, Tempo

WIDTH, BAR, HEIGHT = 360, 20, 34
"""The ribbon in its own units; a label stands below the bar where it has room."""
SECOND, DEPTH = 12, 16
"""The trace: units for a second across, and for one depth down."""
_LETTER = 5.2

HATCH = (
    '<svg class="defs" width="0" height="0" aria-hidden="true"><pattern id="hold" width="3" height="3" '
    'patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0h1.3v3h-1.3z" '
    'fill="currentColor"/></pattern></svg>'
)
"""Once on every page with a ribbon: the pattern of a hold."""


Block = tuple[str, Sequence[Segment]]
"""A block's label and its segments, of which there is at least one."""


def ribbon(blocks: Sequence[Block], holds: frozenset[str], label: str) -> str:
    """One bar, each part as long as its seconds: work solid, holds hatched, the rest open.

    `blocks` are those of a session, in order; the rest that follows a block is left blank. `holds` has the
    labels of the stations that are held; `label` says the same in words. Nothing for an empty session.
    """
    if not blocks:
        return ""
    pen = _Pen(WIDTH / float(end(blocks[-1][1])), holds)
    parts = [part for name, segments in blocks for part in pen.block(name, _less_rest(segments))]
    return (
        f'<svg class="ribbon" viewBox="-1 -1 {WIDTH + 2} {HEIGHT}" role="img" aria-label="{label}">'
        f"{''.join(parts)}</svg>"
    )


def end(segments: Sequence[Segment]) -> Number:
    """The second at which the last of them ends."""
    return segments[-1].start + segments[-1].length


def _less_rest(segments: Sequence[Segment]) -> Sequence[Segment]:
    last = len(segments)
    while last > 1 and segments[last - 1].kind == "rest":
        last -= 1
    return segments[:last]


class _Pen:
    """Draws the blocks of one ribbon, so many units wide for a second."""

    def __init__(self, scale: float, holds: frozenset[str]) -> None:
        self.scale, self.holds = scale, holds
        self._ends: dict[Number, str] = {}

    def block(self, name: str, segments: Sequence[Segment]) -> Iterator[str]:
        left = float(segments[0].start) * self.scale
        right = float(end(segments)) * self.scale
        yield f'<path class="o" d="M{left:.4g} 0H{right:.4g}V{BAR}H{left:.4g}z"/>'
        work, held = self._bars(segments)
        for kind, bars in (("w", work), ("h", held)):
            if bars:
                yield f'<path class="{kind}" d="{"".join(bars)}"/>'
        yield from _label(name, left, right)

    def _bars(self, segments: Sequence[Segment]) -> tuple[list[str], list[str]]:
        """The bars of work and of holds."""
        work: list[str] = []
        held: list[str] = []
        for start, length, kind, _, station, _, _, _, _ in segments:
            if kind == "work":
                bars = held if station in self.holds else work
                bars.append(f"M{float(start) * self.scale:.4g}{self._ends.get(length) or self._end(length)}")
        return work, held

    def _end(self, length: Number) -> str:
        """A bar from its beginning on: a line as thick as the bar is high, which is the shortest to write.

        Most are of a few lengths, and each of these is written once.
        """
        self._ends[length] = f" {BAR // 2}h{max(float(length) * self.scale, 0.3):.3g}"
        return self._ends[length]


def _label(name: str, left: float, right: float) -> Iterator[str]:
    """The block's name below it; at either end it may reach a little under its neighbour."""
    room = right - left + (_LETTER * 3 if left < 1 or right > WIDTH - 1 else 0)
    if len(name) * _LETTER <= room:
        if left < 1:
            x, anchor = 0.0, ' class="s"'
        elif right > WIDTH - 1:
            x, anchor = float(WIDTH), ' class="e"'
        else:
            x, anchor = (left + right) / 2, ""
        yield f'<text{anchor} x="{x:.4g}" y="{HEIGHT - 4}">{name}</text>'


@lru_cache(maxsize=1024)
def trace(tempo: Tempo, begins: str = "lowering") -> str:
    """One rep as depth over time, to scale, with a tick for every second; decoration beside the words.

    It is drawn in the order in which it is done: one that `begins` with lifting starts at the bottom.
    """
    width = float(tempo.seconds) * SECOND
    top, bottom = 1, 1 + DEPTH
    strokes = [(tempo.lowering, bottom), (tempo.low, bottom), (tempo.lifting, top), (tempo.high, top)]
    if begins == "lifting":
        strokes = strokes[2:] + strokes[:2]
    ends = accumulate(float(seconds) * SECOND for seconds, _ in strokes)
    path = f"M0 {strokes[-1][1]}" + "".join(f"L{x:g} {y}" for x, (_, y) in zip(ends, strokes, strict=True))
    ticks = "".join(f"M{second * SECOND} {DEPTH + 4}v2" for second in _whole(tempo.seconds))
    return (
        f'<svg class="trace" viewBox="-1 0 {width + 2:g} {DEPTH + 7}" width="{width + 2:g}" '
        f'height="{DEPTH + 7}" aria-hidden="true"><path d="{path}"/><path class="t" d="{ticks}"/></svg>'
    )


def _whole(seconds: Number) -> range:
    return range(int(seconds) + 1)
