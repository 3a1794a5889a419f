"""A phase from a table of its stations; what is wrong is told by row and column."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from ..reading import amounts
from ..reading.amounts import AmountError
from ..reading.catalogue import ProgrammeEntry, VersionEntry
from ..reading.findings import listed, nearest, shown
from ..reading.model import MEASURES
from .programme import quoted
from .table import BAR, BLOCK, LEVEL, PLACE, STATION, TIMES, week_column

MOST_TOLD = 50
_NEEDED = (*PLACE, "kind", "exercise")
_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 .-]*(?<! )\Z")
_COMMA = re.compile(r"([0-9]),([0-9])")
Parser = Callable[[object], object]


class TableError(Exception):
    """What is wrong with a table, each with its row and column."""

    def __init__(self, faults: Sequence[str]) -> None:
        super().__init__("; ".join(faults))
        self.faults = list(faults)


@dataclass(slots=True)
class _Row:
    number: int
    cells: Mapping[str, str]

    def fault(self, column: str, what: str) -> str:
        """What is wrong with a cell."""
        return f"row {self.number}, {column}: {what}"


@dataclass(slots=True)
class _Made:
    """A file as it is written; which row each of its lines comes from."""

    lines: list[str] = field(default_factory=list)
    rows: dict[int, int] = field(default_factory=dict)

    def add(self, line: str, row: int = 0) -> None:
        """One line more."""
        self.lines.append(line)
        if row:
            self.rows[len(self.lines)] = row


_SCHEMA = "# yaml-language-server: $schema=../.schema/version.schema.json"


def phase_of_table(
    programme: ProgrammeEntry, source: VersionEntry, starts: date | None, content: bytes
) -> tuple[str, str, dict[int, int]]:
    """Name and text of a phase after all others, and the row of each line. Raises TableError."""
    number = 1 + max(one.phase for one in programme.versions)
    monday = starts or max(one.ends for one in programme.newest_editions()) + timedelta(days=1)
    return f"{number}.0.yaml", *phase_from_table(content, source, monday, _SCHEMA)


def phase_from_table(
    content: bytes, source: VersionEntry, starts: date, schema: str
) -> tuple[str, dict[int, int]]:
    """The text of a version with the stations of a table, and by line of it the row that it comes from.

    Days are those of `source` that the table names. Raises TableError.
    """
    rows, weeks = _read(content)
    faults: list[str] = []
    made = _Made([schema] if schema else [])
    model = source.model
    made.add(f"phase: {quoted(model.phase)}")
    made.add(f"aim: {quoted(model.aim)}")
    made.add(f"starts: {starts.isoformat()}")
    made.add(f"weeks: {weeks}")
    levels = [level.id for level in source.levels]
    made.add(f"levels: [{', '.join(levels)}]")
    if model.match_days:
        made.add(f"match days: [{', '.join(model.match_days)}]")
    made.add("days:")
    known = {day.id: day for day in model.days}
    for row in rows:
        if row.cells["day"] not in known:
            hint = nearest(row.cells["day"], known)
            faults.append(
                row.fault("day", f"unknown day {shown(row.cells['day'])}, allowed {listed(known)}; {hint}")
            )
    if faults:
        raise TableError(faults[:MOST_TOLD])
    for day, of_day in _grouped(rows, "day").items():
        own = known[day]
        made.add(f"  - id: {day}")
        made.add(f"    title: {quoted(own.title)}")
        made.add(f"    on: [{', '.join(' or '.join(choice) for choice in own.on)}]")
        made.add(f"    warm-up: {own.warm_up}")
        if own.cool_down:
            made.add(f"    cool-down: {own.cool_down}")
        made.add("    blocks:")
        for of_block in _grouped(of_day, "block").values():
            _block(made, of_block, levels, weeks, faults)
    if faults:
        raise TableError(faults[:MOST_TOLD])
    return "\n".join(made.lines) + "\n", made.rows


def _read(content: bytes) -> tuple[list[_Row], int]:
    """The rows by heading, and how many weeks there are."""
    text = _decoded(content).replace("\ufeff", "")
    first = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=first.count)
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error as error:
        raise TableError([f"no table of comma-separated values: {error}"]) from None
    heads = [" ".join(head.casefold().split()) for head in lines[0]] if lines else []
    missing = [name for name in (*_NEEDED, week_column(1)) if name not in heads]
    if missing:
        raise TableError(
            [f"row 1: no column {listed(missing, 'and')}; report --table writes a table with all of them"]
        )
    allowed = {*PLACE, LEVEL, *BLOCK, *STATION, *(week_column(week) for week in range(1, 53))}
    unknown = [head for head in heads if head and head not in allowed]
    if unknown:
        raise TableError(
            [f"row 1: unknown column {shown(head)}; {nearest(head, allowed)}" for head in unknown]
        )
    weeks = sum(head.startswith("week ") for head in heads)
    if any(week_column(week) not in heads for week in range(1, weeks + 1)):
        raise TableError(["row 1: the columns of weeks are not week 1, week 2 and so on, each once"])
    rows = [
        _Row(
            number,
            {head: _value(cell) for head, cell in zip(heads, [*line, *[""] * len(heads)], strict=False)},
        )
        for number, line in enumerate(lines[1:], 2)
        if any(cell.strip() for cell in line)
    ]
    if not rows:
        raise TableError(["row 2: no station below the headings"])
    return rows, weeks


def _decoded(content: bytes) -> str:
    """The text, as spreadsheets of any country save it."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", "replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def _value(cell: str) -> str:
    text = " ".join(cell.split())
    return text[1:] if text[:1] == "'" and text[1:2] in tuple("=+-@'|") else text


def _grouped(rows: Sequence[_Row], column: str) -> dict[str, list[_Row]]:
    found: dict[str, list[_Row]] = {}
    for row in rows:
        found.setdefault(row.cells[column], []).append(row)
    return found


def _block(made: _Made, rows: Sequence[_Row], levels: Sequence[str], weeks: int, faults: list[str]) -> None:
    kind = rows[0].cells["kind"]
    for row in rows:
        if row.cells["kind"] != kind:
            faults.append(
                row.fault(
                    "kind", f"found {shown(row.cells['kind'])}, and row {rows[0].number} has {shown(kind)}"
                )
            )
    made.add(f"      - kind: {kind}", rows[0].number)
    in_sets = kind == "straight sets"
    own = [(TIMES.get(kind, "rounds"), "rounds"), ("changeover", "changeover"), ("rest after", "rest after")]
    for key, column in own if in_sets else [*own, ("rest", "rest")]:
        _of_one_mind(rows, column, faults)
        if any(row.cells.get(column) for row in rows):
            made.add(
                f"        {key}: {_amount(rows, column, _PARSERS[key], levels, weeks, faults)}",
                rows[0].number,
            )
    made.add("        stations:")
    for of_station in _grouped(rows, "station").values():
        _station(made, of_station, in_sets, levels, weeks, faults)


def _of_one_mind(rows: Sequence[_Row], column: str, faults: list[str]) -> None:
    """What belongs to a block stands in each of its rows, and is the same in all those of a level."""
    first: dict[str, _Row] = {}
    for row in rows:
        other = first.setdefault(row.cells.get(LEVEL, ""), row)
        if row.cells.get(column, "") != other.cells.get(column, ""):
            theirs = shown(other.cells.get(column, ""))
            told = (
                f"found {shown(row.cells.get(column, ''))}, and row {other.number} of the same block has "
                f"{theirs}"
            )
            faults.append(row.fault(column, told))


def _station(
    made: _Made, rows: Sequence[_Row], in_sets: bool, levels: Sequence[str], weeks: int, faults: list[str]
) -> None:
    parts = [f"exercise: {_amount(rows, 'exercise', str, levels, weeks, faults)}"]
    for key in ("sets", "rest") if in_sets else ():
        if any(row.cells.get(key) for row in rows):
            parts.append(f"{key}: {_amount(rows, key, _PARSERS[key], levels, weeks, faults)}")
    dose = rows[0].cells.get("dose") or _measure(rows[0].cells[week_column(1)])
    if dose not in MEASURES:
        faults.append(rows[0].fault("dose", f"found {shown(dose)}, allowed {listed(MEASURES)}"))
        return
    parts.append(f"{dose}: {_doses(rows, _PARSERS[dose], levels, weeks, faults)}")
    for key in ("takes", "tempo", "load", "setting"):
        if any(row.cells.get(key) for row in rows):
            parts.append(f"{key}: {_amount(rows, key, _PARSERS[key], levels, weeks, faults)}")
    made.add(f"          - {{{', '.join(parts)}}}", rows[0].number)


def _measure(cell: str) -> str:
    """The dose that a cell is likely to be, where no column says it."""
    if cell.endswith(" m"):
        return "distance"
    return "hold" if re.search("s$|min$|:", cell) else "reps"


def _doses(rows: Sequence[_Row], parse: Parser, levels: Sequence[str], weeks: int, faults: list[str]) -> str:
    columns = [week_column(week) for week in range(1, weeks + 1)]
    by_level = {}
    for level, row in _by_level(rows, levels, faults).items():
        by_level[level] = [_parsed(row, column, row.cells[column], parse, faults) for column in columns]
    return _written(by_level)


def _amount(
    rows: Sequence[_Row], column: str, parse: Parser, levels: Sequence[str], weeks: int, faults: list[str]
) -> str:
    by_level = {}
    for level, row in _by_level(rows, levels, faults).items():
        cells = row.cells.get(column, "").split(BAR.strip())
        if len(cells) not in (1, weeks):
            faults.append(
                row.fault(column, f"{len(cells)} entries between bars, allowed one, or {weeks}: one a week")
            )
            continue
        by_level[level] = [_parsed(row, column, cell.strip(), parse, faults) for cell in cells] * (
            weeks // len(cells)
        )
    return _written(by_level)


def _by_level(rows: Sequence[_Row], levels: Sequence[str], faults: list[str]) -> dict[str, _Row]:
    """The row of each level: its own, else the one that names none."""
    found: dict[str, _Row] = {}
    for row in rows:
        level = row.cells.get(LEVEL, "")
        if level and level not in levels:
            told = row.fault(
                LEVEL, f"unknown level {shown(level)}, allowed {listed(levels)}; {nearest(level, levels)}"
            )
            faults += [told] if told not in faults else []
        found.setdefault(level, row)
    missing = [level for level in levels if level not in found and "" not in found]
    if missing:
        told = rows[0].fault(LEVEL, f"no row of this station for {listed(missing, 'and')}")
        faults += [told] if told not in faults else []
    return {level: found.get(level) or found[""] for level in levels if level in found or "" in found}


def _parsed(row: _Row, column: str, cell: str, parse: Parser, faults: list[str]) -> str:
    """The cell as the file has it; a decimal comma becomes a point."""
    text = _COMMA.sub(r"\1.\2", cell) if parse not in (str, _PARSERS["setting"]) else cell
    text = re.sub(r"\A([0-9]+) to ([0-9]+)\Z", r"\1-\2", text)
    if not text:
        told = row.fault(column, "empty; an amount of 0 leaves a station out")
        faults += [told] if told not in faults else []
        return ""
    try:
        parse(int(text) if re.fullmatch("[0-9]{1,6}", text) else text)
    except AmountError as error:
        told = row.fault(column, f"{error.message}; {error.hint}")
        faults += [told] if told not in faults else []
    return text if _PLAIN.match(text) else quoted(text)


def _written(by_level: Mapping[str, Sequence[str]]) -> str:
    """One amount, a list by week, or a map of these by level."""
    rows = {
        level: cells[0] if len(set(cells)) == 1 else f"[{', '.join(cells)}]"
        for level, cells in by_level.items()
    }
    if len(set(rows.values())) == 1:
        return next(iter(rows.values()))
    return f"{{{', '.join(f'{level}: {cells}' for level, cells in rows.items())}}}"


def _count(most: int, what: str) -> Parser:
    return amounts.count(0, most, f"a whole number of {what}")


_PARSERS: dict[str, Parser] = {
    "rounds": _count(50, "rounds"),
    "minutes": _count(240, "minutes"),
    "sets": _count(50, "sets"),
    "reps": amounts.reps,
    "distance": amounts.distance,
    "tempo": amounts.tempo,
    "load": amounts.mass,
    "setting": lambda text: text,
    **dict.fromkeys(("lasts", "hold", "work", "takes", "rest", "changeover", "rest after"), amounts.duration),
}
