"""Which round each segment is of, and what rest and changeover belong to; expected by hand."""

from pathlib import Path

from tests.fixtures.sessions import session

STILL = "sides: both, measure: hold"
BOTH = "sides: both, measure: reps, tempo: 3-0-1-0"
ONE = {"still": STILL, "both": BOTH}


def rounds(to: Path, block: str) -> list[tuple[str, str | None, int | None]]:
    """Kind, station and round of every segment of the block."""
    return [(one.kind, one.station, one.round) for one in session(to, block, ONE).order.segments]


def test_the_rest_of_a_circuit_belongs_to_the_round_before_it_and_a_changeover_to_its_own(
    tmp_path: Path,
) -> None:
    block = (
        "- {kind: circuit, rounds: 3, stations: [{exercise: still, hold: 9 s}, {exercise: both, reps: 2}]}"
    )
    a_round = [[("work", "A1", n), ("changeover", None, n), ("work", "A2", n)] for n in (1, 2, 3)]
    rests = [("rest", None, 1)], [("rest", None, 2)]
    assert rounds(tmp_path, block) == [*a_round[0], *rests[0], *a_round[1], *rests[1], *a_round[2]]


def test_the_rest_between_sets_belongs_to_the_set_before_it(tmp_path: Path) -> None:
    block = """
        - {kind: straight sets, stations: [{exercise: both, sets: 3, reps: 2}, {exercise: still, sets: 1, hold: 9 s},
           {exercise: both, sets: 2, reps: 3}]}"""
    assert rounds(tmp_path, block) == [
        ("work", "A1", 1), ("rest", "A1", 1), ("work", "A1", 2), ("rest", "A1", 2), ("work", "A1", 3),
        ("changeover", None, None), ("work", "A2", 1), ("changeover", None, None),
        ("work", "A3", 1), ("rest", "A3", 1), ("work", "A3", 2),
    ]  # fmt: skip


def test_minutes_number_the_rounds_of_an_every_minute_block(tmp_path: Path) -> None:
    block = "- {kind: every minute, minutes: 3, stations: [{exercise: still, hold: 9 s}, {exercise: both, reps: 2}]}"
    told = [(kind, station) for kind, station, _ in rounds(tmp_path, block)]
    assert told == [
        ("work", "A1"),
        ("wait", "A1"),
        ("work", "A2"),
        ("wait", "A2"),
        ("work", "A1"),
        ("wait", "A1"),
    ]
    assert [n for kind, _, n in rounds(tmp_path / "again", block) if kind == "work"] == [1, 1, 2]
