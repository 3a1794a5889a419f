"""On which days of the week the sessions fall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.checks.limits import cited, outside
from generator.checks.registry import Facts, Raised, check
from generator.model import WEEKDAYS


@check("days-apart")
def sessions_on_neighbouring_days(facts: Facts) -> Iterator[Raised]:
    """No choice of the suggested weekdays keeps sessions off neighbouring days, Sunday to Monday included."""
    choices = [choice for day in facts.version.model.days for choice in day.on]
    if apart(choices) is None:
        days = "; ".join(
            f"{day.id} on {', '.join(map(' or '.join, day.on))}" for day in facts.version.model.days
        )
        statement = outside("csep-2008", "2 to 3 sessions a week on days that are not consecutive")
        message = f"sessions fall on the same or on neighbouring days ({days}); {statement}"
        source = cited("csep-2008", "consensus-2014")
        hint = "leave a day between, Sunday to Monday too; mon or tue gives a choice"
        yield Raised("warning", message, ("days", 0, "on"), source, hint=hint)


def apart(choices: Sequence[Sequence[str]]) -> list[str] | None:
    """The first choice of weekdays of which no two are the same or neighbours, or None."""
    return _apart(choices, [])


def _apart(choices: Sequence[Sequence[str]], taken: list[str]) -> list[str] | None:
    if not choices:
        return taken
    for weekday in choices[0]:
        if all(_between(weekday, other) > 1 for other in taken):
            found = _apart(choices[1:], [*taken, weekday])
            if found is not None:
                return found
    return None


def _between(one: str, other: str) -> int:
    """Days from one weekday to the other, the shorter way round the week."""
    days = (WEEKDAYS.index(one) - WEEKDAYS.index(other)) % 7
    return min(days, 7 - days)
