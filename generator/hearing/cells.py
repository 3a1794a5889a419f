"""Cells of a table as spreadsheets save them again: read where that is sure, else it is said why not.

A spreadsheet may turn `1.0` into `1`, a decimal point into a comma and a date into its own form.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import UTC, date, datetime, timedelta
from typing import Any

from ..reading.escaping import printable

_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d{1,3})?")
_ISO = re.compile(
    r"(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,](\d{1,9}))?)?)?\s*(Z|[+-]\d\d:?\d\d)?"
)
_LOCAL = re.compile(
    r"(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})"
    r"(?:,? +(\d{1,2}):(\d\d)(?::(\d\d)(?:[.,]\d+)?)?(?: ?([AaPp])\.?[Mm]\.?)?)?"
)
_MOST = 40
"""Characters of a cell that a message quotes."""


class UnsureError(ValueError):
    """A cell that may mean more than one thing, or nothing: in words."""


def quoted(cell: str) -> str:
    """A cell in a message."""
    return f'"{printable(cell[:_MOST])}"'


def number(cell: str) -> float | int | None:
    """A number, with a decimal comma too; None for an empty cell. Raises UnsureError."""
    cell = cell.strip()
    if not cell:
        return None
    if not _NUMBER.fullmatch(cell):
        raise UnsureError(f"{quoted(cell)} is not a number")
    value = float(cell.replace(",", "."))
    return int(value) if value.is_integer() and abs(value) < 2**53 else value


Order = str
"""In which order a column writes day and month: `dm`, `md`, or nothing where its cells do not say it."""


def order_of(cells: Iterable[str]) -> Order:
    """What the dates of a column say together: one that has only one reading decides for all."""
    found = set()
    for cell in cells:
        match = _LOCAL.fullmatch(cell.strip())
        if match and len(match[1]) <= 2:
            first, second = int(match[1]), int(match[3])
            if match[2] == "." or first > 12 >= second:
                found.add("dm")
            elif second > 12 >= first:
                found.add("md")
    return found.pop() if len(found) == 1 else ""


def day(cell: str, order: Order = "") -> date:
    """A date. Raises UnsureError."""
    return _moment(cell, order)[0].date()


def moment(cell: str, order: Order = "") -> float | None:
    """Milliseconds since 1970; None for an empty cell. Without a zone it is UTC, as it was saved.

    Raises UnsureError.
    """
    if not cell.strip():
        return None
    found, zone = _moment(cell, order)
    try:
        return (found.replace(tzinfo=UTC) - zone).timestamp() * 1000
    except OverflowError:
        raise UnsureError(f"{quoted(cell)} is a date that no calendar has") from None


def _moment(cell: str, order: Order) -> tuple[datetime, timedelta]:
    cell = cell.strip()
    try:
        iso = _ISO.fullmatch(cell)
        if iso:
            fraction = int((iso[7] or "0")[:6].ljust(6, "0"))
            year, month, day_, hour, minute, second = (int(part or 0) for part in iso.groups()[:6])
            return datetime(year, month, day_, hour, minute, second, fraction), _zone(iso[8])
        local = _LOCAL.fullmatch(cell)
        if local:
            return _of_local(local, cell, order), timedelta()
    except ValueError as error:
        if isinstance(error, UnsureError):
            raise
        raise UnsureError(f"{quoted(cell)} is a date that no calendar has") from None
    raise UnsureError(f"{quoted(cell)} is not a date such as 2027-01-11")


def _zone(words: str | None) -> timedelta:
    if words is None or words == "Z":
        return timedelta()
    minutes = int(words[1:3]) * 60 + int(words[-2:])
    return timedelta(minutes=-minutes if words[0] == "-" else minutes)


def _of_local(match: re.Match[str], cell: str, order: Order) -> datetime:
    """A date in a local form: its year stands last or first; day and month are told apart, or refused."""
    one, two, three = match[1], match[3], match[4]
    hour, minute, second = (int(part or 0) for part in (match[5], match[6], match[7]))
    if match[8]:
        if not 1 <= hour <= 12:
            raise UnsureError(f"{quoted(cell)} is not a time of the clock")
        hour = hour % 12 + (12 if match[8] in "Pp" else 0)
    if len(one) == 4 and len(three) <= 2:
        return datetime(int(one), int(two), int(three), hour, minute, second)
    if len(one) > 2 or len(three) not in (2, 4):
        raise UnsureError(f"{quoted(cell)} is not a date such as 2027-01-11")
    year = int(three) + (2000 if len(three) == 2 else 0)
    first, other = int(one), int(two)
    known = order_of([cell]) or order
    if not known and first != other:
        raise UnsureError(f"{quoted(cell)} may be two dates; write it like 2027-01-11")
    day_, month = (other, first) if known == "md" else (first, other)
    return datetime(year, month, day_, hour, minute, second)


def version(cell: str, address: str, known: Iterable[str]) -> str:
    """The name of a version, `N.E`: as the address beside it has it, or else the only one that is meant.

    `known` are the names of the programme's versions. Raises UnsureError.
    """
    parts = address.split("/")
    of_address = parts[1] if len(parts) > 1 and re.fullmatch(r"\d+\.\d+", parts[1]) else ""
    if not cell or cell == of_address:
        return of_address
    if of_address and (_same(cell, of_address) or not re.fullmatch(r"\d+\.\d+", cell)):
        return of_address
    meant = [name for name in known if _same(cell, name)]
    if cell in meant or (not meant and re.fullmatch(r"\d+\.\d+", cell)):
        # 1.1 may have been 1.10, where there is one.
        if len(meant) > 1:
            raise UnsureError(f"{quoted(cell)} may be {' or '.join(meant)}; write which one, as text")
        return cell
    if len(meant) == 1:
        return meant[0]
    what = f"may be {' or '.join(meant)}" if meant else "is not a version such as 2.0"
    raise UnsureError(f"{quoted(cell)} {what}; write which one, as text")


def _same(cell: str, name: str) -> bool:
    """Whether a spreadsheet may have made the cell of the name."""
    try:
        return number(cell) == number(name)
    except UnsureError:
        return False


Read = Callable[[str], Any]
