"""How long a session takes."""

from __future__ import annotations

from collections.abc import Iterator

from generator.amounts import spoken
from generator.checks.limits import PROGRAMME
from generator.checks.registry import Facts, Raised, check, in_weeks


@check("session-length")
def longer_than_the_limit(facts: Facts) -> Iterator[Raised]:
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
            yield Raised("warning", message, facts.day_path(day), PROGRAMME, day, where, hint)
