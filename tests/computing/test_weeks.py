"""A week as a sum over its sessions, and one week beside another; worked out by hand."""

import pytest
from phasepress.computing.totals import Totals, Work
from phasepress.computing.weeks import WeekTotals, change, up_by_more, week_totals


def of(sets: int, tension: int, contacts: int = 0, load: int = 0) -> WeekTotals:
    return WeekTotals(sets=sets, tension=tension, contacts=contacts, load_volume=load)


def totals(sets: int) -> Totals:
    """A session of so many sets of a squat, with ten times as many seconds and so on."""
    work = Work(sets, sets * 8, sets * 24)
    return Totals(sets * 100, sets * 60, work, sets * 2, load_volume=sets * 16, patterns={"squat": work})


def test_a_session_counts_as_often_as_it_is_trained_and_in_its_own_week() -> None:
    counted = [("starter", 1, 2, totals(3)), ("starter", 1, 1, totals(4)), ("starter", 2, 1, totals(5))]
    weeks = week_totals(["starter", "steady"], 3, counted)
    assert weeks["starter"][0] == WeekTotals(3, 1000, 10, 240, 20, 160, {"squat": 10})
    assert weeks["starter"][1] == WeekTotals(1, 500, 5, 120, 10, 80, {"squat": 5})
    assert weeks["starter"][2] == WeekTotals()
    assert weeks["steady"] == (WeekTotals(),) * 3


def test_sets_are_counted_over_patterns_also_over_those_that_are_not_trained() -> None:
    week = WeekTotals(patterns={"squat": 4, "hinge": 3, "push": 9})
    assert week.sets_of(["squat", "hinge", "lunge"]) == 7
    assert WeekTotals().sets_of(["squat"]) == 0


@pytest.mark.parametrize(
    ("now", "lighter"),
    [
        (of(10, 200), False),
        (of(9, 200), True), (of(10, 199), True), (of(9, 199), True),
        (of(9, 201), False), (of(11, 199), False), (of(11, 200), False),
        (of(10, 200, 4, 50), True), (of(10, 200, 5, 49), True), (of(10, 200, 5, 50), False),
        (of(10, 200, 4, 51), False), (of(10, 200, 6, 49), False),
        # More landings make no week of less work a heavier one.
        (of(9, 200, 99, 99), True),
    ],
)  # fmt: skip
def test_a_week_is_lighter_by_sets_and_tension_and_where_these_are_equal_by_landings_and_load(
    now: WeekTotals, lighter: bool
) -> None:
    before = of(10, 200, 5, 50) if now.contacts or now.load_volume else of(10, 200)
    assert now.lighter_than(before) is lighter


def test_a_change_from_nothing_has_no_percentage() -> None:
    assert change(0, 5) is None
    assert change(40, 50) == 25
    assert change(40, 30) == -25


@pytest.mark.parametrize(
    ("before", "now", "up"), [(40, 50, False), (40, 51, True), (0, 5, False), (1, 2, True)]
)
def test_an_amount_may_go_up_by_just_so_much(before: int, now: int, up: bool) -> None:
    assert up_by_more(before, now, 25) is up
