"""Changes in sentences, each said by hand: who, what, and in which weeks."""

from collections.abc import Sequence

import pytest
from phasepress.comparing.changes import COME, GONE, NOTHING, STATION, Change
from phasepress.comparing.sentences import Words, sentences

WORDS = Words({"squat": "Squat", "row": "Row"}, {"starter": "Starter", "steady": "Steady"}, 4)
EVERY_WEEK = (1, 2, 3, 4)


def told(*changes: Change) -> list[str]:
    """The sentences of one day."""
    (day,) = sentences(changes, WORDS)
    return list(day.lines)


def in_weeks(
    weeks: Sequence[int], what: str, before: str, after: str, place: str = "A1", exercise: str = "squat"
) -> list[Change]:
    """The same change in these weeks, for both levels."""
    return [
        Change("legs", level, week, place, exercise, what, before, after)
        for level in ("starter", "steady")
        for week in weeks
    ]


def test_a_day_is_new_or_gone_or_was_called_something_else() -> None:
    assert told(Change("legs", "", 0, "", "", "day", NOTHING, "legs")) == ["This day is new"]
    assert told(Change("legs", "", 0, "", "", "day", "legs", NOTHING)) == ["This day is gone"]
    assert told(Change("legs", "", 0, "", "", "day", "thighs", "legs")) == ["This day was called thighs"]


def test_what_concerns_the_whole_version_comes_first() -> None:
    days = sentences([*in_weeks([1], "sets", "2", "3"), Change("", "", 0, "", "", "weeks", "3", "4")], WORDS)
    assert [(day.day, day.lines) for day in days] == [
        ("", ("Weeks: 3 → 4",)),
        ("legs", ("Squat: 2 → 3 sets in week 1",)),
    ]


@pytest.mark.parametrize(
    ("place", "exercise", "what", "begins"),
    [
        ("A1", "squat", STATION, "Station A1: "),
        ("B12", "squat", STATION, "Station B12: "),
        ("A100", "squat", STATION, "Station A100: "),
        ("warm-up 3", "squat", STATION, "Warm-up 3: "),
        ("A1", "squat", "sets", "Squat: "),
        ("B", "", "rounds", "Block B: "),
        ("cool-down", "", "rounds", "Cool-down: "),
    ],
)
def test_a_line_begins_with_the_place_or_with_what_is_trained_there(
    place: str, exercise: str, what: str, begins: str
) -> None:
    doses = ("squat, 8 reps", "row, 8 reps") if what == STATION else ("2", "3")
    (line,) = told(*in_weeks(EVERY_WEEK, what, *doses, place, exercise))
    assert line.startswith(begins)


@pytest.mark.parametrize(
    ("weeks", "when"),
    [
        (EVERY_WEEK, ""),
        ([2, 3, 4], " from week 2"),
        ([4], " in week 4"),
        ([1], " in week 1"),
        ([1, 2], " in weeks 1 and 2"),
        ([2, 4], " in weeks 2 and 4"),
    ],
)
def test_weeks_are_all_or_from_one_on_or_told_by_number(weeks: Sequence[int], when: str) -> None:
    assert told(*in_weeks(weeks, "sets", "2", "3")) == [f"Squat: 2 → 3 sets{when}"]


def test_two_kinds_of_change_are_told_one_by_one_and_three_as_two_rows_of_numbers() -> None:
    def growing(*after: str) -> list[Change]:
        return [one for week, now in enumerate(after, 1) for one in in_weeks([week], "sets", "2", now)]

    assert told(*growing("3", "3", "4")) == ["Squat: 2 → 3 sets in weeks 1 and 2, 2 → 4 sets in week 3"]
    assert told(*growing("3", "4", "5", "6")) == ["Squat: 2, 2, 2, 2 → 3, 4, 5, 6 sets"]


def test_levels_that_have_it_alike_are_named_unless_they_are_all() -> None:
    starter = Change("legs", "starter", 1, "A1", "squat", "sets", "2", "3")
    assert told(starter) == ["Squat: 2 → 3 sets in week 1 (Starter)"]
    steady = starter._replace(level="steady", after="4")
    assert told(starter, steady) == ["Squat: 2 → 3 sets in week 1 (Starter); 2 → 4 sets in week 1 (Steady)"]
    assert told(starter, steady._replace(after="3")) == ["Squat: 2 → 3 sets in week 1"]


@pytest.mark.parametrize(
    ("doses", "words"),
    [
        (["8 reps", "10 reps"], "8 to 10 reps"),
        (["10 reps", "9 reps"], "9 to 10 reps"),
        (["8 reps", "8 reps"], "8 reps"),
        # Where they differ in more than a number, and where it is no number that comes first.
        (["8 reps", "9 reps each side"], "8 reps"),
        (["hold 20 s", "hold 30 s"], "hold 20 s"),
    ],
)
def test_what_is_new_or_left_out_is_told_with_its_least_and_most(doses: Sequence[str], words: str) -> None:
    for what, said in ((COME, "new"), (GONE, "left out")):
        changes = []
        for week, dose in enumerate(doses, 1):
            sides = (f"squat, {dose}", NOTHING)
            changes += in_weeks([week], what, *(sides if what == GONE else sides[::-1]))
        assert told(*changes) == [f"Squat: {said}, {words} in weeks 1 and 2"]
