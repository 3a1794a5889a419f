"""From week to week and from phase to phase: loads, work, easy weeks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..computing.facts import VersionFacts
from ..computing.weeks import WeekTotals, change, up_by_more
from ..reading.amounts import Number, spoken, written
from ..reading.findings import in_weeks, listed
from .limits import EASY_WEEK, LOAD_STEP, LOADS, NO_TEN_PER_CENT
from .registry import Issue, check
from .sources import COMMON_PRACTICE, PROGRAMME, cited

Compared = tuple[int, WeekTotals, str, WeekTotals]
"""A week and its totals, and what they are compared with: its name and totals."""
MOST_TOLD = 4
"""Steps in one message."""
COUNTS = ("sets", "time under tension", "landings")


@check("load-step")
def heavier_by_a_big_step(facts: VersionFacts) -> Iterator[Issue]:
    """A load goes up by more than published on the last week in which the station was loaded.

    In the first such week it is compared with the heaviest of the same exercise in the phase before. From no
    load to some there is no percentage.
    """
    steps: dict[tuple[str, str, str], list[str]] = {}
    last: dict[tuple[str, str, str, str], tuple[Number, str]] = {}
    for one in facts.trained:
        for station in one.plan.day_stations:
            plan = one.plan
            here = (plan.day, station.label, station.exercise, plan.level)
            before = last.get(here) or _heaviest(facts, plan.level, station.exercise)
            if station.load:
                if before and up_by_more(before[0], station.load, LOAD_STEP):
                    told = _load_told(plan.level, plan.week, before, station.load)
                    steps.setdefault(here[:3], []).append(told)
                last[here] = (station.load, f"week {plan.week}")
    for (day, label, exercise), told_here in steps.items():
        message = f"{day}, {label} {exercise}: {_few(told_here)}; {LOADS.outside}"
        hint = "a smaller step with a half-full bottle, or fewer reps at first and accept it with the reason"
        path = (*facts.station_path(day, label), "load")
        yield Issue("note", message, path, LOADS.cited, day, f"{day} {label}", hint)


def _load_told(level: str, week: int, before: tuple[Number, str], load: Number) -> str:
    kg, when = before
    return f"{level} from {written(kg)} kg ({when}) to {written(load)} kg in week {week}, up {_up(kg, load)}"


def _heaviest(facts: VersionFacts, level: str, exercise: str) -> tuple[Number, str] | None:
    """The heaviest load of an exercise for a level in the phase before, and which phase."""
    heaviest = facts.before.heaviest.get((level, exercise)) if facts.before else None
    return (heaviest, f"most in {facts.before.name}") if facts.before and heaviest else None


def _up(before: Number, now: Number) -> str:
    """`12.5 %`."""
    return f"{round(change(before, now) or 0, 1):g} %"


@check("week-step")
def a_big_step_from_week_to_week(facts: VersionFacts) -> Iterator[Issue]:
    """Sets, tension or landings of a week up by more than `limits: week step`; the limit itself is inside.

    A week is compared with the last one before it that was trained; the first with the last of the phase
    before.
    """
    limit = facts.programme.model.limits.week_step
    if limit is None:
        return
    for level in (level.id for level in facts.version.levels):
        each = ((week, _too_big(limit, now, name, then)) for week, now, name, then in compared(facts, level))
        steps = [(week, told) for week, told in each if told]
        if steps:
            weeks = in_weeks([week for week, _ in steps])
            told = _few([f"week {week} {words}" for week, words in steps])
            most = f"the programme's limit of {written(limit)} %"
            message = f"{level}: up by more than {most}: {told}; {NO_TEN_PER_CENT}"
            source = cited(PROGRAMME, "buist-2008")
            hint = "spread the step over two weeks, or raise limits: week step"
            yield Issue("warning", message, ("days",), source, where=f"{level} {weeks}", hint=hint)


def compared(facts: VersionFacts, level: str) -> Iterator[Compared]:
    """Every trained week of a level that has one before it, with that one, be it of the phase before."""
    last, name = _last_of_the_phase_before(facts, level)
    for week, totals in enumerate(facts.weeks[level], 1):
        if totals.sets:
            if last is not None:
                yield week, totals, name, last
            last, name = totals, f"week {week}"


def _last_of_the_phase_before(facts: VersionFacts, level: str) -> tuple[WeekTotals | None, str]:
    totals = facts.before.weeks.get(level, ()) if facts.before else ()
    for week in range(len(totals), 0, -1):
        if facts.before and totals[week - 1].sets:
            return totals[week - 1], f"week {week} of {facts.before.name}"
    return None, ""


def counts(totals: WeekTotals) -> tuple[Number, Number, Number]:
    """What a week is compared by, in the order of COUNTS."""
    return totals.sets, totals.tension, totals.contacts


def _few(told: Sequence[str]) -> str:
    """The first of many, so that a message does not lose its end."""
    more = len(told) - MOST_TOLD
    return "; ".join([*told[:MOST_TOLD], *([f"and {more} more"] if more > 0 else [])])


def _too_big(limit: Number, now: WeekTotals, name: str, before: WeekTotals) -> str:
    """The steps over the limit in words, or nothing."""
    told = [
        f"{what} {_amount(what, then)} to {_amount(what, amount)} (up {_up(then, amount)})"
        for what, then, amount in zip(COUNTS, counts(before), counts(now), strict=True)
        if up_by_more(then, amount, limit)
    ]
    return f"on {name}: {', '.join(told)}" if told else ""


def _amount(what: str, amount: Number) -> str:
    return spoken(amount) if what == "time under tension" else written(amount)


@check("easy-week")
def no_easy_week(facts: VersionFacts) -> Iterator[Issue]:
    """Four weeks in a row or more with none lighter than the one before; a phase before may run on."""
    runs: dict[tuple[int, int, int], list[str]] = {}
    for level in (level.id for level in facts.version.levels):
        for run in _runs(facts, level):
            runs.setdefault(run, []).append(level)
    for (first, last, many), levels in runs.items():
        if many >= EASY_WEEK:
            since = f"week {first}" if first > 0 else "the phase before"
            who = listed(levels, "and")
            message = (
                f"{who}: {many} weeks up to week {last} with none lighter than the one before, from {since} "
                f"on; an easier week now and then is {COMMON_PRACTICE}"
            )
            where = f"{who} week {last}"
            hint = "take a round or some reps out of one week"
            yield Issue("note", message, ("weeks",), COMMON_PRACTICE, where=where, hint=hint)


def _runs(facts: VersionFacts, level: str) -> Iterator[tuple[int, int, int]]:
    """First and last week and length of each run without a lighter week; below 1 is in the phase before.

    A lighter week ends a run and is part of none: three up and one easy, again and again, have no four.
    """
    before = facts.before.weeks.get(level, ()) if facts.before and facts.follows_on else ()
    own = facts.weeks[level]
    totals = [*before, *own]
    begun = 0
    for index in range(1, len(totals) + 1):
        if index == len(totals) or totals[index].lighter_than(totals[index - 1]):
            last = index - len(before)
            if last > 0:
                yield begun + 1 - len(before), last, index - begun
            begun = index + 1
