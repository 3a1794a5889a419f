"""Figures and their differences as they are shown: `38.3 → 37.9 min (−0.4, −1 %)`."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

from generator.comparison.figures import Difference

HEADINGS = {
    "seconds": "Minutes",
    "sets": "Sets",
    "tension_seconds": "Tension",
    "contacts": "Landings",
    "load_volume_kg": "Load-volume",
}
"""What people call the figures that are compared, in order."""
_UNITS = {
    "seconds": (Fraction(1, 60), " min"),
    "sets": (Fraction(1), ""),
    "tension_seconds": (Fraction(1), " s"),
    "contacts": (Fraction(1), ""),
    "load_volume_kg": (Fraction(1), " kg"),
}


def cell(name: str, difference: Difference) -> str:
    """One figure before and now, with the difference and the percentage of before."""
    factor, unit = _UNITS[name]
    before, now = difference.before, difference.now
    if now is None:
        return "–" if before is None else f"{decimal(before * factor)}{unit} → –"
    if before is None or before == now:
        return f"{decimal(now * factor)}{unit}"
    step = ", ".join(filter(None, (signed(difference.more * factor), percent(difference))))
    return f"{decimal(before * factor)} → {decimal(now * factor)}{unit} ({step})"


def step(name: str, difference: Difference) -> str:
    """Only the difference: `−0.4 min (−1 %)`; nothing where there is none."""
    factor, unit = _UNITS[name]
    if difference.before is None or difference.now is None or not difference.more:
        return ""
    share = percent(difference)
    return f"{signed(difference.more * factor)}{unit}{f' ({share})' if share else ''}"


def percent(difference: Difference) -> str:
    """`+12 %`; nothing where the figure was 0 or nothing before."""
    share = difference.percent
    if share is None:
        return ""
    return f"{signed(share if abs(share) < 1 else Fraction(round(share)))} %"


def signed(value: Fraction) -> str:
    """A number with its sign; a real minus."""
    return f"{'−' if value < 0 else '+'}{decimal(abs(value))}"


def decimal(value: Fraction) -> str:
    """At most one decimal; two where one would show nothing of what is there."""
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    for places in ("0.1", "0.01"):
        shown = exact.quantize(Decimal(places), ROUND_HALF_EVEN)
        if shown or not value:
            break
    return f"{shown.normalize():f}"
