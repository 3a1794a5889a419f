"""How much of the body's weight an exercise puts on the hands, as a property of the movement."""

from __future__ import annotations

from ...reading.model import Exercise
from .mechanics import hands_range
from .motion import movement

PATTERNS = ("push", "pull", "brace", "rotate")
"""Exercises whose point is to carry oneself on the arms; a stretch that leans on a wall is none."""


def shares(exercise: Exercise) -> list[tuple[float, float]]:
    """The range at each key position that has one; none with a load in the hands, or for another pattern."""
    if exercise.figure is None or exercise.pattern not in PATTERNS or "bag" in exercise.figure.holds:
        return []
    found = (hands_range(key) for key in movement(exercise.figure).keys)
    return [one for one in found if one is not None]


def kneels(exercise: Exercise) -> bool:
    """Whether the hands share the weight with the knees, for which the estimate is coarser."""
    keys = movement(exercise.figure).keys if exercise.figure else ()
    return any(part.endswith("knee") for key in keys for part in key.planted)


def share(exercise: Exercise) -> float | None:
    """The largest middle of a range, by which easier and harder are told apart; None without one."""
    return max((sum(ends) / 2 for ends in shares(exercise)), default=None)
