"""How often and on which days of the week the sessions fall."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from functools import cache

from ..computing.facts import ComputedSession, VersionFacts
from ..computing.resolve import sessions as planned_sessions
from ..computing.weekdays import apart, day_before, suggested
from ..reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from ..reading.findings import Severity
from ..reading.model import WEEKDAYS, Day
from .landings import lands_hard
from .limits import (
    APART,
    FREE_DAYS,
    HOURS_BETWEEN_JUMPS,
    JUMPS_APART,
    LEAST_FREE_DAYS,
    LEGS,
    LEGS_SHARE,
    SESSIONS,
    SESSIONS_A_WEEK,
    USUAL_FREE_DAYS,
)
from .registry import Issue, check
from .sources import COMMON_PRACTICE, PROGRAMME

_TOO_FEW = "on: [mon, thu] trains a day twice; accept it if the squad trains strength elsewhere too"
_FREE = "take a session out, or accept it with the reason"
_TOO_MANY = "take a day out, or accept it with the reason"

Group = tuple[Day, ...]
"""Days that are trained in the same week."""


@check("sessions-per-week")
def more_sessions_than_the_programme_has(facts: VersionFacts) -> Iterator[Issue]:
    """More than `limits: sessions per week`; the limit itself is inside."""
    limit = facts.programme.model.limits.sessions_per_week
    if limit is not None:
        for sessions, who in _by_sessions(facts):
            if sessions > limit:
                message = f"{_times(sessions)} a week, {who}; the programme's limit is {limit}"
                hint = "take a day out, or raise limits: sessions per week"
                yield Issue("warning", message, ("days",), PROGRAMME, where=who, hint=hint)


@check("sessions-per-week")
def sessions_outside_what_is_published(facts: VersionFacts) -> Iterator[Issue]:
    """Fewer or more than the published 2 to 3 a week."""
    for sessions, who in _by_sessions(facts):
        if sessions not in SESSIONS_A_WEEK:
            message = f"{_times(sessions)} a week, {who}; {SESSIONS.outside}"
            hint = _TOO_FEW if sessions < SESSIONS_A_WEEK.start else _TOO_MANY
            yield Issue("note", message, ("days",), SESSIONS.cited, where=who, hint=hint)


def _by_sessions(facts: VersionFacts) -> Iterator[tuple[int, str]]:
    """Every number of sessions a week that there is, and the levels and weeks that have it."""
    found: dict[int, list[tuple[str, int]]] = {}
    for level, totals in facts.weeks.items():
        for week, total in enumerate(totals, 1):
            found.setdefault(total.sessions, []).append((level, week))
    for sessions, weeks in found.items():
        yield sessions, facts.which(weeks)


def _times(sessions: int) -> str:
    return f"{sessions or 'no'} session{'' if sessions == 1 else 's'}"


@check("days-apart")
def sessions_on_neighbouring_days(facts: VersionFacts) -> Iterator[Issue]:
    """No choice of the suggested weekdays keeps sessions off neighbouring days, Sunday to Monday included."""
    for days, sessions in _trained_together(facts, facts.trained):
        if apart(_choices(days)) is None:
            who = facts.whose(sessions)
            only = "" if len(sessions) == len(facts.trained) else f"{who}: "
            where = f"the same or on neighbouring days ({_named(days)})"
            message = f"{only}sessions fall on {where}; {APART.outside}"
            hint = "leave a day between, Sunday to Monday too; mon or tue gives a choice"
            path = (*facts.day_path(days[0].id), "on")
            yield Issue("warning", message, path, APART.cited, where=who, hint=hint)


@check("jump-days-apart")
def jumps_on_neighbouring_days(facts: VersionFacts) -> Iterator[Issue]:
    """Two sessions with medium or high landings a day or less apart, whatever weekdays are chosen.

    Two days on are 48 h, and inside.
    """
    jumped = [one for one in facts.trained if any(map(lands_hard, one.plan.stations))]
    for days, sessions in _trained_together(facts, jumped):
        if apart(_choices(days)) is None:
            who = facts.whose(sessions)
            message = (
                f"{who}: sessions with medium or high landings are less than {HOURS_BETWEEN_JUMPS} h apart "
                f"({_named(days)}); {JUMPS_APART.outside}"
            )
            hint = "move a session, or jump in one of them only"
            path = (*facts.day_path(days[0].id), "on")
            yield Issue("warning", message, path, JUMPS_APART.cited, where=who, hint=hint)


def _trained_together(
    facts: VersionFacts, sessions: Iterable[ComputedSession]
) -> list[tuple[Group, list[ComputedSession]]]:
    """The sessions by the days that a level trains in one week, in the file's order."""
    weeks: dict[tuple[str, int], list[ComputedSession]] = {}
    for one in sessions:
        weeks.setdefault((one.plan.level, one.plan.week), []).append(one)
    groups: dict[tuple[str, ...], list[ComputedSession]] = {}
    for own in weeks.values():
        groups.setdefault(tuple(one.plan.day for one in own), []).extend(own)
    days = {day.id: day for day in facts.version.model.days}
    return [(tuple(days[name] for name in names), own) for names, own in groups.items()]


def _choices(days: Iterable[Day]) -> list[tuple[str, ...]]:
    return [choice for day in days for choice in day.on]


def _named(days: Iterable[Day]) -> str:
    return "; ".join(f"{day.id} on {', '.join(map(' or '.join, day.on))}" for day in days)


@check("match-near")
def tired_legs_before_a_match(facts: VersionFacts) -> Iterator[Issue]:
    """Over a third of the day's sets for the legs on the day before a match; a third is inside.

    Of a choice it is the weekday that the plan suggests: the one that keeps sessions apart, else the first.
    """
    eves = {day_before(match) for match in facts.version.model.match_days}
    days = [(day.id, choice) for day in facts.version.model.days for choice in day.on]
    weekdays = suggested([choice for _, choice in days])
    on_an_eve = {day: None for (day, _), weekday in zip(days, weekdays, strict=True) if weekday in eves}
    for day in on_an_eve:
        own = [one for one in facts.trained if one.plan.day == day and _is_for_legs(one)]
        if own:
            most = max(own, key=lambda one: _leg_sets(one) / one.totals.work.sets)
            message = (
                f"{day}, {facts.whose(own)}: on the day before a match, with {_leg_sets(most)} of "
                f"{most.totals.work.sets} sets in squat, lunge, hinge or jump; at most a third is "
                f"{COMMON_PRACTICE}"
            )
            hint = "move the day, or its leg work to an earlier one; of thu or fri the first is suggested"
            path, where = (*facts.day_path(day), "on"), f"{day} {facts.whose(own)}"
            yield Issue("note", message, path, COMMON_PRACTICE, day, where, hint)


def _is_for_legs(session: ComputedSession) -> bool:
    return _leg_sets(session) * LEGS_SHARE > session.totals.work.sets


def _leg_sets(session: ComputedSession) -> int:
    return sum(work.sets for pattern, work in session.totals.patterns.items() if pattern in LEGS)


@check("rest-days")
def too_few_days_off(facts: VersionFacts) -> Iterator[Issue]:
    """Weeks whose sessions and match days leave fewer than two days free; two are inside, none is a warning.

    Of a choice it is the weekday that the plan suggests.
    """
    free: dict[int, list[ComputedSession]] = {}
    for days, sessions in _trained_together(facts, facts.trained):
        taken = {*suggested(_choices(days)), *facts.version.model.match_days}
        free.setdefault(len(WEEKDAYS) - len(taken), []).extend(sessions)
    for many, sessions in free.items():
        if many < USUAL_FREE_DAYS:
            who = facts.whose(sorted(sessions, key=lambda one: one.plan.week))
            left = "1 day" if many == 1 else "no day"
            message = f"{who}: sessions and match days leave {left} of the week free; {FREE_DAYS.outside}"
            severity: Severity = "note" if many >= LEAST_FREE_DAYS else "warning"
            yield Issue(severity, message, ("days",), FREE_DAYS.cited, where=who, hint=_FREE)


@check("two-at-once")
def another_programme_at_the_same_time(facts: VersionFacts) -> Iterator[Issue]:
    """With another programme of the club for the same ages, in the same weeks, more sessions than published.

    Told once of two, in the newest edition that starts later.
    """
    others = facts.tree.once(_at_once).get((facts.programme.id, facts.version.name))
    if others:
        other, week, sessions = others
        young, old = _ages_of_both(facts.programme, facts.tree.catalogue.programmes[other.programme])
        ages = f"{young}" if young == old else f"{young} to {old}"
        message = (
            f"{other.programme} {other.name} is for athletes of {ages} years too: together {sessions} "
            "sessions in week "
            f"{week}; {SESSIONS.outside}"
        )
        where = f"week {week}"
        hint = "say in summary: that nobody trains both, and accept it with the reason; or move one"
        yield Issue("note", message, ("starts",), SESSIONS.cited, where=where, hint=hint)


_Together = tuple[VersionEntry, int, int]
"""A version of another programme, the first week in which both are too much, and their sessions then."""


def _at_once(catalogue: Catalogue) -> dict[tuple[str, str], _Together]:
    """By programme and version, the first other one with which it is too much."""
    newest = [
        (version.model.starts, programme, version)
        for programme in catalogue.programmes.values()
        if programme.model.audience
        for version in programme.newest_editions()
    ]
    newest.sort(key=lambda each: (each[0], each[1].id))
    per_week = cache(lambda programme, name: _most_sessions(catalogue, programme, name))
    found: dict[tuple[str, str], _Together] = {}
    running: list[tuple[ProgrammeEntry, VersionEntry]] = []
    for starts, programme, version in newest:
        running = [(other, earlier) for other, earlier in running if earlier.ends >= starts]
        for other, earlier in running:
            many = _times_a_week(version) + _times_a_week(earlier)
            if many < SESSIONS_A_WEEK.stop or other.id == programme.id:
                continue
            young, old = _ages_of_both(programme, other)
            over = _first_over(version, earlier, per_week) if young <= old else None
            if over:
                found[programme.id, version.name] = earlier, *over
                break
        running.append((programme, version))
    return found


def _ages_of_both(one: ProgrammeEntry, other: ProgrammeEntry) -> tuple[int, int]:
    """Youngest and oldest of those whom both are for; the youngest is older where nobody is."""
    assert one.model.audience
    assert other.model.audience
    ages, others = one.model.audience.ages, other.model.audience.ages
    return max(ages[0], others[0]), min(ages[1], others[1])


def _times_a_week(version: VersionEntry) -> int:
    return sum(len(day.on) for day in version.model.days)


def _most_sessions(catalogue: Catalogue, programme: str, name: str) -> list[int]:
    """The sessions of each week of a version, of the level that trains most."""
    version = catalogue.programmes[programme].version(name)
    assert version
    times = {day.id: len(day.on) for day in version.model.days}
    counted: Counter[tuple[int, str]] = Counter()
    for one in planned_sessions(catalogue, version):
        if one.is_trained:
            counted[one.week, one.level] += times[one.day]
    return [max(counted[week, level.id] for level in version.levels) for week in version.weeks]


def _first_over(
    version: VersionEntry, earlier: VersionEntry, per_week: Callable[[str, str], list[int]]
) -> tuple[int, int] | None:
    """The first week of `version` in which both have more sessions together than published, and how many."""
    own, theirs = (per_week(each.programme, each.name) for each in (version, earlier))
    behind = (version.model.starts - earlier.model.starts).days // len(WEEKDAYS)
    for week, (one, other) in enumerate(zip(own, theirs[behind:], strict=False), 1):
        if one and other and one + other >= SESSIONS_A_WEEK.stop:
            return week, one + other
    return None
