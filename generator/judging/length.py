"""How long a session and its warm-up take."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from ..computing.facts import ComputedSession, VersionFacts
from ..reading.amounts import Number, spoken
from ..reading.findings import in_weeks
from .limits import COOL_DOWN, LEAST_COOL_DOWN, LEAST_WARM_UP, USUAL_WARM_UP, WARM_UP_SHORT, WARM_UP_UNUSUAL
from .registry import Issue, check
from .sources import ASSUMED, COMMON_PRACTICE, PROGRAMME, cited

_SHORTER = "take a round or a station out, or raise limits: session"
_SLOWER = "an assumption: every changeover doubled, every rest a quarter longer"


@check("session-length")
def longer_than_the_limit(facts: VersionFacts) -> Iterator[Issue]:
    """A session longer than `limits: session`; the limit itself is inside."""
    limit = facts.programme.model.limits.session
    if limit is None:
        return
    for day, level, sessions in facts.by_day_and_level():
        long = [s for s in sessions if s.order.seconds > limit]
        if long:
            worst = max(s.order.seconds for s in long)
            weeks = in_weeks([s.plan.week for s in long])
            message = (
                f"{day}, {level}: longer in {weeks} than the programme's limit of {spoken(limit)}; "
                f"up to {spoken(worst)} (estimate)"
            )
            where = f"{day} {level} {weeks}"
            yield Issue("warning", message, facts.day_path(day), PROGRAMME, day, where, _SHORTER)


@check("session-length")
def longer_only_without_the_timer(facts: VersionFacts) -> Iterator[Issue]:
    """A session within `limits: session` by the timer, and over it where nobody keeps the time."""
    limit = facts.programme.model.limits.session
    if limit is None:
        return
    for day in facts.version.model.days:
        own = [one for one in facts.trained if one.plan.day == day.id]
        slow = [one for one in own if one.order.seconds <= limit < one.order.by_hand]
        if slow:
            who, worst = facts.whose(slow), ceil(max(one.order.by_hand for one in slow))
            message = (
                f"{day.id}, {who}: within the programme's limit of {spoken(limit)}, but up to "
                f"{spoken(worst)} without the "
                f"timer ({_SLOWER})"
            )
            source, where = cited(PROGRAMME, ASSUMED), f"{day.id} {who}"
            yield Issue("note", message, facts.day_path(day.id), source, day.id, where, _SHORTER)


@check("warm-up-length")
def short_warm_ups(facts: VersionFacts) -> Iterator[Issue]:
    """A warm-up shorter than one statement's range (warning) or than the other's (note)."""
    for day in facts.version.model.days:
        own = [one for one in facts.trained if one.plan.day == day.id]
        short = [one for one in own if warm_up_seconds(one) < LEAST_WARM_UP]
        if short:
            yield _shorter(facts, short, "warning")
        unusual = [one for one in own if LEAST_WARM_UP <= warm_up_seconds(one) < USUAL_WARM_UP]
        if unusual:
            yield _shorter(facts, unusual, "note")


def _shorter(facts: VersionFacts, sessions: Sequence[ComputedSession], severity: str) -> Issue:
    day, who = sessions[0].plan.day, facts.whose(sessions)
    shortest = min(map(warm_up_seconds, sessions))
    published = WARM_UP_SHORT if severity == "warning" else WARM_UP_UNUSUAL
    message = f"{day}, {who}: a warm-up of {spoken(shortest)} (estimate); {published.outside}"
    return Issue(
        "warning" if severity == "warning" else "note",
        message,
        (*facts.day_path(day), "warm-up"),
        published.cited,
        day,
        f"{day} {who}",
        "add a station or some time to the routine",
    )


@check("cool-down-length")
def short_cool_downs(facts: VersionFacts) -> Iterator[Issue]:
    """A cool-down shorter than is usual; a day without one is told nothing.

    Told once, in the file of the routine, for all versions that use it; each day is weighed for itself.
    """
    for day in facts.version.model.days:
        own = [one for one in facts.trained if one.plan.day == day.id and day.cool_down is not None]
        shortest = min(map(cool_down_seconds, own), default=LEAST_COOL_DOWN)
        if day.cool_down and shortest < LEAST_COOL_DOWN:
            message = (
                f"{day.cool_down}: a cool-down of {spoken(shortest)} (estimate); "
                f"{spoken(LEAST_COOL_DOWN)} or more is "
                f"{COMMON_PRACTICE}; {COOL_DOWN.outside}"
            )
            source = cited(COMMON_PRACTICE, *COOL_DOWN.sources)
            hint = (
                "add a station or some time to the routine; where versions with it are published, write "
                "a longer one"
            )
            document = facts.tree.catalogue.routines[day.cool_down].document
            yield Issue("note", message, ("blocks",), source, day.id, day.cool_down, hint, document)


def cool_down_seconds(session: ComputedSession) -> Number:
    """From the start of the cool-down's first block to the end of the session."""
    before = sum(block.section != "cool-down" for block in session.plan.blocks)
    rest = session.plan.blocks[before - 1].rest_after
    return session.order.seconds - session.order.lasts(before) - rest


def warm_up_seconds(session: ComputedSession) -> Number:
    """From the start of the warm-up to the end of its last block."""
    return session.order.lasts(sum(block.section == "warm-up" for block in session.plan.blocks))
