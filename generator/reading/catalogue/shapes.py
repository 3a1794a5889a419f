"""Amounts that vary: a list has an entry for each week, a map has one for each level."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import NamedTuple

from ..amounts import OTHER
from ..findings import Fault, Path, listed, nearest, shown
from . import raw


class Phase(NamedTuple):
    """What the amounts of one phase must fit. `weeks` is None where the file does not say it readably."""

    weeks: int | None
    levels: Sequence[str]
    known: Collection[str]
    """Every level that may be named: those of the programme; for routines, of all programmes."""
    lenient: bool
    """Whether an amount may name a level that this phase has not: other phases use a routine too."""
    where: str
    routine: bool = False


def wrong_shapes(data: object, phase: Phase) -> Iterator[Fault]:
    """`weeks`, `levels` and `reference` faults of every varying amount in the file."""
    for path, value in raw.varying(data):
        if isinstance(value, dict):
            yield from _wrong_levels(path, value, phase)
            for level, row in value.items():
                yield from _wrong_weeks((*path, level), row, phase)
        else:
            yield from _wrong_weeks(path, value, phase)


def _wrong_weeks(path: Path, row: object, phase: Phase) -> Iterator[Fault]:
    if not isinstance(row, list) or not row or phase.weeks is None or len(row) == phase.weeks:
        return
    names = [step for step in path[-2:] if isinstance(step, str)]
    name = ", ".join(names)
    count = f"{len(row)} {'entry' if len(row) == 1 else 'entries'}"
    weeks = "the one week" if phase.weeks == 1 else f"each of the {phase.weeks} weeks"
    message = f"{name}: found {count}, allowed one for {weeks} of {phase.where}"
    missing = [str(week) for week in range(len(row) + 1, phase.weeks + 1)]
    word = "week" if len(missing) == 1 else "weeks"
    hint = f"add {word} {listed(missing, 'and')}" if missing else f"take {len(row) - phase.weeks} out"
    if phase.routine:
        hint = "write one amount for all weeks, as phases of any length may use a routine"
    yield Fault("weeks", path, message, hint)


def _wrong_levels(path: Path, rows: dict[str, object], phase: Phase) -> Iterator[Fault]:
    if not phase.known:
        return
    own = frozenset(phase.levels) if len(rows) > 1 else phase.levels
    for level in rows:
        if level == OTHER or level in own:
            continue
        if level not in phase.known:
            message = f"{path[-1]}: unknown level {shown(level)}, allowed {listed([*phase.levels, OTHER])}"
            hint = nearest(level, [*phase.levels, OTHER]) or "take it out, or add the level to the programme"
            yield Fault("reference", (*path, level), message, hint, at_key=True)
        elif not phase.lenient:
            message = f"{path[-1]}: the level {level} is not trained in {phase.where}"
            hint = "take it out, or add it to levels"
            yield Fault("levels", (*path, level), message, hint, at_key=True)
    missing = [level for level in phase.levels if level not in rows] if OTHER not in rows else []
    if missing and rows:
        names = listed(missing, "and")
        where = "" if phase.routine else f" of {phase.where}"
        message = f"{path[-1]}: found no entry for {names}, allowed one for each level{where}"
        hint = f"add {missing[0]}:, or other: for every level without an entry"
        yield Fault("levels", path, message, hint)
