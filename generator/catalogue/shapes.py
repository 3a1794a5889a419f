"""Amounts that vary: a list has an entry for each week, a map has one for each level."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from generator.amounts import OTHER
from generator.catalogue import walk
from generator.findings import Fault, Path, listed, nearest, shown


class Phase(NamedTuple):
    """What the amounts of one phase must fit. `weeks` is None where the file does not say it readably."""

    weeks: int | None
    levels: Sequence[str]
    known: Sequence[str]
    """Every level that may be named: those of the programme; for routines, of all programmes."""
    shared: bool
    """True for a routine: other phases use it too, so it may name levels that this phase has not."""
    where: str


def wrong_shapes(data: object, phase: Phase) -> Iterator[Fault]:
    """`weeks`, `levels` and `reference` faults of every varying amount in the file."""
    for path, value in walk.varying(data):
        if isinstance(value, dict):
            yield from _wrong_levels(path, value, phase)
            for level, row in value.items():
                yield from _wrong_weeks((*path, level), row, phase)
        else:
            yield from _wrong_weeks(path, value, phase)


def _wrong_weeks(path: Path, row: object, phase: Phase) -> Iterator[Fault]:
    if not isinstance(row, list) or not row or phase.weeks is None or len(row) == phase.weeks:
        return
    name = next(step for step in reversed(path) if isinstance(step, str))
    count = f"{len(row)} {'entry' if len(row) == 1 else 'entries'}"
    message = f"{name}: found {count}, allowed one for each of the {phase.weeks} weeks of {phase.where}"
    missing = [str(week) for week in range(len(row) + 1, phase.weeks + 1)]
    word = "week" if len(missing) == 1 else "weeks"
    hint = f"{word} {listed(missing, 'and')} missing" if missing else f"take {len(row) - phase.weeks} out"
    yield Fault("weeks", path, message, hint)


def _wrong_levels(path: Path, rows: dict[str, object], phase: Phase) -> Iterator[Fault]:
    for level in rows:
        if level == OTHER or level in phase.levels:
            continue
        if level not in phase.known:
            message = f"unknown level {shown(level)}, allowed {listed([*phase.levels, OTHER])}"
            yield Fault("reference", (*path, level), message, nearest(level, phase.known), at_key=True)
        elif not phase.shared:
            message = f"{path[-1]}: the level {level} is not trained in {phase.where}"
            yield Fault("levels", (*path, level), message, "take it out", at_key=True)
    missing = [level for level in phase.levels if level not in rows]
    if missing and OTHER not in rows and rows:
        message = f"{path[-1]}: found no entry for {listed(missing, 'and')}, allowed one for each level"
        yield Fault("levels", path, message, f"add {missing[0]}: or other:")
