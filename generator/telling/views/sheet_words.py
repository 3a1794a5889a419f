"""The words of sheets, made once however many sheets have them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple
from unicodedata import bidirectional

from markupsafe import Markup, escape

from ...computing.resolve import PlannedBlock, PlannedStation
from ...computing.running_order import Segment, SegmentKind
from ...reading.model import Exercise
from . import words
from .base import Link, Site, exercise_address
from .sheet import Heading, Notes, sheet_size
from .sheet_tables import NOTHING_SAID, Head, Line, Says, Table, grid, tables
from .type_size import ANYWHERE, Setting

_TEMPO = Markup('<span class="keep">tempo {}</span>')
"""Kept in one line: half a tempo reads like another one."""
_BETWEEN: dict[SegmentKind, str] = {
    "side change": "change sides",
    "changeover": "go to the next station",
    "rest": "rest",
    "wait": "rest until the full minute",
}


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


class SheetWords:
    """The words of a site's sheets, made once however many sheets have them."""

    def __init__(self, site: Site, setting: Setting = ANYWHERE) -> None:
        """`site` is the tree that is being shown, `setting` what its sheets are printed with."""
        self.site, self._setting = site, setting
        self.head = lru_cache(maxsize=2048)(self._head)
        self.doing = lru_cache(maxsize=2048)(self._doing)
        self.attributes = lru_cache(maxsize=4096)(_attributes)
        self._ways = lru_cache(maxsize=2048)(self._ways_of)
        self._openings: dict[tuple[int, tuple[PlannedBlock, ...], tuple[str, ...]], Opening] = {}

    def opening(
        self,
        blocks: tuple[PlannedBlock, ...],
        segments: Sequence[Segment],
        numbers: Sequence[int],
        says: Says = NOTHING_SAID,
    ) -> Opening:
        """The tables and lines of the warm-up; its last rest is there when something follows."""
        said = tuple([says.get(station.label, "") for block in blocks for station in block.stations])
        key = len(segments), blocks, said
        if key not in self._openings:
            made = self.tables(blocks, segments, 0, says)
            self._openings[key] = Opening(made, self.lines(segments, numbers))
        return self._openings[key]

    def tables(
        self,
        blocks: Sequence[PlannedBlock],
        segments: Iterable[Segment],
        before: int = 0,
        says: Says = NOTHING_SAID,
    ) -> tuple[Table, ...]:
        """The tables of blocks with their segments; `before` is how many blocks stand above them."""
        return tuple(tables(self.head, blocks, segments, before, says))

    def lines(self, segments: Sequence[Segment], numbers: Sequence[int]) -> tuple[Line, ...]:
        """The lines of segments; `numbers` are those of their blocks."""
        if not segments:
            return ()
        columns = zip(*segments, strict=True)
        starts, lengths, kinds, blocks, stations, exercises, rounds, sides, reps = columns
        doing = map(self.doing, kinds, blocks, stations, exercises, sides, reps)
        attributes = map(self.attributes, kinds, numbers, stations, rounds, sides, reps)
        clocks, lasting = map(words.clock, starts), map(words.lasting, lengths)
        return tuple(
            zip(map(str, starts), map(str, lengths), attributes, clocks, doing, lasting, strict=True)
        )

    def size(self, head: Heading, notes: Notes, tables: Iterable[Table]) -> str:
        """The class of the type in which a sheet is printed."""
        return sheet_size(self.site, head, notes, [grid(table) for table in tables], self._setting)

    def ways(self, stations: Iterable[PlannedStation]) -> tuple[Way, ...]:
        """The easier ways of those stations that have some."""
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
            exercise_address(station.exercise),
            escape(exercise.name),
            amount,
            Markup("; ").join(detail for detail in details if detail),
            escape(exercise.cues[0]),
            escape(self._way(exercise)),
            station.exercise if exercise.figure else "",
        )

    def _way(self, exercise: Exercise) -> str:
        """The first easier way, for paper; the page has all of them."""
        if not exercise.easier:
            return ""
        link = self.site.option_link(exercise.easier[0])
        return f"{link.words}, {link.note}" if link.note else link.words

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
