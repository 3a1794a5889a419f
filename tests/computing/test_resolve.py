"""What a station is in one session: which tempo counts, and what a dose is when the file is silent."""

from pathlib import Path

import pytest

from tests.fixtures.sessions import session

SQUAT = "sides: both, measure: {measure}, tempo: 3-1-1-0"


@pytest.mark.parametrize(
    ("dose", "measure", "tempo"),
    [
        ("reps: 5", "reps", "3-1-1-0"),
        ("work: 30 s", "time", "3-1-1-0"),
        ("hold: 30 s", "hold", None),
        ("distance: 10 m, takes: 9 s", "distance", None),
        ("reps: 5, tempo: 2-0-X-0", "reps", "2-0-X-0"),
        ("work: 30 s, tempo: 2-0-X-0", "time", "2-0-X-0"),
    ],
)
def test_the_tempo_belongs_to_reps_and_to_a_time_and_to_no_other_dose(
    dose: str, measure: str, tempo: str | None, tmp_path: Path
) -> None:
    block = f"- {{kind: circuit, rounds: 1, stations: [{{exercise: squat, {dose}}}]}}"
    counted = measure if measure in ("hold", "distance") else "reps"
    (station,) = session(tmp_path, block, {"squat": SQUAT.format(measure=counted)}).plan.day_stations
    assert station.measure == measure
    assert (station.tempo.written if station.tempo else None) == tempo


def test_a_station_without_sets_of_its_own_is_one_set_without_rest_or_load(tmp_path: Path) -> None:
    block = "- {kind: circuit, rounds: 2, stations: [{exercise: squat, reps: 5}]}"
    (station,) = session(tmp_path, block, {"squat": SQUAT.format(measure="reps")}).plan.day_stations
    assert (station.sets, station.rest, station.load, station.metres) == (1, 0, 0, 0)


def test_straight_sets_rest_a_minute_between_two_where_the_file_is_silent(tmp_path: Path) -> None:
    block = "- {kind: straight sets, stations: [{exercise: squat, sets: 2, reps: 5}]}"
    (station,) = session(tmp_path, block, {"squat": SQUAT.format(measure="reps")}).plan.day_stations
    assert (station.sets, station.rest) == (2, 60)
