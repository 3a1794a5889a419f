"""Plots of the coach's numbers as SVG, drawn at build: ink on paper, one column a week. Pure.

Weeks stand at the same place in every plot, so that one can be read below the other. What is outside its
line has its number in a solid box; nothing is told by colour. Colours come from the page (`currentColor`).
Words in a plot are ours: no author's text is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import log2
from typing import NamedTuple

WIDTH, GUTTER = 360, 84
"""In the plot's own units; row names and names of lines stand in the gutter."""
LETTER, BOLD, LINE = 6.3, 1.25, 13
"""About the width of a letter, how much wider a bold one is, and the height of a line of text."""
WIDEST_BAR = 30
_LAST = GUTTER - 17.0
"""Where the last week of the phase before stands."""


class Column(NamedTuple):
    """One week: parts from the bottom up as (fill, amount), the number above, and whether it is outside.

    Fills: `f` tinted, `o` open, `h` hatched, `s` solid, `d` with a dashed outline.
    """

    parts: tuple[tuple[str, float], ...]
    words: str
    outside: bool = False

    @property
    def amount(self) -> float:
        """All parts together."""
        return sum(amount for _, amount in self.parts)


class Limit(NamedTuple):
    """A line across all weeks and its name in the gutter."""

    amount: float
    words: str


class Row(NamedTuple):
    """A row of a plot of many rows; `before` is the column of the last week of the phase before."""

    name: str
    columns: Sequence[Column]
    below: Sequence[tuple[str, bool]] = ()
    before: Column | None = None


class Dot(NamedTuple):
    """A ratio of one week, or None where there is nothing to compare; infinite or 0 stands at the edge."""

    ratio: float | None
    words: str
    outside: bool


class _Weeks:
    """Where the weeks stand across."""

    def __init__(self, many: int) -> None:
        self.many = many
        self.step = (WIDTH - GUTTER) / many
        self.bar = min(self.step * 0.66, WIDEST_BAR)

    def middle(self, index: int) -> float:
        return GUTTER + self.step * (index + 0.5)

    def axis(self, y: float) -> str:
        """The numbers of the weeks, every one or as many as have room."""
        every = next(each for each in (1, 2, 4, 8, 13, 26) if self.step * each >= 2.6 * LETTER)
        numbers = "".join(
            f'<text x="{self.middle(index):.4g}" y="{y:.4g}">{index + 1}</text>'
            for index in range(self.many)
            if index % every == 0
        )
        return f'<text class="g" x="{GUTTER - 8}" y="{y:.4g}">week</text>{numbers}'

    def number(self, x: float, y: float, words: str, outside: bool) -> str:
        """Words centred above a place; in a solid box if outside. Without room a box alone says so."""
        wide = len(words) * LETTER
        if wide > self.step + 1:
            return f'<path class="s" d="M{x - 2:.4g} {y - 8:.4g}h4v4h-4z"/>' if outside else ""
        mark = ' class="i"' if outside else ""
        text = f'<text{mark} x="{x:.4g}" y="{y:.4g}">{words}</text>'
        if not outside:
            return text
        half = wide * BOLD / 2 + 2
        return (
            f'<path class="s" d="M{x - half:.4g} {y - 10.5:.4g}h{2 * half:.4g}v13h-{2 * half:.4g}z"/>{text}'
        )


def _bar(x: float, foot: float, width: float, unit: float, column: Column) -> Iterator[str]:
    """The parts of one column on its foot, so many units high for 1."""
    y = foot
    for fill, amount in column.parts:
        if amount:
            high = amount * unit
            y -= high
            path = f"M{x - width / 2:.4g} {y:.4g}h{width:.4g}v{high:.4g}h-{width:.4g}z"
            yield f'<path class="{fill}" d="{path}"/>'


def _picture(height: float, label: str, parts: Iterator[str]) -> str:
    return (
        f'<svg class="plot" viewBox="0 0 {WIDTH} {height:.4g}" role="img" aria-label="{label}">'
        f"{''.join(parts)}</svg>"
    )


def columns(weeks: Sequence[Column], limits: Sequence[Limit], top: float, label: str, high: int = 72) -> str:
    """One column a week on a common foot, with lines across; `top` is the amount at full height.

    `label` says the same in words.
    """
    return _picture(high + LINE * 2 + 4, label, _columns(weeks, limits, top, high))


def _columns(weeks: Sequence[Column], limits: Sequence[Limit], top: float, high: int) -> Iterator[str]:
    across = _Weeks(len(weeks))
    foot, unit = LINE + high, high / top if top else 0
    for index, column in enumerate(weeks):
        yield from _bar(across.middle(index), foot, across.bar, unit, column)
    for y, limit in _parted(limits, foot, unit):
        at = foot - limit.amount * unit
        yield f'<path class="l" d="M{GUTTER - 4} {at:.4g}H{WIDTH}"/>'
        yield f'<text class="g" x="{GUTTER - 8}" y="{y + 4:.4g}">{limit.words}</text>'
    for index, column in enumerate(weeks):
        y = foot - column.amount * unit - 3
        yield across.number(across.middle(index), y, column.words, column.outside)
    yield f'<path class="b" d="M{GUTTER - 4} {foot}H{WIDTH}"/>{across.axis(foot + LINE)}'


def _parted(limits: Sequence[Limit], foot: float, unit: float) -> Iterator[tuple[float, Limit]]:
    """The heights at which the lines' names stand, each below the one above it."""
    last = -float(LINE)
    for limit in sorted(limits, key=lambda limit: -limit.amount):
        last = max(foot - limit.amount * unit, last + LINE)
        yield last, limit


def rows(of: Sequence[Row], label: str, high: int = 20) -> str:
    """Rows of columns under each other, one name each. Each row has its own scale if it has words below."""
    below = LINE + 3 if any(row.below for row in of) else 0
    each = LINE + high + below + 5
    return _picture(each * len(of) + LINE + 3, label, _rows(of, each, high))


def _rows(of: Sequence[Row], each: float, high: int) -> Iterator[str]:
    across = _Weeks(len(of[0].columns))
    common = max((column.amount for row in of for column in row.columns), default=0.0)
    for number, row in enumerate(of):
        foot = each * number + LINE + high
        everything = [*row.columns, *([row.before] if row.before else [])]
        top = max(column.amount for column in everything) if row.below else common
        unit = high / top if top else 0
        if row.before:
            yield from _bar(_LAST, foot, 18, unit, row.before)
            yield f'<text x="{_LAST}" y="{foot + LINE:.4g}">{row.before.words}</text>'
            yield f'<text class="n" x="0" y="{foot - high - 3:.4g}">{row.name}</text>'
        else:
            yield f'<text class="n" x="0" y="{foot - 2:.4g}">{row.name}</text>'
        for index, column in enumerate(row.columns):
            x = across.middle(index)
            yield from _bar(x, foot, across.bar, unit, column)
            yield across.number(x, foot - column.amount * unit - 3, column.words, column.outside)
        for index, (words, outside) in enumerate(row.below):
            if words:
                yield across.number(across.middle(index), foot + LINE, words, outside)
        yield f'<path class="b" d="M{GUTTER - 4} {foot:.4g}H{WIDTH}"/>'
    yield across.axis(each * len(of) + LINE - 1)


def ratios(of: Sequence[tuple[str, str, Sequence[Dot]]], most: float, label: str, high: int = 64) -> str:
    """Rows of dots about an even line: up is more of the first, down more of the second.

    `of` has the two names and the weeks' dots; lines at `most` : 1 either way. A step up doubles the ratio.
    """
    each = high + LINE * 2
    return _picture(each * len(of) + LINE, label, _ratios(of, most, each, high))


def _ratios(
    of: Sequence[tuple[str, str, Sequence[Dot]]], most: float, each: float, high: int
) -> Iterator[str]:
    across = _Weeks(len(of[0][2]))
    edge, unit = 1.7 * log2(most), high / 2 / (1.7 * log2(most))
    for number, (one, other, dots) in enumerate(of):
        even = each * number + LINE + high / 2
        yield f'<path class="b" d="M{GUTTER - 4} {even:.4g}H{WIDTH}"/>'
        for side, name in ((-1, one), (1, other)):
            at = even + side * log2(most) * unit
            yield f'<path class="l" d="M{GUTTER - 4} {at:.4g}H{WIDTH}"/>'
            yield f'<text class="n" x="0" y="{at + 4:.4g}">{name}</text>'
        yield f'<text class="g" x="{GUTTER - 8}" y="{even + 4:.4g}">even</text>'
        for index, dot in enumerate(dots):
            if dot.ratio is None:
                continue
            away = -edge if dot.ratio == 0 else min(max(log2(dot.ratio), -edge), edge)
            x, y = across.middle(index), even - away * unit
            yield f'<circle class="{"s" if dot.outside else "o"}" cx="{x:.4g}" cy="{y:.4g}" r="4.5"/>'
            yield across.number(x, y - 8 if away >= 0 else y + 17, dot.words, dot.outside)
    yield across.axis(each * len(of) + LINE - 4)
