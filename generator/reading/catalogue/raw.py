"""Blocks and stations of a file as plain data, whatever else is wrong with the file.

The rules that need other files, or the phase's weeks and levels, are judged on plain data, so that one wrong
value does not hide the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from ..amounts import OTHER
from ..findings import Path

VARYING_BLOCK = ("rounds", "rest", "changeover", "rest after", "minutes", "lasts")
VARYING_STATION = (
    *("exercise", "sets", "reps", "hold", "work", "distance", "takes", "tempo", "load", "rest"),
    *("setting", "say"),
)
VARYING_DAY = ("effort", "say")
Mapping = dict[str, Any]


class Place(NamedTuple):
    """A mapping in a file and the path to it."""

    path: Path
    data: Mapping


def mapping(value: object) -> Mapping:
    """The value when it is a mapping, else an empty one."""
    return value if isinstance(value, dict) else {}


def entries(value: object, key: str, path: Path = ()) -> Iterator[Place]:
    """The mappings in the list at `key`."""
    items = mapping(value).get(key)
    for index, item in enumerate(items if isinstance(items, list) else []):
        if isinstance(item, dict):
            yield Place((*path, key, index), item)


def days(data: object) -> Iterator[Place]:
    """The days of a version file."""
    return entries(data, "days")


def blocks(data: object) -> Iterator[Place]:
    """The blocks of a routine, or of all days of a version."""
    yield from entries(data, "blocks")
    for day in days(data):
        yield from entries(day.data, "blocks", day.path)


def stations(data: object) -> Iterator[Place]:
    """The stations of every block."""
    for block in blocks(data):
        yield from entries(block.data, "stations", block.path)


def varying(data: object) -> Iterator[tuple[Path, object]]:
    """Every amount that may vary by week and level."""
    kinds = ((days(data), VARYING_DAY), (blocks(data), VARYING_BLOCK), (stations(data), VARYING_STATION))
    for places, keys in kinds:
        for place in places:
            for key in keys:
                if key in place.data:
                    yield (*place.path, key), place.data[key]


def leaves(value: object, path: Path = ()) -> Iterator[tuple[Path, object]]:
    """The single entries of a varying amount, with the path to each."""
    if isinstance(value, dict):
        for key, row in value.items():
            yield from leaves(row, (*path, key))
    elif isinstance(value, list):
        for index, entry in enumerate(value):
            yield (*path, index), entry
    else:
        yield path, value


def cells(amounts: Sequence[object], levels: Iterable[str], weeks: int) -> Iterator[tuple[object, ...]]:
    """The entries of several amounts side by side, by level and week; None where the file has none.

    Levels and weeks in which all of them have the same entry come once.
    """
    named = {level for amount in amounts for level in mapping(amount)}
    for level in dict.fromkeys(level if level in named else OTHER for level in levels):
        rows = [
            amount.get(level, amount.get(OTHER)) if isinstance(amount, dict) else amount for amount in amounts
        ]
        lists = any(isinstance(row, list) for row in rows)
        for week in range(weeks if lists else 1):
            yield tuple([_entry(row, week) for row in rows])


def _entry(row: object, week: int) -> object:
    if isinstance(row, list):
        return row[week] if week < len(row) else None
    return row
