"""Durations, masses, volumes, distances, percentages and tempos; and amounts that vary by week and level.

Amounts are exact: whole numbers stay `int`, others are `Decimal`, so that sums never drift.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Generic, NamedTuple, NoReturn, TypeVar

from generator.findings import Path, shown

Number = int | Decimal
T = TypeVar("T")

X_SECONDS = 1
"""Seconds counted for `X`, as fast as control allows. No published value: a convention of this format."""
LONGEST = 4 * 60 * 60
"""Bound on any one duration, in seconds."""

_NUMBER = r"([0-9]{1,6}(?:\.[0-9]{1,3})?)"
_DURATION = re.compile(rf"(?:{_NUMBER} ?min(?: ?{_NUMBER} ?s)?|{_NUMBER} ?s)\Z")
_CLOCK = re.compile(r"([0-9]{1,3}):([0-5][0-9])\Z")
_DURATION_ALLOWED = "a duration such as 45 s, 2 min, 1 min 30 s or 1:30"
_BARE = re.compile(r"[-+]?[0-9.]+\Z")
_COUNT = r"(?:10(?:\.0)?|[0-9](?:\.[05])?|X)"
_TEMPO = re.compile(rf"{_COUNT}-{_COUNT}-{_COUNT}-{_COUNT}\Z")


class AmountError(ValueError):
    """An amount that cannot be read: what was found and allowed, and how to mend it."""

    def __init__(self, message: str, hint: str, check: str = "value") -> None:
        super().__init__(message)
        self.message, self.hint, self.check = message, hint, check


class Tempo(NamedTuple):
    """Seconds of lowering, pause low, lifting and pause high; `written` is the text of the file."""

    lowering: Number
    low: Number
    lifting: Number
    high: Number
    written: str

    @property
    def counts(self) -> tuple[Number, Number, Number, Number]:
        """The four counts in order."""
        return self.lowering, self.low, self.lifting, self.high

    @property
    def seconds(self) -> Number:
        """One pass through the four counts."""
        return sum(self.counts)

    @property
    def tension(self) -> Number:
        """Seconds in which the muscles work: all but the pause high."""
        return self.lowering + self.low + self.lifting


def number(value: int | float | str | Decimal) -> Number:
    """An exact number: `int` where it is whole."""
    exact = Decimal(str(value))
    return int(exact) if exact == exact.to_integral_value() else exact


def duration(raw: object) -> Number:
    """Seconds of `45 s`, `2 min`, `1 min 30 s` or `1:30`. Raises AmountError."""
    if isinstance(raw, str):
        return _duration(raw)
    _no_unit(raw, _DURATION_ALLOWED, "s")


@lru_cache(maxsize=4096)
def _duration(text: str) -> Number:
    clock, units = _CLOCK.match(text), _DURATION.match(text)
    if clock:
        seconds = number(int(clock[1]) * 60 + int(clock[2]))
    elif units:
        seconds = number(Decimal(units[1] or 0) * 60 + Decimal(units[2] or units[3] or 0))
    else:
        _no_unit(text, _DURATION_ALLOWED, "s")
    if seconds > LONGEST:
        raise AmountError(f"found {shown(text)}, allowed at most 4 hours", "write a shorter time")
    return seconds


def _no_unit(raw: object, allowed: str, unit: str) -> NoReturn:
    bare = isinstance(raw, int | float) and not isinstance(raw, bool)
    bare = bare or (isinstance(raw, str) and bool(_BARE.match(raw)))
    if bare:
        text = shown(raw).strip('"')
        hint = f"{text} what? write {text} {unit}"
        if unit == "s":
            hint += f" or {text} min"
        raise AmountError(f"found {text}, a number without a unit, allowed {allowed}", hint)
    raise AmountError(f"found {shown(raw)}, allowed {allowed}", _unit_hint(raw, unit))


def _unit_hint(raw: object, unit: str) -> str:
    if not isinstance(raw, str):
        return f"write a number and {unit}"
    if raw.startswith("-"):
        return "an amount cannot be negative"
    if unit == "s" and re.match(r"[0-9]+:[0-9]+\Z", raw):
        return "seconds after the colon have two digits, up to 59"
    if unit == "s" and re.search(r"[0-9] ?(m|mins|minutes?|'|’)\Z", raw):
        return "write min for minutes"
    if unit == "s" and re.search(r'[0-9] ?(sec|secs|seconds?|"|”)\Z', raw):
        return "write s for seconds"
    if unit == "s" and re.search(r"[0-9] ?(h|hrs?|hours?)\Z", raw):
        return "write hours as minutes: 60 min"
    return f"write a number, a space and {unit}, with a point for decimals"


def _measured(unit: str, most: int, allowed: str) -> Callable[[object], Number]:
    pattern = re.compile(rf"{_NUMBER} ?{unit}\Z")

    def parse(raw: object) -> Number:
        match = pattern.match(raw) if isinstance(raw, str) else None
        if match is None:
            _no_unit(raw, allowed, unit)
        value = number(match[1])
        if value > most:
            raise AmountError(f"found {shown(raw)}, allowed at most {most} {unit}", "write a smaller amount")
        return value

    return parse


mass = _measured("kg", 200, "a mass such as 4 kg or 2.5 kg")
distance = _measured("m", 10_000, "a distance such as 20 m")
volume = _measured("l", 100, "a volume such as 0.5 l or 2 l")
percent = _measured("%", 1000, "a percentage such as 25 %")


def tempo(raw: object) -> Tempo:
    """The four counts of `3-0-1-0`. Raises AmountError."""
    if isinstance(raw, str):
        return _tempo(raw)
    raise AmountError(f"found {shown(raw)}, allowed {_TEMPO_ALLOWED}", _tempo_hint(str(raw)))


_TEMPO_ALLOWED = "four counts lowering-pause-lifting-pause, each 0 to 10 in whole or half seconds, or X"
_TEMPO_HINT = "write it like 3-0-1-0 or 2-1-X-0"


def _tempo_hint(text: str) -> str:
    """The tempo that was probably meant: without hyphens, with a small x, or with three counts."""
    upper = text.upper()
    counts = list(upper) if re.fullmatch("[0-9X]{3,4}", upper) else re.split("[-–/ ]", upper)
    if len(counts) == 3 and _TEMPO.match("-".join([*counts, "0"])):
        return f"for no pause high, write {'-'.join(counts)}-0"
    return f"write {'-'.join(counts)}" if _TEMPO.match("-".join(counts)) else _TEMPO_HINT


@lru_cache(maxsize=4096)
def _tempo(text: str) -> Tempo:
    if not _TEMPO.match(text):
        raise AmountError(f"found {shown(text)}, allowed {_TEMPO_ALLOWED}", _tempo_hint(text))
    lowering, low, lifting, high = (X_SECONDS if part == "X" else number(part) for part in text.split("-"))
    result = Tempo(lowering, low, lifting, high, text)
    if result.seconds == 0:
        raise AmountError(f"found {shown(text)}, a repetition that takes no time", _TEMPO_HINT)
    return result


def count(least: int, most: int, what: str) -> Callable[[object], int]:
    """A parser of whole numbers from `least` to `most`; `what` names them in the message."""

    def parse(raw: object) -> int:
        if type(raw) is int and least <= raw <= most:
            return raw
        raise AmountError(f"found {shown(raw)}, allowed {what} from {least} to {most}", _count_hint(raw))

    return parse


def _count_hint(raw: object) -> str:
    if not isinstance(raw, str):
        return "write one whole number"
    if re.match(r"[0-9]+ ?(-|–|to) ?[0-9]", raw):
        return "write one number; for a dose that changes, a list with one number for each week"
    return "write the number alone, without quotes" if raw[:1].isdigit() else "write one whole number"


OTHER = "other"
"""The word that stands for every level that a map does not name."""


@dataclass(frozen=True, slots=True)
class Varying(Generic[T]):
    """An amount for every level and week. A row is one value for all weeks or a tuple with one a week."""

    rows: Mapping[str, T | tuple[T, ...]]

    def at(self, level: str, week: int) -> T:
        """The amount of `level` in `week`, which counts from 1."""
        rows = self.rows
        row = rows[level] if level in rows else rows[OTHER]
        return row[week - 1] if type(row) is tuple else row  # type: ignore[return-value]

    def values(self) -> list[T]:
        """Every amount that is written down."""
        rows = self.rows.values()
        return [v for row in rows for v in (row if type(row) is tuple else (row,))]  # type: ignore[misc]


class WrongPart(NamedTuple):
    """One entry of a varying amount that cannot be read; `path` leads to it from the amount."""

    path: Path
    message: str
    hint: str
    check: str = "value"


_NESTING = "by level and week, write {starter: [6, 8], steady: [8, 10]}"


def varying(raw: object, parse: Callable[[object], T]) -> Varying[T] | list[WrongPart]:
    """One value, a list by week, a map by level, or a map of lists; or all that is wrong with it."""
    wrong: list[WrongPart] = []

    def one(value: object, path: Path) -> T | None:
        if path and isinstance(value, list | dict):
            wrong.append(WrongPart(path, f"found {shown(value)}, allowed one amount", _NESTING))
            return None
        try:
            return parse(value)
        except AmountError as error:
            wrong.append(WrongPart(path, error.message, error.hint, error.check))
            return None

    def row(value: object, path: Path) -> object:
        if not isinstance(value, list):
            return one(value, path)
        if not value:
            message = "found an empty list, allowed one entry for each week"
            wrong.append(WrongPart(path, message, "write one amount, or as many as there are weeks"))
        return tuple(one(entry, (*path, week)) for week, entry in enumerate(value))

    if isinstance(raw, dict):
        if not raw:
            message = "found an empty mapping, allowed an entry for each level"
            wrong.append(WrongPart((), message, "write one amount, or level: amount for each level"))
        rows = {level: row(value, (level,)) for level, value in raw.items()}
    else:
        rows = {OTHER: row(raw, ())}
    return wrong or Varying(rows)  # type: ignore[arg-type]


def written(value: Number) -> str:
    """A number for people: no trailing zeros."""
    return str(value) if isinstance(value, int) else f"{value.normalize():f}"


def clock(seconds: Number) -> str:
    """`m:ss` from the start of a session; half seconds are cut."""
    whole = int(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def spoken(seconds: Number) -> str:
    """A length for people: `45 s`, `2 min`, `1 min 30 s`."""
    minutes, rest = divmod(seconds, 60)
    parts = [f"{int(minutes)} min"] if minutes else []
    if rest or not parts:
        parts.append(f"{written(rest)} s")
    return " ".join(parts)
