"""Days of every shape a coach may write: long ones, empty ones, and those of which a level has only a part."""

import json

import pytest

from . import trees
from .pages import words
from .sheets import clock, lines, start_times, told_minutes


def one_day(*blocks, **more):
    tree = trees.small()
    tree["plan/1.0.yaml"] = trees.phase(trees.day("legs", *blocks, **more))
    return tree


def test_a_day_with_a_cool_down_and_one_without(grown):
    tree = trees.small()
    tree["routines/rest.yaml"] = {
        "name": "Rest",
        "kind": "cool-down",
        "blocks": [trees.circuit({"exercise": "lean", "hold": "30 s"})],
    }
    tree["plan/1.0.yaml"]["days"].append(
        trees.day("arms", trees.circuit({"exercise": "sit", "reps": 5}), on=["thu"]) | {"cool-down": "rest"}
    )
    site = grown(tree)
    assert [words(mark) for mark in site["plan/1.0/arms/"].all("h2", "mark")] == [
        "warm-up",
        "Block A",
        "cool-down",
    ]
    assert [words(mark) for mark in site["plan/1.0/legs/"].all("h2", "mark")] == ["warm-up", "Block A"]
    assert lines(site["plan/1.0/legs/new/week-1/"])[-1].kind == "work"


def test_a_block_that_one_level_leaves_out_in_one_week(grown):
    second = trees.circuit({"exercise": "sit", "reps": 4}, rounds={"new": [0, 1], "used": 1})
    site = grown(one_day(trees.circuit({"exercise": "sit", "reps": 8}), second))
    assert ("B1", 1) not in start_times(site["plan/1.0/legs/new/week-1/"])
    assert ("B1", 1) in start_times(site["plan/1.0/legs/new/week-2/"])
    assert ("B1", 1) in start_times(site["plan/1.0/legs/used/week-1/"])
    day = site["plan/1.0/legs/"]
    (title,) = [one for one in day.all("section", "block")[-1].iter("p") if "how" in one.get("class", "")]
    assert title.get("data-for") == "1 2 3"
    assert words(day.one("small", "when", within=title)) == "New: week 2; Used: all weeks"


def test_a_station_that_a_week_leaves_out_keeps_the_labels_of_the_others(grown):
    stations = [{"exercise": "sit", "reps": [8, 0]}, {"exercise": "lean", "hold": "20 s"}]
    site = grown(one_day(trees.circuit(*stations)))
    assert {label for label, _ in start_times(site["plan/1.0/legs/new/week-2/"])} == {"warm-up 1", "A2"}


def test_a_routine_whose_first_station_one_level_leaves_out_stands_once_on_the_day_page(grown):
    tree = trees.small()
    first = {"exercise": "lean", "hold": {"new": "0 s", "used": "20 s"}}
    tree["routines/wake-up.yaml"]["blocks"] = [trees.circuit(first, {"exercise": "sit", "reps": 5})]
    _, *blocks = grown(tree)["plan/1.0/legs/"].all("section", "block")
    assert len(blocks) == 1


def test_a_day_of_which_only_the_warm_up_is_left(grown):
    site = grown(one_day(trees.circuit({"exercise": "sit", "reps": {"new": [8, 0], "used": 8}})))
    page = site["plan/1.0/legs/new/week-2/"]
    assert set(start_times(page)) == {("warm-up 1", 1)}
    assert told_minutes(page.words) == 1


def test_a_session_with_nothing_in_it(grown, run, tmp_path):
    tree = one_day(trees.circuit({"exercise": "sit", "reps": [8, 0]}))
    tree["routines/wake-up.yaml"]["blocks"][0]["rounds"] = [1, 0]
    site = grown(tree)
    page = site["plan/1.0/legs/new/week-2/"]
    assert list(page.one("ol", "[data-order]")) == []
    assert page.all("svg", "ribbon") == []
    assert page.all("table") == []
    report = run("report", "--programmes", tmp_path / "tree", "--format", "json").stdout
    (version,) = json.loads(report)["versions"]
    assert [one["seconds"] for one in version["sessions"] if one["week"] == 2] == [0, 0]


def test_a_phase_with_nothing_in_any_session(grown):
    tree = one_day(trees.circuit({"exercise": "sit", "reps": 0}))
    tree["routines/wake-up.yaml"]["blocks"][0]["rounds"] = 0
    site = grown(tree)
    assert site["plan/1.0/legs/"].all("section", "block") == []
    assert words(site["plan/1.0/legs/"].one("h1")) == "Legs"


def test_more_rounds_than_a_sheet_is_wide(grown):
    long = trees.circuit({"exercise": "sit", "reps": 2}, rounds=14, rest="10 s")
    page = grown(one_day(long))["plan/1.0/legs/new/week-1/"]
    times = start_times(page)
    # The warm-up is ten reps of 3 s and a rest of 60 s; a round is 6 s of work and 10 s of rest.
    assert [times["A1", round_] for round_ in range(1, 15)] == [clock(90 + 16 * n) for n in range(14)]
    assert max(len(row) for row in page.all("tr")) <= 7


def test_half_seconds_are_added_up_exactly(grown):
    tree = one_day(
        trees.circuit({"exercise": "sit", "reps": 7, "tempo": "0.5-0-1-0"}, rounds=3, rest="0.1 s")
    )
    page = grown(tree)["plan/1.0/legs/new/week-1/"]
    # 30 s of warm-up, 60 s of rest, three times 10.5 s and twice 0.1 s.
    assert sum(line.length for line in lines(page)) == pytest.approx(121.7)
    assert [line.start for line in lines(page)] == [0, 30, 90, 100.5, 100.6, 111.1, 111.2]
    assert list(start_times(page).values()) == ["0:00", "1:30", "1:40", "1:51"]


def test_a_station_that_the_time_never_comes_to(grown):
    stations = [{"exercise": "lean", "hold": "50 s"}, {"exercise": "sit", "reps": 5}]
    capped = {"kind": "timed rounds", "lasts": "60 s", "stations": stations}
    page = grown(one_day(capped))["plan/1.0/legs/new/week-1/"]
    assert {label for label, _ in start_times(page)} == {"warm-up 1", "A1"}
    assert [words(one) for one in page.all("b", "n")] == ["1", "A1", "A2"]


def test_every_kind_of_block_in_one_day(grown):
    sit = {"exercise": "sit", "reps": 5}
    blocks = [
        trees.circuit(sit, rounds=2),
        {"kind": "straight sets", "stations": [sit | {"sets": 3}]},
        {"kind": "every minute", "minutes": 3, "stations": [sit]},
        {"kind": "timed rounds", "lasts": "90 s", "stations": [sit]},
    ]
    page = grown(one_day(*blocks))["plan/1.0/legs/new/week-1/"]
    assert [words(page.one("thead", within=table)) for table in page.all("table")] == [
        "Station start",
        "Station round 1 round 2",
        "Station set 1 set 2 set 3",
        "Station round 1 round 2 round 3",
        "Station round 1 round 2 round 3",
    ]
    assert [words(one) for one in page.all("b", "mark")] == ["warm-up", "A", "B", "C", "D"]
    assert {line.kind for line in lines(page)} == {"work", "changeover", "rest", "wait"}


def test_a_day_with_every_letter_of_blocks(grown):
    many = [trees.circuit({"exercise": "sit", "reps": 1}) for _ in range(26)]
    page = grown(one_day(*many))["plan/1.0/legs/new/week-1/"]
    assert words(page.all("b", "mark")[-1]) == "Z"
