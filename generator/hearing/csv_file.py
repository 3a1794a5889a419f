"""Tables of a log: the CSV of the page Your log, whatever spreadsheet has saved it again, and the paper template."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from . import cells, form
from .cells import UnsureError

AGAIN = "Mend it there, or save the file again."
_FORMULA = re.compile("^'* *[=+\\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
"""What the page writes an apostrophe before, as in js/log/csv.js."""
_MOST_CELL = 1_000_000
Known = Callable[[str], Iterable[str]]
"""The names of the versions of a programme."""


class Row(NamedTuple):
    """A row of a table: the line where it begins, from 1, and its cells."""

    line: int
    cells: list[str]


class Wrong(NamedTuple):
    """What is wrong in a line, and whether the line was used all the same."""

    line: int
    message: str


class BrokenTableError(Exception):
    """A table that cannot be read any further; the text says where."""


def rows(text: str) -> Iterator[Row]:
    """The rows that are not empty, parted by what stands most often in the first. Raises BrokenTableError."""
    csv.field_size_limit(_MOST_CELL)
    first = re.split(r"[\r\n]", text, maxsplit=1)[0]
    mark = max(",;\t", key=first.count)
    found = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    line = 1
    try:
        for row in found:
            if any(row):
                yield Row(line, [_plain(cell) for cell in row])
            line = found.line_num + 1
    except csv.Error as error:
        raise BrokenTableError(f"the table is damaged in line {line} ({error})") from None


def _plain(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell


SESSION: dict[str, tuple[str, str]] = {
    "session": ("id", "text"),
    "title": ("title", "text"),
    "programme": ("programme", "text"),
    "version": ("version", "version"),
    "plan": ("plan", "text"),
    "day": ("day", "text"),
    "level": ("level", "text"),
    "week": ("week", "number"),
    "address": ("address", "text"),
    "planned seconds": ("planned", "number"),
    "started": ("started", "moment"),
    "ended": ("ended", "moment"),
    "trained seconds": ("seconds", "number"),
    "effort": ("effort", "number"),
    "note": ("note", "text"),
    "minutes from UTC": ("utc", "number"),
}
"""Columns of a session: the key of the record, and how the cell is read."""
STATIONS: dict[str, tuple[str, str]] = {
    "station": ("label", "text"),
    "exercise": ("exercise", "text"),
    "name": ("name", "text"),
    "round": ("round", "number"),
    "dose": ("dose", "text"),
    "reps": ("reps", "number"),
    "easier way": ("way", "text"),
}
REPORTS: dict[str, tuple[str, str]] = {
    "station": ("station", "text"),
    "where": ("where", "text"),
    "stopped because": ("why", "text"),
    "said": ("note", "text"),
    "stopped at": ("time", "moment"),
}
"""Columns of a stop, which has a row of its own."""
FORM_COLUMN = "log format"
_NEW = {"minutes from UTC", "where", "stopped because", "said", "stopped at"}
_LOST = "\ufffd"


class Table:
    """Records out of the rows of a log's table. Of a session every row has to say the same."""

    def __init__(self, head: Row, body: Iterable[Row], known: Known) -> None:
        self._place = {heading.strip(): at for at, heading in enumerate(head.cells)}
        self._body = list(body)
        self._known = known
        self._orders = {
            heading: cells.order_of(self._cell(row, heading) for row in self._body)
            for heading in ("started", "ended", "stopped at")
        }
        self.wrong: list[Wrong] = []
        self._lines: dict[str, int] = {}

    @staticmethod
    def missing(head: Row) -> list[str]:
        """The columns that a log of any form has and this table has not."""
        there = {heading.strip() for heading in head.cells}
        return [one for one in (FORM_COLUMN, *SESSION, *STATIONS) if one not in there | _NEW]

    def _cell(self, row: Row, heading: str) -> str:
        at = self._place.get(heading)
        return row.cells[at] if at is not None and at < len(row.cells) else ""

    def records(self) -> dict[str, dict[str, Any]]:
        """Every session by its id as a record's plain data; what is wrong is in `wrong`."""
        found: dict[str, dict[str, Any]] = {}
        spoiled: set[str] = set()
        for row in self._body:
            if self._cell(row, "session") in spoiled:
                continue
            try:
                self._take(row, found)
            except UnsureError as error:
                self.wrong.append(Wrong(row.line, str(error)))
                if not self._is_of_station(row, str(error)):
                    spoiled.add(self._cell(row, "session"))
        return {name: record for name, record in found.items() if name not in spoiled}

    @staticmethod
    def _is_of_station(row: Row, message: str) -> bool:
        """Whether one set is lost and not its session."""
        return any(f'column "{heading}"' in message for heading in (*STATIONS, *REPORTS))

    def line(self, session: str) -> int:
        """Where a session stands first."""
        return self._lines[session]

    def _take(self, row: Row, found: dict[str, dict[str, Any]]) -> None:
        of = self._read(row, FORM_COLUMN, "number")
        if of not in form.FORMS:
            raise UnsureError(self._at(row, FORM_COLUMN, f"{cells.quoted(self._cell(row, FORM_COLUMN))} is not 1 or 2"))
        session = self._values(row, SESSION, form.RECORD)
        before = found.get(session["id"])
        if before is None:
            self._lines[session["id"]] = row.line
            before = found[session["id"]] = {"v": of, **session, "stations": [], "reports": []}
        else:
            self._agree(row, before, session)
        if self._cell(row, "stopped because").strip():
            before["reports"].append(self._values(row, REPORTS, form.REPORT))
        elif any(self._cell(row, heading) for heading in STATIONS):
            before["stations"].append(self._values(row, STATIONS, form.STATION))
        if _LOST in "".join(row.cells):
            self.wrong.append(Wrong(row.line, f"line {row.line}: letters that are not UTF-8 are lost; the rest is used"))

    def _values(
        self, row: Row, columns: Mapping[str, tuple[str, str]], keys: Mapping[str, form.Kind]
    ) -> dict[str, Any]:
        values = {}
        for heading, (key, kind) in columns.items():
            value = values[key] = self._read(row, heading, kind)
            if not keys[key].fits(value):
                told = f"{cells.quoted(self._cell(row, heading))} is not {keys[key].words}"
                raise UnsureError(self._at(row, heading, told))
        return values

    def _read(self, row: Row, heading: str, kind: str) -> Any:
        cell = self._cell(row, heading)
        try:
            if kind == "number":
                return cells.number(cell)
            if kind == "moment":
                return cells.moment(cell, self._orders[heading])
            if kind == "version":
                address, programme = self._cell(row, "address"), self._cell(row, "programme")
                return cells.version(cell, address, self._known(programme))
        except UnsureError as error:
            raise UnsureError(self._at(row, heading, str(error))) from None
        return cell

    @staticmethod
    def _at(row: Row, heading: str, told: str) -> str:
        return f'line {row.line}, column "{heading}": {told}. {AGAIN}'

    def _agree(self, row: Row, before: Mapping[str, Any], session: Mapping[str, Any]) -> None:
        for heading, (key, _) in SESSION.items():
            if before[key] != session[key]:
                first = self._lines[session["id"]]
                raise UnsureError(
                    self._at(row, heading, f"it differs from line {first}, which is of the same session")
                )
