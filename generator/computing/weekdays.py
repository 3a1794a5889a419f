"""Choices of suggested weekdays: which of them keep sessions apart. Pure.

A week is a circle: Sunday is the neighbour of Monday.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..reading.model import WEEKDAYS

Choices = Sequence[Sequence[str]]
"""For each time that something is trained in a week, the weekdays it may fall on."""


def apart(choices: Choices) -> list[str] | None:
    """The first choice of weekdays of which no two are the same or neighbours, or None."""
    return _apart(choices, [])


def _apart(choices: Choices, taken: list[str]) -> list[str] | None:
    if not choices:
        return taken
    for weekday in choices[0]:
        if all(between(weekday, other) > 1 for other in taken):
            found = _apart(choices[1:], [*taken, weekday])
            if found is not None:
                return found
    return None


def suggested(choices: Choices) -> list[str]:
    """The weekdays that the plan suggests: those that keep apart, or the first named where none do."""
    return apart(choices) or [choice[0] for choice in choices]


def day_before(weekday: str) -> str:
    """The weekday before; Sunday before Monday."""
    return WEEKDAYS[WEEKDAYS.index(weekday) - 1]


def between(one: str, other: str) -> int:
    """Days from one weekday to the other, the shorter way round the week."""
    days = (WEEKDAYS.index(one) - WEEKDAYS.index(other)) % 7
    return min(days, 7 - days)
