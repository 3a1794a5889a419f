"""Differences in sentences that a parent understands: `Split squat: 3 → 4 rounds from week 3`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from ..reading.findings import listed
from ..reading.model import WEEKDAY_NAMES
from .changes import BLOCK, COME, GONE, NOTHING, STATION, Change, with_unit

_MOST_APART = 2
"""Kinds of change over the weeks that are told one by one; more are told as two rows of numbers."""


class DayChanges(NamedTuple):
    """What changed in one day, in sentences; `day` is its id, or nothing for the whole version."""

    day: str
    lines: tuple[str, ...]


class Words(NamedTuple):
    """Names of exercises and levels by their ids, and the number of weeks that the version has now."""

    exercises: Mapping[str, str]
    levels: Mapping[str, str]
    weeks: int

    def exercise(self, name: str) -> str:
        """The name of an exercise; its id where it has none any more."""
        return self.exercises.get(name, name)


Row = tuple[tuple[int, str, str], ...]
"""Weeks with what was and what is, of one level."""


def sentences(changes: Sequence[Change], words: Words) -> list[DayChanges]:
    """Changes by day, those of the whole version first, each station or block in one line."""
    days = dict.fromkeys(change.day for change in changes)
    told = []
    for day in sorted(days, key=lambda day: day != ""):
        own = [change for change in changes if change.day == day]
        lines = [*_of_plan(own, words), *_of_sessions([c for c in own if c.week], words)]
        told.append(DayChanges(day, tuple(lines)))
    return told


def _of_plan(changes: Iterable[Change], words: Words) -> Iterator[str]:
    for change in changes:
        if change.week:
            continue
        if change.what == "level":
            name = words.levels.get(change.level, change.level)
            yield f"Level {name} is {'new' if change.before == NOTHING else 'gone'}"
        elif change.what == "day" and NOTHING in (change.before, change.after):
            yield "This day is new" if change.before == NOTHING else "This day is gone"
        elif change.what == "day":
            yield f"This day was called {change.before}"
        else:
            names = {"on": "Weekdays", "starts": "First day", "weeks": "Weeks"}
            yield f"{names[change.what]}: {_dated(change.before)} → {_dated(change.after)}"


def _dated(text: str) -> str:
    """Weekdays written out; other text as it is."""
    return re.sub("[a-z]{3}", lambda word: WEEKDAY_NAMES.get(word[0], word[0]), text)


def _of_sessions(changes: Sequence[Change], words: Words) -> Iterator[str]:
    """One line for each station or block, with all that changed there."""
    rows: dict[tuple[str, str], dict[str, list[Change]]] = {}
    for change in changes:
        subject = _subject(change, words)
        rows.setdefault((change.place, subject), {}).setdefault(change.what, []).append(change)
    for (_, subject), kinds in rows.items():
        parts = (part for what, own in kinds.items() for part in _parts(what, own, words))
        yield f"{subject}: {'; '.join(parts)}"


def _subject(change: Change, words: Words) -> str:
    if change.exercise and change.what != STATION:
        return words.exercise(change.exercise)
    # Only labels of the day itself have a capital; those of its routines are words.
    kind = "Station" if change.what == STATION else "Block"
    return change.place.capitalize() if change.place.islower() else f"{kind} {change.place}"


def _parts(what: str, changes: Sequence[Change], words: Words) -> Iterator[str]:
    """One kind of change: once for all levels that have it alike."""
    levels: dict[str, list[tuple[int, str, str]]] = {}
    for change in changes:
        levels.setdefault(change.level, []).append((change.week, change.before, change.after))
    alike: dict[Row, list[str]] = {}
    for level, weeks in levels.items():
        alike.setdefault(tuple(weeks), []).append(level)
    for row, own in alike.items():
        everybody = len(own) == len(words.levels)
        who = "" if everybody else f" ({listed([words.levels.get(level, level) for level in own], 'and')})"
        yield f"{_row(what, row, words)}{who}"


def _row(what: str, row: Row, words: Words) -> str:
    by_kind: dict[tuple[str, str], list[int]] = {}
    for week, was, is_ in row:
        by_kind.setdefault((was, is_), []).append(week)
    if what in (COME, GONE):
        doses = [is_ if what == COME else was for _, was, is_ in row]
        when = _when([week for week, *_ in row], words)
        return f"{'new' if what == COME else 'left out'}, {_range(doses)}{when}"
    if len(by_kind) <= _MOST_APART or what in (STATION, BLOCK):
        parts = (_from_to(what, *kind, words) + _when(weeks, words) for kind, weeks in by_kind.items())
        return ", ".join(parts)
    before, after = (", ".join(str(entry[side]) for entry in row) for side in (1, 2))
    return _from_to(what, before, after, words) + _when([week for week, *_ in row], words)


def _range(doses: Sequence[str]) -> str:
    """`8 to 10 reps`, from doses as `in_full` says them; the first where they differ in more than that."""
    parted = [dose.split(", ", 1)[1].split() for dose in doses]
    first = parted[0]
    numbers = [int(parts[0]) for parts in parted if parts[0].isdecimal() and parts[1:] == first[1:]]
    if len(numbers) < len(parted) or min(numbers) == max(numbers):
        return " ".join(first)
    return " ".join([f"{min(numbers)} to {max(numbers)}", *first[1:]])


def _from_to(what: str, before: str, after: str, words: Words) -> str:
    if what == STATION:
        return f"{_named(before, words)} → {_named(after, words)}"
    return f"{before} → {after}" if what == "dose" else with_unit(f"{before} → {after}", what)


def _named(dose: str, words: Words) -> str:
    """A dose as `in_full` says it, with the exercise's name."""
    name, rest = dose.split(", ", 1)
    return f"{words.exercise(name)}, {rest}"


def _when(weeks: Sequence[int], words: Words) -> str:
    """Nothing for all weeks, `from week 3` to the last one, else the weeks by number."""
    first, last = weeks[0], words.weeks
    if list(weeks) == list(range(1, last + 1)):
        return ""
    if list(weeks) == list(range(first, last + 1)) and first < last:
        return f" from week {first}"
    return f" in {'week' if len(weeks) == 1 else 'weeks'} {listed(map(str, weeks), 'and')}"
