"""The files that athletes send: which there are, whose they are, and the sessions that can be read of them."""

from __future__ import annotations

import codecs
import csv
import io
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from . import json_file
from .csv_file import BrokenTableError, Known, Table, rows
from .log import Reader, Session
from .paper import MARK, PaperTable

MOST_BYTES = 64_000_000
"""Of one file: three years of one athlete are about 2 MB. Above that it is not opened."""
_MOST_FAULTS = 50
"""Faults told of one file; how many more there are is told too."""
_MARKS = {
    codecs.BOM_UTF8: "utf-8-sig",
    codecs.BOM_UTF32_LE: "utf-32",
    codecs.BOM_UTF16_LE: "utf-16",
    codecs.BOM_UTF16_BE: "utf-16",
}


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong: `record` is the number of a session in JSON or of a line in a table, or None for the file."""

    record: int | None
    message: str


@dataclass(slots=True)
class LogFile:
    """One file as it was read. `sessions` are with the number of their record or line."""

    path: Path
    name: str
    athlete: str
    sessions: list[tuple[int, Session]] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    more: int = 0
    """Faults beyond those that are told."""

    def tell(self, record: int | None, message: str) -> None:
        """Note a fault, up to so many."""
        if len(self.faults) < _MOST_FAULTS:
            self.faults.append(Fault(record, message))
        else:
            self.more += 1


class NoNamesError(Exception):
    """The table of names cannot be read; the text says why, without a name in it."""


def names_of(path: Path) -> dict[str, str]:
    """Names of athletes by the names of their files, from a table with two columns. Raises NoNamesError."""
    try:
        text = path.read_bytes().decode("utf-8-sig")
        table = [row for row in csv.reader(io.StringIO(text, newline=""), delimiter=_mark(text)) if any(row)]
    except OSError as error:
        raise NoNamesError(f"it cannot be opened: {error.strerror}") from None
    except UnicodeDecodeError:
        raise NoNamesError("it is not UTF-8 text; save it as CSV in UTF-8") from None
    except csv.Error:
        raise NoNamesError("it is not a table of values with commas between them") from None
    found = {}
    for number, row in enumerate(table, 1):
        if len(row) < 2 or not (row[0].strip() and row[1].strip()):
            raise NoNamesError(f"row {number} has not two cells, a file and a name")
        if number > 1 or [cell.strip().lower() for cell in row[:2]] != ["file", "name"]:
            found[row[0].strip()] = row[1].strip()
    return found


def _mark(text: str) -> str:
    return ";" if text.count(";") > text.count(",") else ","


def paths_in(given: Iterable[Path], leave_out: Iterable[Path] = ()) -> Iterator[tuple[Path, str]]:
    """Every file of files and folders once, with its name below what was given; hidden ones are left out."""
    seen = {os.path.realpath(path) for path in leave_out}
    for one in given:
        for path, name in _below(one):
            real = os.path.realpath(path)
            if real not in seen:
                seen.add(real)
                yield path, name


def _below(one: Path) -> Iterator[tuple[Path, str]]:
    if not one.is_dir():
        yield one, one.name
        return
    for folder, folders, names in os.walk(one):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            path = Path(folder, name)
            if not name.startswith(".") and path.is_file():
                yield path, path.relative_to(one).as_posix()


def athlete_of(name: str, names: Mapping[str, str]) -> str:
    """Whose a file is: as the table of names says, else its own name up to the first dot."""
    last = name.rsplit("/", 1)[-1]
    stem = last.partition(".")[0]
    for key in (name, last, stem):
        if key in names:
            return names[key]
    return stem or last


class Readers:
    """Reads files; what several of them say alike is kept once."""

    def __init__(self, known: Known, names: Mapping[str, str]) -> None:
        """`known` gives the names of a programme's versions."""
        self._reader = Reader()
        self._known = known
        self._names = names

    def read(self, path: Path, name: str) -> LogFile:
        """A file with its sessions and faults. Never raises for what it holds."""
        file = LogFile(path, name, athlete_of(name, self._names))
        try:
            size = path.stat().st_size
            if size > MOST_BYTES:
                most = f"allowed are {MOST_BYTES // 10**6}"
                file.tell(None, f"the file has {size // 10**6} MB, {most}: it is no log of one athlete")
                return file
            content = path.read_bytes()
        except OSError as error:
            file.tell(None, f"the file cannot be opened: {error.strerror}")
            return file
        text = _decoded(content, file)
        del content
        if text.lstrip(" \t\r\n")[:1] in ("{", "["):
            self._json(text, file)
        else:
            self._table(text, file)
        return file

    def _json(self, text: str, file: LogFile) -> None:
        found: list[tuple[int, Session]] = []
        try:
            for number, record in enumerate(json_file.records(text), 1):
                if isinstance(record, json_file.Broken):
                    file.tell(None, record.message)
                    continue
                session = self._reader.read(record)
                if isinstance(session, str):
                    file.tell(number, f"session {number} of the file: {session}. Save the file again")
                else:
                    found.append((number, session))
        except json_file.NotALogError as error:
            file.faults, file.more = [], 0
            file.tell(None, str(error))
            return
        file.sessions = found

    def _table(self, text: str, file: LogFile) -> None:
        read = []
        try:
            for row in rows(text):
                read.append(row)
        except BrokenTableError as error:
            file.tell(None, f"{error}; the rows before it are used")
        if not read:
            file.tell(None, "the file is empty" if not text.strip() else json_file.NO_LOG)
            return
        head, body = read[0], read[1:]
        is_paper = MARK in [cell.strip() for cell in head.cells]
        missing = (PaperTable if is_paper else Table).missing(head)
        if len(missing) > 8:
            file.tell(None, json_file.NO_LOG)
        elif missing:
            columns = '", "'.join(missing)
            file.tell(head.line, f'line {head.line}: there is no column "{columns}". Save the file again')
        elif is_paper:
            paper = PaperTable(head, body, self._known, file.athlete)
            file.sessions = paper.sessions()
            self._tell_all(file, paper)
        else:
            table = Table(head, body, self._known)
            for name, record in table.records().items():
                session = self._reader.read(record)
                if isinstance(session, str):
                    file.tell(table.line(name), f"line {table.line(name)}: {session}")
                else:
                    file.sessions.append((table.line(name), session))
            self._tell_all(file, table)

    @staticmethod
    def _tell_all(file: LogFile, table: Table | PaperTable) -> None:
        for line, message in table.wrong:
            file.tell(line, message)


def _decoded(content: bytes, file: LogFile) -> str:
    """The text of a file. Letters that are no UTF-8 are lost, and told, as the numbers are sure all the same."""
    encoding = next((name for mark, name in _MARKS.items() if content.startswith(mark)), "utf-8")
    try:
        return content.decode(encoding).lstrip("\ufeff")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        file.tell(None, f"the file is not UTF-8 text (line {line}): letters beyond English are lost. Save it in UTF-8")
        return content.decode(encoding, "replace").lstrip("\ufeff")


Progress = Callable[[int, int], None]
