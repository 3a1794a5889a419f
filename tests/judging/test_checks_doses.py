"""Sets, reps, exercises, rest: each check just inside its line, where it is silent, and just outside."""

from pathlib import Path

import pytest

from tests.fixtures.phases import (
    TWO_LEVELS,
    WARM_UP,
    day,
    found,
    one_day,
    planted,
    says_that_it_is_habit,
    says_what_a_published_value_has_to,
    sets,
    version,
)

ADVANCED = "levels: [{id: strong, name: Strong, experience: advanced}]"

# --- sets -----------------------------------------------------------------------------------------------
# 1 to 2 sets initially, then up to 4: Behm et al. 2008 (CSEP), abstract, seen.


def of(many: int) -> str:
    return sets(f"push, sets: {many}, reps: 8")


@pytest.mark.parametrize("programme", [TWO_LEVELS, ADVANCED])
def test_four_sets_of_an_exercise_are_inside_and_five_are_not(programme: str, tmp_path: Path) -> None:
    assert found(one_day(tmp_path, of(4), programme=programme, name="2.0"), "sets") == []
    (finding,) = found(one_day(tmp_path, of(5), programme=programme, name="2.0"), "sets")
    assert finding.severity == "warning"
    assert "5 sets of push; outside CSEP 2008: up to 4 sets" in finding.message
    says_what_a_published_value_has_to(finding, "Behm")


@pytest.mark.parametrize(("many", "severities"), [(2, []), (3, ["note"]), (4, ["note"]), (5, ["warning"])])
def test_a_beginner_starts_with_two_sets_in_the_first_week_of_all(
    many: int, severities: list[str], tmp_path: Path
) -> None:
    assert [each.severity for each in found(one_day(tmp_path, of(many)), "sets")] == severities


def test_only_the_first_week_of_phase_1_is_the_first(tmp_path: Path) -> None:
    blocks = sets("push, sets: [2, 3], reps: 8")
    tree = planted(
        tmp_path,
        {
            "1.0": version(day(blocks), weeks=2),
            "1.1": version(day(sets("push, sets: [3, 2], reps: 8")), weeks=2),
            "2.0": version(day(of(3)), starts="2027-02-01"),
        },
        TWO_LEVELS,
    )
    (finding,) = found(tree, "sets")
    assert finding.at == "trial 1.1 day starter in week 1"
    assert "1 to 2 sets at first" in finding.message


def test_the_sets_of_one_exercise_are_added_up_over_its_stations_but_not_over_sessions(
    tmp_path: Path,
) -> None:
    """3 in A1 and 2 in B1 of one session; twice a week they are still 5."""
    (finding,) = found(one_day(tmp_path, of(3), of(2), name="2.0"), "sets")
    assert "5 sets of push" in finding.message
    assert (finding.line, finding.at) == (13, "trial 2.0 day starter in week 1")


def test_a_bout_that_the_cap_cuts_is_no_set(tmp_path: Path) -> None:
    """24 s and 15 s: the fifth begins at 156 s and ends at 180 s."""
    cap = "{{kind: timed rounds, lasts: {} s, stations: [{{exercise: push, reps: 8}}]}}"
    assert found(one_day(tmp_path, cap.format(179), name="2.0"), "sets") == []
    assert len(found(one_day(tmp_path, cap.format(180), name="2.0"), "sets")) == 1


def test_the_warm_up_has_no_sets(tmp_path: Path) -> None:
    warm_up = f"{WARM_UP}\n- {{kind: circuit, rounds: 5, stations: [{{exercise: push, reps: 20}}]}}"
    tree = planted(tmp_path, {"1.0": version(day(of(2)))}, warm_up=warm_up)
    assert [each.check for check in ("sets", "reps", "rest") for each in found(tree, check)] == []


# --- reps -----------------------------------------------------------------------------------------------
# 6 to 15: Faigenbaum et al. 2009 (NSCA), from memory; 8 to 15: Behm et al. 2008 (CSEP), abstract, seen. Power 3 to
# 6: NSCA 2009, from memory.


@pytest.mark.parametrize("exercise", ["push", "split", "step"])
@pytest.mark.parametrize(("reps", "count"), [(6, 0), (15, 0), (5, 1), (16, 1)])
def test_six_to_fifteen_reps_a_set_are_inside_on_each_side(
    exercise: str, reps: int, count: int, tmp_path: Path
) -> None:
    findings = found(one_day(tmp_path, sets(f"{exercise}, sets: 2, reps: {reps}")), "reps")
    assert len(findings) == count
    for finding in findings:
        assert finding.severity == "note"
        assert f"{reps} reps a set" in finding.message
        assert ("on each side" in finding.message) == (exercise != "push")
        assert "outside NSCA 2009: 6 to 15 reps a set, and CSEP 2008: 8 to 15" in finding.message
        says_what_a_published_value_has_to(finding, "Faigenbaum", "Behm")


@pytest.mark.parametrize("exercise", ["jump", "hop", "drop"])
@pytest.mark.parametrize(("reps", "count"), [(5, 0), (1, 0), (16, 1)])
def test_few_reps_are_usual_in_jumps_and_landings(
    exercise: str, reps: int, count: int, tmp_path: Path
) -> None:
    assert len(found(one_day(tmp_path, sets(f"{exercise}, sets: 1, reps: {reps}")), "reps")) == count


def test_a_time_and_a_hold_have_no_reps_to_judge(tmp_path: Path) -> None:
    block = (
        "{kind: circuit, rounds: 2, stations: [{exercise: push, work: 90 s}, {exercise: brace, hold: 3 s}]}"
    )
    assert found(one_day(tmp_path, block), "reps") == []


def test_few_and_many_reps_of_a_station_are_told_apart_with_levels_and_weeks(tmp_path: Path) -> None:
    block = sets("push, sets: 2, reps: {starter: [5, 8, 5], steady: [16, 17, 12]}")
    few, many = found(one_day(tmp_path, block, programme=TWO_LEVELS, weeks=3), "reps")
    assert few.at == "trial 1.0 day starter in weeks 1 and 3"
    assert many.at == "trial 1.0 day steady in weeks 1 and 2"
    assert "17 reps" in many.message


# --- exercises ------------------------------------------------------------------------------------------
# 8 to 12 exercises: Behm et al. 2008 (CSEP), abstract, seen.


@pytest.mark.parametrize(("many", "count"), [(12, 0), (13, 1)])
def test_twelve_different_exercises_are_inside(many: int, count: int, tmp_path: Path) -> None:
    extra = {f"push-{number}": "pattern: push, sides: both, measure: hold" for number in range(many - 1)}
    stations = ", ".join(f"{{exercise: {name}, hold: 20 s}}" for name in [*extra, "brace", "brace"])
    block = f"{{kind: circuit, rounds: 2, stations: [{stations}]}}"
    findings = found(planted(tmp_path, {"1.0": version(day(block))}, exercises=extra), "exercises")
    assert len(findings) == count
    for finding in findings:
        assert "13 exercises; outside CSEP 2008: 8 to 12 exercises" in finding.message
        assert finding.severity == "note"
        says_what_a_published_value_has_to(finding, "Behm")


# --- rest -----------------------------------------------------------------------------------------------
# About 1 min between sets is enough for most children: Lloyd et al. 2014 (International Consensus), second-hand.


@pytest.mark.parametrize(("rest", "count"), [("60 s", 0), ("59 s", 1), ("20 s", 1)])
def test_a_minute_from_the_end_of_a_set_to_the_next_is_inside(rest: str, count: int, tmp_path: Path) -> None:
    findings = found(one_day(tmp_path, sets("push, sets: 2, reps: 8", rest=rest)), "rest")
    assert len(findings) == count
    for finding in findings:
        assert f"{rest} from the end of a bout" in finding.message
        assert "outside 2014 International Consensus: about 1 min" in finding.message
        assert finding.severity == "note"
        says_what_a_published_value_has_to(finding, "Lloyd")


@pytest.mark.parametrize(("rest", "count"), [("21 s", 0), ("20 s", 1)])
def test_what_lies_between_two_bouts_counts_as_rest(rest: str, count: int, tmp_path: Path) -> None:
    """Push: 15 s, 8 × 3 s of pull and the rest between rounds. Pull: the rest, 24 s and 15 s."""
    block = f"{{kind: circuit, rounds: 2, rest: {rest}, stations: [{{exercise: push, reps: 8}}, {{exercise: pull, reps: 8}}]}}"
    findings = found(one_day(tmp_path, block), "rest")
    assert len(findings) == 2 * count


def test_the_change_from_side_to_side_is_no_rest(tmp_path: Path) -> None:
    """Within a minute 20 + 5 + 20 s of a plank on both sides leave 15 s to the next one."""
    block = "{kind: every minute, minutes: 2, stations: [{exercise: plank, hold: 20 s}]}"
    (finding,) = found(one_day(tmp_path, block), "rest")
    assert "15 s from the end" in finding.message
    alone = "{kind: every minute, minutes: 1, stations: [{exercise: plank, hold: 20 s}]}"
    assert found(one_day(tmp_path, alone), "rest") == []


def test_the_same_exercise_in_the_next_block_needs_its_rest_too(tmp_path: Path) -> None:
    first = "{kind: circuit, rounds: 1, rest after: 59 s, stations: [{exercise: push, reps: 8}]}"
    (finding,) = found(one_day(tmp_path, first, sets("push, sets: 1, reps: 8")), "rest")
    assert "B1 push" in finding.message
    longer = first.replace("59 s", "60 s")
    assert found(one_day(tmp_path, longer, sets("push, sets: 1, reps: 8")), "rest") == []


def test_a_bout_that_the_cap_cuts_is_followed_by_rest_as_well(tmp_path: Path) -> None:
    """The second push begins 15 s after the first and is cut after 1 s."""
    cap = "{kind: timed rounds, lasts: 40 s, stations: [{exercise: push, reps: 8}]}"
    (finding,) = found(one_day(tmp_path, cap), "rest")
    assert "15 s from the end" in finding.message


# --- ladder: common practice, no source -----------------------------------------------------------------


def test_an_exercise_for_beginners_has_an_easier_option(tmp_path: Path) -> None:
    versions = {"1.0": version(day(sets("push, sets: 2, reps: 8", "pull, sets: 2, reps: 8")))}
    assert found(planted(tmp_path, versions, TWO_LEVELS), "ladder") == []
    (finding,) = found(planted(tmp_path, versions, TWO_LEVELS, nothing_easier="pull"), "ladder")
    assert finding.file.endswith("exercises/pull.yaml")
    assert "pull is used at a beginner level and has no easier option" in finding.message
    says_that_it_is_habit(finding)


def test_it_is_told_once_for_all_versions_and_accepted_in_each_of_them(tmp_path: Path) -> None:
    block = sets("pull, sets: 2, reps: 8")
    accepts = "accept: [{check: ladder, at: day, because: we do it at the club}]"
    versions = {"1.0": version(day(block)), "1.1": version(day(block))}
    assert len(found(planted(tmp_path / "a", versions, nothing_easier="pull"), "ladder")) == 1
    versions["1.0"] = version(day(block), keys=accepts)
    assert len(found(planted(tmp_path / "b", versions, nothing_easier="pull"), "ladder")) == 1
    versions["1.1"] = version(day(block), keys=accepts)
    assert found(planted(tmp_path / "c", versions, nothing_easier="pull"), "ladder") == []


def test_it_may_be_written_as_the_harder_option_of_another(tmp_path: Path) -> None:
    versions = {"1.0": version(day(sets("pull, sets: 2, reps: 8")))}
    other = {"push": "pattern: push, sides: both, measure: hold, harder: [{exercise: pull}]"}
    assert found(planted(tmp_path, versions, exercises=other, nothing_easier="pull"), "ladder") == []


def test_other_levels_need_no_easier_option(tmp_path: Path) -> None:
    block = sets("{starter: push, other: pull}, sets: 2, reps: 8")
    tree = planted(tmp_path, {"1.0": version(day(block))}, TWO_LEVELS, nothing_easier="pull")
    assert found(tree, "ladder") == []


def test_beginners_do_the_warm_up_too(tmp_path: Path) -> None:
    tree = planted(tmp_path, {"1.0": version(day(sets("push, sets: 2, reps: 8")))}, nothing_easier="ready")
    (finding,) = found(tree, "ladder")
    assert "ready is used at a beginner level" in finding.message
