"""Plots of whole weeks: sets by pattern, balance, and the change from week to week."""

from __future__ import annotations

from collections.abc import Iterable

from ...computing.weeks import change, up_by_more
from ...drawing import plots
from ...judging.balance import beyond
from ...judging.limits import BALANCE, BALANCED
from ...judging.steps import COUNTS, Compared, compared, counts
from ...reading.amounts import Number, spoken, written
from .plotted import NO_LIMIT, Cell, NamedRow, OneLevel, Plot, alone, listed_cells

_TENSION = COUNTS.index("time under tension")
_EDGES = {
    "push": "push",
    "pull": "pull",
    "squat and lunge": "knees",
    "hinge": "hips",
}
"""Sides of a balance in a word that has room beside its line."""


def sets(level: OneLevel) -> Plot:
    """Sets of every pattern by week."""
    drawn, rows = [], []
    for pattern in sorted({pattern for totals in level.weeks for pattern in totals.patterns}):
        own = [totals.patterns.get(pattern, 0) for totals in level.weeks]
        drawn.append(plots.Row(pattern, [plots.Column((("f", many),), str(many or "")) for many in own]))
        rows.append((pattern, tuple((str(many), False) for many in own)))
    rows.append(("all", tuple((str(totals.sets), False) for totals in level.weeks)))
    label = "; ".join(f"Sets of {name} by week: {listed_cells(cells)}" for name, cells in rows)
    pictures = (alone(plots.rows(drawn, label)),) if drawn else ()
    says = "Without warm-up and cool-down. A day that is trained twice counts twice."
    return Plot(
        title="Sets in a week, by pattern", says=says, pictures=pictures, table=level.table("pattern", rows)
    )


def balance(level: OneLevel) -> Plot:
    """Sets of a week on two sides, as ratios."""
    drawn, rows = [], []
    for one, these, other, those in BALANCED:
        pairs = [(totals.sets_of(these), totals.sets_of(those)) for totals in level.weeks]
        cells = tuple(map(_balanced, pairs))
        dots = [plots.Dot(_ratio(*pair), *cell) for pair, cell in zip(pairs, cells, strict=True)]
        drawn.append((f"{BALANCE} : 1 {_EDGES[one]}", f"{BALANCE} : 1 {_EDGES[other]}", dots))
        rows.append((f"{one} : {other}", cells))
    label = "; ".join(f"Sets of {name} by week: {listed_cells(cells)}" for name, cells in rows)
    says = (
        f"Above the middle line more of the first, below more of the second. Within {BALANCE} : 1 either way "
        "is common practice, no source."
    )
    title = "Balance: push to pull, knees (squat and lunge) to hips (hinge)"
    return Plot(
        title=title,
        says=says,
        pictures=(alone(plots.ratios(drawn, BALANCE, label)),),
        table=level.table("sets", rows),
    )


def furthest(level: OneLevel, these: Iterable[str], those: Iterable[str]) -> Cell:
    """The week whose two sides are furthest apart."""
    these, those = tuple(these), tuple(those)
    pairs = ((totals.sets_of(these), totals.sets_of(those)) for totals in level.weeks)
    return _balanced(max(pairs, key=_apart))


def _balanced(pair: tuple[int, int]) -> Cell:
    return f"{pair[0]}:{pair[1]}", beyond(*pair)


def _ratio(one: int, other: int) -> float | None:
    if not one and not other:
        return None
    return one / other if other else float("inf")


def _apart(pair: tuple[int, int]) -> tuple[float, int]:
    low, high = sorted(pair)
    return (high / low if low else float("inf") if high else 0, high)


def steps(level: OneLevel) -> Plot:
    """What a week comes to, and its change in per cent on the one before, be it of the phase before."""
    by_week = {each[0]: each for each in compared(level.facts, level.level.id)}
    first = by_week.get(1)
    drawn, rows = [], []
    for index, what in enumerate(COUNTS):
        changes = [_step(level, by_week.get(week), index) for week in level.facts.version.weeks]
        amounts = [counts(totals)[index] for totals in level.weeks]
        columns = [plots.Column((("f", float(amount)),), _count(index, amount)) for amount in amounts]
        name = "tension, min" if index == _TENSION else what
        drawn.append(plots.Row(name, columns, changes, _before(first, index)))
        rows += _rows_of_steps(what, index, amounts, changes)
    label = "; ".join(f"{row.name} by week: {listed_cells(_told(row))}" for row in drawn)
    limit = (
        f"The programme's limit for a step is {written(level.step)} %."
        if level.step is not None
        else NO_LIMIT
    )
    dashed = f" The dashed column is {first[2]}." if first else ""
    says = f"{limit}{dashed} A rule of 10 % had no effect on injuries in a trial (Buist 2008)."
    return Plot(
        title="From week to week",
        says=says,
        pictures=(alone(plots.rows(drawn, label, 30)),),
        table=level.table("week", rows),
    )


def biggest_step(level: OneLevel) -> Cell:
    """The largest rise of any count on the week before."""
    found: list[tuple[float, Cell]] = [(0, ("none", False))]
    for each in compared(level.facts, level.level.id):
        _, now, _, before = each
        for index in range(len(COUNTS)):
            up = change(counts(before)[index], counts(now)[index]) or 0
            found.append((up, (_per_cent(up), _step(level, each, index)[1])))
    return max(found, key=lambda each: each[0])[1]


def _step(level: OneLevel, step: Compared | None, index: int) -> Cell:
    """The change of a week in per cent, and whether it is over the programme's limit."""
    if step is None:
        return "", False
    _, now, _, before = step
    then, amount = counts(before)[index], counts(now)[index]
    over = level.step is not None and up_by_more(then, amount, level.step)
    return _per_cent(change(then, amount)), over


def _before(first: Compared | None, index: int) -> plots.Column | None:
    if first is None:
        return None
    amount = counts(first[3])[index]
    return plots.Column((("d", float(amount)),), _count(index, amount))


def _rows_of_steps(what: str, index: int, amounts: list[Number], changes: list[Cell]) -> list[NamedRow]:
    since = [_per_cent(change(amounts[0], amount)) for amount in amounts[1:]]
    return [
        (what, tuple((_count(index, amount, long=True), False) for amount in amounts)),
        (f"{what}, on the week before", tuple(changes)),
        (f"{what}, on week 1", tuple((words, False) for words in ("", *since))),
    ]


def _told(row: plots.Row) -> list[Cell]:
    pairs = zip(row.columns, row.below, strict=True)
    return [(f"{column.words} {words}".strip(), outside) for column, (words, outside) in pairs]


def _count(index: int, amount: Number, *, long: bool = False) -> str:
    if index != _TENSION:
        return written(amount)
    return spoken(amount) if long else f"{float(amount) / 60:.1f}"


def _per_cent(up: float | None) -> str:
    """`+12%`, `−8%`, `±0`; nothing where there was none before."""
    if up is None:
        return ""
    return f"{up:+.0f}%".replace("-", "−") if round(up) else "±0"
