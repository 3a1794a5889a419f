"""The oracle is itself checked: the worked examples of the time and volume rules, numbers typed in."""

import pytest

from . import oracle


def exercise(sides="both", tempo="3-0-1-0", measure="reps", pattern="squat", **more):
    return {"name": "Trial", "pattern": pattern, "sides": sides, "measure": measure, "tempo": tempo, **more}


def session(exercises, *blocks, warm_up=()):
    """A session of these blocks alone; its warm-up is empty unless blocks are given for it."""
    routine = {"name": "Warm-up", "kind": "warm-up", "blocks": list(warm_up)}
    tree = {"exercises": exercises, "routines": {"ready": routine}}
    return oracle.Session(tree, "starter", 1).walk({"warm-up": "ready", "blocks": list(blocks)})


def lengths(walked):
    return [(part["kind"], part["length"]) for part in walked.segments]


# --- the examples --------------------------------------------------------------------------------------


def test_a_circuit_of_three_rounds():
    exercises = {
        "wall-sit": {**exercise(measure="hold"), "tempo": None},
        "step-back": exercise(sides="each"),
        "row": exercise(),
    }
    stations = [
        {"exercise": "wall-sit", "hold": "30 s"},
        {"exercise": "step-back", "reps": 8},
        {"exercise": "row", "reps": 10},
    ]
    walked = session(
        exercises,
        {"kind": "circuit", "rounds": 3, "rest": "60 s", "changeover": "15 s", "stations": stations},
    )
    a_round = [("work", 30), ("changeover", 15), ("work", 32), ("side change", 5), ("work", 32),
               ("changeover", 15), ("work", 40)]  # fmt: skip
    assert sum(length for _, length in a_round) == 169
    assert lengths(walked) == [*a_round, ("rest", 60), *a_round, ("rest", 60), *a_round]
    figures = walked.figures()
    assert (figures["seconds"], figures["tension_seconds"], figures["reps"]) == (627, 402, 78)
    assert figures["sets"] == 9


def test_straight_sets():
    stations = [{"exercise": "row", "sets": 3, "reps": 8, "tempo": "3-1-1-1", "rest": "75 s"}]
    walked = session({"row": exercise()}, {"kind": "straight sets", "stations": stations})
    assert lengths(walked) == [("work", 48), ("rest", 75), ("work", 48), ("rest", 75), ("work", 48)]
    assert (walked.figures()["seconds"], walked.figures()["tension_seconds"]) == (294, 144)


def test_every_minute_for_six_minutes():
    jump = {**exercise(contacts=1, landing="medium"), "tempo": None, "seconds per rep": 2}
    dead_bug = exercise(sides="each", tempo="2-0-2-0")
    stations = [{"exercise": "jump", "reps": 4}, {"exercise": "dead-bug", "reps": 5}]
    walked = session(
        {"jump": jump, "dead-bug": dead_bug},
        {"kind": "every minute", "minutes": 6, "stations": stations},
    )
    jumps = [("work", 8), ("wait", 52)]
    bugs = [("work", 20), ("side change", 5), ("work", 20), ("wait", 15)]
    assert lengths(walked) == (jumps + bugs) * 3
    assert walked.figures()["seconds"] == 360
    assert walked.figures()["contacts"] == {"all": 12, "low": 0, "medium": 12, "high": 0}


def test_a_rep_of_three_parts():
    raised = exercise(tempo="1-2-1-0", parts=3)
    assert oracle.one_rep(raised) == 12
    walked = session(
        {"raise": raised},
        {"kind": "circuit", "rounds": 1, "stations": [{"exercise": "raise", "reps": 5}]},
    )
    assert (walked.figures()["seconds"], walked.figures()["tension_seconds"]) == (60, 60)


def test_the_effort_load_of_a_session_and_the_spread_of_a_week():
    assert oracle.effort_load(45, 6) == 270
    loads = [270, 0, 300, 0, 240, 0, 0]
    mean, monotony = oracle.week_spread(loads)
    assert round(mean, 1) == 115.7
    # By hand: squares sum to 220500, so the variance is 220500/7 - (810/7)², its root 134.574.
    assert monotony == pytest.approx(0.8599, abs=5e-5)


# --- more numbers worked out by hand from the rules ----------------------------------------------------


def test_a_time_cap_cuts_in_the_middle_and_counts_only_what_was_finished():
    """20 + 5 + (20 + 5 + 20) + 5 + 20 + 5 are 100 s; the cap of 110 s falls 10 s into the next left side."""
    exercises = {"plank": {**exercise(measure="hold"), "tempo": None}, "bug": exercise("each", "2-0-2-0")}
    stations = [{"exercise": "plank", "hold": "20 s"}, {"exercise": "bug", "reps": 5}]
    walked = session(
        exercises, {"kind": "timed rounds", "lasts": "1:50", "changeover": "5 s", "stations": stations}
    )
    assert lengths(walked)[-3:] == [("work", 20), ("changeover", 5), ("work", 10)]
    figures = walked.figures()
    assert (figures["seconds"], figures["work_seconds"]) == (110, 90)
    assert (figures["sets"], figures["reps"], figures["tension_seconds"]) == (3, 10, 80)


def test_work_that_ends_just_at_the_cap_counts():
    stations = [{"exercise": "row", "reps": 5}]
    walked = session({"row": exercise()}, {"kind": "timed rounds", "lasts": "20 s", "stations": stations})
    assert (walked.figures()["sets"], walked.figures()["seconds"]) == (1, 20)


def test_alternating_reps_are_counted_on_both_sides_with_their_load_and_landings():
    """6 a side at X-0-1-1 is 12 reps of 3 s, 2 s of each tense, 4 kg each time, one landing each."""
    hop = exercise("alternating", "X-0-1-1", contacts=1, landing="low")
    stations = [{"exercise": "hop", "reps": 6, "load": "4 kg"}]
    walked = session({"hop": hop}, {"kind": "circuit", "rounds": 1, "stations": stations})
    figures = walked.figures()
    assert lengths(walked) == [("work", 36)]
    assert (figures["reps"], figures["tension_seconds"], figures["load_volume_kg"]) == (12, 36, 48)
    assert figures["contacts"]["low"] == 12


def test_the_landings_of_timed_work_are_those_of_the_whole_reps_that_fit():
    """20 s hold 6 whole reps of 3 s, on either side; none of them counts as a rep."""
    hop = exercise("each", "1-0-1-1", measure="time", contacts=2, landing="low")
    stations = [{"exercise": "hop", "work": "20 s"}]
    figures = session({"hop": hop}, {"kind": "circuit", "rounds": 1, "stations": stations}).figures()
    assert (figures["contacts"]["all"], figures["reps"], figures["tension_seconds"]) == (24, 0, 40)


def test_a_warm_up_counts_for_time_and_landings_only_and_a_rest_follows_it():
    """10 s of warm-up, 60 s of rest, 20 s of work: 30 of 90 seconds are work."""
    exercises = {"hop": exercise(tempo="1-0-1-0", contacts=1, landing="high"), "row": exercise()}
    warm_up = {"kind": "circuit", "rounds": 1, "stations": [{"exercise": "hop", "reps": 5}]}
    main = {
        "kind": "circuit",
        "rounds": 1,
        "stations": [{"exercise": "row", "reps": 5}],
        "rest after": "9 min",
    }
    walked = session(exercises, main, warm_up=[warm_up])
    figures = walked.figures()
    assert (figures["seconds"], figures["work_seconds"], float(figures["density"])) == (90, 30, 1 / 3)
    assert (figures["sets"], figures["reps"], figures["contacts"]["high"]) == (1, 5, 5)
    assert [part["station"] for part in walked.segments] == ["warm-up 1", None, "A1"]


@pytest.mark.parametrize(
    ("written", "length"), [("45 s", 45), ("2 min", 120), ("1 min 30 s", 90), ("1:30", 90)]
)
def test_a_duration_means_the_same_in_every_form(written, length):
    assert oracle.seconds(written) == length
