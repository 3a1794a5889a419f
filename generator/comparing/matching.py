"""Which day and which station of one version are which of another: by what is trained, not by the label.

A station that is put in moves every label after it, and a day may get another id; neither makes everything
different.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import SequenceMatcher
from typing import NamedTuple

from ..computing.resolve import PlannedSession, Section

_ALIKE = 0.5
"""Share of exercises in common from which two days with different ids are taken for the same one."""
_SECTIONS: dict[Section, int] = {"warm-up": 0, "day": 1, "cool-down": 2}


class Slot(NamedTuple):
    """One station of a day, over all its levels and weeks."""

    section: Section
    label: str
    exercises: frozenset[str]


Pair = tuple[str | None, str | None]
"""An id or a label before and now; None where there is none."""


def by_day(sessions: Iterable[PlannedSession]) -> dict[str, list[PlannedSession]]:
    """Sessions by the id of their day, in their order."""
    found: dict[str, list[PlannedSession]] = {}
    for session in sessions:
        found.setdefault(session.day, []).append(session)
    return found


def days(before: Sequence[PlannedSession], now: Sequence[PlannedSession]) -> list[Pair]:
    """Every day of now with the one it was, then those that are gone."""
    old, new = by_day(before), by_day(now)
    free = [day for day in old if day not in new]
    pairs: list[Pair] = []
    for day, sessions in new.items():
        was = day if day in old else _most_alike(sessions, {name: old[name] for name in free})
        if was in free:
            free.remove(was)
        pairs.append((was, day))
    return [*pairs, *((day, None) for day in free)]


def _most_alike(sessions: list[PlannedSession], among: dict[str, list[PlannedSession]]) -> str | None:
    own = _exercises(sessions)
    # A day without exercises is like no other.
    shares = {day: _in_common(own, _exercises(other)) for day, other in among.items() if own}
    best = max(shares, key=lambda day: shares[day], default=None)
    return best if best is not None and shares[best] >= _ALIKE else None


def _exercises(sessions: list[PlannedSession]) -> set[str]:
    return {station.exercise for session in sessions for station in session.day_stations}


def _in_common(one: set[str], other: set[str]) -> float:
    return 2 * len(one & other) / (len(one) + len(other))


def stations(before: Sequence[PlannedSession], now: Sequence[PlannedSession]) -> list[Pair]:
    """The labels of one day's stations: those of now in order with what each was, then those that are gone.

    First the longest runs of the same exercises; then what was moved; last, where as many stations went as
    came between the same neighbours, one in place of the other.
    """
    old, new = _slots(before), _slots(now)
    runs = SequenceMatcher(None, [_trained(s) for s in old], [_trained(s) for s in new], autojunk=False)
    was: dict[int, int] = {}
    for old_at, new_at, many in runs.get_matching_blocks():
        was.update({new_at + n: old_at + n for n in range(many)})
    was.update(_moved(old, new, was))
    for _, first, last, begin, end in runs.get_opcodes():
        gone = [i for i in range(first, last) if i not in was.values()]
        come = [j for j in range(begin, end) if j not in was]
        if len(gone) == len(come):
            was.update({j: i for i, j in zip(gone, come, strict=True) if old[i].section == new[j].section})
    pairs: list[Pair] = [(old[was[j]].label if j in was else None, slot.label) for j, slot in enumerate(new)]
    return [*pairs, *((slot.label, None) for i, slot in enumerate(old) if i not in was.values())]


def _trained(slot: Slot) -> tuple[str, frozenset[str]]:
    return slot.section, slot.exercises


def _moved(old: list[Slot], new: list[Slot], was: dict[int, int]) -> dict[int, int]:
    """Stations that share an exercise with one elsewhere in the same section; the most in common first."""
    shared = [
        (len(new[j].exercises & old[i].exercises), j, i)
        for j in range(len(new))
        if j not in was
        for i in range(len(old))
        if i not in was.values() and old[i].section == new[j].section
    ]
    found: dict[int, int] = {}
    for many, j, i in sorted(shared, key=lambda one: (-one[0], abs(one[1] - one[2]), one[1])):
        if many and j not in found and i not in found.values():
            found[j] = i
    return found


def _slots(sessions: Iterable[PlannedSession]) -> list[Slot]:
    found: dict[tuple[Section, str], set[str]] = {}
    for session in sessions:
        for station in session.stations:
            found.setdefault((station.section, station.label), set()).add(station.exercise)
    slots = [Slot(section, label, frozenset(names)) for (section, label), names in found.items()]
    return sorted(slots, key=lambda slot: (_SECTIONS[slot.section], *_place(slot.label)))


def _place(label: str) -> tuple[str, int]:
    """`A12` and `warm-up 3` in the order of the file."""
    name = label.rstrip("0123456789")
    return name, int(label[len(name) :])
