"""The days of a pack: a table of doses for every block."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import NamedTuple

from ...computing.facts import ComputedSession
from ...computing.resolve import PlannedBlock, PlannedStation
from ...reading.amounts import written
from ...reading.catalogue import VersionEntry
from ...reading.findings import in_weeks, listed
from ...reading.model import Day
from . import words
from .base import Site, Variant, exercise_address
from .day import BlockView, DayViews
from .pack_choice import columns
from .places import by_place

_TALL = 15
"""Lines of a table, of which some may be four lines high, so that half a page may be too low for it."""


class Dose(NamedTuple):
    """A dose that stays the same over `span` weeks. Without an amount the station is left out in these.

    `beside` are words that are not to be broken, each by itself: half a tempo reads like another one.
    """

    span: int
    amount: str
    beside: tuple[str, ...]


class Row(NamedTuple):
    """An exercise at a station: what holds for it in every week, and its doses by level.

    `mark` is empty where another exercise of the same station stands above; names of levels are empty where
    all have the same doses.
    """

    mark: str
    name: str
    address: str
    always: tuple[str, ...]
    levels: tuple[tuple[str, tuple[Dose, ...]], ...]


class DoseTable(NamedTuple):
    """A block with its doses in at most COLUMNS weeks. `mark` and `titles` are there in its first table.

    `by_level` says whether a row has names of levels; `same` that each exercise has one dose for all levels
    in all weeks, and that these are all weeks.
    """

    mark: str
    titles: tuple[Variant, ...]
    weeks: tuple[int, ...]
    rows: tuple[Row, ...]
    by_level: bool
    same: bool

    @property
    def tall(self) -> bool:
        """Whether it may be broken over two pages, since it may take more than one."""
        return sum(len(row.levels) for row in self.rows) > _TALL


@dataclass(frozen=True, slots=True, kw_only=True)
class DoseSheet:
    """A day: what is done in every chosen week. `free` are sessions of which nothing is left."""

    title: str
    address: str
    part: str
    weekdays: str
    minutes: str
    kit: str
    growth: str
    free: tuple[str, ...]
    tables: tuple[DoseTable, ...]


def dose_sheet(
    site: Site, version: VersionEntry, day: Day, address: str, facts: Sequence[ComputedSession], part: str
) -> DoseSheet:
    """`facts` are the chosen sessions of the day, `part` says which levels and weeks, if not all."""
    trained = [one for one in facts if one.plan.is_trained]
    view = DayViews(site).page(version, day, facts, [""] * len(facts))
    doses = _Doses(site, {level.id: level.name for level in version.levels}, facts)
    return DoseSheet(
        title=day.title,
        address=address,
        part=part,
        weekdays=view.weekdays,
        minutes=words.minutes_between([one.order.seconds for one in trained]) if trained else "",
        kit=view.kit,
        growth=view.growth,
        free=tuple(doses.free()),
        tables=tuple(doses.tables(day, view.blocks)) if trained else (),
    )


_Held = dict[str, dict[int, PlannedStation]]
"""The doses of an exercise at one station, by level id and week."""


@dataclass(frozen=True, slots=True)
class _Doses:
    """The doses of a day; `names` are those of all levels by id, `facts` the chosen sessions."""

    site: Site
    names: Mapping[str, str]
    facts: Sequence[ComputedSession]

    def free(self) -> Iterator[str]:
        """`Starter in week 4`, for each level with a week in which nothing of the day is left."""
        for level, own in groupby(self.facts, key=lambda one: one.plan.level):
            weeks = [one.plan.week for one in own if not one.plan.is_trained]
            if weeks:
                yield f"{self.names[level]} in {in_weeks(weeks)}"

    def tables(self, day: Day, blocks: Sequence[BlockView]) -> Iterator[DoseTable]:
        """Every block, with as many tables as its weeks need; `blocks` has their titles."""
        weeks = sorted({one.plan.week for one in self.facts})
        places = by_place(self.site, day, self.facts)
        for view, in_cells in zip(blocks, places.values(), strict=True):
            stations = self._stations(in_cells)
            in_sets = in_cells[0][1].kind == "straight sets"
            rows = tuple(self._rows(stations, weeks, in_sets))
            if rows and all(len(row.levels) == 1 and _for_all(row.levels[0]) for row in rows):
                yield DoseTable(view.mark, view.titles, tuple(weeks), rows, by_level=False, same=True)
                continue
            mark, titles = view.mark, view.titles
            for group in columns(weeks):
                rows = tuple(self._rows(stations, group, in_sets))
                if rows:
                    by_level = any(names for row in rows for names, _ in row.levels)
                    yield DoseTable(mark, titles, group, rows, by_level, same=False)
                    mark, titles = "", ()

    def _stations(self, in_cells: Iterable[tuple[int, PlannedBlock]]) -> dict[str, dict[str, _Held]]:
        """The doses by station and exercise; a session of which only routines are left has none."""
        found: dict[str, dict[str, _Held]] = {}
        for cell, block in in_cells:
            plan = self.facts[cell].plan
            for station in block.stations if plan.is_trained else ():
                held = found.setdefault(station.label, {}).setdefault(station.exercise, {})
                held.setdefault(plan.level, {})[plan.week] = station
        return dict(sorted(found.items(), key=lambda item: (len(item[0]), item[0])))

    def _rows(
        self, stations: Mapping[str, Mapping[str, _Held]], weeks: Sequence[int], in_sets: bool
    ) -> Iterator[Row]:
        for label, exercises in stations.items():
            mark = label.split()[-1]
            for exercise_id, held in exercises.items():
                row = self._row(mark, exercise_id, held, weeks, in_sets)
                if row.levels:
                    yield row
                    mark = ""

    def _row(self, mark: str, exercise_id: str, held: _Held, weeks: Sequence[int], in_sets: bool) -> Row:
        exercise = self.site.catalogue.exercise(exercise_id)
        details = {s: _details(s, in_sets) for by_week in held.values() for s in by_week.values()}
        first, *others = details.values()
        always = [part for part in first if all(part in other for other in others)]

        def dose(station: PlannedStation | None) -> tuple[str, tuple[str, ...]]:
            if station is None:
                return "", ()
            amount, beside = words.dose(station, counted=exercise.measure == "reps")
            varying = [part for part in details[station] if part not in always]
            return amount, tuple(part for part in (beside, *varying) if part)

        levels: dict[tuple[Dose, ...], list[str]] = {}
        for level, by_week in held.items():
            doses = tuple(_merged(dose(by_week.get(week)) for week in weeks))
            if any(dose.amount for dose in doses):
                levels.setdefault(doses, []).append(self.names[level])
        chosen = len({one.plan.level for one in self.facts})
        return Row(
            mark,
            exercise.name,
            exercise_address(exercise_id),
            tuple(always),
            tuple((listed(own, "and") if len(own) < chosen else "", doses) for doses, own in levels.items()),
        )


def _details(station: PlannedStation, in_sets: bool) -> list[str]:
    """What is said of a station beside its amount; the cover says how loads are made."""
    sets = words.sets(station).split(", ") if in_sets else []
    tempo = f"tempo {station.tempo.written}" if station.tempo else ""
    load = f"{written(station.load)} kg" if station.load else ""
    return [part for part in (*sets, tempo, load) if part]


def _for_all(doses: tuple[str, tuple[Dose, ...]]) -> bool:
    """Whether all levels have this one dose in all weeks."""
    return not doses[0] and len(doses[1]) == 1


def _merged(doses: Iterable[tuple[str, tuple[str, ...]]]) -> Iterator[Dose]:
    """Doses of week after week; those that stay the same are one."""
    for (amount, beside), same in groupby(doses):
        yield Dose(len(list(same)), amount, beside)
