"""What a coach says for a day and its stations, and how hard the day is meant to feel."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from string import ascii_uppercase

from ...computing.resolve import PlannedSession
from ...reading.amounts import Varying
from ...reading.model import AnyBlock, Day
from .base import Site
from .words import EFFORT


class CoachLines:
    """The lines of one day, by level and week."""

    def __init__(self, site: Site, day: Day) -> None:
        """A station keeps its label of the running order where others are left out."""
        self._day = day
        self._stations = {label: say for label, say in _said(site, day) if say is not None}

    def of_day(self, plan: PlannedSession) -> str:
        """The line of the day; nothing where none is written."""
        return _at(self._day.say, plan)

    def of_station(self, label: str, plan: PlannedSession) -> str:
        """The line of a station, as labelled in the running order."""
        return _at(self._stations.get(label), plan)

    def of_stations(self, plan: PlannedSession) -> dict[str, str]:
        """The lines of the stations for which there is one, by their labels."""
        return {label: line for label in self._stations if (line := self.of_station(label, plan))}

    def effort(self, plan: PlannedSession) -> str:
        """`5, hard`; nothing where the day does not say."""
        if self._day.effort is None:
            return ""
        number = self._day.effort.at(plan.level, plan.week)
        return f"{number}, {EFFORT[number]}" if EFFORT[number] else str(number)


def _at(say: Varying[str] | None, plan: PlannedSession) -> str:
    return say.at(plan.level, plan.week) if say is not None else ""


def _said(site: Site, day: Day) -> Iterator[tuple[str, Varying[str] | None]]:
    for section, name in (("warm-up", day.warm_up), ("cool-down", day.cool_down)):
        if name:
            yield from _numbered(f"{section} ", site.catalogue.routine(name).blocks)
    for label, block in zip(ascii_uppercase, day.blocks, strict=False):
        yield from _numbered(label, [block])


def _numbered(mark: str, blocks: Iterable[AnyBlock]) -> Iterator[tuple[str, Varying[str] | None]]:
    stations = (station for block in blocks for station in block.stations)
    return ((f"{mark}{number}", station.say) for number, station in enumerate(stations, 1))
