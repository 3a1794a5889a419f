"""What a new phase trains that the one before did not, and how its doses lie to those of before.

Weeks of two phases do not correspond, so the ranges over all weeks are compared, level by level.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from typing import NamedTuple

from ..computing.facts import ComputedSession
from ..computing.resolve import PlannedStation
from ..reading.amounts import Number, spoken, written
from ..reading.findings import listed
from .changes import unit_of, with_unit
from .sentences import Words

Ranges = dict[str, tuple[Number, Number]]
"""What is counted, from the least to the most over all weeks."""


class Steps(NamedTuple):
    """Exercises by name that are new and that are gone, and a line for each other one whose dose changed."""

    new: tuple[str, ...]
    gone: tuple[str, ...]
    lines: tuple[str, ...]


def steps(old: Sequence[ComputedSession], new: Sequence[ComputedSession], words: Words) -> Steps:
    """From the sessions of one phase to those of the next; warm-ups and cool-downs are left aside."""
    before, now = _by_exercise(old), _by_exercise(new)
    return Steps(
        tuple(words.exercise(name) for name in now if name not in before),
        tuple(words.exercise(name) for name in before if name not in now),
        tuple(_lines(before, now, words)),
    )


Doses = dict[str, dict[str, Ranges]]
"""Exercise → level → ranges."""


def _by_exercise(facts: Iterable[ComputedSession]) -> Doses:
    found: dict[str, dict[str, list[tuple[PlannedStation, int]]]] = {}
    for one in facts:
        for station, bouts in one.order.bouts:
            if station.section == "day":
                levels = found.setdefault(station.exercise, {})
                levels.setdefault(one.plan.level, []).append((station, bouts))
    return {name: {level: _ranges(own) for level, own in levels.items()} for name, levels in found.items()}


def _ranges(own: Sequence[tuple[PlannedStation, int]]) -> Ranges:
    ranges: Ranges = {}
    for station, bouts in own:
        amount = station.metres if station.measure == "distance" else station.amount
        for what, value in ((unit_of(station), amount), ("load", station.load), ("sets", bouts)):
            least, most = ranges.get(what, (value, value))
            ranges[what] = min(least, value), max(most, value)
    return ranges


def _lines(before: Doses, now: Doses, words: Words) -> Iterator[str]:
    for name, levels in now.items():
        kinds: dict[str, dict[str, list[str]]] = {}
        for level, ranges in levels.items():
            for what, told in _changed(before.get(name, {}).get(level, {}), ranges):
                kinds.setdefault(what, {}).setdefault(told, []).append(level)
        parts = []
        for alike in kinds.values():
            own = (f"{told}{_who(some, levels, words)}" for told, some in alike.items())
            parts.append(", ".join(own))
        if parts:
            yield f"{words.exercise(name)}: {'; '.join(parts)}"


def _who(some: Sequence[str], every: Collection[str], words: Words) -> str:
    """Names of the levels; nothing where they are all that train the exercise."""
    if len(some) == len(every):
        return ""
    return f" ({listed([words.levels.get(level, level) for level in some], 'and')})"


def _changed(before: Ranges, now: Ranges) -> Iterator[tuple[str, str]]:
    for what, (least, most) in now.items():
        was = before.get(what)
        if was is not None and was != (least, most):
            yield what, with_unit(f"{_range(*was, what)} → {_range(least, most, what)}", what)


def _range(least: Number, most: Number, what: str) -> str:
    say = _SAY.get(what.split()[0], written)
    return say(least) if least == most else f"{say(least)} to {say(most)}"


def _kg(value: Number) -> str:
    return f"{written(value)} kg"


def _metres(value: Number) -> str:
    return f"{written(value)} m"


_SAY: dict[str, Callable[[Number], str]] = {
    "hold": spoken,
    "work": spoken,
    "load": _kg,
    "distance": _metres,
}
