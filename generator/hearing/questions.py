"""Questions for the next edition: stations that many changed, and days that felt far easier than they were meant to.

Questions, never changes: whether a dose is right for these juniors is for the coach to say.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from ..reading.catalogue import Catalogue
from ..reading.model import MEASURES
from .held import HeldSession, mean
from .squad import StopOf
from .stations import DayKey, StationSum

Why = Literal["stopped", "easier", "skipped", "too easy"]
LEAST_SHARE, LEAST = 3, 3
"""At least a third, and at least three, of those who met a station."""
FAR_BELOW = -2
"""So much below what was meant a day is felt to be too easy. Both: assumptions, no source."""


@dataclass(frozen=True, slots=True)
class Question:
    """One station to think about: how many athletes met and changed it, where its dose stands, a step of its ladder.

    `step` is an exercise's id, or words where the way has no exercise of its own; None where the ladder has none.
    """

    of: StationSum
    met: int
    changed: int
    why: Why
    file: str
    line: int
    step: str | None


def questions(
    sums: Iterable[StationSum], sessions: Iterable[HeldSession], stops: Iterable[StopOf], catalogue: Catalogue
) -> list[Question]:
    """A question for each station that gives one, in the order of the plan."""
    stopped: dict[tuple[str, str, str, str], set[str]] = defaultdict(set)
    for stop in stops:
        stopped[stop.programme, stop.version, stop.day, stop.station].add(stop.athlete)
    far_below = _felt_too_easy(sessions)
    found = []
    for one in sums:
        stopped_by = stopped.get((*one.key[:3], one.label), set()) & one.met_by
        why, changed = _asked(one, stopped_by, one.key in far_below)
        if why:
            file, line = place_of(one)
            found.append(Question(one, len(one.met_by), changed, why, file, line, _step(one, why, catalogue)))
    return found


def _asked(one: StationSum, stopped_by: set[str], far_below: bool) -> tuple[Why | None, int]:
    """Why a station gives a question, if it does: what most of them did, the gravest where as many did another."""
    counts: list[tuple[Why, int]] = [
        ("stopped", len(stopped_by)),
        ("easier", len(one.eased_by)),
        ("skipped", len(one.skipped_by)),
    ]
    changed = len(stopped_by | one.eased_by | one.skipped_by)
    if changed >= LEAST and changed * LEAST_SHARE >= len(one.met_by):
        return max(counts, key=lambda count: count[1])[0], changed
    return ("too easy" if far_below and not changed else None), changed


def _felt_too_easy(sessions: Iterable[HeldSession]) -> set[DayKey]:
    """The days and levels whose sessions felt so much easier than meant, on the whole."""
    by_day: dict[DayKey, list[float | None]] = defaultdict(list)
    for one in sessions:
        by_day[one.plan.key].append(one.above_meant)
    means = {key: mean(values) for key, values in by_day.items()}
    return {key for key, value in means.items() if value is not None and value <= FAR_BELOW}


def place_of(one: StationSum) -> tuple[str, int]:
    """File and line, from 1, of a station's dose."""
    version = one.plan.version
    days = [day.id for day in version.model.days]
    block, station = ord(one.label[0]) - ord("A"), int(one.label[1:]) - 1
    path = ("days", days.index(one.plan.day.id), "blocks", block, "stations", station)
    measure, _ = one.plan.day.blocks[block].stations[station].dose
    key = next(key for key, of in MEASURES.items() if of == measure)
    return version.document.name, version.document.place((*path, key), at_key=True)[0]


def _step(one: StationSum, why: Why, catalogue: Catalogue) -> str | None:
    exercise = catalogue.exercise(one.exercise)
    ways = exercise.harder if why == "too easy" else exercise.easier
    return (ways[0].exercise or ways[0].how) if ways else None
