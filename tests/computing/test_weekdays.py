"""Weekdays that keep sessions apart: held against a search through every choice."""

import itertools

from hypothesis import given
from hypothesis import strategies as st
from phasepress.computing.weekdays import apart, day_before, suggested

WEEK = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
CHOICES = st.lists(
    st.lists(st.sampled_from(WEEK), min_size=1, max_size=3, unique=True), min_size=1, max_size=4
)


def neighbours(one: str, other: str) -> bool:
    """The same day, or next to each other in a week that begins again after Sunday."""
    return one == other or {one, other} in [{WEEK[n], WEEK[(n + 1) % 7]} for n in range(7)]


@given(CHOICES)
def test_the_first_choice_that_keeps_all_apart_is_found(choices: list[list[str]]) -> None:
    every = (list(days) for days in itertools.product(*choices))
    fine = [days for days in every if not any(neighbours(a, b) for a, b in itertools.combinations(days, 2))]
    assert apart(choices) == (fine[0] if fine else None)
    assert suggested(choices) == (fine[0] if fine else [choice[0] for choice in choices])


def test_sunday_is_the_day_before_monday() -> None:
    assert [day_before(day) for day in WEEK] == ["sun", *WEEK[:-1]]
