"""Work that does not fit into its minute: which station, level and week are told; also beside other faults."""

from pathlib import Path

import pytest
from phasepress.judging import check
from phasepress.judging.minutes import long_minutes, long_minutes_despite_faults, work_despite_faults
from phasepress.reading.catalogue import load
from phasepress.reading.findings import Fault

from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version

LEVELS = ["starter", "steady"]
LIGHT = sets("squat, sets: 2, reps: 8")
# A push-up takes 3 s: 20 of them fill a minute.


def minutes(*stations: str, length: str = "4") -> str:
    """A block that begins one of these stations every minute."""
    listed = ", ".join(f"{{exercise: {each}}}" for each in stations)
    return f"{{kind: every minute, minutes: {length}, stations: [{listed}]}}"


def faults(to: Path, *days: str, weeks: int = 3) -> list[Fault]:
    """Those of a version that can be read."""
    catalogue = load(planted(to, {"1.0": version(*days, weeks=weeks)}, TWO_LEVELS)).catalogue
    (only,) = catalogue.programmes["trial"].versions
    return [fault for _, fault in long_minutes(catalogue, only)]


def beside(to: Path, *days: str, weeks: str = "3") -> tuple[list[Fault], int]:
    """Those of a version with another fault too, a day of the week that is none; and how much was looked at."""
    text = version(*days, weeks=weeks).replace("[mon, thu]", "[moon]")  # type: ignore[arg-type]
    loaded = load(planted(to, {"1.0": text}, TWO_LEVELS))
    ((_, _, document),) = loaded.unreadable_versions
    found = long_minutes_despite_faults(loaded.catalogue, document, LEVELS)
    return [fault for _, fault in found], work_despite_faults(document, LEVELS)


def said(seconds: str, level: str, week: int) -> str:
    return (
        f"push: {seconds} of work for {level} in week {week}, in a block that begins a station every minute"
    )


@pytest.mark.parametrize(
    ("reps", "told"),
    [
        ("20", []),
        ("21", [said("1 min 3 s", "starter", 1)]),
        ("[20, 20, 21]", [said("1 min 3 s", "starter", 3)]),
        ("{starter: 20, steady: [20, 22, 23]}", [said("1 min 6 s", "steady", 2)]),
        # One fault a station, however many weeks and levels have it.
        ("{starter: [21, 22, 23], steady: 24}", [said("1 min 3 s", "starter", 1)]),
        ("{starter: [0, 20, 21], steady: 20}", [said("1 min 3 s", "starter", 3)]),
    ],
)
def test_the_first_level_and_week_that_do_not_fit_are_told(
    reps: str, told: list[str], tmp_path: Path
) -> None:
    block = minutes(f"push, reps: {reps}")
    for found in (faults(tmp_path / "a", day(block)), beside(tmp_path / "b", day(block))[0]):
        assert [fault.message for fault in found] == told


def test_a_week_without_the_block_is_passed_over(tmp_path: Path) -> None:
    block = minutes("push, reps: [21, 21, 22]", length="[0, 0, 4]")
    for found in (faults(tmp_path / "a", day(block)), beside(tmp_path / "b", day(block))[0]):
        assert [fault.message for fault in found] == [said("1 min 6 s", "starter", 3)]


def test_each_station_that_does_not_fit_is_told_at_its_own_place(tmp_path: Path) -> None:
    days = (
        day(LIGHT, name="first"),
        day(LIGHT, minutes("pull, reps: 5", "push, reps: 21", "push, reps: 22")),
    )
    places = [("days", 1, "blocks", 1, "stations", number) for number in (1, 2)]
    assert [fault.path for fault in faults(tmp_path / "a", *days)] == places
    assert [fault.path for fault in beside(tmp_path / "b", *days)[0]] == places


def test_stations_of_other_blocks_may_last_longer(tmp_path: Path) -> None:
    block = "{kind: circuit, rounds: 1, stations: [{exercise: push, reps: 30}]}"
    assert faults(tmp_path / "a", day(block)) == []
    assert beside(tmp_path / "b", day(block)) == ([], 0)


def test_a_routine_is_told_in_its_own_file(tmp_path: Path) -> None:
    warm_up = "- {kind: circuit, rounds: 1, stations: [{exercise: ready, work: 10 min}]}\n- " + minutes(
        "push, reps: 21"
    )
    catalogue = load(planted(tmp_path, {"1.0": version(day(LIGHT))}, warm_up=warm_up)).catalogue
    (only,) = catalogue.programmes["trial"].versions
    ((document, fault),) = long_minutes(catalogue, only)
    assert document is catalogue.routines["ready"].document
    assert fault.path == ("blocks", 1, "stations", 0)


def test_stations_are_counted_for_each_level_and_week_before_they_are_looked_at(tmp_path: Path) -> None:
    days = (
        day(minutes("push, reps: 5", "pull, reps: 5"), LIGHT, name="first"),
        day(minutes("push, reps: 5")),
    )
    assert beside(tmp_path, *days) == ([], 3 * 2 * 3)


def test_without_a_number_of_weeks_nothing_is_looked_at(tmp_path: Path) -> None:
    assert beside(tmp_path, day(minutes("push, reps: 30")), weeks="many") == ([], 0)


@pytest.mark.parametrize("station", ["push", "shove, reps: 30", "push, reps: {somebody: 30}"])
def test_a_station_that_cannot_be_worked_out_has_a_fault_of_its_own(station: str, tmp_path: Path) -> None:
    tree = planted(tmp_path, {"1.0": version(day(minutes(station)))})
    found = check(load(tree)).findings
    assert found
    assert "minute" not in {each.check for each in found}
