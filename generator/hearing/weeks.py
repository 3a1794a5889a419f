"""Weeks of an athlete, Monday to Sunday: sessions, minutes, load, monotony, strain. Pure.

Load = effort × minutes (Foster et al. 2001); monotony = mean / standard deviation of the seven daily loads, strain =
load × monotony (Foster 1998). No source seen says which standard deviation: here it is that of a sample, with 6 below
the line, as in a spreadsheet's STDEV.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import stdev

from .held import HeldSession, mean

DAYS = 7
_SAME = 1e-9
"""Loads that differ by less than this share differ in their last binary digit, which would be divided by."""


@dataclass(frozen=True, slots=True)
class Week:
    """One week of an athlete. What is not known or not defined is None; `unknown` counts sessions without a load."""

    monday: date
    sessions: int
    begun: int
    planned: int | None
    minutes: float
    load: float | None
    unknown: int
    effort: float | None
    monotony: float | None
    strain: float | None


def monday_of(day: date) -> date:
    """The Monday on or before a day."""
    return day - timedelta(days=day.weekday())


def load_of(loads: Iterable[float | None]) -> float | None:
    """The sum of the loads that are known; None where there are sessions and none is, never 0 for that."""
    found = list(loads)
    known = [load for load in found if load is not None]
    return sum(known) if known or not found else None


def monotony(days: Sequence[float]) -> float | None:
    """Mean / standard deviation (n - 1) of the loads of seven days; None for equal days."""
    most, least = max(days), min(days)
    if most - least <= _SAME * most:
        return None
    return sum(days) / len(days) / stdev(days)


def week_of(monday: date, sessions: Sequence[HeldSession], planned: int | None) -> Week:
    """The week that begins on `monday`, of the sessions in it."""
    loads = [one.session.load for one in sessions]
    unknown = loads.count(None)
    load = load_of(loads)
    even = None if unknown else monotony(daily_loads(monday, sessions))
    return Week(
        monday=monday,
        sessions=sum(one.is_done for one in sessions),
        begun=sum(not one.is_done for one in sessions),
        planned=planned,
        minutes=minutes_of(sessions),
        load=load,
        unknown=unknown,
        effort=mean(one.session.effort for one in sessions),
        monotony=even,
        strain=None if even is None or load is None else load * even,
    )


def daily_loads(monday: date, sessions: Iterable[HeldSession]) -> list[float]:
    """The known loads of seven days; days without training are 0."""
    sums: defaultdict[int, float] = defaultdict(float)
    for one in sessions:
        sums[(one.date - monday).days] += one.session.load or 0
    return [sums[day] for day in range(DAYS)]


def minutes_of(sessions: Iterable[HeldSession]) -> float:
    """Minutes trained, of sessions done and begun."""
    return sum([one.session.seconds or 0 for one in sessions]) / 60
