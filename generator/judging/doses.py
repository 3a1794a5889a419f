"""Sets, reps, exercises and rest of a session's own work; warm-up and cool-down are no training volume."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..computing.facts import ComputedSession, VersionFacts, once_an_order
from ..computing.resolve import PlannedStation
from ..computing.running_order import RunningOrder
from ..reading.amounts import Number, spoken
from ..reading.findings import Path, Severity, listed
from .limits import (
    EXERCISES,
    FEW_REPS_ARE_USUAL,
    FIRST_SETS,
    HARD_LANDINGS,
    LANDINGS_A_SET,
    LEAST_REPS,
    LEAST_REST,
    LEAST_REST_AFTER_HIGH_LANDINGS,
    MOST_EXERCISES,
    MOST_FIRST_SETS,
    MOST_HARD_LANDINGS,
    MOST_REPS,
    MOST_SETS,
    REPS,
    REST,
    REST_AFTER_HIGH_LANDINGS,
    REST_THAT_MAY_DO,
    SETS,
)
from .registry import Issue, check
from .sources import Published, cited

Counted = list[tuple[ComputedSession, int]]
"""Sessions, each with what was counted in it."""


@check("sets")
def sets_of_an_exercise(facts: VersionFacts) -> Iterator[Issue]:
    """More sets of one exercise in a session than published; the published numbers themselves are inside."""
    many: dict[tuple[str, str], Counted] = {}
    first: dict[tuple[str, str], Counted] = {}
    for one in facts.trained:
        most = MOST_FIRST_SETS if _is_first_week_of_a_beginner(facts, one) else MOST_SETS
        for exercise, work in one.totals.exercises.items():
            if work.sets > most:
                found = many if work.sets > MOST_SETS else first
                found.setdefault((one.plan.day, exercise), []).append((one, work.sets))
    yield from _sets(facts, many, "warning", SETS)
    yield from _sets(facts, first, "note", FIRST_SETS)


def _is_first_week_of_a_beginner(facts: VersionFacts, one: ComputedSession) -> bool:
    return facts.version.phase == one.plan.week == 1 and facts.experience(one.plan.level) == "beginner"


def _sets(
    facts: VersionFacts, found: dict[tuple[str, str], Counted], severity: Severity, published: Published
) -> Iterator[Issue]:
    """One a station; for the stations of a circuit whose sets are its rounds, one at the rounds."""
    told: dict[tuple[str, Path, str, int], list[str]] = {}
    for (day, exercise), counted in found.items():
        sessions = [one for one, _ in counted]
        path = _what_makes_the_sets(facts, sessions[0], exercise)
        key = day, path, facts.whose(sessions), max(sets for _, sets in counted)
        told.setdefault(key, []).append(exercise)
    for (day, path, who, most), exercises in told.items():
        message = f"{day}, {who}: {most} sets of {listed(exercises, 'and')}; {published.outside}"
        hint = "take rounds out" if path[-1] == "rounds" else "take a set or a round out"
        yield Issue(severity, message, path, published.cited, day, f"{day} {who}", hint)


def _what_makes_the_sets(facts: VersionFacts, session: ComputedSession, exercise: str) -> Path:
    """The rounds of a circuit, where the exercise is one station of that alone; else a station."""
    own = [
        (block, station)
        for block in session.plan.blocks
        if block.section == "day"
        for station in block.stations
        if station.exercise == exercise
    ]
    block, station = own[0]
    if len(own) == 1 and block.kind == "circuit":
        return (*facts.day_path(session.plan.day), "blocks", ord(block.label) - ord("A"), "rounds")
    return facts.station_path(session.plan.day, station.label)


@check("reps")
def reps_of_a_set(facts: VersionFacts) -> Iterator[Issue]:
    """More or fewer reps in a set than published, per side of a one-sided exercise.

    Few reps are usual in jumps and landings. A time, a hold or a distance has no reps to judge.
    """
    found: dict[tuple[str, str, str], list[tuple[ComputedSession, PlannedStation]]] = {}
    for one in facts.trained:
        for station in one.plan.day_stations:
            if station.measure == "reps":
                way = _outside(station)
                if way:
                    found.setdefault((one.plan.day, station.label, way), []).append((one, station))
    for (day, label, way), found_here in found.items():
        pick = min if way == "few" else max
        worst = pick((station for _, station in found_here), key=lambda station: station.amount)
        who = facts.whose(one for one, _ in found_here)
        side = " on each side" if worst.one_sided else ""
        published, hint = _WAYS[way]
        landings = f" with {worst.landing} landings" if way == "landings" else ""
        told = f"{worst.amount} reps a set{side}{landings}"
        message = f"{day}, {label} {worst.exercise}, {who}: {told}; {published.outside}"
        path, where = facts.station_path(day, label), f"{day} {who}"
        yield Issue("note", message, path, published.cited, day, where, hint)


_WAYS = {
    "few": (REPS, "an easier option for more reps"),
    "many": (REPS, "a harder option or a slower tempo for fewer"),
    "landings": (LANDINGS_A_SET, "fewer jumps a set, and rest between them"),
}


def _outside(station: PlannedStation) -> str:
    """Which way its reps are outside what is published; nothing where they are inside."""
    if station.landing in HARD_LANDINGS and station.contacts and station.amount > MOST_HARD_LANDINGS:
        return "landings"
    if station.amount > MOST_REPS:
        return "many"
    few = station.amount < LEAST_REPS and station.pattern not in FEW_REPS_ARE_USUAL
    return "few" if few else ""


@check("exercises")
def exercises_of_a_session(facts: VersionFacts) -> Iterator[Issue]:
    """More different exercises in a session's own work than published."""
    for day in facts.version.model.days:
        many = [
            (one, exercises)
            for one in facts.trained
            if one.plan.day == day.id
            and (exercises := len({station.exercise for station in one.plan.day_stations})) > MOST_EXERCISES
        ]
        if many:
            who, most = facts.whose(one for one, _ in many), max(exercises for _, exercises in many)
            message = f"{day.id}, {who}: {most} exercises; {EXERCISES.outside}"
            path, where = facts.day_path(day.id), f"{day.id} {who}"
            hint = "take out what the aim of the phase needs least"
            yield Issue("note", message, path, EXERCISES.cited, day.id, where, hint)


@check("rest")
def rest_before_the_same_again(facts: VersionFacts) -> Iterator[Issue]:
    """Less time from the end of a bout to the next bout of the same exercise than published.

    What lies between counts as rest, also other stations: their muscles are not the same. The change from
    side to side is within a bout.
    """
    found: dict[tuple[str, str], list[tuple[ComputedSession, Number]]] = {}
    short_rests = once_an_order(_short_rests)
    for one in facts.trained:
        for station, seconds in short_rests(one.order):
            found.setdefault((one.plan.day, station.label), []).append((one, seconds))
    for (day, label), found_here in found.items():
        sessions = [one for one, _ in found_here]
        who, least = facts.whose(sessions), min(seconds for _, seconds in found_here)
        station = next(each for each in sessions[0].plan.day_stations if each.label == label)
        told, source = _rest_published(station)
        message = (
            f"{day}, {label} {station.exercise}, {who}: {spoken(least)} from the end of a bout to "
            f"its next one; {told}"
        )
        path, where = facts.station_path(day, label), f"{day} {who}"
        hint = "rest longer, or put another station between"
        yield Issue("note", message, path, source, day, where, hint)


def _least_rest(station: PlannedStation) -> int:
    """Seconds before its next bout; high landings need more."""
    return LEAST_REST_AFTER_HIGH_LANDINGS if _lands_high(station) else LEAST_REST


def _rest_published(station: PlannedStation) -> tuple[str, str]:
    """What is published of the rest before its next bout, in words, and the citations."""
    if not _lands_high(station):
        return REST.outside, REST.cited
    published = REST_AFTER_HIGH_LANDINGS
    return f"{published.outside} ({REST_THAT_MAY_DO})", cited(*published.sources, "chu-myer-2013")


def _lands_high(station: PlannedStation) -> bool:
    return station.landing == "high" and station.contacts > 0


def _short_rests(order: RunningOrder) -> Sequence[tuple[PlannedStation, Number]]:
    """The stations before whose next bout there is too little rest, each with the least.

    From the second lap on, the rests before the bouts of a lap are the same: two laps have them all, and the
    last lap has what the rests of the next block count from.
    """
    ended: dict[str, Number] = {}
    short: dict[str, tuple[PlannedStation, Number]] = {}
    for starts, bouts, seconds, times in order.laps():
        if not bouts or bouts[0][0].section != "day":
            continue
        for lap in (0, 1, times - 1)[:times]:
            now = starts + lap * seconds
            for station, begins, ends, _ in bouts:
                exercise = station.exercise
                if exercise in ended:
                    rest = now + begins - ended[exercise]
                    if rest < short.get(station.label, (station, _least_rest(station)))[1]:
                        short[station.label] = (station, rest)
                ended[exercise] = now + ends
    return list(short.values())
