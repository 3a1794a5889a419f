"""The stations of a version as a table for spreadsheets: a row a station, a column a week.

Where levels differ there is a row a level. What varies by week in another column stands there week by week,
with a bar between.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from ..reading.amounts import OTHER
from ..reading.catalogue import VersionEntry
from ..reading.model import MEASURES

LEVEL = "level"
PLACE = ("day", "block", "station")
BLOCK = ("kind", "rounds", "changeover", "rest after")
STATION = ("exercise", "dose", "sets", "rest", "tempo", "takes", "load", "setting")
"""`rounds` has also the minutes or the length of a block by the clock; `rest` that between rounds too."""
BAR = " | "
TIMES = {"circuit": "rounds", "every minute": "minutes", "timed rounds": "lasts"}
"""Kind of a block → the key of how often or how long."""


def week_column(week: int) -> str:
    """The heading of a week, from 1."""
    return f"week {week}"


def as_table(version: VersionEntry) -> str:
    """The table of a version, as comma-separated values."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([*PLACE, LEVEL, *BLOCK, *STATION, *map(week_column, version.weeks)])
    writer.writerows(_rows(version))
    return text.getvalue()


def _rows(version: VersionEntry) -> Iterator[list[str]]:
    data: Any = version.document.data
    levels = [level.id for level in version.levels]
    for day in data["days"]:
        for letter, block in zip("ABCDEFGHIJKLMNOPQRSTUVWXYZ", day["blocks"], strict=False):
            for number, station in enumerate(block["stations"], 1):
                own = {level: _cells(block, station, level, version.weeks) for level in levels}
                place = [day["id"], letter, str(number)]
                if len({tuple(cells) for cells in own.values()}) == 1:
                    yield [*place, "", *own[levels[0]]]
                else:
                    yield from ([*place, level, *cells] for level, cells in own.items())


def _cells(block: Any, station: Any, level: str, weeks: range) -> list[str]:
    dose = next(key for key in MEASURES if key in station)
    whole = {
        **station,
        "kind": block["kind"],
        "dose": dose,
        "rounds": block.get(TIMES.get(block["kind"], "")),
    }
    whole |= {key: block.get(key) for key in ("changeover", "rest after")}
    if block["kind"] != "straight sets":
        whole["rest"] = block.get("rest")
    every = [[_at(whole.get(key), level, week) for week in weeks] for key in (*BLOCK, *STATION)]
    doses = [_at(station[dose], level, week) for week in weeks]
    return [*("" if one[0] is None else _by_week(one) for one in every), *map(_cell, doses)]


def _by_week(values: list[object]) -> str:
    cells = [_cell(value) for value in values]
    return cells[0] if len(set(cells)) == 1 else BAR.join(cells)


def _at(value: Any, level: str, week: int) -> object:
    """What a value of the file says for a level and a week."""
    if isinstance(value, dict):
        value = value[level] if level in value else value[OTHER]
    return value[week - 1] if isinstance(value, list) else value


def _cell(value: object) -> str:
    """A value so that no spreadsheet takes it for a formula; a range so that none takes it for a date."""
    text = " ".join(str(value).split())
    low, dash, high = text.partition("-")
    if dash and low.strip().isdigit() and high.strip().isdigit():
        return f"{low.strip()} to {high.strip()}"
    return f"'{text}" if text[:1] in tuple("=+-@'|") else text
