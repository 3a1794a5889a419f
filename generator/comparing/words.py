"""A comparison as it is shown: its doses by day, and totals such as `38.3 → 37.9 min (−0.4, −1 %)`."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from .totals import Difference
from .versions import Comparison

HEADINGS = {
    "seconds": "Minutes",
    "sets": "Sets",
    "tension_seconds": "Tension",
    "contacts": "Landings",
    "load_volume_kg": "Load-volume",
}
"""What people call the totals that are compared, in order."""
MEANS = "means of a session, and of a week, over the weeks that are trained; all times are estimates"
"""What the totals are; said wherever they are shown."""
_UNITS = {
    "seconds": (Fraction(1, 60), " min", "0.1"),
    "sets": (Fraction(1), "", "0.1"),
    "tension_seconds": (Fraction(1), " s", "1"),
    "contacts": (Fraction(1), "", "0.1"),
    "load_volume_kg": (Fraction(1), " kg", "0.1"),
}
"""Factor, unit and the decimal place that is shown."""


def by_day(compared: Comparison) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Titles of days with what changed in them; from phase to phase, what is new, gone and changed."""
    titles = {day.id: day.title for one in (compared.before, compared.now) for day in one.model.days}
    for told in compared.told:
        yield titles.get(told.day, told.day), told.lines
    if compared.steps:
        new, gone, lines = compared.steps
        for title, names in (("New", new), ("No longer", gone)):
            if names:
                yield title, (", ".join(names),)
        if lines:
            yield "Over all weeks", lines


def level_names(compared: Comparison) -> dict[str, str]:
    """Names of levels by id."""
    return {level.id: level.name for one in (compared.before, compared.now) for level in one.levels}


def row_names(compared: Comparison) -> dict[str, str]:
    """Titles of days by id, and what a row without a day is."""
    return {
        "": "A week",
        **{day.id: day.title for day in (*compared.before.model.days, *compared.now.model.days)},
    }


def cell(name: str, difference: Difference) -> str:
    """One figure before and now, with the difference and the percentage of before."""
    value, change = parts(name, difference)
    return f"{value} ({change})" if change else value


def parts(name: str, difference: Difference) -> tuple[str, str]:
    """One figure before and now; the difference and the percentage of before, or nothing."""
    factor, unit, places = _UNITS[name]
    before, now = difference.before, difference.now
    if now is None:
        return ("–" if before is None else f"{decimal(before * factor, places)}{unit} → –"), ""
    if before is None or before == now:
        return f"{decimal(now * factor, places)}{unit}", ""
    change = ", ".join(filter(None, (signed(difference.more * factor, places), percent(difference))))
    return f"{decimal(before * factor, places)} → {decimal(now * factor, places)}{unit}", change


def step(name: str, difference: Difference) -> str:
    """Only the difference: `−0.4 min (−1 %)`; nothing where there is none."""
    factor, unit, places = _UNITS[name]
    if difference.before is None or difference.now is None or not difference.more:
        return ""
    share = percent(difference)
    return f"{signed(difference.more * factor, places)}{unit}{f' ({share})' if share else ''}"


def percent(difference: Difference) -> str:
    """`+12 %`; nothing where the figure was 0 or nothing before."""
    share = difference.percent
    if share is None:
        return ""
    whole = abs(share) >= 1
    return f"{signed(share, '1' if whole else '0.1')} %"


def signed(value: Fraction, places: str = "0.1") -> str:
    """A number with its sign; a real minus."""
    return f"{'−' if value < 0 else '+'}{decimal(abs(value), places)}"


def decimal(value: Fraction, places: str = "0.1") -> str:
    """Rounded to `places`; two decimals where that would show nothing of what is there."""
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    shown = exact.quantize(Decimal(places), ROUND_HALF_UP)
    if value and not shown:
        shown = exact.quantize(Decimal("0.01"), ROUND_HALF_UP)
    return f"{shown.normalize():f}"
