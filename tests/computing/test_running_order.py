"""The running order: every second of a session, worked out by hand beside each test."""

from decimal import Decimal
from pathlib import Path

from phasepress.computing.facts import ComputedSession

from tests.fixtures.sessions import session

STILL = "sides: both, measure: hold"
BOTH = "sides: both, measure: reps, tempo: 3-0-1-0"
EACH = "sides: each, measure: reps, tempo: 3-0-1-0"
TURNS = "sides: alternating, measure: reps, tempo: 3-0-1-0"


def lengths(facts: ComputedSession) -> list[tuple[str, object]]:
    return [(segment.kind, segment.length) for segment in facts.order.segments]


# --- the four kinds of block ----------------------------------------------------------------------------


def test_a_circuit_has_changeovers_between_stations_and_rest_between_rounds(tmp_path: Path) -> None:
    """A round is 30 + 15 + (32 + 5 + 32) + 15 + 40 = 169 s; three of them and 2 × 60 s are 627 s."""
    blocks = """
        - {kind: circuit, rounds: 3, rest: 60 s, changeover: 15 s, stations: [{exercise: still, hold: 30 s},
           {exercise: each, reps: 8}, {exercise: both, reps: 10}]}"""
    facts = session(tmp_path, blocks, {"still": STILL, "each": EACH, "both": BOTH})
    a_round = [("work", 30), ("changeover", 15), ("work", 32), ("side change", 5), ("work", 32),
               ("changeover", 15), ("work", 40)]  # fmt: skip
    assert lengths(facts) == [*a_round, ("rest", 60), *a_round, ("rest", 60), *a_round]
    assert facts.order.seconds == 627
    # Without the timer six changeovers take twice as long, two rests a quarter more: 90 and 30 s.
    assert facts.order.by_hand == 747
    assert facts.totals.work.tension == 402
    assert facts.totals.work.reps == 78
    assert facts.totals.work.sets == 9


def test_straight_sets_rest_between_the_sets_of_a_station(tmp_path: Path) -> None:
    """3 × 8 reps of 6 s and 2 × 75 s are 294 s; all 6 s of each rep are under tension, 144 s."""
    blocks = (
        "- {kind: straight sets, stations: [{exercise: row, sets: 3, reps: 8, tempo: 3-1-1-1, rest: 75 s}]}"
    )
    facts = session(tmp_path, blocks, {"row": BOTH})
    assert lengths(facts) == [("work", 48), ("rest", 75), ("work", 48), ("rest", 75), ("work", 48)]
    assert facts.order.seconds == 294
    assert facts.order.by_hand == Decimal("331.5")
    assert facts.totals.work.tension == 144


def test_rest_between_sets_is_once_less_than_there_are_sets(tmp_path: Path) -> None:
    """Rest is "between sets" in Ratamess et al. 2009 (ACSM) and Faigenbaum et al. 2009 (NSCA): 3 × 10 at 2-0-2-0 with
    60 s are 120 + 2 × 60 = 240 s, and not 300 s."""
    blocks = "- {kind: straight sets, stations: [{exercise: press, sets: 3, reps: 10, rest: 60 s}]}"
    facts = session(tmp_path, blocks, {"press": "sides: both, measure: reps, tempo: 2-0-2-0"})
    assert facts.order.seconds == 240


def test_every_minute_begins_a_station_at_each_full_minute(tmp_path: Path) -> None:
    """4 jumps of 2 s leave 52 s; 5 reps a side of 4 s are 20 + 5 + 20 = 45 s and leave 15 s."""
    blocks = """
        - {kind: every minute, minutes: 6, stations: [{exercise: jump, reps: 4}, {exercise: bug, reps: 5}]}"""
    jump = "sides: both, measure: reps, seconds per rep: 2, contacts: 1, landing: medium"
    facts = session(tmp_path, blocks, {"jump": jump, "bug": EACH})
    jumps, bugs = [("work", 8), ("wait", 52)], [("work", 20), ("side change", 5), ("work", 20), ("wait", 15)]
    assert lengths(facts) == (jumps + bugs) * 3
    assert facts.order.seconds == 360
    assert facts.totals.contacts == 12
    assert facts.totals.contacts_by_landing == {"low": 0, "medium": 12, "high": 0}


def test_an_odd_number_of_minutes_ends_with_the_first_station(tmp_path: Path) -> None:
    blocks = """
        - {kind: every minute, minutes: 3, stations: [{exercise: both, reps: 15}, {exercise: both, reps: 5}]}"""
    facts = session(tmp_path, blocks, {"both": BOTH})
    assert lengths(facts) == [("work", 60), ("work", 20), ("wait", 40), ("work", 60)]
    assert [(s.station, s.round) for s in facts.order.segments if s.kind == "work"] == [
        ("A1", 1),
        ("A2", 1),
        ("A1", 2),
    ]


def test_a_time_cap_cuts_what_is_under_way_and_counts_only_what_ended(tmp_path: Path) -> None:
    """20 + 5 + (20 + 5 + 20) + 5 + 20 + 5 are 100 s, so a cap of 110 s falls 10 s into the next left side."""
    blocks = """
        - {kind: timed rounds, lasts: "1:50", changeover: 5 s, stations: [{exercise: still, hold: 20 s},
           {exercise: bug, reps: 5}]}"""
    facts = session(tmp_path, blocks, {"still": STILL, "bug": EACH})
    assert lengths(facts)[-3:] == [("work", 20), ("changeover", 5), ("work", 10)]
    assert (facts.order.seconds, facts.order.work_seconds) == (110, 90)
    assert (facts.totals.work.sets, facts.totals.work.reps, facts.totals.work.tension) == (3, 10, 80)


def test_work_that_ends_just_at_the_cap_counts(tmp_path: Path) -> None:
    blocks = "- {kind: timed rounds, lasts: 20 s, stations: [{exercise: both, reps: 5}]}"
    facts = session(tmp_path, blocks, {"both": BOTH})
    assert (lengths(facts), facts.totals.work.sets) == ([("work", 20)], 1)


def test_a_right_side_that_the_cap_cuts_leaves_the_whole_station_out_of_the_volume(tmp_path: Path) -> None:
    blocks = "- {kind: timed rounds, lasts: 44 s, stations: [{exercise: bug, reps: 5}]}"
    facts = session(tmp_path, blocks, {"bug": EACH})
    assert lengths(facts) == [("work", 20), ("side change", 5), ("work", 19)]
    assert (facts.totals.work.sets, facts.totals.work.reps) == (0, 0)


# --- doses ----------------------------------------------------------------------------------------------


def test_a_rep_of_several_parts_takes_the_tempo_once_for_each(tmp_path: Path) -> None:
    """3 × (1 + 2 + 1 + 0) = 12 s, all of it tension; five reps are 60 s."""
    blocks = "- {kind: circuit, rounds: 1, stations: [{exercise: raise, reps: 5}]}"
    facts = session(tmp_path, blocks, {"raise": "sides: both, measure: reps, tempo: 1-2-1-0, parts: 3"})
    assert (facts.order.seconds, facts.totals.work.tension) == (60, 60)


def test_alternating_reps_are_per_side_and_one_stretch_of_work(tmp_path: Path) -> None:
    facts = session(
        tmp_path, "- {kind: circuit, rounds: 1, stations: [{exercise: step, reps: 6}]}", {"step": TURNS}
    )
    (segment,) = facts.order.segments
    assert (segment.length, segment.reps, segment.side) == (48, 12, None)


def test_a_hold_on_each_side_is_held_twice_left_first(tmp_path: Path) -> None:
    side = "sides: each, measure: hold"
    facts = session(
        tmp_path, "- {kind: circuit, rounds: 1, stations: [{exercise: side, hold: 20 s}]}", {"side": side}
    )
    assert [(s.kind, s.length, s.side) for s in facts.order.segments] == [
        ("work", 20, "left"),
        ("side change", 5, None),
        ("work", 20, "right"),
    ]


def test_a_distance_takes_what_the_file_says_whatever_the_sides(tmp_path: Path) -> None:
    for number, sides in enumerate(("both", "each", "alternating")):
        facts = session(
            tmp_path / str(number),
            "- {kind: circuit, rounds: 1, stations: [{exercise: crawl, distance: 10 m, takes: 12 s}]}",
            {"crawl": f"sides: {sides}, measure: distance"},
        )
        assert lengths(facts) == [("work", 12)]


def test_a_tempo_of_the_station_goes_before_that_of_the_exercise(tmp_path: Path) -> None:
    block = "- {kind: circuit, rounds: 1, stations: [{exercise: both, reps: 5, tempo: 1-0-X-0}]}"
    assert session(tmp_path, block, {"both": BOTH}).order.seconds == 10


def test_half_seconds_add_up_exactly(tmp_path: Path) -> None:
    block = (
        "- {kind: circuit, rounds: 3, rest: 0.1 s, stations: [{exercise: both, reps: 1, tempo: 0.5-0-0-0}]}"
    )
    assert session(tmp_path, block, {"both": BOTH}).order.seconds == Decimal("1.7")


# --- blocks and routines in one sequence ----------------------------------------------------------------

HOLD = "stations: [{exercise: still, hold: 10 s}]"


def test_the_rest_after_a_block_stands_between_any_two(tmp_path: Path) -> None:
    blocks = f"""
        - {{kind: circuit, rounds: 1, rest after: 2 min, {HOLD}}}
        - {{kind: circuit, rounds: 1, rest after: 0 s, {HOLD}}}
        - {{kind: circuit, rounds: 1, rest after: 5 min, {HOLD}}}"""
    warm_up = f"- {{kind: circuit, rounds: 1, {HOLD}}}"
    cool_down = f"- {{kind: circuit, rounds: 1, rest after: 9 min, {HOLD}}}"
    facts = session(tmp_path, blocks, {"still": STILL}, warm_up, cool_down)
    assert lengths(facts) == [
        ("work", 10), ("rest", 60), ("work", 10), ("rest", 120), ("work", 10), ("work", 10), ("rest", 300),
        ("work", 10),
    ]  # fmt: skip
    assert [s.block for s in facts.order.segments] == [
        "warm-up", "warm-up", "A", "A", "B", "C", "C", "cool-down",
    ]  # fmt: skip


def test_stations_of_a_routine_are_numbered_through(tmp_path: Path) -> None:
    two = "stations: [{exercise: still, hold: 10 s}, {exercise: still, hold: 10 s}]"
    warm_up = f"- {{kind: circuit, rounds: 1, {two}}}\n- {{kind: circuit, rounds: 1, {two}}}"
    facts = session(tmp_path, f"- {{kind: circuit, rounds: 1, {HOLD}}}", {"still": STILL}, warm_up)
    assert [s.station for s in facts.order.segments if s.kind == "work"] == [
        "warm-up 1", "warm-up 2", "warm-up 3", "warm-up 4", "A1",
    ]  # fmt: skip


def test_a_block_of_a_routine_that_is_left_out_leaves_the_numbers_after_it_as_they_are(
    tmp_path: Path,
) -> None:
    two = "stations: [{exercise: still, hold: 10 s}, {exercise: still, hold: 10 s}]"
    every = [f"- {{kind: circuit, rounds: {rounds}, {two}}}" for rounds in (0, 1, 0, 1)]
    facts = session(tmp_path, f"- {{kind: circuit, rounds: 1, {HOLD}}}", {"still": STILL}, "\n".join(every))
    assert [s.station for s in facts.order.segments if s.kind == "work"] == [
        "warm-up 3", "warm-up 4", "warm-up 7", "warm-up 8", "A1",
    ]  # fmt: skip


def test_defaults_stand_in_where_the_file_is_silent(tmp_path: Path) -> None:
    """Changeover 15 s in a circuit and a time cap, 30 s in straight sets; rest 60 s."""
    two = "stations: [{exercise: still, hold: 10 s}, {exercise: still, hold: 10 s}]"
    sets = "stations: [{exercise: still, sets: 2, hold: 10 s}, {exercise: still, sets: 1, hold: 10 s}]"
    blocks = f"""
        - {{kind: circuit, rounds: 2, rest after: 0 s, {two}}}
        - {{kind: straight sets, rest after: 0 s, {sets}}}
        - {{kind: timed rounds, lasts: 35 s, {two}}}"""
    assert [length for kind, length in lengths(session(tmp_path, blocks, {"still": STILL})) if kind != "work"] == [
        15, 60, 15, 60, 30, 15,
    ]  # fmt: skip


def test_an_amount_of_0_leaves_the_station_or_the_block_out_and_the_labels_as_they_are(
    tmp_path: Path,
) -> None:
    blocks = """
        - {kind: circuit, rounds: 0, stations: [{exercise: still, hold: 10 s}]}
        - {kind: circuit, rounds: 2, stations: [{exercise: still, hold: 0 s}, {exercise: still, hold: 10 s}]}
        - {kind: straight sets, stations: [{exercise: still, sets: 0, hold: 10 s}]}
        - {kind: timed rounds, lasts: 0 s, stations: [{exercise: still, hold: 10 s}]}
        - {kind: every minute, minutes: 0, stations: [{exercise: still, hold: 10 s}]}
        - {kind: circuit, rounds: 1, stations: [{exercise: crawl, distance: 0 m, takes: 9 s}]}"""
    facts = session(tmp_path, blocks, {"still": STILL, "crawl": "sides: both, measure: distance"})
    assert lengths(facts) == [("work", 10), ("rest", 60), ("work", 10)]
    assert {s.station for s in facts.order.segments if s.kind == "work"} == {"B2"}


def test_a_session_from_which_everything_is_left_out_takes_no_time(tmp_path: Path) -> None:
    block = "- {kind: circuit, rounds: 0, stations: [{exercise: still, hold: 10 s}]}"
    facts = session(tmp_path, block, {"still": STILL})
    assert (facts.order.segments, facts.order.seconds, facts.totals.density) == ((), 0, 0)


# --- bouts in time --------------------------------------------------------------------------------------


def test_the_bouts_of_all_laps_are_the_work_of_the_segments_from_first_to_last(tmp_path: Path) -> None:
    """Every bout of every kind of block, also one that a cap cuts in its second side."""
    blocks = """
        - {kind: circuit, rounds: 2, stations: [{exercise: still, hold: 30 s}, {exercise: each, reps: 8}]}
        - {kind: straight sets, stations: [{exercise: both, sets: 2, reps: 5, rest: 0 s}]}
        - {kind: every minute, minutes: 2, stations: [{exercise: turns, reps: 3}]}
        - {kind: timed rounds, lasts: 100 s, stations: [{exercise: each, reps: 8}]}"""
    exercises = {"still": STILL, "each": EACH, "both": BOTH, "turns": TURNS}
    facts = session(tmp_path, blocks, exercises)
    expected: dict[tuple[object, object, object], list[Decimal]] = {}
    for segment in facts.order.segments:
        if segment.kind == "work":
            key = (segment.block, segment.station, segment.round)
            starts, _, work = expected.get(key, [segment.start, 0, 0])
            expected[key] = [starts, segment.start + segment.length, work + segment.length]  # type: ignore[list-item]
    found = [
        [starts + lap * seconds + begins, starts + lap * seconds + ends, work]
        for starts, bouts, seconds, times in facts.order.laps()
        for lap in range(times)
        for _, begins, ends, work in bouts
    ]
    assert found == list(expected.values())
    assert len(found) == 2 * 2 + 2 + 2 + 2
    assert found[-1][2] < found[-2][2], "the cap cuts the last"


def test_some_blocks_last_from_the_start_of_the_first_to_the_end_of_the_last(tmp_path: Path) -> None:
    """30 s, 60 s of rest and 20 s; the rest after the second is no part of it."""
    blocks = """
        - {kind: circuit, rounds: 1, stations: [{exercise: still, hold: 30 s}]}
        - {kind: circuit, rounds: 1, rest after: 5 min, stations: [{exercise: still, hold: 20 s}]}
        - {kind: circuit, rounds: 1, stations: [{exercise: still, hold: 10 s}]}"""
    order = session(tmp_path, blocks, {"still": STILL}).order
    assert [order.lasts(blocks) for blocks in range(4)] == [0, 30, 110, 420]
