"""Which of a choice of weekdays to take: `[tue or wed]` after a Monday with jumps.

After medium or high landings a day stays free, as `jump-days-apart` and `days-apart` have it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from ..computing.resolve import PlannedSession
from ..computing.weekdays import between, suggested
from ..reading.model import Day
from .landings import lands_hard


class Advice(NamedTuple):
    """The weekday to take, since the other one lies beside a weekday with jumps, or is that day."""

    take: str
    jumps: str


ByDay = dict[str, tuple[Advice | None, ...]]
"""By the id of a day, one for each entry of its `on`; None where not one weekday alone is left to take."""


def which_weekday(days: Sequence[Day], plans: Iterable[PlannedSession]) -> ByDay:
    """What to take of every choice.

    `plans` are the sessions of the version. Only what stands on one weekday alone is counted as a day with
    jumps, and nothing is advised that is not what the calendar suggests.
    """
    jumped = {plan.day for plan in plans if any(map(lands_hard, plan.stations))}
    entries = [(day.id, choice) for day in days for choice in day.on]
    fixed = [choice[0] for day, choice in entries if len(choice) == 1 and day in jumped]
    taken = suggested([choice for _, choice in entries])
    found: ByDay = {day.id: () for day in days}
    for (day, choice), weekday in zip(entries, taken, strict=True):
        found[day] = (*found[day], _advice(choice, weekday, fixed))
    return found


def _advice(choice: Sequence[str], suggestion: str, fixed: Sequence[str]) -> Advice | None:
    beside = {one: [jumps for jumps in fixed if between(one, jumps) <= 1] for one in choice}
    free = [one for one, jumps in beside.items() if not jumps]
    if free != [suggestion] or len(choice) == 1:
        return None
    return Advice(suggestion, next(jumps[0] for jumps in beside.values() if jumps))
