"""Whether a week trains both sides of the body, and the front and the back of the legs."""

from __future__ import annotations

from collections.abc import Iterator

from ..computing.facts import VersionFacts
from .limits import BALANCE, BALANCED
from .registry import Issue, check
from .sources import COMMON_PRACTICE


@check("balance")
def one_side_much_more_than_the_other(facts: VersionFacts) -> Iterator[Issue]:
    """The sets of one side in a week are more than twice those of the other; twice is inside."""
    for one, these, other, those in BALANCED:
        found = [
            (level, week, totals.sets_of(these), totals.sets_of(those))
            for level, weeks in facts.weeks.items()
            for week, totals in enumerate(weeks, 1)
            if beyond(totals.sets_of(these), totals.sets_of(those))
        ]
        if found:
            who = facts.which((level, week) for level, week, _, _ in found)
            _, _, most, least = max(found, key=lambda each: abs(each[2] - each[3]))
            message = (
                f"{who}: sets of {one} to {other} as far apart as {most} : {least}; "
                f"within 1 : {BALANCE} either way is {COMMON_PRACTICE}"
            )
            hint = f"add sets of {other if most > least else one}, or take some of the other out"
            yield Issue("note", message, ("days",), COMMON_PRACTICE, where=who, hint=hint)


def beyond(one: int, other: int) -> bool:
    """Whether two sides are further apart than BALANCE either way."""
    return one > BALANCE * other or other > BALANCE * one
