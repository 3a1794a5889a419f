"""Exact numbers and how they are said: whole ones stay `int`, others are `Decimal`; sums never drift."""

from __future__ import annotations

from decimal import Decimal

Number = int | Decimal


def number(value: int | float | str | Decimal) -> Number:
    """An exact number: `int` where it is whole."""
    exact = Decimal(str(value))
    return int(exact) if exact == exact.to_integral_value() else exact


def written(value: Number) -> str:
    """A number for people: no trailing zeros."""
    return str(value) if isinstance(value, int) else f"{value.normalize():f}"


def clock(seconds: Number) -> str:
    """`m:ss` from the start of a session; half seconds are cut."""
    whole = int(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def spoken(seconds: Number) -> str:
    """A length for people: `45 s`, `2 min`, `1 min 30 s`."""
    minutes, rest = divmod(seconds, 60)
    parts = [f"{int(minutes)} min"] if minutes else []
    if rest or not parts:
        parts.append(f"{written(rest)} s")
    return " ".join(parts)
