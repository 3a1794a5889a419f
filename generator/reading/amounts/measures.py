"""Durations, masses, volumes, distances, percentages and counts, as they are written."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from functools import lru_cache
from typing import NoReturn

from ..findings import shown
from .numbers import Number, number

LONGEST = 4 * 60 * 60
"""Bound on any one duration, in seconds."""

_NUMBER = r"([0-9]{1,6}(?:\.[0-9]{1,3})?)"
_DURATION = re.compile(rf"(?:{_NUMBER} ?min(?: ?{_NUMBER} ?s)?|{_NUMBER} ?s)\Z")
_CLOCK = re.compile(r"([0-9]{1,3}):([0-5][0-9])\Z")
_DURATION_ALLOWED = "a duration such as 45 s, 2 min, 1 min 30 s or 1:30"
_CURLY = re.compile("[“”„‟«»‘’]")
_SOME = re.compile(r"[0-9.]+ ?[a-z%]*(?:, [0-9.]+ ?[a-z%]*)+\Z")
"""Amounts with commas between them."""
_BARE = re.compile(r"[-+]?[0-9.]+\Z")


class AmountError(ValueError):
    """An amount that cannot be read: what was found and allowed, and how to mend it."""

    def __init__(self, message: str, hint: str, check: str = "value") -> None:
        super().__init__(message)
        self.message, self.hint, self.check = message, hint, check


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
    if _CURLY.search(raw):
        return "take the quotes out: to YAML a curly one is a letter"
    if _SOME.fullmatch(raw):
        return f"for one a week write a list: [{raw}]"
    if re.fullmatch(r"[0-9]+,[0-9]+ ?[a-z%]+", raw):
        return f"write {raw.replace(',', '.')}, with a point"
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


def count(least: int, most: int, what: str) -> Callable[[object], int]:
    """A parser of whole numbers from `least` to `most`; `what` names them in the message."""

    def parse(raw: object) -> int:
        if type(raw) is int and least <= raw <= most:
            return raw
        raise AmountError(f"found {shown(raw)}, allowed {what} from {least} to {most}", _count_hint(raw))

    return parse


MOST_REPS = 1000


class RepRange(int):
    """Reps from a least to a most, such as `8-10`: counts as its upper end, and is shown as it is written."""

    least: int

    def __new__(cls, least: int, most: int) -> RepRange:
        """The upper end, with the lower one."""
        self = super().__new__(cls, most)
        self.least = least
        return self

    def __str__(self) -> str:
        """As it is written."""
        return f"{self.least}-{int(self)}"

    def __eq__(self, other: object) -> bool:
        """Another dose than its upper end alone, or than another range up to that."""
        return isinstance(other, RepRange) and (self.least, int(self)) == (other.least, int(other))

    def __ne__(self, other: object) -> bool:
        """The opposite: `int` has one of its own."""
        return not self == other

    def __hash__(self) -> int:
        """Of both ends."""
        return hash((self.least, int(self)))


_RANGE = re.compile(r"([0-9]{1,4}) ?(?:-|–) ?([0-9]{1,4})\Z")


def reps(raw: object) -> int:
    """A whole number of reps, or a range such as `8-10`. Raises AmountError."""
    found = _RANGE.match(raw) if isinstance(raw, str) else None
    if found is None:
        return _reps(raw)
    least, most = int(found[1]), _reps(int(found[2]))
    if not 0 < least < most:
        raise AmountError(f"found {shown(raw)}, allowed a range from few to many", "write it like 8-10")
    return RepRange(least, most)


def _count_hint(raw: object) -> str:
    if not isinstance(raw, str):
        return "write one whole number"
    if re.search(r"amrap|\bmax\b|as many|fail", raw.lower()):
        return (
            "as many good reps as fit are a time: work: 30 s; as many rounds, a block of the kind timed "
            "rounds"
        )
    if _CURLY.search(raw):
        return "take the quotes out: to YAML a curly one is a letter"
    if _SOME.fullmatch(raw):
        return f"for one a week write a list: [{raw}]"
    side = re.match(r"([0-9]+) ?(?:each|per|a|/) ?(?:side|leg|arm)?", raw.lower())
    if side:
        return f"write {side[1]}: it is for each side where the exercise has sides: each or alternating"
    if re.match(r"[0-9]+ ?(-|–|to) ?[0-9]", raw):
        return "write one number; for a dose that changes, a list with one number for each week"
    return "write the number alone, without quotes" if raw[:1].isdigit() else "write one whole number"


_reps = count(0, MOST_REPS, "a whole number of reps")
