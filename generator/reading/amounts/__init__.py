"""Amounts as coaches write them: durations, masses, tempos, counts; for all, or by week and level."""

from .by_week import OTHER, Varying, WrongPart, varying
from .measures import (
    MOST_REPS,
    AmountError,
    RepRange,
    count,
    distance,
    duration,
    mass,
    percent,
    reps,
    volume,
)
from .numbers import Number, clock, number, spoken, written
from .tempos import X_SECONDS, Tempo, tempo

__all__ = [
    "MOST_REPS",
    "OTHER",
    "X_SECONDS",
    "AmountError",
    "Number",
    "RepRange",
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
    "reps",
    "spoken",
    "tempo",
    "varying",
    "volume",
    "written",
]
