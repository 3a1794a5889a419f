"""Landings of the first weeks and of the young, the rest between them and how many a set has."""

from pathlib import Path

import pytest

from tests.fixtures.phases import (
    LEVELS,
    TWO_LEVELS,
    day,
    found,
    one_day,
    planted,
    says_what_a_published_value_has_to,
    sets,
    version,
)

YOUNG = "audience: {ages: [13, 15]}"
OLDER = "audience: {ages: [14, 16]}"


def bounces(*many: int) -> str:
    """Sets of bounces that come to so many landings."""
    return sets(*(f"bounce, sets: 1, reps: {one}" for one in many))


# --- starts: 50 to 60 jumps a session, twice a week (Johnson 2011, read); 120 a week is derived from it -------


@pytest.mark.parametrize(("landings", "told"), [(60, 0), (61, 1)])
def test_a_beginner_starts_with_sixty_landings_a_session(landings: int, told: int, tmp_path: Path) -> None:
    findings = found(one_day(tmp_path, bounces(landings), weeks=3), "contacts")
    sessions = [
        each
        for each in findings
        if "landings in weeks 1 and 2;" in each.message and "a week" not in each.message
    ]
    assert len(sessions) == told
    for each in sessions:
        assert each.severity == "note"
        says_what_a_published_value_has_to(each, "Johnson BA")


@pytest.mark.parametrize(("landings", "told"), [(40, 0), (41, 1)])
def test_a_beginner_starts_with_a_hundred_and_twenty_landings_a_week(
    landings: int, told: int, tmp_path: Path
) -> None:
    text = version(day(bounces(landings), on="[mon, wed, fri]"))
    findings = found(planted(tmp_path, {"1.0": text}), "contacts")
    assert len(findings) == told
    for each in findings:
        assert f"up to {3 * landings} landings a week in week 1" in each.message
        says_what_a_published_value_has_to(each, "Johnson BA")


def test_later_weeks_and_later_phases_may_have_more(tmp_path: Path) -> None:
    """More each week is what Johnson 2011 reports."""
    first = version(day(sets("bounce, sets: 1, reps: [50, 60, 70]")), weeks=3)
    later = version(day(bounces(80)), starts="2027-02-01")
    assert found(planted(tmp_path, {"1.0": first, "2.0": later}), "contacts") == []


def test_the_first_phase_is_the_first_that_lands(tmp_path: Path) -> None:
    still = version(day(sets("squat, sets: 2, reps: 8")))
    lands = version(day(bounces(61)), starts="2027-02-01")
    told = found(planted(tmp_path, {"1.0": still, "2.0": lands}), "contacts", "2.0")
    assert [each.severity for each in told] == ["note", "note"]


# --- most: 100, 120, 140 (Essentials, adults: first row second-hand, others from memory) ----------------------


@pytest.mark.parametrize(
    ("landings", "audience", "told"), [(100, YOUNG, 0), (101, YOUNG, 1), (120, OLDER, 0), (121, OLDER, 1)]
)
def test_an_audience_under_fourteen_is_held_to_the_row_of_beginners(
    landings: int, audience: str, told: int, tmp_path: Path
) -> None:
    programme = f"{TWO_LEVELS}\n{audience}"
    text = version(day(bounces(landings), on="[mon]"), keys="levels: [steady]")
    findings = found(planted(tmp_path, {"1.0": text}, programme), "contacts")
    assert [each.severity for each in findings] == ["warning"] * told
    if told and audience == YOUNG:
        assert findings[0].message.endswith("held to at every level, as the audience begins at 13")


# --- rest: 2 to 3 min where skill, force or power is higher (2014 Consensus, second-hand) ---------------------


@pytest.mark.parametrize(
    ("exercise", "rest", "told"),
    [("hop", 120, 0), ("hop", 119, 1), ("jump", 60, 0), ("jump", 59, 1), ("squat", 60, 0)],
)
def test_high_landings_want_two_minutes_of_rest(exercise: str, rest: int, told: int, tmp_path: Path) -> None:
    findings = found(one_day(tmp_path, sets(f"{exercise}, sets: 2, reps: 6", rest=f"{rest} s")), "rest")
    assert len(findings) == told
    for each in findings:
        says_what_a_published_value_has_to(each, "Lloyd RS")
        assert ("Chu DA, Myer GD" in each.source) == (exercise == "hop")


# --- reps: 6 to 10 a set (ACSM on youth plyometrics, Faigenbaum & Chu 2001, read) ------------------------------


@pytest.mark.parametrize(
    ("exercise", "reps", "told"), [("jump", 10, 0), ("jump", 11, 1), ("hop", 11, 1), ("bounce", 11, 0)]
)
def test_medium_and_high_landings_are_ten_a_set_at_most(
    exercise: str, reps: int, told: int, tmp_path: Path
) -> None:
    findings = found(
        one_day(tmp_path, sets(f"{exercise}, sets: 2, reps: {reps}", rest="3 min"), programme=LEVELS), "reps"
    )
    assert len(findings) == told
    for each in findings:
        assert "6 to 10 reps a set" in each.message
        says_what_a_published_value_has_to(each, "Chu DA (2001)")
