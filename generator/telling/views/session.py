"""The session page: the printable timer, and the list that a guided session reads."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape as escape_attribute
from itertools import groupby
from operator import attrgetter

from ...computing.facts import ComputedSession
from ...drawing.ribbon import end, ribbon
from ...reading.catalogue import VersionEntry
from ...reading.model import Day
from . import words
from .coach import CoachLines
from .sheet import Notes, heading
from .sheet_tables import SAYS, Line, Table
from .sheet_words import Opening, SheetWords, Way


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionPage:
    """One level, one week of one day. `tables` and `lines` go on where `opening` ends.

    `size` is the class of the type in which it is printed, `says` the coach's line for the day.
    """

    size: str
    day: str
    title: str
    level: str
    week: int
    trained: bool
    takes: str
    says: str
    ribbon: str
    opening: Opening
    tables: tuple[Table, ...]
    lines: tuple[Line, ...]
    ways: tuple[Way, ...]


def session_page(
    sheet_words: SheetWords, version: VersionEntry, day: Day, facts: ComputedSession, drawn: str, notes: Notes
) -> SessionPage:
    """The finished words of a session page; `drawn` is its ribbon, `notes` what else stands above it."""
    blocks, segments, numbers = facts.plan.blocks, facts.order.segments, facts.order.block_numbers
    warm_up = tuple([block for block in blocks if block.section == "warm-up"])
    begins = sum([segment.block == "warm-up" for segment in segments])
    lines = CoachLines(sheet_words.site, day)
    of_day, says = lines.of_day(facts.plan), lines.of_stations(facts.plan)
    opening = sheet_words.opening(warm_up, segments[:begins], numbers[:begins], says)
    tables = sheet_words.tables(blocks[len(warm_up) :], segments[begins:], len(warm_up), says)
    level = next(level.name for level in version.levels if level.id == facts.plan.level)
    seconds = facts.order.seconds
    takes = words.without_timer([seconds], [facts.order.by_hand]) if seconds else ""
    head = heading(sheet_words.site, version, day, f"{level}, week {facts.plan.week}", takes)
    return SessionPage(
        size=sheet_words.size(
            head, notes._replace(says=f"{SAYS} {of_day}" if of_day else ""), (*opening.tables, *tables)
        ),
        says=of_day,
        day=day.id,
        title=day.title,
        level=level,
        week=facts.plan.week,
        trained=facts.plan.is_trained,
        takes=takes,
        ribbon=drawn,
        opening=opening,
        tables=tables,
        lines=sheet_words.lines(segments[begins:], numbers[begins:]),
        ways=sheet_words.ways(facts.plan.stations),
    )


def session_ribbon(facts: ComputedSession) -> str:
    """The ribbon of a session, with its blocks' minutes in words."""
    holds = frozenset([s.label for s in facts.plan.stations if s.measure == "hold"])
    blocks = [(name, list(group)) for name, group in groupby(facts.order.segments, key=attrgetter("block"))]
    lengths = [f"{name} {words.lasting(end(own) - own[0].start)}" for name, own in blocks]
    label = escape_attribute(f"Session to scale: {', '.join(lengths)}")
    return ribbon(blocks, holds, label)
