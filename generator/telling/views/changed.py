"""A version against the one before it, in words."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter

from ...comparing import Comparison
from ...comparing.totals import Row
from ...comparing.words import HEADINGS, by_day, level_names, parts, row_names, step
from .base import Link, version_address

Cells = tuple[tuple[str, str], ...]
"""Totals of one level before and now, each with its difference and percentage, or nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """A version against the one before it.

    `days` are titles with sentences, `more` is a long list of them; `table` has days with their levels and
    the differences in the order of `headings`; `weeks` is a line a level.
    """

    before: Link
    days: tuple[tuple[str, tuple[str, ...]], ...]
    more: tuple[str, ...]
    headings: tuple[str, ...]
    table: tuple[tuple[str, tuple[tuple[str, Cells], ...]], ...]
    weeks: tuple[tuple[str, str], ...]


def change_view(compared: Comparison) -> ChangeView:
    """The finished words of a comparison."""
    days, levels = row_names(compared), level_names(compared)
    told = list(by_day(compared))
    more = told.pop()[1] if compared.steps and compared.steps.lines else ()
    rows = [row for row in compared.rows if row.totals]
    return ChangeView(
        before=Link(f"version {compared.before.name}", version_address(compared.before)),
        days=tuple((title, lines) for title, lines in told),
        more=more,
        headings=tuple(HEADINGS.values()),
        table=tuple(
            (days[day], tuple((levels[row.level], _cells(row)) for row in own))
            for day, own in groupby(rows, attrgetter("day"))
        ),
        weeks=tuple((levels[row.level], _week(row)) for row in rows if not row.day),
    )


def _cells(row: Row) -> Cells:
    return tuple(parts(name, row.totals[name]) for name in HEADINGS)


_CALLED = {"seconds": "time"}


def _week(row: Row) -> str:
    """How a mean week of a level differs, in one line."""
    totals = row.totals
    if any(difference.before is None or difference.now is None for difference in totals.values()):
        return "not trained before" if totals["seconds"].before is None else "not trained any more"
    told = ((_CALLED.get(name, HEADINGS[name].lower()), step(name, totals[name])) for name in HEADINGS)
    return ", ".join(f"{name} {words}" for name, words in told if words) or "as much as before"
