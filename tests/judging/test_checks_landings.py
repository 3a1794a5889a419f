"""When landings come: each check just inside its line, where it is silent, and just outside."""

from pathlib import Path

import pytest

from tests.fixtures import trees
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

JUMPS = sets("jump, sets: 2, reps: 4")
LANDINGS = sets("drop, sets: 2, reps: 4")
SECOND = {"starts": "2027-02-01"}

# --- land-first -----------------------------------------------------------------------------------------
# Landing is learned first, then jumps in place, standing jumps and so on: the order in Lloyd, Meyers & Oliver
# 2011; the paper was located, the order is from memory.


def test_jumps_before_any_landing_exercise_are_told(tmp_path: Path) -> None:
    (finding,) = found(one_day(tmp_path, JUMPS), "land-first")
    assert finding.severity == "note"
    assert "A1 jump, starter in week 1: medium landings before any land exercise" in finding.message
    assert "outside Lloyd, Meyers & Oliver 2011" in finding.message
    says_what_a_published_value_has_to(finding, "Lloyd RS, Meyers RW")


@pytest.mark.parametrize(
    ("blocks", "count"),
    [
        ((LANDINGS, JUMPS), 0),
        ((JUMPS, LANDINGS), 1),
        ((sets("bounce, sets: 2, reps: 4"),), 0),
        ((sets("hop, sets: 2, reps: 4"),), 1),
        ((sets("step-off, sets: 2, reps: 4"), JUMPS), 0),
        ((sets("drop, sets: 0, reps: 4"), JUMPS), 1),
    ],
    ids=["land, jump", "jump, land", "low", "high", "a high landing exercise", "left out"],
)
def test_within_a_session_its_order_decides(blocks: tuple[str, ...], count: int, tmp_path: Path) -> None:
    assert len(found(one_day(tmp_path, *blocks), "land-first")) == count


@pytest.mark.parametrize(("jumps", "lands", "count"), [("[thu]", "[mon]", 0), ("[mon]", "[thu]", 1)])
def test_within_a_week_the_weekdays_decide_and_not_the_file(
    jumps: str, lands: str, count: int, tmp_path: Path
) -> None:
    days = (day(JUMPS, name="jumps", on=jumps), day(LANDINGS, name="lands", on=lands))
    assert len(found(planted(tmp_path, {"1.0": version(*days)}), "land-first")) == count


def test_a_landing_exercise_of_the_warm_up_counts(tmp_path: Path) -> None:
    warm_up = f"{WARM_UP}\n- {{kind: circuit, rounds: 1, stations: [{{exercise: drop, reps: 3}}]}}"
    assert found(planted(tmp_path, {"1.0": version(day(JUMPS))}, warm_up=warm_up), "land-first") == []


def test_the_newest_editions_of_earlier_phases_count(tmp_path: Path) -> None:
    """1.1 takes the landings of 1.0 out, so nobody who trains 1.1 and then 2.0 has learned them."""
    other = sets("push, sets: 2, reps: 8")
    tree = {"1.0": version(day(LANDINGS)), "2.0": version(day(JUMPS), **SECOND)}
    assert found(planted(tmp_path / "a", tree), "land-first") == []
    tree["1.1"] = version(day(other))
    assert len(found(planted(tmp_path / "b", tree), "land-first", "2.0")) == 1


def test_the_phase_before_the_last_counts_too(tmp_path: Path) -> None:
    tree = {
        "1.0": version(day(LANDINGS)),
        "2.0": version(day(sets("push, sets: 2, reps: 8")), **SECOND),
        "3.0": version(day(JUMPS), starts="2027-03-01"),
    }
    assert found(planted(tmp_path, tree), "land-first") == []


def test_a_phase_that_comes_later_in_time_does_not_count(tmp_path: Path) -> None:
    tree = {"1.0": version(day(LANDINGS), **SECOND), "2.0": version(day(JUMPS))}
    assert len(found(planted(tmp_path, tree), "land-first", "2.0")) == 1


def test_every_level_learns_to_land_for_itself(tmp_path: Path) -> None:
    lands = sets("{starter: drop, other: push}, sets: 2, reps: 6")
    tree = {"1.0": version(day(lands)), "2.0": version(day(JUMPS), **SECOND)}
    (finding,) = found(planted(tmp_path, tree, TWO_LEVELS), "land-first")
    assert finding.at == "trial 2.0 day steady in week 1"


def test_who_comes_into_a_new_level_was_in_another_before(tmp_path: Path) -> None:
    tree = {"1.0": version(day(LANDINGS), keys="levels: [starter]"), "2.0": version(day(JUMPS), **SECOND)}
    assert found(planted(tmp_path, tree, TWO_LEVELS), "land-first") == []


def test_with_a_phase_that_cannot_be_read_nothing_is_said_of_what_came_before(tmp_path: Path) -> None:
    tree = planted(tmp_path, {"1.0": "phase: [", "2.0": version(day(JUMPS), **SECOND)})

    assert "land-first" not in {each.check for each in trees.checked(tree).findings}


# --- jumps-when-tired: common practice, no source -------------------------------------------------------
# A jump takes 3 s, a squat 3 s.


@pytest.mark.parametrize(("before", "after", "count"), [(8, 6, 0), (8, 5, 1)])
def test_landings_after_half_of_the_work_are_fresh_and_after_more_they_are_not(
    before: int, after: int, count: int, tmp_path: Path
) -> None:
    """With 2 jumps: 8 of 16 reps' work is half of it, and 8 of 15 is more."""
    blocks = (sets(f"push, sets: 1, reps: {before}"), sets("jump, sets: 1, reps: 2"))
    findings = found(one_day(tmp_path, *blocks, sets(f"pull, sets: 1, reps: {after}")), "jumps-when-tired")
    assert len(findings) == count
    for finding in findings:
        assert "B1 jump" in finding.message
        says_that_it_is_habit(finding)


@pytest.mark.parametrize(
    ("exercise", "count"), [("bounce", 0), ("drop", 0), ("jump", 1), ("hop", 1), ("step-off", 1)]
)
def test_low_landings_may_come_last(exercise: str, count: int, tmp_path: Path) -> None:
    blocks = (sets("push, sets: 2, reps: 12"), sets(f"{exercise}, sets: 1, reps: 3"))
    assert len(found(one_day(tmp_path, *blocks), "jumps-when-tired")) == count


def test_the_later_rounds_of_a_circuit_with_jumps_are_told(tmp_path: Path) -> None:
    block = "{kind: circuit, rounds: 3, stations: [{exercise: jump, reps: 4}, {exercise: push, reps: 12}]}"
    assert len(found(one_day(tmp_path, block), "jumps-when-tired")) == 1


def test_a_session_of_jumps_alone_is_not_tired_of_anything_else(tmp_path: Path) -> None:
    assert found(one_day(tmp_path, sets("jump, sets: 4, reps: 5")), "jumps-when-tired") == []


def test_the_work_of_the_warm_up_is_not_that_of_the_day(tmp_path: Path) -> None:
    """10 min of marching before 4 jumps and 8 push-ups."""
    blocks = (sets("jump, sets: 1, reps: 4"), sets("push, sets: 1, reps: 8"))
    assert found(one_day(tmp_path, *blocks), "jumps-when-tired") == []
