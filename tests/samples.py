"""Which of many cases that are alike `make test` tries. `make test-all` tries every one, and CI does so each week.

The rule: each test is in both. Where its cases differ in no more than a value (a seed, a day of the demo, a screen, one
more file that is damaged), `make test` takes so many of them as the test says, spread evenly from the first to the
last, or those that the test names because they ask the most. They are the same in every run.
"""

import os
from collections.abc import Collection, Iterable
from typing import TypeVar

Case = TypeVar("Case")
ALL = os.environ.get("PHASEPRESS_TEST_ALL") == "1"


def every(cases: Iterable[Case], *, few: int | Collection[Case], everything: bool = ALL) -> list[Case]:
    """All cases; without `everything` so many of them, at least two, or those named in `few`."""
    own = list(cases)
    if everything:
        return own
    if not isinstance(few, int):
        assert all(one in own for one in few), "a case is named that is none"
        return list(few)
    if few < 2:
        raise ValueError("the first and the last case are two")
    last = len(own) - 1
    return own if few > last else [own[round(number * last / (few - 1))] for number in range(few)]


def in_turn(cases: Collection[Case], turn: int, *, few: int, everything: bool = ALL) -> list[Case]:
    """All cases; without `everything` so many of them, the next ones at each turn, so that all have theirs."""
    own = list(cases)
    if everything or few >= len(own):
        return own
    return [own[(turn * few + number) % len(own)] for number in range(few)]


def size(whole: int, *, few: int, everything: bool = ALL) -> int:
    """How many random cases: the whole number, or without `everything` fewer."""
    return whole if everything else min(whole, few)
