"""The blocks of a sheet as tables, and its running order as lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from markupsafe import Markup, escape

from ...computing.resolve import PlannedBlock, PlannedStation
from ...computing.running_order import Segment
from ...reading.amounts import Number
from . import words
from .type_size import Grid, Words, digits

COLUMNS = 6
"""Most rounds side by side: what a phone and half a sheet of paper hold."""
Head = tuple[str, str, str, Markup, str, Markup, Markup, Markup, str]
"""What a station's row begins with: attributes for the script, label, address, name, dose, detail, first cue,
easier way, and the id of its still. All of it is ready for the page: what a coach wrote is escaped once a
station, not on every sheet."""
Headed = Callable[[PlannedStation, bool], Head]
"""Makes the head of a station; the second says whether its block is of straight sets."""
Row = tuple[str, str, str, Markup, str, Markup, Markup, Markup, str, Markup, tuple[str, ...]]
"""A station of the sheet: its head, the coach's line, and the clock times of its rounds, padded to the
table's columns."""
Says = Mapping[str, str]
"""Station label → the coach's line for it."""
NOTHING_SAID: Says = {}
WAY, SAYS = "Easier:", "Your coach says:"
"""What stands before an easier way and before a coach's line."""


class Table(NamedTuple):
    """A block of the sheet. `rounds` are numbered columns, less the number where there is only one.

    `number` counts the blocks of the session from 0, as the lines of the running order do; `aside` are those
    of warm-up and cool-down.
    """

    number: int
    kind: str
    mark: str
    title: str
    rounds: tuple[int, ...]
    column: str
    rows: tuple[Row, ...]
    first: bool
    aside: bool


Line = tuple[str, str, str, str, Markup, str]
"""A segment as the page's list holds it: start, length and further attributes for the script, and for people
the clock time, the words and how long it lasts. All of it is ready for the page, as in a row."""
Starts = dict[str, dict[int, Number]]
"""Station label → round → the second at which its work begins."""


@lru_cache(maxsize=4096)
def _pieces(
    label: str, name: Markup, dose: str, detail: Markup, cue: Markup, way: Markup, says: Markup
) -> tuple[Words, ...]:
    """The words of a row as they are set on paper."""
    return (
        Words(f"{label} {name.unescape()}", large=True, bold=True),
        Words(dose, large=True, whole=True),
        Words(detail.striptags(), large=False),
        Words(cue.unescape(), large=False, cue=True),
        Words(f"{SAYS} {says.unescape()}" if says else "", large=False, cue=True, bold=True),
        Words(f"{WAY} {way.unescape()}" if way else "", large=False, way=True),
    )


def grid(table: Table) -> Grid:
    """A table as it is set on paper."""
    title = f"{table.mark} {table.title}" if table.first else ""
    times = [time for row in table.rows for time in row[-1]]
    rows = tuple([_pieces(*row[1:2], *row[3:8], row[9]) for row in table.rows])
    return Grid(title, len(table.rounds), digits(times), rows, any(row[8] for row in table.rows), table.aside)


def tables(
    head: Headed, blocks: Sequence[PlannedBlock], segments: Iterable[Segment], before: int, says: Says
) -> Iterator[Table]:
    """Blocks with the segments of their running order; `before` is how many blocks stand above them."""
    starts = bout_starts(segments)
    seen: set[str] = set()
    for number, block in enumerate(blocks, before):
        mark = "" if block.label in seen else block.label
        seen.add(block.label)
        title = words.block_title(block)
        last = max([max(starts[station.label]) for station in block.stations if station.label in starts])
        column = "start" if last == 1 else "set" if block.kind == "straight sets" else "round"
        for first in range(1, last + 1, COLUMNS):
            rounds = tuple(range(first, min(first + COLUMNS, last + 1)))
            rows = tuple(_rows(head, block, rounds, starts, says))
            yield Table(
                number, block.kind, mark, title, rounds, column, rows, first == 1, block.section != "day"
            )


def _rows(
    head: Headed, block: PlannedBlock, rounds: Sequence[int], starts: Starts, says: Says
) -> Iterator[Row]:
    in_sets = block.kind == "straight sets"
    for station in block.stations:
        begins = starts.get(station.label, {})
        times = tuple([words.clock(begins[r]) if r in begins else "" for r in rounds])
        yield (*head(station, in_sets), escape(says.get(station.label, "")), times)


def bout_starts(segments: Iterable[Segment]) -> Starts:
    """When the first work segment of every bout begins."""
    starts: Starts = {}
    for start, _, kind, _, station, _, round_, _, _ in segments:
        if kind == "work" and station and round_:
            starts.setdefault(station, {}).setdefault(round_, start)
    return starts
