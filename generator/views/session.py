"""The session page: the printable timer, and the list that a guided session reads."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from itertools import groupby

from generator.amounts import clock, spoken
from generator.catalogue import VersionEntry
from generator.checks.registry import SessionFacts
from generator.drawing import ribbon
from generator.model import Day
from generator.resolve import PlannedBlock, PlannedStation
from generator.running_order import RunningOrder, Segment
from generator.views import words
from generator.views.base import Site

COLUMNS = 6
"""Most rounds side by side: what a phone and half a sheet of paper hold."""


@dataclass(frozen=True, slots=True)
class Row:
    """A station of the sheet and the clock times of its rounds, padded to the table's columns."""

    label: str
    name: str
    address: str
    dose: str
    detail: str
    cue: str
    times: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A block of the sheet. `rounds` are numbered columns, less the number where there is only one."""

    mark: str
    title: str
    rounds: tuple[int, ...]
    column: str
    rows: tuple[Row, ...]
    first: bool


@dataclass(frozen=True, slots=True)
class Line:
    """A segment as the page's list holds it: seconds for the script, words for people."""

    start: str
    length: str
    kind: str
    clock: str
    words: str
    lasts: str


@dataclass(frozen=True, slots=True)
class SessionPage:
    """One level, one week of one day."""

    title: str
    level: str
    week: int
    minutes: str
    ribbon: str
    tables: tuple[Table, ...]
    lines: tuple[Line, ...]


def session_page(site: Site, version: VersionEntry, day: Day, facts: SessionFacts) -> SessionPage:
    """The finished words and pictures of a session page."""
    level = next(level.name for level in version.levels if level.id == facts.plan.level)
    return SessionPage(
        day.title,
        level,
        facts.plan.week,
        words.minutes(facts.order.seconds),
        session_ribbon(facts),
        tuple(table for block in _sheet_blocks(site, facts) for table in block),
        tuple(_line(site, segment) for segment in facts.order.segments),
    )


def session_ribbon(facts: SessionFacts) -> str:
    """The ribbon of a session, with its blocks' minutes in words."""
    holds = frozenset(s.label for b in facts.plan.blocks for s in b.stations if s.measure == "hold")
    lengths = [
        f"{name} {spoken(sum(segment.length for segment in group))}"
        for name, group in groupby(facts.order.segments, key=lambda segment: segment.block)
    ]
    return ribbon(facts.order, holds, escape(f"Session to scale: {', '.join(lengths)}"))


def _sheet_blocks(site: Site, facts: SessionFacts) -> list[list[Table]]:
    starts = bout_starts(facts.order)
    result: list[list[Table]] = []
    seen: set[str] = set()
    for block in facts.plan.blocks:
        mark = "" if block.label in seen else block.label
        seen.add(block.label)
        result.append(_tables(site, block, mark, starts))
    return result


def bout_starts(order: RunningOrder) -> dict[tuple[str, int], Segment]:
    """The first work segment of every bout, by station label and round."""
    starts: dict[tuple[str, int], Segment] = {}
    for segment in order.segments:
        if segment.kind == "work" and segment.station and segment.round:
            starts.setdefault((segment.station, segment.round), segment)
    return starts


def _tables(
    site: Site, block: PlannedBlock, mark: str, starts: dict[tuple[str, int], Segment]
) -> list[Table]:
    labels = {station.label for station in block.stations}
    last = max(round_ for label, round_ in starts if label in labels)
    column = "start" if last == 1 else "set" if block.kind == "straight sets" else "round"
    tables = []
    for first in range(1, last + 1, COLUMNS):
        rounds = tuple(range(first, min(first + COLUMNS, last + 1)))
        rows = tuple(_row(site, block, station, rounds, starts) for station in block.stations)
        title = words.block_title(block)
        tables.append(Table(mark, title, rounds, column, rows, first == 1))
    return tables


def _row(
    site: Site,
    block: PlannedBlock,
    station: PlannedStation,
    rounds: tuple[int, ...],
    starts: dict[tuple[str, int], Segment],
) -> Row:
    exercise = site.catalogue.exercise(station.exercise)
    amount, beside = words.dose(station, counted=exercise.measure == "reps")
    times = [clock(s.start) if (s := starts.get((station.label, round_))) else "" for round_ in rounds]
    details = [
        beside,
        words.sets(station) if block.kind == "straight sets" else "",
        f"tempo {station.tempo.written}" if station.tempo else "",
        site.load_words(station.load),
    ]
    return Row(
        station.label if station.section == "day" else station.label.split()[-1],
        exercise.name,
        f"exercises/{station.exercise}/",
        amount,
        "; ".join(detail for detail in details if detail),
        exercise.cues[0],
        tuple(times),
    )


def _line(site: Site, segment: Segment) -> Line:
    return Line(
        str(segment.start),
        str(segment.length),
        segment.kind,
        clock(segment.start),
        _doing(site, segment),
        spoken(segment.length),
    )


def _doing(site: Site, segment: Segment) -> str:
    if segment.kind == "work" and segment.station and segment.exercise:
        name = site.catalogue.exercise(segment.exercise).name
        label = f"{segment.station} {name}" if len(segment.block) == 1 else name
        reps = f", {segment.reps} reps" if segment.reps else ""
        return f"{label}{reps}{f', {segment.side} side' if segment.side else ''}"
    return {
        "side change": "change sides",
        "changeover": "go to the next station",
        "rest": "rest",
        "wait": "rest until the full minute",
    }[segment.kind]
