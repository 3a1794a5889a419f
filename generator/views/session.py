"""The session page: the printable timer, and the list that a guided session reads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import escape as escape_attribute
from itertools import groupby
from operator import attrgetter
from typing import NamedTuple

from markupsafe import Markup, escape

from generator.amounts import Number, spoken
from generator.catalogue import VersionEntry
from generator.checks.registry import SessionFacts
from generator.drawing import ribbon
from generator.model import Day
from generator.resolve import PlannedBlock, PlannedStation
from generator.running_order import RunningOrder, SegmentKind
from generator.views import words
from generator.views.base import Site, is_trained

COLUMNS = 6
"""Most rounds side by side: what a phone and half a sheet of paper hold."""
_TEMPO = Markup('<span class="keep">tempo {}</span>')
"""Kept in one line: half a tempo reads like another one."""
_BETWEEN: dict[SegmentKind, str] = {
    "side change": "change sides",
    "changeover": "go to the next station",
    "rest": "rest",
    "wait": "rest until the full minute",
}


class Row(NamedTuple):
    """A station of the sheet and the clock times of its rounds, padded to the table's columns.

    All of it is ready for the page: what a coach wrote is escaped once a station, not on every sheet.
    """

    label: str
    address: str
    name: Markup
    dose: str
    detail: Markup
    cue: Markup
    times: tuple[str, ...]


class Table(NamedTuple):
    """A block of the sheet. `rounds` are numbered columns, less the number where there is only one."""

    mark: str
    title: str
    rounds: tuple[int, ...]
    column: str
    rows: tuple[Row, ...]
    first: bool


Line = tuple[str, str, str, str, Markup, str]
"""A segment as the page's list holds it: start, length and kind for the script, and for people the clock
time, the words and how long it lasts. All of it is ready for the page, as in a row."""


@dataclass(frozen=True, slots=True)
class SessionPage:
    """One level, one week of one day."""

    title: str
    level: str
    week: int
    trained: bool
    minutes: str
    ribbon: str
    tables: tuple[Table, ...]
    lines: tuple[Line, ...]


Starts = dict[str, dict[int, Number]]
"""Station label → round → the second at which its work begins."""


Head = tuple[str, str, Markup, str, Markup, Markup]
"""A row without its times."""


class SheetWords:
    """The words of a site's sheets, made once however many sheets have them."""

    def __init__(self, site: Site) -> None:
        """`site` is the tree that is being shown."""
        self._site = site
        self.head = lru_cache(maxsize=2048)(self._head)
        self.doing = lru_cache(maxsize=2048)(self._doing)

    def _head(self, station: PlannedStation, in_sets: bool) -> Head:
        """The beginning of a station's row."""
        exercise = self._site.catalogue.exercise(station.exercise)
        amount, beside = words.dose(station, counted=exercise.measure == "reps")
        details = [
            beside,
            words.sets(station) if in_sets else "",
            _TEMPO.format(station.tempo.written) if station.tempo else "",
            self._site.load_words(station.load),
        ]
        return (
            station.label if station.section == "day" else station.label.split()[-1],
            f"exercises/{station.exercise}/",
            escape(exercise.name),
            amount,
            Markup("; ").join(detail for detail in details if detail),
            escape(exercise.cues[0]),
        )

    def _doing(
        self,
        kind: SegmentKind,
        block: str,
        station: str | None,
        exercise: str | None,
        side: str | None,
        reps: int | None,
    ) -> Markup:
        """What is done in a segment."""
        if kind != "work" or not station or not exercise:
            return Markup(_BETWEEN[kind])
        name = self._site.catalogue.exercise(exercise).name
        told = f"{station} {name}" if len(block) == 1 else name
        return escape(f"{told}{f', {reps} reps' if reps else ''}{f', {side} side' if side else ''}")


def session_page(
    sheet_words: SheetWords, version: VersionEntry, day: Day, facts: SessionFacts, drawn: str
) -> SessionPage:
    """The finished words of a session page; `drawn` is its ribbon."""
    return SessionPage(
        day.title,
        next(level.name for level in version.levels if level.id == facts.plan.level),
        facts.plan.week,
        is_trained(facts.plan),
        words.minutes(facts.order.seconds),
        drawn,
        tuple(_tables(sheet_words, facts)),
        tuple(_lines(sheet_words, facts.order)),
    )


def _tables(sheet_words: SheetWords, facts: SessionFacts) -> Iterator[Table]:
    starts = bout_starts(facts.order)
    seen: set[str] = set()
    for block in facts.plan.blocks:
        mark = "" if block.label in seen else block.label
        seen.add(block.label)
        title = words.block_title(block)
        last = max([max(starts[station.label]) for station in block.stations if station.label in starts])
        column = "start" if last == 1 else "set" if block.kind == "straight sets" else "round"
        for first in range(1, last + 1, COLUMNS):
            rounds = tuple(range(first, min(first + COLUMNS, last + 1)))
            rows = tuple(_rows(sheet_words, block, rounds, starts))
            yield Table(mark, title, rounds, column, rows, first == 1)


def _rows(
    sheet_words: SheetWords, block: PlannedBlock, rounds: Sequence[int], starts: Starts
) -> Iterator[Row]:
    in_sets = block.kind == "straight sets"
    for station in block.stations:
        begins = starts.get(station.label, {})
        times = tuple([words.clock(begins[r]) if r in begins else "" for r in rounds])
        yield Row(*sheet_words.head(station, in_sets), times)


def _lines(sheet_words: SheetWords, order: RunningOrder) -> Iterator[Line]:
    if not order.segments:
        return iter(())
    columns = zip(*order.segments, strict=True)
    starts, lengths, kinds, blocks, stations, exercises, _, sides, reps = columns
    doing = map(sheet_words.doing, kinds, blocks, stations, exercises, sides, reps)
    clocks, lasting = map(words.clock, starts), map(words.lasting, lengths)
    return zip(map(str, starts), map(str, lengths), kinds, clocks, doing, lasting, strict=True)


def session_ribbon(facts: SessionFacts) -> str:
    """The ribbon of a session, with its blocks' minutes in words."""
    holds = frozenset(s.label for b in facts.plan.blocks for s in b.stations if s.measure == "hold")
    lengths = [
        f"{name} {spoken(sum(segment.length for segment in group))}"
        for name, group in groupby(facts.order.segments, key=attrgetter("block"))
    ]
    return ribbon(facts.order, holds, escape_attribute(f"Session to scale: {', '.join(lengths)}"))


def bout_starts(order: RunningOrder) -> Starts:
    """When the first work segment of every bout begins."""
    starts: Starts = {}
    for start, _, kind, _, station, _, round_, _, _ in order.segments:
        if kind == "work" and station and round_:
            starts.setdefault(station, {}).setdefault(round_, start)
    return starts
