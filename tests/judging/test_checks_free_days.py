"""Checks of days off, of two programmes at once, of easy weeks and of what a session takes without the timer."""

from pathlib import Path

import pytest
from hypothesis import given
from phasepress.computing.resolve import PlannedSession
from phasepress.computing.running_order import running_order

from tests.computing.test_properties import sessions as planned
from tests.fixtures.phases import (
    LEVELS,
    day,
    found,
    one_day,
    planted,
    says_that_it_is_habit,
    says_what_a_published_value_has_to,
    sets,
    version,
)

SQUATS = sets("squat, sets: 2, reps: 8")


# --- days off: at least 1 to 2 a week (AAP 2024, Brenner & Watson, read) -------------------------------------


@pytest.mark.parametrize(
    ("on", "matches", "severity"),
    [
        ("[mon, thu]", "[tue, wed, sat]", ""),
        ("[mon, thu]", "[tue, wed, sat, sun]", "note"),
        ("[mon, thu]", "[tue, wed, fri, sat, sun]", "warning"),
        ("[mon, wed, fri]", "[sat, sun]", ""),
        ("[mon, wed, fri]", "[wed, fri]", ""),
    ],
)
def test_two_days_off_are_inside_and_none_is_a_warning(
    on: str, matches: str, severity: str, tmp_path: Path
) -> None:
    text = version(day(SQUATS, on=on), keys=f"match days: {matches}")
    told = found(planted(tmp_path, {"1.0": text}), "rest-days")
    assert [each.severity for each in told] == ([severity] if severity else [])
    for each in told:
        says_what_a_published_value_has_to(each, "Brenner JS, Watson A")


def test_of_a_choice_the_suggested_weekday_is_the_one_that_is_not_free(tmp_path: Path) -> None:
    days = day(SQUATS, on="[mon]"), day(SQUATS, name="other", on="[tue or wed]")
    matches = "match days: [tue, thu, sat]"
    assert found(planted(tmp_path, {"1.0": version(*days, keys=matches)}), "rest-days") == []


# --- two programmes at once: 2 to 3 sessions a week (CSEP 2008, seen; NSCA 2009, from memory) ----------------


def two(to: Path, ages: str = "[14, 15]", starts: str = "2027-01-18", on: str = "[mon, thu]") -> Path:
    """A programme for 13 to 14 for two weeks, and another one."""
    tree = planted(
        to, {"1.0": version(day(SQUATS, on="[mon, thu]"), weeks=2)}, f"{LEVELS}\naudience: {{ages: [13, 14]}}"
    )
    (tree / "more").mkdir()
    (tree / "more" / "programme.yaml").write_text(f"title: More\n{LEVELS}\naudience: {{ages: {ages}}}\n")
    (tree / "more" / "1.0.yaml").write_text(version(day(SQUATS, on=on), starts=starts))
    return tree


def test_two_programmes_of_four_sessions_together_are_told_once(tmp_path: Path) -> None:
    (told,) = found(two(tmp_path), "two-at-once")
    assert "trial 1.0 is for athletes of 14 years too: together 4 sessions in week 1" in told.message
    assert told.file.endswith("more/1.0.yaml")
    says_what_a_published_value_has_to(told, "Behm DG", "Faigenbaum AD")


@pytest.mark.parametrize(
    "other",
    [{"on": "[mon]"}, {"ages": "[15, 16]"}, {"starts": "2027-01-25"}],
    ids=["three sessions together", "nobody is of both ages", "after one another"],
)
def test_programmes_that_nobody_trains_too_much_of_are_silent(other: dict[str, str], tmp_path: Path) -> None:
    assert found(two(tmp_path, **other), "two-at-once") == []


# --- easy weeks: common practice -----------------------------------------------------------------------------


def phases(to: Path, *rounds: list[int]) -> list[object]:
    """What is told of phases of squats, one after another, with so many sets in each week."""
    starts = ["2027-01-11", "2027-02-08", "2027-03-08"]
    files = {
        f"{n}.0": version(day(sets(f"squat, sets: {own}, reps: 8")), weeks=len(own), starts=starts[n - 1])
        for n, own in enumerate(rounds, 1)
    }
    return list(found(planted(to, files), "easy-week"))


def test_three_weeks_up_and_an_easy_one_again_and_again_have_no_four(tmp_path: Path) -> None:
    assert phases(tmp_path, [2, 3, 4, 1], [2, 3, 4, 1], [2, 3, 4, 1]) == []


def test_four_weeks_up_are_told(tmp_path: Path) -> None:
    (told,) = phases(tmp_path, [1, 2, 3, 4])
    says_that_it_is_habit(told)  # type: ignore[arg-type]
    assert "4 weeks up to week 4" in told.message  # type: ignore[attr-defined]


def test_the_easy_week_is_no_part_of_the_weeks_after_it(tmp_path: Path) -> None:
    assert phases(tmp_path, [3, 1, 2, 3], [3, 4, 1, 1])[0].message.startswith("starter: 4 weeks up to week 2")  # type: ignore[attr-defined]
    assert phases(tmp_path / "b", [3, 1, 2, 3], [1, 2, 3, 1]) == []


# --- without the timer: an assumption, no source --------------------------------------------------------------

SLOW = "{kind: circuit, rounds: 2, rest: 60 s, changeover: 20 s, stations: [{exercise: squat, reps: 10}, {exercise: push, reps: 10}]}"
"""2 × (30 + 20 + 30) + 60 = 220 s. After the warm-up of 600 s and a rest of 60 s: 880 s. Without the timer two
changeovers are 40 s longer and two rests 30 s: 950 s."""


@pytest.mark.parametrize(
    ("limit", "severity"), [("950 s", ""), ("949 s", "note"), ("880 s", "note"), ("879 s", "warning")]
)
def test_a_session_is_over_its_limit_with_the_timer_or_only_without_it(
    limit: str, severity: str, tmp_path: Path
) -> None:
    told = found(
        one_day(tmp_path, SLOW, programme=f"{LEVELS}\nlimits: {{session: {limit}}}"), "session-length"
    )
    assert [each.severity for each in told] == ([severity] if severity else [])
    if severity == "note":
        assert "up to 15 min 50 s without the timer (an assumption" in told[0].message


@given(planned())
def test_the_longer_time_is_a_sum_over_the_segments(session: PlannedSession) -> None:
    """By the segments of blocks that no clock ends, and the rests after all blocks."""
    order = running_order(session)
    fixed = [block.kind in ("every minute", "timed rounds") for block in session.blocks]
    ends = [order.lasts(index + 1) for index in range(len(session.blocks))]
    more = 0
    for segment, number in zip(order.segments, order.block_numbers, strict=True):
        within = segment.start < ends[number]
        if within and fixed[number]:
            continue
        more += {"changeover": 4, "rest": 1}.get(segment.kind, 0) * segment.length
    assert 4 * (order.by_hand - order.seconds) == more
