"""Means of a session and of a week, by hand; and differences where one side is missing."""

from fractions import Fraction
from pathlib import Path

from phasepress.comparing.totals import Difference, rows
from phasepress.computing.phases import computed_sessions
from phasepress.reading.catalogue import load

from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version


def test_a_difference_is_now_less_before_and_has_a_percentage_of_before() -> None:
    assert (Difference(Fraction(8), Fraction(6)).more, Difference(Fraction(8), Fraction(6)).percent) == (
        -2,
        -25,
    )
    assert Difference(None, Fraction(6)).more == 6
    assert Difference(None, Fraction(6)).percent is None
    assert Difference(Fraction(8), None).more == -8
    assert Difference(Fraction(8), None).percent is None
    assert Difference(Fraction(0), Fraction(6)).percent is None
    assert Difference(Fraction(8), Fraction(0)).percent == -100


def test_means_are_taken_over_the_weeks_that_are_trained_and_a_week_has_all_its_sessions(
    tmp_path: Path,
) -> None:
    """Starters do 2 sets in the first of 4 weeks, 3 in the second and 4 in the fourth, on two days a week."""
    block = sets("squat, sets: {starter: [2, 3, 0, 4], steady: 1}, reps: 8")
    text = version(day(block, name="one", on="[mon, thu]"), weeks=4)
    catalogue = load(planted(tmp_path, {"1.0": text}, TWO_LEVELS)).catalogue
    (only,) = catalogue.programmes["trial"].versions
    facts = list(computed_sessions(catalogue, only))
    found = {
        (row.day, row.was, row.level): row.totals["sets"]
        for row in rows(None, [], only, facts, [(None, "one")])
    }
    assert found == {
        ("", "", "starter"): Difference(None, Fraction(18, 4)),
        ("", "", "steady"): Difference(None, Fraction(2)),
        ("one", "", "starter"): Difference(None, Fraction(3)),
        ("one", "", "steady"): Difference(None, Fraction(1)),
    }
    gone = list(rows(only, facts, None, [], [("one", None)]))
    assert [(row.day, row.was, row.level) for row in gone] == [
        ("", "", "starter"), ("", "", "steady"), ("one", "one", "starter"), ("one", "one", "steady"),
    ]  # fmt: skip
    assert gone[2].totals["sets"] == Difference(Fraction(3), None)


def test_a_day_that_a_level_does_not_train_has_no_row(tmp_path: Path) -> None:
    days = day(sets("squat, sets: 2, reps: 8"), name="one") + day(
        sets("squat, sets: {starter: 0, steady: 2}, reps: 8"), name="two"
    )
    catalogue = load(planted(tmp_path, {"1.0": version(days)}, TWO_LEVELS)).catalogue
    (only,) = catalogue.programmes["trial"].versions
    facts = list(computed_sessions(catalogue, only))
    told = rows(only, facts, only, facts, [("one", "one"), ("two", "two")])
    assert [(row.day, row.level) for row in told] == [
        ("", "starter"), ("", "steady"), ("one", "starter"), ("one", "steady"), ("two", "steady"),
    ]  # fmt: skip


def test_levels_of_now_come_before_those_that_are_gone(tmp_path: Path) -> None:
    own = [
        version(day(sets("squat, sets: 2, reps: 8")), keys=f"levels: [{one}]")
        for one in ("starter", "steady")
    ]
    catalogue = load(planted(tmp_path, {"1.0": own[0], "1.1": own[1]}, TWO_LEVELS)).catalogue
    before, now = catalogue.programmes["trial"].versions
    facts = [list(computed_sessions(catalogue, one)) for one in (before, now)]
    found = list(rows(before, facts[0], now, facts[1], []))
    assert [(row.level, row.totals["sets"]) for row in found] == [
        ("steady", Difference(None, Fraction(4))),
        ("starter", Difference(Fraction(4), None)),
    ]
