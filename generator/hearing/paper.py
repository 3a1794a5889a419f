"""The template for those who train from paper: a row a session to fill in, and how it is read back."""

from __future__ import annotations

import csv
import hashlib
import io
import re
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any, NamedTuple

from ..reading.amounts import Number
from . import cells, form
from .cells import UnsureError
from .csv_file import Known, Row, Wrong
from .log import Paper, Session, Stop

GIVEN = ("programme", "version", "plan", "day", "title", "level", "week", "planned minutes", "planned sets")
FILLED = ("date", "minutes", "effort", "sets", "left out", "easier", "hurts", "note")
MARK = "left out"
"""A column that a log of the page has not, and that says that a table is of paper."""
_LABEL = re.compile(r"[A-Z]\d{1,2}")
_NOON = 12 * 3_600_000


class PaperRow(NamedTuple):
    """A session of the plan for the template. `sets` are those of the day's own blocks."""

    programme: str
    version: str
    plan: str
    day: str
    title: str
    level: str
    week: int
    seconds: Number
    sets: int


def template(sessions: Iterable[PaperRow]) -> str:
    """The template as CSV; a spreadsheet opens it, and a row without a date stands for nothing."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([*GIVEN, *FILLED])
    for one in sessions:
        minutes = round(float(one.seconds) / 60)
        # Spreadsheets take a cell that begins with such a sign for a formula; an apostrophe makes it text.
        title = f"'{one.title}" if one.title[0] in "=+-@" else one.title
        given = (one.programme, one.version, one.plan, one.day, title, one.level, one.week)
        writer.writerow([*given, minutes, one.sets, *[""] * len(FILLED)])
    # The mark tells spreadsheets that it is UTF-8.
    return f"\ufeff{out.getvalue()}"


class PaperTable:
    """Sessions out of the rows of a template that was filled in by an athlete of this name."""

    def __init__(self, head: Row, body: Iterable[Row], known: Known, athlete: str) -> None:
        self._place = {heading.strip(): at for at, heading in enumerate(head.cells)}
        self._body = list(body)
        self._known = known
        self._athlete = athlete
        self._order = cells.order_of(self._cell(row, "date") for row in self._body)
        self.wrong: list[Wrong] = []

    @staticmethod
    def missing(head: Row) -> list[str]:
        """The columns of the template that this table has not."""
        there = {heading.strip() for heading in head.cells}
        return [one for one in (*GIVEN, *FILLED) if one not in there]

    def sessions(self) -> list[tuple[int, Session]]:
        """Every row with a date, with its line; what is wrong is in `wrong`."""
        found = []
        for row in self._body:
            filled = [heading for heading in FILLED if self._cell(row, heading).strip()]
            if not filled:
                continue
            try:
                found.append((row.line, self._session(row)))
            except UnsureError as error:
                self.wrong.append(Wrong(row.line, str(error)))
        return found

    def _session(self, row: Row) -> Session:
        date = self._read(row, "date", lambda cell: cells.day(cell, self._order))
        seconds = self._amount(row, "minutes", form.AMOUNT)
        week = self._amount(row, "week", form.COUNT)
        given = {name: self._cell(row, name).strip() for name in GIVEN}
        version = self._read(
            row, "version", lambda cell: cells.version(cell, "", self._known(given["programme"]))
        )
        hurts = self._cell(row, "hurts").strip()
        # Noon in Greenwich with no minutes from there: the date is what was written, wherever it is read.
        started = datetime(date.year, date.month, date.day, tzinfo=UTC).timestamp() * 1000 + _NOON
        key = "\n".join([self._athlete, *given.values(), str(date), str(row.line)])
        return Session(
            id=f"paper-{hashlib.sha256(key.encode('utf-8', 'replace')).hexdigest()[:24]}",
            address="",
            programme=given["programme"],
            version=version,
            plan=given["plan"],
            day=given["day"],
            level=given["level"],
            week=int(week or 0),
            started=started,
            ended=None,
            seconds=None if seconds is None else seconds * 60,
            effort=self._amount(row, "effort", form.EFFORT),
            note=self._cell(row, "note"),
            utc=0,
            bouts=(),
            stops=(Stop("", hurts, form.HURTS, "", None),) if hurts else (),
            paper=Paper(self._amount(row, "sets", form.COUNT), *self._labels(row)),
        )

    def _labels(self, row: Row) -> tuple[frozenset[str], frozenset[str]]:
        left_out, easier = (
            frozenset(_LABEL.findall(self._cell(row, heading).upper())) for heading in ("left out", "easier")
        )
        return left_out, easier

    def _amount(self, row: Row, heading: str, kind: form.Kind) -> Any:
        value = self._read(row, heading, cells.number)
        if value is not None and not kind.fits(value):
            told = f"{cells.quoted(self._cell(row, heading))} is not {kind.words}"
            raise UnsureError(f'line {row.line}, column "{heading}": {told}')
        return value

    def _read(self, row: Row, heading: str, read: cells.Read) -> Any:
        try:
            return read(self._cell(row, heading))
        except UnsureError as error:
            raise UnsureError(f'line {row.line}, column "{heading}": {error}') from None

    def _cell(self, row: Row, heading: str) -> str:
        at = self._place.get(heading)
        return row.cells[at] if at is not None and at < len(row.cells) else ""
