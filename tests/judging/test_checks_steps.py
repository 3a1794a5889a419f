"""From week to week and phase to phase: each check just inside its line, where it is silent, and just outside."""

from itertools import pairwise
from pathlib import Path

import pytest
from phasepress.computing.weeks import change, up_by_more

from tests.fixtures.phases import (
    LEVELS,
    TWO_LEVELS,
    day,
    found,
    planted,
    says_that_it_is_habit,
    says_what_a_published_value_has_to,
    sets,
    version,
)

NEXT = {"starts": "2027-01-18"}
"""One week after a first phase of one week."""


def tree_of(to: Path, *weeks: str, phases: tuple[str, ...] = (), programme: str = LEVELS) -> Path:
    """Phase 1 with these blocks, a list in each for its weeks; further phases of one week."""
    versions = {"1.0": version(day(*weeks), weeks=4)}
    for number, block in enumerate(phases, 2):
        versions[f"{number}.0"] = version(day(block), starts=f"2027-02-{8 * number - 8:02d}")
    return planted(to, versions, programme)


# --- load-step ------------------------------------------------------------------------------------------
# Increase the resistance by 5 to 10 %: Faigenbaum et al. 2009 (NSCA), from memory. The steps of bottles: 1.5 l to
# 2 l is a third more, by arithmetic.


def loads(week_1: str, week_2: str) -> str:
    return f"{{exercise: squat, sets: 2, reps: 8, load: [{week_1}, {week_2}]}}"


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("20 kg", "21 kg", ""),
        ("20 kg", "22 kg", ""),
        ("20 kg", "22.1 kg", "up 10.5 %"),
        ("20 kg", "23 kg", "up 15 %"),
        ("1.5 kg", "2 kg", "up 33.3 %"),
        ("2 kg", "1.5 kg", ""),
        ("0 kg", "4 kg", ""),
    ],
)
def test_a_load_may_go_up_by_ten_per_cent_and_no_more(
    before: str, after: str, said: str, tmp_path: Path
) -> None:
    block = f"{{kind: straight sets, stations: [{loads(before, after)}]}}"
    findings = found(planted(tmp_path, {"1.0": version(day(block), weeks=2)}), "load-step")
    assert len(findings) == bool(said)
    for finding in findings:
        assert (
            f"starter from {before} (week 1) to {after} in week 2, {said}; outside NSCA 2009"
            in finding.message
        )
        assert finding.severity == "note"
        says_what_a_published_value_has_to(finding, "Faigenbaum")


def test_the_first_week_is_compared_with_the_heaviest_of_the_phase_before(tmp_path: Path) -> None:
    """An easy last week with 8 kg does not make 10 kg a step."""
    versions = {
        "1.0": version(day(sets("squat, sets: 2, reps: 8, load: [10 kg, 8 kg]")), weeks=2),
        "2.0": version(day(sets("squat, sets: 2, reps: 8, load: 11 kg")), starts="2027-02-01"),
    }
    assert found(planted(tmp_path / "a", versions), "load-step") == []
    versions["2.0"] = versions["2.0"].replace("11 kg", "11.5 kg")
    (finding,) = found(planted(tmp_path / "b", versions), "load-step")
    assert "from 10 kg (most in 1.0) to 11.5 kg in week 1, up 15 %" in finding.message


def test_the_phase_before_is_taken_in_its_newest_edition(tmp_path: Path) -> None:
    squats = sets("squat, sets: 2, reps: 8, load: 10 kg")
    versions = {
        "1.0": version(day(squats)),
        "1.1": version(day(squats.replace("10 kg", "8 kg"))),
        "2.0": version(day(squats), **NEXT),
    }
    (finding,) = found(planted(tmp_path, versions), "load-step")
    assert "from 8 kg (most in 1.1) to 10 kg" in finding.message


def test_a_station_that_was_left_out_is_compared_with_the_last_week_it_was_loaded(tmp_path: Path) -> None:
    block = sets("squat, sets: [2, 0, 2], reps: 8, load: [10 kg, 10 kg, 12 kg]")
    (finding,) = found(planted(tmp_path, {"1.0": version(day(block), weeks=3)}), "load-step")
    assert "from 10 kg (week 1) to 12 kg in week 3" in finding.message


def test_another_exercise_at_the_same_station_is_no_step(tmp_path: Path) -> None:
    block = sets("[squat, bridge], sets: 2, reps: 8, load: [4 kg, 8 kg]")
    assert found(planted(tmp_path, {"1.0": version(day(block), weeks=2)}), "load-step") == []


def test_levels_are_compared_each_with_itself_in_one_finding(tmp_path: Path) -> None:
    block = sets("squat, sets: 2, reps: 8, load: {starter: [2 kg, 3 kg], steady: [4 kg, 4 kg]}")
    (finding,) = found(planted(tmp_path, {"1.0": version(day(block), weeks=2)}, TWO_LEVELS), "load-step")
    assert "starter from 2 kg" in finding.message
    assert "steady" not in finding.message


# --- week-step: the programme's own limit ---------------------------------------------------------------
# That a 10 % rule had no effect on injuries in a trial: Buist et al. 2008, abstract, seen.

STEP = f"{LEVELS}\nlimits: {{week step: 25 %}}"


@pytest.mark.parametrize(
    ("after", "said"), [(10, ""), (11, "time under tension 48 s to 1 min 6 s (up 37.5 %)")]
)
def test_a_week_may_go_up_by_the_programmes_limit_and_no_more(after: int, said: str, tmp_path: Path) -> None:
    """8 reps to 10 are 25 %; twice a week, and 3 s each."""
    block = sets(f"push, sets: 1, reps: [8, {after}]")
    tree = planted(tmp_path, {"1.0": version(day(block), weeks=2)}, STEP)
    findings = found(tree, "week-step")
    assert len(findings) == bool(said)
    for finding in findings:
        assert finding.severity == "warning"
        assert f"week 2 on week 1: {said}" in finding.message
        assert "a rule of 10 % had no effect on injuries in a trial (Buist 2008)" in finding.message
        assert "the programme's own limit" in finding.source
        assert "Buist" in finding.source


def test_sets_tension_and_landings_are_each_compared(tmp_path: Path) -> None:
    block = sets("jump, sets: [1, 2], reps: 4")
    (finding,) = found(planted(tmp_path, {"1.0": version(day(block), weeks=2)}, STEP), "week-step")
    for said in ("sets 2 to 4 (up 100 %)", "time under tension 24 s to 48 s", "landings 8 to 16"):
        assert said in finding.message


def test_many_steps_are_told_by_the_first_of_them(tmp_path: Path) -> None:
    """Every other week doubles: 6 steps in 12 weeks."""
    block = sets(f"push, sets: [{', '.join(['1, 2'] * 6)}], reps: 8")
    (finding,) = found(planted(tmp_path, {"1.0": version(day(block), weeks=12)}, STEP), "week-step")
    assert "week 8 on week 7" in finding.message
    assert "week 10" not in finding.message
    assert "; and 2 more; a rule of 10 %" in finding.message


def test_without_a_limit_no_step_is_judged(tmp_path: Path) -> None:
    block = sets("push, sets: [1, 4], reps: 8")
    assert found(planted(tmp_path, {"1.0": version(day(block), weeks=2)}), "week-step") == []


def test_a_day_that_is_trained_twice_counts_twice(tmp_path: Path) -> None:
    """4 sets on two days a week, then the same session once more a week: a second day of it in week 2."""
    days = (
        day(sets("push, sets: 2, reps: 8"), name="always", on="[mon]"),
        day(sets("push, sets: [0, 2], reps: 8"), name="later", on="[wed, fri]"),
    )
    (finding,) = found(planted(tmp_path, {"1.0": version(*days, weeks=2)}, STEP), "week-step")
    assert "sets 2 to 6 (up 200 %)" in finding.message


def test_the_first_week_is_compared_with_the_last_of_the_phase_before(tmp_path: Path) -> None:
    versions = {
        "1.0": version(day(sets("push, sets: [4, 2], reps: 8")), weeks=2),
        "2.0": version(day(sets("push, sets: 3, reps: 8")), starts="2027-02-01"),
    }
    (finding,) = found(planted(tmp_path, versions, STEP), "week-step")
    assert "week 1 on week 2 of 1.0: sets 4 to 6" in finding.message


def test_after_a_week_off_the_last_trained_week_is_compared_with(tmp_path: Path) -> None:
    block = sets("push, sets: [2, 0, 3], reps: 8")
    (finding,) = found(planted(tmp_path, {"1.0": version(day(block), weeks=3)}, STEP), "week-step")
    assert "week 3 on week 1: sets 4 to 6" in finding.message


def test_what_there_was_none_of_has_no_percentage(tmp_path: Path) -> None:
    blocks = (sets("push, sets: 4, reps: 12"), sets("bounce, sets: [0, 1], reps: 2"))
    assert found(planted(tmp_path, {"1.0": version(day(*blocks), weeks=2)}, STEP), "week-step") == []
    assert change(0, 5) is None
    assert not up_by_more(0, 5, 10)


def test_ten_per_cent_a_week_is_not_ten_per_cent_in_eight() -> None:
    """Compounding, by arithmetic: 4 weeks are 46.41 % and 8 weeks 114.36 %, so a step tells of one week only."""
    amounts = [20 * 11**week * 10 ** (8 - week) for week in range(9)]
    assert not any(up_by_more(before, now, 10) for before, now in pairwise(amounts))
    assert change(amounts[0], amounts[4]) == pytest.approx(46.41)
    assert change(amounts[0], amounts[8]) == pytest.approx(114.358881)


# --- easy-week: common practice, no source --------------------------------------------------------------


@pytest.mark.parametrize(
    ("reps", "count"),
    [
        ("[8, 9, 10]", 0),
        ("[8, 9, 10, 8]", 0),
        ("[8, 9, 10, 10]", 1),
        ("[8, 8, 8, 8]", 1),
        ("[8, 9, 8, 9, 10, 8]", 0),
        ("[8, 9, 8, 9, 10, 11]", 0),
        ("[8, 9, 8, 9, 10, 11, 12]", 1),
    ],
)
def test_one_week_in_four_is_lighter_than_the_one_before(reps: str, count: int, tmp_path: Path) -> None:
    block = sets(f"push, sets: 2, reps: {reps}")
    tree = planted(tmp_path, {"1.0": version(day(block), weeks=reps.count(",") + 1)})
    findings = found(tree, "easy-week")
    assert len(findings) == count
    for finding in findings:
        assert "starter: 4 weeks up to week" in finding.message
        says_that_it_is_habit(finding)


@pytest.mark.parametrize(
    ("block", "count"),
    [
        ("push, sets: [3, 3, 3, 2], reps: [8, 8, 8, 12]", 0),
        ("push, sets: [3, 3, 3, 2], reps: [8, 8, 8, 13]", 1),
        ("squat, sets: 2, reps: 8, load: [4 kg, 4 kg, 4 kg, 3 kg]", 0),
        ("bounce, sets: 2, reps: 8", 1),
    ],
    ids=["fewer sets", "fewer sets with more reps in all", "less load", "the same"],
)
def test_lighter_is_less_work_or_of_equal_work_less_load(block: str, count: int, tmp_path: Path) -> None:
    assert len(found(planted(tmp_path, {"1.0": version(day(sets(block)), weeks=4)}), "easy-week")) == count


@pytest.mark.parametrize(("starts", "count"), [("2027-02-01", 1), ("2027-02-08", 0)])
def test_weeks_run_on_from_the_phase_before_unless_one_lies_between(
    starts: str, count: int, tmp_path: Path
) -> None:
    versions = {
        "1.0": version(day(sets("push, sets: 2, reps: [8, 9, 10]")), weeks=3),
        "2.0": version(day(sets("push, sets: 2, reps: [10, 9]")), weeks=2, starts=starts),
    }
    findings = found(planted(tmp_path, versions), "easy-week", "2.0")
    assert len(findings) == count
    assert all("4 weeks up to week 1" in each.message for each in findings)
    assert all("from the phase before on" in each.message for each in findings)


def test_a_run_is_told_once_and_in_the_phase_that_ends_it(tmp_path: Path) -> None:
    block = sets("push, sets: 2, reps: 8")
    versions = {
        "1.0": version(day(block), weeks=4),
        "2.0": version(day(sets("push, sets: 2, reps: [6, 7]")), weeks=2, starts="2027-02-08"),
    }
    (finding,) = found(planted(tmp_path, versions), "easy-week")
    assert finding.at == "trial 1.0 starter week 4"


# --- balance: common practice, no source ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("stations", "said"),
    [
        (("push, sets: 4, reps: 8", "pull, sets: 2, reps: 8"), ""),
        (("push, sets: 2, reps: 8", "pull, sets: 4, reps: 8"), ""),
        (("push, sets: 5, reps: 8", "pull, sets: 2, reps: 8"), "push to pull as far apart as 10 : 4"),
        (("push, sets: 1, reps: 8", "pull, sets: 3, reps: 8"), "push to pull as far apart as 2 : 6"),
        (("push, sets: 1, reps: 8",), "push to pull as far apart as 2 : 0"),
        (("brace, sets: 4, hold: 20 s",), ""),
        (("squat, sets: 2, reps: 8", "split, sets: 2, reps: 8", "bridge, sets: 2, reps: 8"), ""),
        (
            ("squat, sets: 2, reps: 8", "split, sets: 3, reps: 8", "bridge, sets: 2, reps: 8"),
            "squat and lunge to hinge as far apart as 10 : 4",
        ),
    ],
)
def test_one_side_has_at_most_twice_the_sets_of_the_other(
    stations: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    findings = found(planted(tmp_path, {"1.0": version(day(sets(*stations)))}), "balance")
    assert len(findings) == bool(said)
    for finding in findings:
        assert said in finding.message
        says_that_it_is_habit(finding)


def test_it_is_the_week_that_is_balanced_and_not_the_day(tmp_path: Path) -> None:
    days = (
        day(sets("push, sets: 2, reps: 8"), name="one", on="[mon]"),
        day(sets("pull, sets: 2, reps: 8"), name="two", on="[wed, fri]"),
    )
    assert found(planted(tmp_path, {"1.0": version(*days)}), "balance") == []


# --- kit: the file format -------------------------------------------------------------------------------
# One letter added, left out, changed or swapped with its neighbour.

NEEDS = "pattern: push, sides: both, measure: hold, needs: [{}]"


@pytest.mark.parametrize("word", ["towels", "towl", "tovel", "otwel", "toewl", "Towel"])
def test_a_thing_whose_word_is_one_slip_from_anothers_is_told_at_its_place(word: str, tmp_path: Path) -> None:
    exercises = {
        "brace": NEEDS.format(word),
        "push": NEEDS.format("towel"),
        "pull": NEEDS.format("towel"),
    }
    block = (
        "{kind: circuit, rounds: 2, stations: [{exercise: brace, hold: 20 s}, {exercise: push, hold: 20 s}]}"
    )
    tree = planted(tmp_path, {"1.0": version(day(block)), "1.1": version(day(block))}, exercises=exercises)
    (finding,) = found(tree, "kit", "brace")
    assert finding.severity == "note"
    assert f'brace alone needs "{word}", which is one slip from "towel"' in finding.message
    assert finding.hint == "write towel, if it is the same thing"
    assert found(tree, "kit", "push") == []


@pytest.mark.parametrize("word", ["towel", "trowels", "bath towel", "lowet"])
def test_the_same_word_and_another_word_are_no_slip(word: str, tmp_path: Path) -> None:
    exercises = {"brace": NEEDS.format(word), "push": NEEDS.format("towel"), "pull": NEEDS.format("towel")}
    block = "{kind: circuit, rounds: 2, stations: [{exercise: brace, hold: 20 s}]}"
    tree = planted(tmp_path, {"1.0": version(day(block))}, exercises=exercises)
    assert found(tree, "kit") == []


def test_a_word_that_two_exercises_need_is_meant(tmp_path: Path) -> None:
    exercises = {"brace": NEEDS.format("mat"), "plank": NEEDS.format("mat"), "push": NEEDS.format("bat")}
    block = "{kind: circuit, rounds: 2, stations: [{exercise: brace, hold: 20 s}]}"
    assert found(planted(tmp_path, {"1.0": version(day(block))}, exercises=exercises), "kit") == []


def test_a_slip_can_be_accepted_in_the_version_that_uses_it(tmp_path: Path) -> None:
    exercises = {"brace": NEEDS.format("mat"), "push": NEEDS.format("bat")}
    block = "{kind: circuit, rounds: 2, stations: [{exercise: brace, hold: 20 s}]}"
    accepted = "accept: [{check: kit, because: a mat is not a bat}]"
    tree = planted(tmp_path, {"1.0": version(day(block), keys=accepted)}, exercises=exercises)
    assert found(tree, "kit") == []
