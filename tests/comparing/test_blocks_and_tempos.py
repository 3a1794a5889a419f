"""Which block was which, and what of a station follows from something else that is told; by hand."""

from pathlib import Path

import pytest
from phasepress.comparing.changes import changes
from phasepress.computing.resolve import sessions
from phasepress.reading.catalogue import load

from tests.fixtures.phases import day, planted, sets, version

EXERCISES = {
    "press": "pattern: push, sides: both, measure: reps, seconds per rep: 2",
    "slow-press": "pattern: push, sides: both, measure: reps, seconds per rep: 4",
    "drag": "pattern: pull, sides: both, measure: distance",
}
Told = tuple[str, str, str, str]


def told(to: Path, before: tuple[str, ...], now: tuple[str, ...]) -> list[Told]:
    """Place, what, before and after of every change between editions with these blocks."""
    files = {"1.0": version(day(*before)), "1.1": version(day(*now))}
    catalogue = load(planted(to, files, exercises=EXERCISES)).catalogue
    old, new = catalogue.programmes["trial"].versions
    found = changes(old, list(sessions(catalogue, old)), new, list(sessions(catalogue, new)))
    return [(one.place, one.what, one.before, one.after) for one in found]


def circuit(rounds: int, *stations: str, more: str = "") -> str:
    listed = ", ".join(f"{{exercise: {each}}}" for each in stations)
    return f"{{kind: circuit, rounds: {rounds}, {more}stations: [{listed}]}}"


SQUAT, PUSH, PULL = "squat, reps: 8", "push, reps: 8", "pull, reps: 8"


def test_a_block_is_the_one_from_which_most_of_its_stations_come(tmp_path: Path) -> None:
    """Pull comes from a block of five rounds, and the others from one of two, as many as there are now."""
    two, five = circuit(2, SQUAT, PUSH), circuit(5, PULL)
    assert told(tmp_path / "a", (two, five), (circuit(2, SQUAT, PUSH, PULL),)) == [
        ("A3", "label", "B1", "A3")
    ]
    assert told(tmp_path / "b", (two, five), (circuit(3, SQUAT, PUSH, PULL),)) == [("A", "rounds", "2", "3")]
    assert told(tmp_path / "c", (circuit(2, SQUAT, PUSH, PULL),), (two, five)) == [("B", "rounds", "2", "5")]


@pytest.mark.parametrize(
    ("before", "now", "what"),
    [
        ("rest: 30 s, ", "rest: 40 s, ", ("rest between rounds", "30 s", "40 s")),
        ("changeover: 5 s, ", "changeover: 0 s, ", ("time to change stations", "5 s", "0 s")),
        ("rest after: 5 s, ", "rest after: 65 s, ", ("rest after the block", "5 s", "1 min 5 s")),
    ],
)
def test_times_of_a_block_are_told_with_its_label(
    before: str, now: str, what: tuple[str, str, str], tmp_path: Path
) -> None:
    one, other = (circuit(2, SQUAT, PUSH, more=more) for more in (before, now))
    assert told(tmp_path, (one,), (other,)) == [("A", *what)]


def test_another_kind_of_block_is_told_with_what_it_has_instead(tmp_path: Path) -> None:
    minutes = (
        "{kind: every minute, minutes: 4, stations: [{exercise: squat, reps: 8}, {exercise: push, reps: 8}]}"
    )
    assert told(tmp_path, (circuit(2, SQUAT, PUSH, more="rest: 0 s, changeover: 0 s, "),), (minutes,)) == [
        ("A", "kind of block", "circuit", "every minute"),
        ("A", "minutes", "none", "4"),
        ("A", "rounds", "2", "none"),
    ]


@pytest.mark.parametrize(
    ("before", "now", "expected"),
    [
        # The time of a rep follows from the tempo; without one it is told itself, and nothing that follows from it.
        ("squat, reps: 8", "squat, reps: 8, tempo: 3-0-1-0", [("A1", "tempo", "2-0-1-0", "3-0-1-0")]),
        ("squat, reps: 8, tempo: 2-0-X-0", "squat, reps: 8, tempo: 2-0-X-1", [("A1", "tempo", "2-0-X-0", "2-0-X-1")]),
        # What another exercise is like is its own, but load and dose are told.
        ("press, reps: 8", "slow-press, reps: 8", [("A1", "exercise", "press, 8 reps", "slow-press, 8 reps")]),
        ("squat, reps: 8, load: 2 kg", "squat, reps: 8, load: 2.5 kg", [("A1", "load", "2 kg", "2.5 kg")]),
        ("squat, reps: 8, load: 2 kg", "squat, reps: 8", [("A1", "load", "2 kg", "none")]),
        ("squat, reps: 8", "squat, work: 20 s", [("A1", "dose", "8 reps", "work 20 s")]),
        ("drag, distance: 9 m, takes: 9 s", "drag, distance: 9 m, takes: 70 s", [("A1", "takes", "9 s", "1 min 10 s")]),
    ],
)  # fmt: skip
def test_what_a_station_has_is_told_and_not_what_follows_from_it(
    before: str, now: str, expected: list[Told], tmp_path: Path
) -> None:
    assert told(tmp_path, (circuit(2, before),), (circuit(2, now),)) == expected


def test_in_place_of_an_exercise_another_is_told_with_its_load_sets_and_rest(tmp_path: Path) -> None:
    before, now = "squat, sets: 2, reps: 8, load: 2 kg", "bridge, sets: 3, reps: 8, load: 3 kg"
    assert told(tmp_path, (sets(before),), (sets(now, rest="50 s"),)) == [
        ("A1", "exercise", "squat, 8 reps", "bridge, 8 reps"),
        ("A1", "sets", "2", "3"),
        ("A1", "load", "2 kg", "3 kg"),
        ("A1", "rest between sets", "1 min", "50 s"),
    ]
