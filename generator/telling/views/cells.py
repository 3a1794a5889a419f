"""The sessions of a day, numbered, and what is said for some of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from ...computing.facts import ComputedSession
from ...reading.catalogue import VersionEntry
from ...reading.findings import in_weeks
from ...reading.model import Day
from .base import Variant


class Cells:
    """The sessions of a day, numbered in their order: by level and week."""

    def __init__(self, version: VersionEntry, day: Day, facts: Sequence[ComputedSession]) -> None:
        self.day, self.facts = day, facts
        names = {level.id: level.name for level in version.levels}
        self._whose = tuple((names[one.plan.level], one.plan.week) for one in facts)

    def variants(self, said: Iterable[tuple[tuple[str, str], list[int]]]) -> tuple[Variant, ...]:
        """Words and a note with the cells that say so: each text once, with all of its cells."""
        groups: dict[tuple[str, str], list[int]] = {}
        for what, those in said:
            groups.setdefault(what, []).extend(those)
        found = [(text, note, tuple(sorted(those))) for (text, note), those in groups.items() if text]
        return tuple(
            [Variant(text, note, self.attribute(those), self.label(those)) for text, note, those in found]
        )

    def attribute(self, cells: tuple[int, ...]) -> str:
        """The numbers for the page's `data-for`; nothing when it holds for all."""
        return "" if len(cells) == len(self.facts) else " ".join(map(str, cells))

    def label(self, cells: tuple[int, ...]) -> str:
        """`Starter: weeks 1 and 4; Steady: all weeks`; nothing when it holds for all."""
        return "" if len(cells) == len(self.facts) else _label(self._whose, cells)


@lru_cache(maxsize=4096)
def _label(whose: tuple[tuple[str, int], ...], cells: tuple[int, ...]) -> str:
    """`whose` has the level and week of every cell."""
    of_all, of_these = _by_level(whose), _by_level(whose[cell] for cell in cells)
    whole = {
        name: "all weeks" if weeks == of_all[name] else in_weeks(weeks) for name, weeks in of_these.items()
    }
    if len(whole) == len(of_all) and len(set(whole.values())) == 1:
        return f"All levels: {next(iter(whole.values()))}"
    return "; ".join(f"{name}: {text}" for name, text in whole.items())


def _by_level(whose: Iterable[tuple[str, int]]) -> dict[str, list[int]]:
    weeks: dict[str, list[int]] = {}
    for name, week in whose:
        weeks.setdefault(name, []).append(week)
    return weeks
