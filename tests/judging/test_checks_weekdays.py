"""How often and on which weekdays: each check just inside its line, where it is silent, and just outside."""

from pathlib import Path

import pytest

from tests.fixtures.phases import (
    LEVELS,
    TWO_LEVELS,
    day,
    found,
    one_day,
    planted,
    says_that_it_is_habit,
    says_what_a_published_value_has_to,
    sets,
    version,
)

WORK = sets("push, sets: 2, reps: 8", "pull, sets: 2, reps: 8")
NOT_FOR_STARTERS = "{kind: circuit, rounds: {starter: 0, other: 2}, stations: [{exercise: push, reps: 8}]}"


# --- sessions-per-week ----------------------------------------------------------------------------------
# 2 to 3 sessions a week: Behm et al. 2008 (CSEP), abstract, seen; Faigenbaum et al. 2009 (NSCA), from memory.


def tree_with_sessions(to: Path, on: str, limit: str = "") -> Path:
    return planted(to, {"1.0": version(day(WORK, on=on))}, f"{LEVELS}\n{limit}")


@pytest.mark.parametrize("on", ["[mon, thu]", "[mon, wed, fri]"])
def test_two_or_three_sessions_a_week_are_as_published(on: str, tmp_path: Path) -> None:
    assert found(tree_with_sessions(tmp_path, on), "sessions-per-week") == []


@pytest.mark.parametrize(("on", "said"), [("[mon]", "1 session a"), ("[mon, tue, thu, sat]", "4 sessions a")])
def test_one_session_or_four_are_outside_what_is_published(on: str, said: str, tmp_path: Path) -> None:
    (finding,) = found(tree_with_sessions(tmp_path, on), "sessions-per-week")
    assert finding.severity == "note"
    assert finding.message.startswith(said)
    assert "outside CSEP 2008 and NSCA 2009: 2 to 3 sessions a week" in finding.message
    says_what_a_published_value_has_to(finding, "Behm", "Faigenbaum")


@pytest.mark.parametrize(("limit", "count"), [(3, 0), (2, 1)])
def test_more_sessions_than_the_programme_has_are_a_warning(limit: int, count: int, tmp_path: Path) -> None:
    tree = tree_with_sessions(tmp_path, "[mon, wed, fri]", f"limits: {{sessions per week: {limit}}}")
    findings = found(tree, "sessions-per-week")
    assert [each.severity for each in findings] == ["warning"] * count
    assert all("the programme's limit is 2" in each.message for each in findings)


def test_a_level_and_a_week_are_counted_by_what_is_left_of_their_days(tmp_path: Path) -> None:
    """Starters leave the second day out, and everybody in week 2: their warm-up alone is no session."""
    once = "{kind: circuit, rounds: {starter: 0, other: [2, 0]}, stations: [{exercise: push, reps: 8}]}"
    days = (day(WORK, on="[mon]"), day(once, name="more", on="[wed, fri]"))
    tree = planted(tmp_path, {"1.0": version(*days, weeks=2)}, TWO_LEVELS)
    (finding,) = found(tree, "sessions-per-week")
    assert finding.message.startswith("1 session a week, starter in weeks 1 and 2; steady in week 2; ")
    assert finding.at == "trial 1.0 starter in weeks 1 and 2; steady in week 2"


# --- days-apart -----------------------------------------------------------------------------------------
# As in test_soundness.py; here for levels that train on other days.


def test_days_that_no_level_trains_in_one_week_may_be_neighbours(tmp_path: Path) -> None:
    only_starters = NOT_FOR_STARTERS.replace("{starter: 0, other: 2}", "{starter: 2, other: 0}")
    days = (
        day(only_starters, name="one", on="[mon, wed]"),
        day(NOT_FOR_STARTERS, name="two", on="[tue, thu]"),
    )
    tree = planted(tmp_path, {"1.0": version(*days)}, TWO_LEVELS)
    assert found(tree, "days-apart") == []


def test_only_the_level_whose_days_are_neighbours_is_named(tmp_path: Path) -> None:
    days = (day(WORK, name="one", on="[mon, wed]"), day(NOT_FOR_STARTERS, name="two", on="[thu]"))
    (finding,) = found(planted(tmp_path, {"1.0": version(*days)}, TWO_LEVELS), "days-apart")
    assert finding.at == "trial 1.0 steady in week 1"


# --- jump-days-apart ------------------------------------------------------------------------------------
# 48 to 72 h between sessions of jumps: Potach & Chu in Essentials of Strength Training and Conditioning, from
# memory.

JUMPS = sets("jump, sets: 2, reps: 4")


@pytest.mark.parametrize("on", ["[mon, wed]", "[mon, tue or wed]", "[sun, tue]"])
def test_jumps_on_the_next_day_but_one_are_48_hours_apart(on: str, tmp_path: Path) -> None:
    assert found(planted(tmp_path, {"1.0": version(day(JUMPS, on=on))}), "jump-days-apart") == []


@pytest.mark.parametrize("on", ["[mon, tue]", "[sun, mon]", "[mon, mon]", "[mon, tue or sun]"])
def test_jumps_on_neighbouring_days_are_told_sunday_to_monday_too(on: str, tmp_path: Path) -> None:
    (finding,) = found(planted(tmp_path, {"1.0": version(day(JUMPS, on=on))}), "jump-days-apart")
    assert finding.severity == "warning"
    assert "less than 48 h apart" in finding.message
    says_what_a_published_value_has_to(finding, "Potach")


@pytest.mark.parametrize(("exercise", "count"), [("bounce", 0), ("step-off", 1), ("hop", 1)])
def test_low_landings_may_come_on_neighbouring_days(exercise: str, count: int, tmp_path: Path) -> None:
    days = (
        day(JUMPS, name="one", on="[mon]"),
        day(sets(f"{exercise}, sets: 2, reps: 3"), name="two", on="[tue]"),
    )
    assert len(found(planted(tmp_path, {"1.0": version(*days)}), "jump-days-apart")) == count


def test_jumps_for_a_time_that_cannot_be_counted_are_jumps_too(tmp_path: Path) -> None:
    uncounted = {"jump": "pattern: jump, sides: both, measure: time, contacts: 1, landing: medium"}
    block = "{kind: circuit, rounds: 2, stations: [{exercise: jump, work: 20 s}]}"
    tree = planted(tmp_path, {"1.0": version(day(block, on="[mon, tue]"))}, exercises=uncounted)
    assert len(found(tree, "jump-days-apart")) == 1


def test_jumps_in_other_weeks_are_not_on_neighbouring_days(tmp_path: Path) -> None:
    days = (
        day(sets("jump, sets: [2, 0], reps: 4"), name="one", on="[mon]"),
        day(sets("jump, sets: [0, 2], reps: 4"), name="two", on="[tue]"),
    )
    assert found(planted(tmp_path, {"1.0": version(*days, weeks=2)}), "jump-days-apart") == []


# --- match-near: common practice, no source -------------------------------------------------------------

SATURDAY = "match days: [sat]"


def legs_of(legs: int, others: int) -> str:
    return sets(f"squat, sets: {legs}, reps: 8", f"push, sets: {others}, reps: 8")


@pytest.mark.parametrize(("legs", "others", "count"), [(1, 2, 0), (2, 3, 1)])
def test_over_a_third_for_the_legs_on_the_day_before_a_match_is_told(
    legs: int, others: int, count: int, tmp_path: Path
) -> None:
    days = day(legs_of(legs, others), on="[tue, fri]")
    findings = found(planted(tmp_path, {"1.0": version(days, keys=SATURDAY)}), "match-near")
    assert len(findings) == count
    for finding in findings:
        assert "2 of 5 sets" in finding.message
        says_that_it_is_habit(finding)


@pytest.mark.parametrize(
    ("on", "matches", "count"),
    [
        ("[thu or fri]", "[sat]", 0),
        ("[fri or thu]", "[sat]", 1),
        ("[fri]", "[]", 0),
        ("[sat]", "[sat]", 0),
        ("[sun]", "[mon]", 1),
        ("[thu or fri]", "[fri, sat]", 1),
        ("[wed, thu or fri]", "[sat]", 1),
        ("[mon, thu or fri]", "[sat]", 0),
    ],
)
def test_of_a_choice_it_is_the_weekday_that_the_plan_suggests(
    on: str, matches: str, count: int, tmp_path: Path
) -> None:
    tree = planted(tmp_path, {"1.0": version(day(legs_of(2, 2), on=on), keys=f"match days: {matches}")})
    assert len(found(tree, "match-near")) == count


@pytest.mark.parametrize(
    ("exercise", "count"), [("squat", 1), ("split", 1), ("bridge", 1), ("jump", 1), ("drop", 0), ("push", 0)]
)
def test_squats_lunges_hinges_and_jumps_are_for_the_legs(exercise: str, count: int, tmp_path: Path) -> None:
    tree = planted(
        tmp_path, {"1.0": version(day(sets(f"{exercise}, sets: 2, reps: 8"), on="[fri]"), keys=SATURDAY)}
    )
    assert len(found(tree, "match-near")) == count


def test_the_legs_of_a_level_that_leaves_them_out_are_fresh(tmp_path: Path) -> None:
    legs = "{kind: circuit, rounds: {starter: 0, other: 2}, stations: [{exercise: squat, reps: 8}]}"
    tree = planted(tmp_path, {"1.0": version(day(WORK, legs, on="[fri]"), keys=SATURDAY)}, TWO_LEVELS)
    assert found(tree, "match-near") == []
    three = legs.replace("other: 2", "other: 3")
    tree = planted(tmp_path, {"1.0": version(day(WORK, three, on="[fri]"), keys=SATURDAY)}, TWO_LEVELS)
    (finding,) = found(tree, "match-near")
    assert finding.at == "trial 1.0 day steady in week 1"


# --- warm-up-length -------------------------------------------------------------------------------------
# 5 to 10 min: Faigenbaum et al. 2009 (NSCA), from memory; 10 to 15 min: McCambridge & Stricker 2008 (AAP),
# second-hand. The statements differ, so each message names the one that it compares with.


def tree_that_warms_up_for(to: Path, seconds: str) -> Path:
    warm_up = f"- {{kind: circuit, rounds: 1, stations: [{{exercise: ready, work: {seconds}}}]}}"
    return planted(to, {"1.0": version(day(WORK))}, warm_up=warm_up)


@pytest.mark.parametrize(
    ("seconds", "severity", "named", "author"),
    [
        ("4 min", "warning", "NSCA 2009: a warm-up of 5 to 10 min", "Faigenbaum"),
        ("299 s", "warning", "NSCA 2009: a warm-up of 5 to 10 min", "Faigenbaum"),
        ("5 min", "note", "AAP 2008: a warm-up of 10 to 15 min", "McCambridge"),
        ("599 s", "note", "AAP 2008: a warm-up of 10 to 15 min", "McCambridge"),
    ],
)
def test_a_short_warm_up_is_told_with_the_statement_that_has_a_longer_one(
    seconds: str, severity: str, named: str, author: str, tmp_path: Path
) -> None:
    (finding,) = found(tree_that_warms_up_for(tmp_path, seconds), "warm-up-length")
    assert finding.severity == severity
    assert f"outside {named}" in finding.message
    says_what_a_published_value_has_to(finding, author)


@pytest.mark.parametrize("seconds", ["10 min", "20 min"])
def test_a_warm_up_of_ten_minutes_is_inside_both(seconds: str, tmp_path: Path) -> None:
    assert found(tree_that_warms_up_for(tmp_path, seconds), "warm-up-length") == []


def test_rest_within_the_warm_up_counts_and_rest_after_it_does_not(tmp_path: Path) -> None:
    """4 min and 1 min rest and 4 min 59 s are 9 min 59 s, whatever the rest before block A."""
    blocks = (
        "- {kind: circuit, rounds: 1, rest after: 60 s, stations: [{exercise: ready, work: 4 min}]}\n"
        "- {kind: circuit, rounds: 1, rest after: 5 min, stations: [{exercise: ready, work: 299 s}]}"
    )
    (finding,) = found(planted(tmp_path, {"1.0": version(day(WORK))}, warm_up=blocks), "warm-up-length")
    assert "a warm-up of 9 min 59 s" in finding.message


def test_the_warm_up_of_a_day_of_which_nothing_is_left_is_not_judged(tmp_path: Path) -> None:
    warm_up = (
        "- {kind: circuit, rounds: 1, stations: [{exercise: ready, work: {starter: 1 min, other: 10 min}}]}"
    )
    tree = planted(tmp_path, {"1.0": version(day(NOT_FOR_STARTERS))}, TWO_LEVELS, warm_up=warm_up)
    assert found(tree, "warm-up-length") == []


# --- age ------------------------------------------------------------------------------------------------
# Not before about 7 to 8 years: McCambridge & Stricker 2008 (AAP), second-hand.


@pytest.mark.parametrize(("ages", "count"), [("[7, 9]", 0), ("[6, 9]", 1)])
def test_an_audience_under_seven_is_told_once_in_the_programme(ages: str, count: int, tmp_path: Path) -> None:
    programme = f"{LEVELS}\naudience: {{ages: {ages}}}"
    versions = {"1.0": version(day(WORK)), "1.1": version(day(WORK))}
    findings = found(planted(tmp_path, versions, programme), "age", "programme")
    assert len(findings) == count
    for finding in findings:
        assert finding.severity == "warning"
        assert (finding.line, finding.at) == (3, "trial")
        says_what_a_published_value_has_to(finding, "McCambridge")


def test_without_an_audience_no_age_is_judged(tmp_path: Path) -> None:
    assert found(one_day(tmp_path, WORK), "age") == []
