"""How long a session and its warm-up take."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..computing.facts import ComputedSession, VersionFacts
from ..reading.amounts import Number, spoken
from ..reading.findings import in_weeks
from .limits import LEAST_WARM_UP, USUAL_WARM_UP, WARM_UP_SHORT, WARM_UP_UNUSUAL
from .registry import Issue, check
from .sources import PROGRAMME


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
            hint = "take a round or a station out, or raise limits: session"
            yield Issue("warning", message, facts.day_path(day), PROGRAMME, day, where, hint)


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


def warm_up_seconds(session: ComputedSession) -> Number:
    """From the start of the warm-up to the end of its last block."""
    return session.order.lasts(sum(block.section == "warm-up" for block in session.plan.blocks))
