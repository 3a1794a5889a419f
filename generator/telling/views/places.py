"""The blocks of all sessions of a day, put together in the order of the file."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from itertools import accumulate

from ...computing.facts import ComputedSession
from ...computing.resolve import PlannedBlock
from ...reading.model import Day
from .base import Site

Place = tuple[str, str, int]
"""Section, label, and among a routine's blocks, which share a label, the position in the routine."""


def by_place(
    site: Site, day: Day, facts: Sequence[ComputedSession]
) -> dict[Place, list[tuple[int, PlannedBlock]]]:
    """The union of the blocks of a day's sessions, in the order of the file; each block with the position of
    its session in `facts`."""
    ends = dict(_ends(site, day))
    found: dict[Place, list[tuple[int, PlannedBlock]]] = {}
    for cell, one in enumerate(facts):
        for block in one.plan.blocks:
            position = _position(block, ends[block.section]) if block.section in ends else 0
            found.setdefault((block.section, block.label, position), []).append((cell, block))
    return dict(sorted(found.items(), key=lambda item: (_SECTIONS.index(item[0][0]), *item[0][1:])))


def _ends(site: Site, day: Day) -> Iterable[tuple[str, list[int]]]:
    """For each routine the number of the last station of each of its blocks."""
    for section, name in (("warm-up", day.warm_up), ("cool-down", day.cool_down)):
        if name:
            blocks = site.catalogue.routine(name).blocks
            yield section, list(accumulate(len(block.stations) for block in blocks))


_SECTIONS = ("warm-up", "day", "cool-down")


def _position(block: PlannedBlock, ends: Sequence[int]) -> int:
    """Which block of a routine this is: stations are numbered through all of its blocks."""
    return bisect_left(ends, int(block.stations[0].label.split()[-1]))
