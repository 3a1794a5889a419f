"""Amounts as coaches write them: durations, masses, tempos, counts; for all, or by week and level."""

from .by_week import OTHER, Varying, WrongPart, varying
from .measures import AmountError, count, distance, duration, mass, percent, volume
from .numbers import Number, clock, number, spoken, written
from .tempos import X_SECONDS, Tempo, tempo

__all__ = [
    "OTHER",
    "X_SECONDS",
    "AmountError",
    "Number",
    "Tempo",
    "Varying",
    "WrongPart",
    "clock",
    "count",
    "distance",
    "duration",
    "mass",
    "number",
    "percent",
    "spoken",
    "tempo",
    "varying",
    "volume",
    "written",
]
