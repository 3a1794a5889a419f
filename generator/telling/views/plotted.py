"""What the plots of one level are made of: its sessions and weeks, and a plot with the table behind it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import ceil

from markupsafe import Markup

from ...computing.facts import ComputedSession, VersionFacts
from ...computing.weeks import WeekTotals
from ...judging.limits import BEGINNER_START_CONTACTS, MOST_CONTACTS
from ...reading.amounts import Number
from ...reading.model import Day, Level
from . import words

Cell = tuple[str, bool]
"""Words, and whether what they say is outside its line."""
NamedRow = tuple[str, tuple[Cell, ...]]
NONE: Cell = ("–", False)
NO_LIMIT = "The programme sets no limit for it."


@dataclass(frozen=True, slots=True)
class Table:
    """The numbers behind a plot: heads of the columns, and rows of a name and its cells."""

    heads: tuple[str, ...]
    rows: tuple[NamedRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """Pictures of one subject, each with the words above it, and their numbers."""

    title: str
    says: str
    pictures: tuple[tuple[str, Markup], ...]
    table: Table


@dataclass(frozen=True)
class OneLevel:
    """What one level does in a version."""

    facts: VersionFacts
    level: Level

    @cached_property
    def days(self) -> list[tuple[Day, list[ComputedSession | None]]]:
        """The days with the sessions of their weeks, None where nothing is trained."""
        own = {(s.plan.day, s.plan.week): s for s in self.facts.trained if s.plan.level == self.level.id}
        days = self.facts.version.model.days
        return [(day, [own.get((day.id, week)) for week in self.facts.version.weeks]) for day in days]

    @property
    def sessions(self) -> list[ComputedSession]:
        """All sessions that are trained."""
        return [one for _, weeks in self.days for one in weeks if one]

    @property
    def weeks(self) -> tuple[WeekTotals, ...]:
        """The totals of its weeks."""
        return self.facts.weeks[self.level.id]

    @property
    def longest(self) -> Number | None:
        """The programme's limit for a session, in seconds."""
        return self.facts.programme.model.limits.session

    @property
    def step(self) -> Number | None:
        """The programme's limit for a step from week to week, in per cent."""
        return self.facts.programme.model.limits.week_step

    @property
    def landing_lines(self) -> list[tuple[int, str]]:
        """Landings in a session that are published for the level's experience: the most first, with names."""
        experience = self.level.experience
        lines = [(MOST_CONTACTS[experience], "to")]
        return [*lines, (BEGINNER_START_CONTACTS, "start")] if experience == "beginner" else lines

    def is_long(self, seconds: Number) -> bool:
        """Whether a session is over the programme's limit."""
        return self.longest is not None and seconds > self.longest

    def lands_much(self, contacts: int) -> bool:
        """Whether a session has more landings than the lowest line."""
        return contacts > self.landing_lines[-1][0]

    def table(self, of: str, rows: Iterable[NamedRow]) -> Table:
        """Rows by week."""
        return Table((f"{of}, week", *map(str, self.facts.version.weeks)), tuple(rows))


def listed_cells(cells: Iterable[Cell]) -> str:
    """For those who cannot see a plot: its numbers, and which of them are outside."""
    return ", ".join(f"{text or '–'}{' (outside)' if outside else ''}" for text, outside in cells)


def of_a_day(day: Day, svg: str) -> tuple[str, Markup]:
    """A picture below the day's title. It is our own drawing, without a word of an author's."""
    return f"{day.title} ({words.weekdays(day.on)})", Markup(svg)


def alone(svg: str) -> tuple[str, Markup]:
    """A picture that needs no words above it."""
    return "", Markup(svg)


def whole_minutes(seconds: Number) -> str:
    """Rounded up, as on every other page."""
    return str(ceil(seconds / 60))
