"""Amounts that vary by week and by level."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Generic, NamedTuple, TypeVar

from ..findings import MOST_TOLD, Path, shown
from .measures import AmountError

T = TypeVar("T")
OTHER = "other"
"""The word that stands for every level that a map does not name."""


@dataclass(frozen=True, slots=True)
class Varying(Generic[T]):
    """An amount for every level and week. A row is one value for all weeks or a tuple with one a week."""

    rows: Mapping[str, T | tuple[T, ...]]

    def at(self, level: str, week: int) -> T:
        """The amount of `level` in `week`, which counts from 1."""
        rows = self.rows
        row = rows[level] if level in rows else rows[OTHER]
        return row[week - 1] if type(row) is tuple else row  # type: ignore[return-value]

    @property
    def varies(self) -> bool:
        """Whether it has more than one amount, so that level and week decide."""
        rows = self.rows
        return len(rows) > 1 or OTHER not in rows or type(rows[OTHER]) is tuple

    def values(self) -> list[T]:
        """Every amount that is written down."""
        rows = self.rows.values()
        return [v for row in rows for v in (row if type(row) is tuple else (row,))]  # type: ignore[misc]


class WrongPart(NamedTuple):
    """One entry of a varying amount that cannot be read; `path` leads to it from the amount."""

    path: Path
    message: str
    hint: str
    check: str = "value"


_NESTING = "by level and week, write {starter: [6, 8], steady: [8, 10]}"


def varying(raw: object, parse: Callable[[object], T]) -> Varying[T] | list[WrongPart]:
    """One value, a list by week, a map by level, or a map of lists; or all that is wrong with it."""
    reading = _Reading(parse)
    if not isinstance(raw, dict):
        rows = {OTHER: reading.row(raw, ())}
    else:
        rows = {level: reading.row(value, (level,)) for level, value in raw.items()}
        if not raw:
            message = "found an empty mapping, allowed an entry for each level"
            reading.wrong.append(WrongPart((), message, "write one amount, or level: amount for each level"))
    return reading.wrong or Varying(rows)  # type: ignore[arg-type]


class _Reading(Generic[T]):
    """The entries of one amount, and what is wrong with them."""

    def __init__(self, parse: Callable[[object], T]) -> None:
        self.parse = parse
        self.wrong: list[WrongPart] = []

    def row(self, value: object, path: Path) -> object:
        """One amount for all weeks, or a tuple with one a week."""
        if not isinstance(value, list):
            return self.one(value, path)
        if not value:
            message = "found an empty list, allowed one entry for each week"
            self.wrong.append(WrongPart(path, message, "write one amount, or as many as there are weeks"))
        return tuple(self.one(entry, (*path, week)) for week, entry in enumerate(value))

    def one(self, value: object, path: Path) -> T | None:
        """A single amount; None where it is wrong."""
        if path and isinstance(value, list | dict):
            self.wrong.append(WrongPart(path, f"found {shown(value)}, allowed one amount", _NESTING))
            return None
        if len(self.wrong) > MOST_TOLD:
            return None
        try:
            return self.parse(value)
        except AmountError as error:
            self.wrong.append(WrongPart(path, error.message, error.hint, error.check))
            return None
