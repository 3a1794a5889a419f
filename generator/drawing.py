"""Pictures drawn to scale from the running order: the session ribbon and the tempo trace, as SVG. Pure.

Colours come from the page (`currentColor`), so both read on light, dark and paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import groupby
from operator import attrgetter

from generator.amounts import Number, Tempo
from generator.running_order import RunningOrder, Segment

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


def ribbon(order: RunningOrder, holds: frozenset[str], label: str) -> str:
    """One bar, each part as long as its seconds: work solid, holds hatched, the rest open.

    `holds` has the labels of the stations that are held; `label` says the same in words.
    """
    if not order.seconds:
        return ""
    scale = WIDTH / float(order.seconds)
    parts = [part for group in _blocks(order) for part in _part(group, scale, holds)]
    return (
        f'<svg class="ribbon" viewBox="-1 -1 {WIDTH + 2} {HEIGHT}" role="img" aria-label="{label}">'
        f"{''.join(parts)}</svg>"
    )


def _blocks(order: RunningOrder) -> Iterator[tuple[str, list[Segment]]]:
    """Block label and its segments, less the rest that follows the block."""
    for name, group in groupby(order.segments, key=attrgetter("block")):
        own = list(group)
        while len(own) > 1 and own[-1].kind == "rest":
            own.pop()
        yield name, own


def _part(group: tuple[str, list[Segment]], scale: float, holds: frozenset[str]) -> Iterator[str]:
    name, segments = group
    left = float(segments[0].start) * scale
    right = float(segments[-1].start + segments[-1].length) * scale
    yield f'<path class="o" d="M{left:.4g} 0H{right:.4g}V{BAR}H{left:.4g}z"/>'
    bars = _bars(segments, scale, holds)
    for kind, hold in (("w", False), ("h", True)):
        if bars[hold]:
            yield f'<path class="{kind}" d="{"".join(bars[hold])}"/>'
    yield from _label(name, left, right)


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


def _bars(segments: Iterable[Segment], scale: float, holds: frozenset[str]) -> tuple[list[str], list[str]]:
    """The bars of work and of holds. Most are of a few lengths, and each length is written once."""
    drawn: dict[Number, str] = {}
    work: list[str] = []
    held: list[str] = []
    for start, length, kind, _, station, _, _, _, _ in segments:
        if kind != "work":
            continue
        if length not in drawn:
            width = f"{max(float(length) * scale, 0.3):.3g}"
            drawn[length] = f" 0h{width}v{BAR}h-{width}z"
        (held if station in holds else work).append(f"M{float(start) * scale:.4g}{drawn[length]}")
    return work, held


@lru_cache(maxsize=1024)
def trace(tempo: Tempo) -> str:
    """One rep as depth over time, to scale, with a tick for every second; decoration beside the words."""
    width = float(tempo.seconds) * SECOND
    path = "M0 1" + "".join(
        f"L{float(x) * SECOND:g} {y}"
        for x, y in (
            (tempo.lowering, 1 + DEPTH),
            (tempo.lowering + tempo.low, 1 + DEPTH),
            (tempo.tension, 1),
            (tempo.seconds, 1),
        )
    )
    ticks = "".join(f"M{second * SECOND} {DEPTH + 4}v2" for second in _whole(tempo.seconds))
    return (
        f'<svg class="trace" viewBox="-1 0 {width + 2:g} {DEPTH + 7}" width="{width + 2:g}" '
        f'height="{DEPTH + 7}" aria-hidden="true"><path d="{path}"/><path class="t" d="{ticks}"/></svg>'
    )


def _whole(seconds: Number) -> range:
    return range(int(seconds) + 1)
