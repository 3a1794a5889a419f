"""On which weekdays a day is trained, and which one of a choice to take: in one place, for all pages."""

from __future__ import annotations

from collections.abc import Sequence

from ...computing.resolve import sessions
from ...judging.which_weekday import Advice, ByDay, which_weekday
from ...reading.catalogue import Catalogue, VersionEntry
from ...reading.model import WEEKDAY_NAMES, Day
from . import words


class Weekdays:
    """The weekdays of the days of a tree."""

    def __init__(self, catalogue: Catalogue) -> None:
        """Nothing is worked out before it is asked for."""
        self._catalogue = catalogue
        self._kept: dict[tuple[str, str], ByDay] = {}

    def advice(self, version: VersionEntry, day: Day) -> Sequence[Advice | None]:
        """Which weekday to take, one for each entry of `on`."""
        if all(len(choice) == 1 for choice in day.on):
            return [None] * len(day.on)
        key = version.programme, version.name
        if key not in self._kept:
            self._kept[key] = which_weekday(version.model.days, sessions(self._catalogue, version))
        return self._kept[key][day.id]

    def said(self, version: VersionEntry, day: Day) -> str:
        """`Tuesday or Wednesday (take Wednesday, as Monday has jumps)`."""
        told = [f"take {because(one)}" for one in self.advice(version, day) if one]
        on = words.weekdays(day.on)
        return f"{on} ({'; '.join(told)})" if told else on


def because(advice: Advice) -> str:
    """`Wednesday, as Monday has jumps`."""
    return f"{WEEKDAY_NAMES[advice.take]}, as {WEEKDAY_NAMES[advice.jumps]} has jumps"
