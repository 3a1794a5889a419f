"""How much work a session is, against published examples and sums by hand."""

from decimal import Decimal
from pathlib import Path

import pytest
from phasepress.computing.totals import Totals

from tests.fixtures.sessions import session

LIFT = "sides: both, measure: reps, tempo: 2-0-1-0, loadable: true, pattern: hinge"


def totals(to: Path, blocks: str, exercises: dict[str, str], warm_up: str | None = None) -> Totals:
    return session(to, blocks, exercises, *([warm_up] if warm_up else [])).totals


# --- load-volume: Ladlow et al., BMJ Military Health, table 1, seen; the arithmetic checked ------------------


def test_the_volume_load_of_3_sets_of_8_with_65_kg_is_1560_kg(tmp_path: Path) -> None:
    block = "- {kind: straight sets, stations: [{exercise: lift, sets: 3, reps: 8, load: 65 kg}]}"
    assert totals(tmp_path, block, {"lift": LIFT}).load_volume == 1560


def test_the_volume_load_of_a_set_each_of_10_8_and_6_is_1520_kg(tmp_path: Path) -> None:
    """10 × 55 + 8 × 65 + 6 × 75."""
    stations = "".join(
        f"{{exercise: lift, sets: 1, reps: {reps}, load: {kg} kg}}, "
        for reps, kg in ((10, 55), (8, 65), (6, 75))
    )
    found = totals(tmp_path, f"- {{kind: straight sets, stations: [{stations}]}}", {"lift": LIFT})
    assert found.load_volume == 1520
    assert found.work.reps == 24


def test_both_sides_carry_the_load(tmp_path: Path) -> None:
    for number, sides in enumerate(("each", "alternating")):
        lift = LIFT.replace("both", sides)
        block = "- {kind: circuit, rounds: 2, stations: [{exercise: lift, reps: 8, load: 2.5 kg}]}"
        assert totals(tmp_path / str(number), block, {"lift": lift}).load_volume == 2 * 2 * 8 * Decimal("2.5")


def test_a_loaded_hold_has_no_reps_and_so_no_load_volume(tmp_path: Path) -> None:
    block = "- {kind: circuit, rounds: 2, stations: [{exercise: hug, hold: 30 s, load: 4 kg}]}"
    found = totals(tmp_path, block, {"hug": "sides: both, measure: hold, loadable: true"})
    assert (found.load_volume, found.work.reps, found.work.tension) == (0, 0, 60)


# --- landings: sets × reps × landings a rep, both feet together as one (definition second-hand) ----------------


def test_3_sets_of_10_jumps_are_30_landings(tmp_path: Path) -> None:
    jump = "sides: both, measure: reps, seconds per rep: 2, contacts: 1, landing: medium"
    block = "- {kind: straight sets, stations: [{exercise: jump, sets: 3, reps: 10}]}"
    found = totals(tmp_path, block, {"jump": jump})
    assert found.contacts == 30
    assert found.contacts_by_landing == {"low": 0, "medium": 30, "high": 0}


def test_one_footed_landings_of_both_sides_are_added(tmp_path: Path) -> None:
    """Our own decision; no source settles it: 3 × 5 on each side are 30."""
    hop = "sides: each, measure: reps, seconds per rep: 2, contacts: 1, landing: high"
    block = "- {kind: straight sets, stations: [{exercise: hop, sets: 3, reps: 5}]}"
    assert totals(tmp_path, block, {"hop": hop}).contacts_by_landing["high"] == 30


def test_landings_of_the_warm_up_count_and_its_sets_do_not(tmp_path: Path) -> None:
    jump = "sides: both, measure: reps, seconds per rep: 2, contacts: 2, landing: low"
    block = "- {kind: circuit, rounds: 1, stations: [{exercise: jump, reps: 5}]}"
    found = totals(tmp_path, block, {"jump": jump}, warm_up=block)
    assert (found.contacts, found.work.sets, found.work.reps) == (20, 1, 5)


@pytest.mark.parametrize(("seconds", "landings"), [(20, 10), (21, 10), (22, 11), (1, 0)])
def test_a_time_counts_the_landings_of_the_whole_reps_that_fit(
    seconds: int, landings: int, tmp_path: Path
) -> None:
    jump = "sides: both, measure: reps, seconds per rep: 2, contacts: 1, landing: low"
    block = f"- {{kind: circuit, rounds: 1, stations: [{{exercise: jump, work: {seconds} s}}]}}"
    found = totals(tmp_path, block, {"jump": jump})
    assert (found.contacts, found.work.reps) == (landings, 0)


def test_a_time_on_each_side_fits_its_landings_twice(tmp_path: Path) -> None:
    hop = "sides: each, measure: reps, seconds per rep: 3, contacts: 1, landing: low"
    block = "- {kind: circuit, rounds: 1, stations: [{exercise: hop, work: 10 s}]}"
    found = totals(tmp_path, block, {"hop": hop})
    assert (found.contacts, found.work.tension) == (6, 20)


# --- the rest --------------------------------------------------------------------------------------------


def test_seconds_per_rep_are_all_under_tension(tmp_path: Path) -> None:
    swing = "sides: both, measure: reps, seconds per rep: 2.5"
    block = "- {kind: circuit, rounds: 1, stations: [{exercise: swing, reps: 4}]}"
    assert totals(tmp_path, block, {"swing": swing}).work.tension == 10


def test_density_is_work_in_all_seconds_warm_up_included(tmp_path: Path) -> None:
    """30 s of work, 60 s of rest, 30 s of work: half of two minutes."""
    block = "- {kind: circuit, rounds: 1, stations: [{exercise: rest, hold: 30 s}]}"
    found = totals(tmp_path, block, {}, warm_up=block)
    assert (found.work_seconds, found.seconds, found.density) == (60, 120, 0.5)


def test_the_volume_of_a_session_is_the_sum_of_its_bouts(tmp_path: Path) -> None:
    """One bout of each station, by hand:

    split 2 × 8 = 16 reps of 4 s under tension (the second high is one of them), 64 s, with 2.5 kg 40 kg;
    step 2 × 5 = 10 reps of 3 s, 30 s; lean 2 × 20 s; skip 30 s, in which 7 whole reps of 4 s fit, 14 landings;
    hop from foot to foot 30 s, 7 landings; drag 12 s whatever its sides; balance 2 × 11 s, without landings.
    Together 26 reps, 228 s and 21 landings, three rounds of it; then 10 landings in the warm-up.
    """
    exercises = {
        "split": LIFT.replace("both", "each").replace("2-0-1-0", "2-0-1-1"),
        "step": LIFT.replace("both", "alternating"),
        "lean": "sides: each, measure: hold",
        "skip": "sides: both, measure: time, seconds per rep: 4, contacts: 2, landing: low",
        "hop": "sides: alternating, measure: time, seconds per rep: 4, contacts: 1, landing: medium",
        "drag": "sides: each, measure: distance",
        "balance": "sides: each, measure: time",
    }
    block = """
        - kind: circuit
          rounds: 3
          stations:
            - {exercise: split, reps: 8, load: 2.5 kg}
            - {exercise: step, reps: 5}
            - {exercise: lean, hold: 20 s}
            - {exercise: skip, work: 30 s}
            - {exercise: hop, work: 30 s}
            - {exercise: drag, distance: 10 m, takes: 12 s}
            - {exercise: balance, work: 11 s}"""
    warm_up = "- {kind: circuit, rounds: 1, stations: [{exercise: skip, reps: 5}]}"
    found = totals(tmp_path, block, exercises, warm_up)
    assert (found.work.sets, found.work.reps, found.work.tension) == (21, 78, 684)
    assert found.load_volume == 120
    assert found.contacts == 73
    assert found.contacts_by_landing == {"low": 52, "medium": 21, "high": 0}
    assert {name: (work.sets, work.reps, work.tension) for name, work in found.exercises.items()} == {
        "split": (3, 48, 192), "step": (3, 30, 90), "lean": (3, 0, 120), "skip": (3, 0, 90), "hop": (3, 0, 90),
        "drag": (3, 0, 36), "balance": (3, 0, 66),
    }  # fmt: skip


def test_work_is_told_by_pattern_and_by_exercise(tmp_path: Path) -> None:
    stations = "{exercise: lift, reps: 5}, {exercise: swing, reps: 6}, {exercise: rest, hold: 10 s}"
    block = f"- {{kind: circuit, rounds: 3, stations: [{stations}]}}"
    found = totals(tmp_path, block, {"lift": LIFT, "swing": LIFT})
    assert {name: work.sets for name, work in found.exercises.items()} == {"lift": 3, "swing": 3, "rest": 3}
    assert found.exercises["swing"].reps == 18
    by_pattern = {name: (work.sets, work.reps, work.tension) for name, work in found.patterns.items()}
    assert by_pattern == {"hinge": (6, 33, 99), "squat": (3, 0, 30)}
