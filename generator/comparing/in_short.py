"""A version against the one before it in three sentences: how long a week is, what gets harder, and why.

They are for parents and committees, so they name no unit of volume. Times are estimates.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from ..computing.facts import ComputedSession
from ..computing.totals import bout_tension
from ..reading.catalogue import VersionEntry
from ..reading.findings import listed
from .totals import Difference, Row, rows
from .versions import Side

MOST_NAMED = 4
"""Exercises of a kind that a sentence names; the others are counted."""


class InShort(NamedTuple):
    """One sentence each."""

    minutes: str
    harder: str
    why: str


def in_short(before: Side | None, now: Side) -> InShort:
    """`before` is None for the first version of a programme."""
    return InShort(_minutes(before, now), _harder(before, now), _why(now.version))


def _minutes(before: Side | None, now: Side) -> str:
    """`A week takes about 111 minutes at Starter and 116 at Steady, 3 more than before.`"""
    was, facts = (before.version, before.facts) if before else (None, ())
    weeks = [row for row in rows(was, facts, now.version, now.facts, ()) if not row.day]
    names = {level.id: level.name for one in (before, now) if one for level in one.version.levels}
    told = [(names[row.level], *_long(row)) for row in weeks]
    longs, thans = ({each[at] for each in told} for at in (1, 2))
    if len(longs) == len(thans) == 1:
        return f"A week takes about {_minutes_of(told[0][1])}{_after(told[0][2])}."
    alike = len(thans) == 1
    parts = [
        f"{_minutes_of(long) if at == 0 else long} at {level}{'' if alike else f' ({than})' if than else ''}"
        for at, (level, long, than) in enumerate(told)
    ]
    return f"A week takes about {listed(parts, 'and')}{_after(told[0][2]) if alike else ''}."


def _minutes_of(many: int) -> str:
    return f"{many} minute{'' if many == 1 else 's'}"


def _after(than: str) -> str:
    return f", {than}" if than else ""


def _long(row: Row) -> tuple[int, str]:
    """Whole minutes of a mean week, rounded up, and what they are against those before."""
    minutes = row.totals.get("seconds", Difference(None, None))
    now = ceil((minutes.now or 0) / 60)
    if minutes.before is None:
        return now, ""
    more = now - ceil(minutes.before / 60)
    return now, f"{abs(more)} {'more' if more > 0 else 'less'} than before" if more else "as long as before"


class Work(NamedTuple):
    """One exercise in a mean week of a level: bouts, seconds under tension, kg × reps, how it is set."""

    sets: Fraction
    tension: Fraction
    load: Fraction
    settings: frozenset[str]


_Levels = dict[str, Work]
_NO_WORK = Work(Fraction(0), Fraction(0), Fraction(0), frozenset())


def _harder(before: Side | None, now: Side) -> str:
    """`Split squat gets harder; Plank gets easier; Hip bridge is new.`"""
    if before is None:
        return "It is the first version of this programme, so nothing gets harder than before."
    words = {**before.exercises, **now.exercises}
    was, is_ = _by_exercise(before), _by_exercise(now)
    found: dict[str, list[str]] = {}
    for name in [*is_, *(name for name in was if name not in is_)]:
        found.setdefault(_kind(was.get(name), is_.get(name)), []).append(words.get(name, name))
    told = [
        f"{_named(found[kind])} {some if len(found[kind]) == 1 else many}"
        for kind, (some, many) in _KINDS.items()
        if kind in found
    ]
    return f"{'; '.join(told)}." if told else "No exercise gets harder or easier."


_KINDS = {
    "harder": ("gets harder, with more work or load", "get harder, with more work or load"),
    "easier": ("gets easier, with less", "get easier, with less"),
    "other": ("is done another way", "are done another way"),
    "new": ("is new", "are new"),
    "gone": ("is no longer in it", "are no longer in it"),
}


def _kind(was: _Levels | None, now: _Levels | None) -> str:
    if was is None or now is None:
        return "new" if was is None else "gone"
    kinds = {_step(was[level], now[level]) for level in now if level in was} - {""}
    return kinds.pop() if len(kinds) == 1 else "other" if kinds else ""


def _step(was: Work, now: Work) -> str:
    """More of some and less of none is harder; the reverse is easier."""
    pairs = list(zip(now[:3], was[:3], strict=True))
    if now == was:
        return ""
    if now[:3] == was[:3]:
        return "other"
    if all(mine >= theirs for mine, theirs in pairs):
        return "harder"
    return "easier" if all(mine <= theirs for mine, theirs in pairs) else "other"


def _by_exercise(side: Side) -> dict[str, _Levels]:
    """What a mean week of each level has of every exercise of the days themselves."""
    times = {day.id: len(day.on) for day in side.version.model.days}
    weeks = side.version.model.weeks
    found: dict[str, dict[str, Work]] = {}
    for one in _trained(side.facts):
        share = times[one.plan.day]
        for station, bouts in one.order.bouts:
            if station.section != "day":
                continue
            levels = found.setdefault(station.exercise, {})
            own = levels.get(one.plan.level, _NO_WORK)
            load = station.load * bouts * station.total_reps if station.load else 0
            levels[one.plan.level] = Work(
                own.sets + share * bouts,
                own.tension + share * bouts * Fraction(bout_tension(station)),
                own.load + share * Fraction(load),
                own.settings | {station.setting or ""},
            )
    return {name: {level: _mean(work, weeks) for level, work in own.items()} for name, own in found.items()}


def _mean(work: Work, weeks: int) -> Work:
    return Work(work.sets / weeks, work.tension / weeks, work.load / weeks, work.settings)


def _trained(facts: Iterable[ComputedSession]) -> list[ComputedSession]:
    return [one for one in facts if one.plan.is_trained]


def _named(names: Sequence[str]) -> str:
    left = len(names) - MOST_NAMED
    if left < 2:
        return listed(names, "and")
    return f"{', '.join(names[:MOST_NAMED])} and {left} others"


def _why(version: VersionEntry) -> str:
    """The coach's own words, of an edition why it is there, of a phase what it is for."""
    model = version.model
    if version.edition and model.changes:
        return f"Why: {_ended(model.changes)}"
    return f"What it is for: {_ended(model.aim)}"


def _ended(text: str) -> str:
    text = text.strip()
    return text if text.endswith((".", "!", "?")) else f"{text}."
