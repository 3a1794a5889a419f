"""How many landings, and when: contacts, landing before jumping, jumps while fresh."""

from __future__ import annotations

from collections.abc import Iterator

from ..computing.facts import ComputedSession, VersionFacts, once_an_order
from ..computing.resolve import PlannedStation
from ..computing.running_order import Laps, RunningOrder
from ..computing.weekdays import suggested
from ..reading.amounts import Number
from ..reading.findings import Severity, in_weeks
from ..reading.model import WEEKDAYS
from .limits import (
    BEGINNER_START_CONTACTS,
    BEGINNER_START_CONTACTS_A_WEEK,
    CONTACTS,
    HARD_LANDINGS,
    LAND_FIRST,
    MOST_CONTACTS,
    START_CONTACTS,
    START_CONTACTS_A_WEEK,
    START_WEEKS,
    TIRED,
    YOUNG,
)
from .registry import Issue, check
from .sources import COMMON_PRACTICE, FORMAT, Published

_FEWER = "take jumps out, or accept it with the reason"


@check("contacts")
def landings_in_a_session(facts: VersionFacts) -> Iterator[Issue]:
    """More landings than the level's experience and the audience's age allow; those published are inside.

    Of an audience that begins under YOUNG every level is held to what is published for beginners.
    """
    young = _young(facts)
    for day, level, sessions in facts.by_day_and_level():
        experience = "beginner" if young else facts.experience(level)
        most = MOST_CONTACTS[experience]
        over = [s for s in sessions if s.totals.contacts > most]
        if over:
            why = young if facts.experience(level) != experience else ""
            yield _too_many(facts, day, level, over, "warning", CONTACTS[experience], why)
        start = [s for s in sessions if BEGINNER_START_CONTACTS < s.totals.contacts <= most]
        start = [s for s in start if s.plan.week in START_WEEKS and _begins_to_land(facts, level)]
        if start:
            yield _too_many(facts, day, level, start, "note", START_CONTACTS)


@check("contacts")
def landings_in_the_first_weeks(facts: VersionFacts) -> Iterator[Issue]:
    """A beginner's landings in a week of the first two of the first phase that lands."""
    for level in (level.id for level in facts.version.levels if _begins_to_land(facts, level.id)):
        weeks = [
            (week, facts.weeks[level][week - 1].contacts)
            for week in START_WEEKS
            if week in facts.version.weeks
        ]
        over = [(week, landings) for week, landings in weeks if landings > BEGINNER_START_CONTACTS_A_WEEK]
        if over:
            which, worst = in_weeks([week for week, _ in over]), max(landings for _, landings in over)
            message = f"{level}: up to {worst} landings a week in {which}; {START_CONTACTS_A_WEEK.outside}"
            where = f"{level} {which}"
            yield Issue("note", message, ("days",), START_CONTACTS_A_WEEK.cited, where=where, hint=_FEWER)


def _young(facts: VersionFacts) -> str:
    """Why every level is held to the row of beginners, in words; nothing where none has to be."""
    audience = facts.programme.model.audience
    if audience is None or audience.ages[0] >= YOUNG:
        return ""
    return f"; held to at every level, as the audience begins at {audience.ages[0]}"


def _begins_to_land(facts: VersionFacts, level: str) -> bool:
    """Whether a beginner level lands first in this phase; not known where a version is unreadable."""
    lands = facts.before.lands if facts.before else frozenset()
    return facts.whole and facts.experience(level) == "beginner" and level not in lands


def _too_many(
    facts: VersionFacts,
    day: str,
    level: str,
    over: list[ComputedSession],
    severity: Severity,
    published: Published,
    why: str = "",
) -> Issue:
    weeks = in_weeks([s.plan.week for s in over])
    worst = max(s.totals.contacts for s in over)
    message = f"{day}, {level}: up to {worst} landings in {weeks}; {published.outside}{why}"
    hint = _FEWER
    where = f"{day} {level} {weeks}"
    return Issue(severity, message, facts.day_path(day), published.cited, day, where, hint)


@check("contacts")
def landings_that_cannot_be_counted(facts: VersionFacts) -> Iterator[Issue]:
    """A time dose of an exercise with landings, but with no tempo to say how many reps fit."""
    seen: set[tuple[str, str]] = set()
    for session in facts.sessions:
        for station in session.plan.stations:
            uncounted = station.measure == "time" and station.contacts and station.rep is None
            if uncounted and (session.plan.day, station.label) not in seen:
                seen.add((session.plan.day, station.label))
                message = (
                    f"{session.plan.day}, {station.label}: the landings of {station.exercise} "
                    "cannot be counted, as no tempo says how many reps fit into its time"
                )
                hint = "add seconds per rep to the exercise, or tempo to the station"
                path, day = facts.day_path(session.plan.day), session.plan.day
                yield Issue("warning", message, path, FORMAT, day, day, hint)


def lands_hard(station: PlannedStation) -> bool:
    """Whether a station has medium or high landings."""
    return station.landing in HARD_LANDINGS and station.contacts > 0


@check("land-first")
def jumps_before_landings(facts: VersionFacts) -> Iterator[Issue]:
    """Medium or high landings of a jump before a `land` exercise, in the order in which a level trains.

    The phases before count in their newest editions, for a new level those of any level; a landing exercise
    of a warm-up counts too. A landing exercise itself may be of any height.
    """
    found: dict[tuple[str, str, int], tuple[PlannedStation, list[str]]] = {}
    if not facts.whole:
        return
    landed = facts.before.landed if facts.before else frozenset()
    for level in (level.id for level in facts.version.levels if level.id not in landed):
        first = _first_hard_jump(facts, level)
        if first:
            session, station = first
            key = (session.plan.day, station.label, session.plan.week)
            found.setdefault(key, (station, []))[1].append(level)
    for (day, label, week), (station, levels) in found.items():
        who = facts.which((level, week) for level in levels)
        message = (
            f"{day}, {label} {station.exercise}, {who}: {station.landing} landings before any land exercise "
            f"has been trained in this programme; {LAND_FIRST.outside}"
        )
        path = facts.station_path(day, label) if station.section == "day" else facts.day_path(day)
        hint = "put an exercise of the pattern land before it, or into an earlier phase"
        yield Issue("note", message, path, LAND_FIRST.cited, day, f"{day} {who}", hint)


def _first_hard_jump(facts: VersionFacts, level: str) -> tuple[ComputedSession, PlannedStation] | None:
    """The first medium or high landing of a jump, unless a land exercise comes before it."""
    for session in _as_trained(facts, level):
        for station in session.plan.stations:
            if station.pattern == "land":
                return None
            if lands_hard(station):
                return session, station
    return None


def _as_trained(facts: VersionFacts, level: str) -> list[ComputedSession]:
    """The sessions of a level in the order in which its weeks and the suggested weekdays bring them."""
    days = facts.version.model.days
    entries = [(day.id, choice) for day in days for choice in day.on]
    weekdays = suggested([choice for _, choice in entries])
    first: dict[str, int] = {}
    for (day, _), weekday in zip(entries, weekdays, strict=True):
        first[day] = min(first.get(day, len(WEEKDAYS)), WEEKDAYS.index(weekday))
    own = [one for one in facts.trained if one.plan.level == level]
    return sorted(own, key=lambda one: (one.plan.week, first[one.plan.day]))


@check("jumps-when-tired")
def jumps_after_most_of_the_work(facts: VersionFacts) -> Iterator[Issue]:
    """A bout with medium or high landings begins when more than half of the day's work is done.

    Work is that of the day itself. Where nothing but such landings came before, as in a session of jumps
    alone, it is not told.
    """
    found: dict[tuple[str, str], list[tuple[ComputedSession, PlannedStation]]] = {}
    late_jump = once_an_order(_late_jump)
    for one in facts.trained:
        station = late_jump(one.order)
        if station:
            found.setdefault((one.plan.day, station.label), []).append((one, station))
    for (day, label), found_here in found.items():
        who = facts.whose(one for one, _ in found_here)
        station = found_here[0][1]
        message = (
            f"{day}, {label} {station.exercise}, {who}: {station.landing} landings after more than half of "
            f"the day's work; jumps while fresh are {COMMON_PRACTICE}"
        )
        path = facts.station_path(day, label) if station.section == "day" else facts.day_path(day)
        hint = "put the jumps first, after the warm-up"
        yield Issue("note", message, path, COMMON_PRACTICE, day, f"{day} {who}", hint)


def _late_jump(order: RunningOrder) -> PlannedStation | None:
    """The first station whose landings come so late."""
    every = list(order.laps())
    if not any(lands_hard(station) for laps in every for station, *_ in laps.bouts):
        return None
    half = TIRED * sum(_work_of_the_day(laps)[0] * laps.times for laps in every)
    done: Number = 0
    other: Number = 0
    for laps in every:
        found = _late_in(laps, half, done, other)
        if found:
            return found
        work, others = _work_of_the_day(laps)
        done += work * laps.times
        other += others * laps.times
    return None


def _work_of_the_day(laps: Laps) -> tuple[Number, Number]:
    """The work of one lap, and that of it which is no hard landing."""
    own = [(station, work) for station, _, _, work in laps.bouts if station.section == "day"]
    return sum(work for _, work in own), sum(work for station, work in own if not lands_hard(station))


def _late_in(laps: Laps, half: Number, done: Number, other: Number) -> PlannedStation | None:
    """The same in some laps, before which so much work is done, and so much of it without such landings."""
    a_lap, others = _work_of_the_day(laps)
    late: list[tuple[int, int]] = []
    for number, (station, _, _, work) in enumerate(laps.bouts):
        if lands_hard(station):
            for_half, for_other = _first_over(half, done, a_lap), _first_over(0, other, others)
            if for_half is not None and for_other is not None:
                late.append((max(for_half, for_other), number))
        if station.section == "day":
            done += work
            other += 0 if lands_hard(station) else work
    lap, number = min(late, default=(laps.times, 0))
    return laps.bouts[number][0] if lap < laps.times else None


def _first_over(most: Number, begun: Number, a_lap: Number) -> int | None:
    """The first lap, from 0, in which what was `begun` with and grows with each lap is more than `most`."""
    if begun > most:
        return 0
    return int((most - begun) // a_lap) + 1 if a_lap else None
