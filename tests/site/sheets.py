"""What a session page says in numbers: its list, its sheet of start times and its ribbon, read back."""

import re
from math import ceil
from typing import Any, NamedTuple
from xml.etree.ElementTree import Element

from .pages import Page, words


class Line(NamedTuple):
    """A line of the running order: seconds as the script reads them, and what people read."""

    start: float
    length: float
    kind: str
    text: str


class Bar(NamedTuple):
    """A bar of the ribbon, in its own units from its left end."""

    x: float
    width: float


RIBBON_WIDTH = 360
# A line along the middle of the bar, as thick as the bar is high.
_BAR = re.compile(r"M([\d.e-]+) 10h([\d.e-]+)")


def sessions(report: list[dict[str, Any]]) -> list[tuple[str, dict[str, Any]]]:
    """(version's address, session) of every session of a report."""
    return [(f"{v['programme']}/{v['version']}/", session) for v in report for session in v["sessions"]]


def address(top: str, session: dict[str, Any]) -> str:
    """Where the page of a session is; `top` is the address of its version."""
    return f"{top}{session['day']}/{session['level']}/week-{session['week']}/"


def minutes(seconds: float) -> int:
    """Whole minutes as pages tell them: begun ones count."""
    return ceil(seconds / 60)


def clock(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"


def seconds_of(text: str) -> float:
    """Seconds of `3 min`, `45 s`, `1 min 30 s`."""
    match = re.fullmatch(r"(?:(\d+) min)? ?(?:([\d.]+) s)?", text)
    assert match, f"{text!r} is no length"
    return int(match[1] or 0) * 60 + float(match[2] or 0)


def lines(page: Page) -> list[Line]:
    items = page.one("ol", "[data-order]")
    return [
        Line(float(item.attrib["data-s"]), float(item.attrib["data-l"]), item.attrib["data-k"], words(item))
        for item in items
    ]


def start_times(page: Page) -> dict[tuple[str, int], str]:
    """The clock times of the sheet by station and round; a cell without one is left out."""
    found: dict[tuple[str, int], str] = {}
    block = ""
    for table in page.all("table", "block"):
        marks = page.all("b", "mark", within=table)
        block = words(marks[0]) if marks else block
        rounds = [_round(words(head)) for head in page.one("thead", within=table)[0][1:]]
        for row in page.one("tbody", within=table):
            label = words(page.one("b", "n", within=row))
            station = f"{block} {label}" if label.isdigit() else label
            for round_, cell in zip(rounds, row[1:], strict=True):
                if words(cell):
                    assert (station, round_) not in found, f"{page.address}: {station} {round_} stands twice"
                    found[station, round_] = words(cell)
    return found


def _round(heading: str) -> int:
    match = re.fullmatch(r"(?:start|(?:set|round) (\d+))", heading)
    assert match, heading
    return int(match[1] or 1)


def told_minutes(text: str) -> int:
    """The minutes of `about 38 min`."""
    match = re.search(r"about (\d+) min", text)
    assert match, text
    return int(match[1])


def bars(page: Page, ribbon: Element, mark: str) -> list[Bar]:
    """The solid bars (`w`) or the hatched ones (`h`) of a ribbon."""
    found = []
    for path in page.all("path", mark, within=ribbon):
        drawn = path.attrib["d"]
        assert _BAR.sub("", drawn) == "", f"{drawn} is not made of bars"
        found += [Bar(float(x), float(width)) for x, width in _BAR.findall(drawn)]
    return sorted(found)


def frames(page: Page, ribbon: Element) -> list[Bar]:
    """The open frame of each block."""
    found = []
    for path in page.all("path", "o", within=ribbon):
        match = re.fullmatch(r"M([\d.e-]+) 0H([\d.e-]+)V20H([\d.e-]+)z", path.attrib["d"])
        assert match, path.attrib["d"]
        assert match[1] == match[3], path.attrib["d"]
        found.append(Bar(float(match[1]), float(match[2]) - float(match[1])))
    return found
