"""Amounts, doses and groups of sessions in the words of a page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from functools import lru_cache
from math import ceil

from ...computing.resolve import PlannedBlock, PlannedStation
from ...reading import amounts
from ...reading.amounts import Number, Tempo, spoken, written
from ...reading.findings import listed
from ...reading.model import WEEKDAY_NAMES, WEEKDAYS

EFFORT = (
    "rest",
    "very very easy",
    "easy",
    "moderate",
    "somewhat hard",
    "hard",
    "",
    "very hard",
    "",
    "",
    "maximal",
)
"""How hard a session felt, from 0 to 10: the CR-10 scale as modified by Foster et al. (2001), A new approach
to monitoring exercise training, J Strength Cond Res 15(1):109-115. The log has the
same words, by `telling/views/shared`."""
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

clock = lru_cache(maxsize=8192)(amounts.clock)
"""As in `amounts`; the same seconds stand on many sheets."""
lasting = lru_cache(maxsize=1024)(spoken)
"""A length for people, as in `amounts`; kept, since few different lengths make up most sessions."""


def on_day(day: date) -> str:
    """`11 January 2027`, in any locale."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def minutes(seconds: Number) -> str:
    """Whole minutes, rounded up so that nobody is late: `38 min`."""
    return f"{ceil(seconds / 60)} min"


def minutes_between(lengths: Sequence[Number]) -> str:
    """`33 min`, or `33 to 41 min`."""
    low, high = ceil(min(lengths) / 60), ceil(max(lengths) / 60)
    return f"{low} min" if low == high else f"{low} to {high} min"


def without_timer(lengths: Sequence[Number], by_hand: Sequence[Number]) -> str:
    """`about 37 min, up to 42 without the timer`, of seconds of sessions and of those by hand at most."""
    return f"about {minutes_between(lengths)}, up to {ceil(max(by_hand) / 60)} without the timer"


@lru_cache(maxsize=2048)
def dose(station: PlannedStation, *, counted: bool) -> tuple[str, str]:
    """The dose of one bout in large type, and what is said beside it: both sides, time taken, how to do it.

    `counted` says whether the exercise is done in reps, of which as many as fit go into a time.
    """
    amount, beside = _dose(station, counted=counted)
    return amount, ", ".join(part for part in (station.setting, beside) if part)


def _dose(station: PlannedStation, *, counted: bool) -> tuple[str, str]:
    per_side = station.one_sided
    if station.measure == "reps":
        total = f"{station.total_reps} in total" if per_side else ""
        return f"{station.amount}{' each side' if per_side else ' reps'}", total
    if station.measure == "distance":
        return f"{written(station.metres)} m", f"takes about {spoken(station.amount)}"
    sides = station.sides == "each"
    total = f"{spoken(station.amount * 2)} in total" if sides else ""
    if station.measure == "time":
        beside = [total, "as many good reps as fit" if counted else ""]
        amount = f"{spoken(station.amount)}{' each side' if sides else ''}"
        return amount, ", ".join(part for part in beside if part)
    return f"hold {spoken(station.amount)}{' each side' if sides else ''}", total


@lru_cache(maxsize=256)
def tempo(counts: Tempo, begins: str = "lowering") -> str:
    """`lower 3 s, pause 1 s, lift 1 s`, in the order in which it is done; a count of 0 is left out."""
    names = ("lower", "pause", "lift", "pause")
    phases = list(zip(names, counts[:4], counts.written.split("-"), strict=True))
    if begins == "lifting":
        phases = phases[2:] + phases[:2]
    parts = []
    for name, count, mark in phases:
        if mark == "X":
            parts.append(f"{name} as fast as you can control")
        elif count:
            parts.append(f"{name} {written(count)} s")
    return ", ".join(parts)


@lru_cache(maxsize=256)
def block_title(block: PlannedBlock) -> str:
    """What a block asks for, in one line."""
    if block.kind == "circuit":
        rounds = "once through" if block.times == 1 else f"{block.times} rounds"
        rest = f", rest {spoken(block.rest)} between rounds" if block.times > 1 and block.rest else ""
        change = f", {spoken(block.changeover)} to change stations" if len(block.stations) > 1 else ""
        title = f"{rounds}{rest}{change}"
        return f"Circuit: {title}" if block.section == "day" else title[0].upper() + title[1:]
    if block.kind == "straight sets":
        return "Straight sets: finish all sets of a station, then go on"
    if block.kind == "every minute":
        return f"Every minute, for {block.times} min: start at the full minute, rest until the next"
    return f"Timed rounds: go round calmly for {spoken(block.times)}, until the time is up"


def sets(station: PlannedStation) -> str:
    """`3 sets, rest 75 s between`, for straight sets."""
    return ", ".join(part for part in (how_many_sets(station), rest_between(station)) if part)


def how_many_sets(station: PlannedStation) -> str:
    """`3 sets`."""
    return f"{station.sets} set{'' if station.sets == 1 else 's'}"


def rest_between(station: PlannedStation) -> str:
    """`rest 75 s between`; nothing for one set, or where no rest is planned."""
    return f"rest {spoken(station.rest)} between" if station.sets > 1 and station.rest else ""


def weekdays(choices: Iterable[Sequence[str]]) -> str:
    """`Monday and Thursday`, `Tuesday or Wednesday`."""
    return listed([" or ".join(WEEKDAY_NAMES[word] for word in choice) for choice in choices], "and")


def dates(choices: Iterable[Sequence[str]], monday: date) -> str:
    """`18 January`, `19 or 20 January`, `18 and 21 January`: the days of a choice of weekdays in a week."""
    found = [[monday + timedelta(WEEKDAYS.index(word)) for word in choice] for choice in choices]
    months = {day.month for choice in found for day in choice}
    if len(months) > 1:
        return listed([" or ".join(_date(day) for day in choice) for choice in found], "and")
    days = listed([" or ".join(str(day.day) for day in choice) for choice in found], "and")
    return f"{days} {MONTHS[months.pop() - 1]}"


def _date(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]}"
