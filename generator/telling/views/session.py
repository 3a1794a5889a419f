"""The session page: the printable timer, and the list that a guided session reads."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import escape as escape_attribute
from itertools import groupby
from operator import attrgetter
from typing import NamedTuple
from unicodedata import bidirectional

from markupsafe import Markup, escape

from ...computing.facts import ComputedSession
from ...computing.resolve import PlannedBlock, PlannedStation
from ...computing.running_order import Segment, SegmentKind
from ...drawing.ribbon import end, ribbon
from ...reading.amounts import Number
from ...reading.catalogue import VersionEntry
from ...reading.model import Day, Exercise
from . import type_size as fit
from . import words
from .base import Link, Site
from .sheet import Heading, Notes, heading, type_size

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


Head = tuple[str, str, str, Markup, str, Markup, Markup]
"""What a station's row begins with: attributes for the script, label, address, name, dose, detail and first
cue. All of it is ready for the page: what a coach wrote is escaped once a station, not on every sheet."""
Row = tuple[str, str, str, Markup, str, Markup, Markup, tuple[str, ...]]
"""A station of the sheet: its head and the clock times of its rounds, padded to the table's columns."""


class Table(NamedTuple):
    """A block of the sheet. `rounds` are numbered columns, less the number where there is only one.

    `number` counts the blocks of the session from 0, as the lines of the running order do.
    """

    number: int
    kind: str
    mark: str
    title: str
    rounds: tuple[int, ...]
    column: str
    rows: tuple[Row, ...]
    first: bool


Line = tuple[str, str, str, str, Markup, str]
"""A segment as the page's list holds it: start, length and further attributes for the script, and for people
the clock time, the words and how long it lasts. All of it is ready for the page, as in a row."""


class Way(NamedTuple):
    """A station's easier ways; `station` is its label in the running order."""

    station: str
    label: str
    name: str
    links: tuple[Link, ...]


class Opening(NamedTuple):
    """The warm-up of a sheet. It begins at 0:00, so all sessions that have the same one share this."""

    tables: tuple[Table, ...]
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class SessionPage:
    """One level, one week of one day. `tables` and `lines` go on where `opening` ends.

    `size` is the class of the type in which it is printed.
    """

    size: str
    day: str
    title: str
    level: str
    week: int
    trained: bool
    minutes: str
    ribbon: str
    opening: Opening
    tables: tuple[Table, ...]
    lines: tuple[Line, ...]
    ways: tuple[Way, ...]


Starts = dict[str, dict[int, Number]]
"""Station label → round → the second at which its work begins."""


class SheetWords:
    """The words of a site's sheets, made once however many sheets have them."""

    def __init__(self, site: Site, setting: fit.Setting = fit.ANYWHERE) -> None:
        """`site` is the tree that is being shown, `setting` what its sheets are printed with."""
        self.site, self._setting = site, setting
        self.head = lru_cache(maxsize=2048)(self._head)
        self.doing = lru_cache(maxsize=2048)(self._doing)
        self.attributes = lru_cache(maxsize=4096)(_attributes)
        self._ways = lru_cache(maxsize=2048)(self._ways_of)
        self._openings: dict[tuple[int, tuple[PlannedBlock, ...]], Opening] = {}

    def opening(
        self, blocks: tuple[PlannedBlock, ...], segments: Sequence[Segment], numbers: Sequence[int]
    ) -> Opening:
        """The tables and lines of the warm-up; its last rest is there when something follows."""
        key = len(segments), blocks
        if key not in self._openings:
            self._openings[key] = Opening(
                tuple(_tables(self, blocks, bout_starts(segments))), tuple(_lines(self, segments, numbers))
            )
        return self._openings[key]

    def size(self, head: Heading, notes: Notes, tables: Iterable[Table]) -> str:
        """The class of the type in which a sheet is printed."""
        return type_size(self.site, head, notes, [_grid(table) for table in tables], self._setting)

    def ways(self, blocks: Iterable[PlannedBlock]) -> tuple[Way, ...]:
        """The easier ways of all stations that have some."""
        stations = [station for block in blocks for station in block.stations]
        return tuple([way for s in stations if (way := self._ways(s.label, s.section, s.exercise))])

    def _ways_of(self, label: str, section: str, exercise_id: str) -> Way | None:
        exercise = self.site.catalogue.exercise(exercise_id)
        links = tuple([self.site.option_link(option) for option in exercise.easier])
        return Way(label, _shown(label, section), exercise.name, links) if links else None

    def _head(self, station: PlannedStation, in_sets: bool) -> Head:
        """The beginning of a station's row."""
        exercise = self.site.catalogue.exercise(station.exercise)
        amount, beside = words.dose(station, counted=exercise.measure == "reps")
        details = [
            beside,
            words.sets(station) if in_sets else "",
            _TEMPO.format(station.tempo.written) if station.tempo else "",
            self.site.load_words(station.load),
        ]
        return (
            _station_attributes(station, exercise),
            _shown(station.label, station.section),
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
        name = self.site.catalogue.exercise(exercise).name
        label = f"{station} " if len(block) == 1 else ""
        dose = f"{f', {reps} reps' if reps else ''}{f', {side} side' if side else ''}"
        return Markup("{}{}{}").format(label, _apart(name), dose)


def _apart(name: str) -> Markup:
    """A name that runs from right to left, kept apart from the numbers beside it (UAX 9), or as it is."""
    runs_back = any(bidirectional(sign) in ("R", "AL") for sign in name)
    return Markup("<bdi>{}</bdi>").format(name) if runs_back else escape(name)


@lru_cache(maxsize=4096)
def _pieces(label: str, name: Markup, dose: str, detail: Markup, cue: Markup) -> tuple[fit.Words, ...]:
    """The words of a row as they are set on paper."""
    return (
        fit.Words(f"{label} {name.unescape()}", large=True, bold=True),
        fit.Words(dose, large=True, whole=True),
        fit.Words(detail.striptags(), large=False),
        fit.Words(cue.unescape(), large=False),
    )


def _grid(table: Table) -> fit.Grid:
    """A table as it is set on paper."""
    title = f"{table.mark} {table.title}" if table.first else ""
    times = [time for row in table.rows for time in row[-1]]
    rows = tuple(
        [_pieces(label, name, dose, detail, cue) for _, label, _, name, dose, detail, cue, _ in table.rows]
    )
    return fit.Grid(title, len(table.rounds), fit.digits(times), rows)


def _shown(label: str, section: str) -> str:
    """A station's label on the sheet, where a routine's is below the name of its block."""
    return label if section == "day" else label.split()[-1]


def _station_attributes(station: PlannedStation, exercise: Exercise) -> str:
    """A station for the script: label and measure, and of reps the seconds, the tempo and how they begin."""
    found = f'data-n="{station.label}" data-m="{station.measure}"'
    if station.rep is not None:
        found += f' data-rep="{station.rep}"'
    if station.tempo:
        found += f' data-tempo="{station.tempo.written}"'
        if exercise.begins_with == "lifting":
            found += ' data-begins="lifting"'
    return found


def _attributes(
    kind: SegmentKind,
    number: int,
    station: str | None,
    round_: int | None,
    side: str | None,
    reps: int | None,
) -> str:
    """A segment for the script, less its start and length: kind, block, station, round, side and reps."""
    named = {"n": station, "r": round_, "side": side, "reps": reps}
    rest = "".join([f' data-{name}="{value}"' for name, value in named.items() if value is not None])
    return f'data-k="{kind}" data-b="{number}"{rest}'


def session_page(
    sheet_words: SheetWords, version: VersionEntry, day: Day, facts: ComputedSession, drawn: str, notes: Notes
) -> SessionPage:
    """The finished words of a session page; `drawn` is its ribbon, `notes` what else stands above it."""
    blocks, segments, numbers = facts.plan.blocks, facts.order.segments, facts.order.block_numbers
    warm_up = tuple([block for block in blocks if block.section == "warm-up"])
    begins = sum([segment.block == "warm-up" for segment in segments])
    opening = sheet_words.opening(warm_up, segments[:begins], numbers[:begins])
    tables = tuple(_tables(sheet_words, blocks[len(warm_up) :], bout_starts(segments[begins:]), len(warm_up)))
    level = next(level.name for level in version.levels if level.id == facts.plan.level)
    minutes = words.minutes(facts.order.seconds)
    head = heading(sheet_words.site, version, day, f"{level}, week {facts.plan.week}", minutes)
    return SessionPage(
        sheet_words.size(head, notes, (*opening.tables, *tables)),
        day.id,
        day.title,
        level,
        facts.plan.week,
        facts.plan.is_trained,
        minutes,
        drawn,
        opening,
        tables,
        tuple(_lines(sheet_words, segments[begins:], numbers[begins:])),
        sheet_words.ways(blocks),
    )


def _tables(
    sheet_words: SheetWords, blocks: Sequence[PlannedBlock], starts: Starts, before: int = 0
) -> Iterator[Table]:
    seen: set[str] = set()
    for number, block in enumerate(blocks, before):
        mark = "" if block.label in seen else block.label
        seen.add(block.label)
        title = words.block_title(block)
        last = max([max(starts[station.label]) for station in block.stations if station.label in starts])
        column = "start" if last == 1 else "set" if block.kind == "straight sets" else "round"
        for first in range(1, last + 1, COLUMNS):
            rounds = tuple(range(first, min(first + COLUMNS, last + 1)))
            rows = tuple(_rows(sheet_words, block, rounds, starts))
            yield Table(number, block.kind, mark, title, rounds, column, rows, first == 1)


def _rows(
    sheet_words: SheetWords, block: PlannedBlock, rounds: Sequence[int], starts: Starts
) -> Iterator[Row]:
    in_sets = block.kind == "straight sets"
    for station in block.stations:
        begins = starts.get(station.label, {})
        times = tuple([words.clock(begins[r]) if r in begins else "" for r in rounds])
        yield (*sheet_words.head(station, in_sets), times)


def _lines(sheet_words: SheetWords, segments: Sequence[Segment], numbers: Sequence[int]) -> Iterator[Line]:
    if not segments:
        return iter(())
    columns = zip(*segments, strict=True)
    starts, lengths, kinds, blocks, stations, exercises, rounds, sides, reps = columns
    doing = map(sheet_words.doing, kinds, blocks, stations, exercises, sides, reps)
    attributes = map(sheet_words.attributes, kinds, numbers, stations, rounds, sides, reps)
    clocks, lasting = map(words.clock, starts), map(words.lasting, lengths)
    return zip(map(str, starts), map(str, lengths), attributes, clocks, doing, lasting, strict=True)


def session_ribbon(facts: ComputedSession) -> str:
    """The ribbon of a session, with its blocks' minutes in words."""
    holds = frozenset([s.label for b in facts.plan.blocks for s in b.stations if s.measure == "hold"])
    blocks = [(name, list(group)) for name, group in groupby(facts.order.segments, key=attrgetter("block"))]
    lengths = [f"{name} {words.lasting(end(own) - own[0].start)}" for name, own in blocks]
    label = escape_attribute(f"Session to scale: {', '.join(lengths)}")
    return ribbon(blocks, holds, label)


def bout_starts(segments: Iterable[Segment]) -> Starts:
    """When the first work segment of every bout begins."""
    starts: Starts = {}
    for start, _, kind, _, station, _, round_, _, _ in segments:
        if kind == "work" and station and round_:
            starts.setdefault(station, {}).setdefault(round_, start)
    return starts
