"""Plans that are kept for the sessions that share them: equal ones are one object, and old ones are let go."""

from pathlib import Path

import pytest
from phasepress.computing import resolve
from phasepress.computing.resolve import BlockPlans, PlannedBlock
from phasepress.reading.catalogue import load

from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version

LEVELS = ("starter", "steady")


def block(to: Path, *stations: str) -> BlockPlans:
    """The first block of a version of four weeks."""
    catalogue = load(planted(to, {"1.0": version(day(sets(*stations)), weeks=4)}, TWO_LEVELS)).catalogue
    (only,) = catalogue.programmes["trial"].versions
    return BlockPlans(catalogue, only.model.days[0].blocks[0], "day", "A", "A")


def reps(plan: PlannedBlock | None) -> list[object]:
    return [station.amount for station in plan.stations] if plan else []


def test_levels_and_weeks_with_equal_doses_share_one_plan(tmp_path: Path) -> None:
    plans = block(tmp_path, "squat, sets: 2, reps: [8, 9, 8, 9]", "push, sets: 2, reps: 5")
    every = [plans.at(level, week) for level in LEVELS for week in (1, 2, 3, 4)]
    assert [reps(plan) for plan in every] == [[8, 5], [9, 5]] * 4
    assert len(set(map(id, every))) == 2


def test_a_block_that_never_varies_is_planned_once(tmp_path: Path) -> None:
    plans = block(tmp_path, "squat, sets: 2, reps: 8")
    assert plans.at("starter", 1) is plans.at("steady", 4)
    assert block(tmp_path / "other", "squat, sets: 0, reps: 8").at("starter", 1) is None


@pytest.mark.parametrize(("most", "kept"), [(8, True), (7, False)])
def test_so_many_stations_are_kept_and_then_all_are_let_go(
    most: int, kept: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Four plans of two stations."""
    monkeypatch.setattr(resolve, "MOST_KEPT", most)
    plans = block(tmp_path, "squat, sets: 2, reps: [5, 6, 7, 8]", "push, sets: 2, reps: 5")
    first = plans.at("starter", 1)
    assert [reps(plans.at("starter", week)) for week in (2, 3, 4)] == [[6, 5], [7, 5], [8, 5]]
    last = plans.at("starter", 4)
    assert (plans.at("starter", 1) is first) is kept
    assert plans.at("starter", 4) is last
    assert reps(plans.at("starter", 1)) == reps(first)


def test_a_plan_that_was_let_go_makes_room_for_as_many_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Room for three stations: the fourth week lets three go, and two more find room beside it."""
    monkeypatch.setattr(resolve, "MOST_KEPT", 3)
    plans = block(tmp_path, "squat, sets: 2, reps: [5, 6, 7, 8]")
    every = {week: plans.at("starter", week) for week in (1, 2, 3, 4)}
    again = {week: plans.at("starter", week) for week in (1, 2)}
    assert [again[week] is every[week] for week in (1, 2)] == [False, False]
    assert plans.at("starter", 4) is every[4]
