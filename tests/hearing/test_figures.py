"""Each figure of the review, worked out by hand in small trees."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.fixtures import phases
from tests.hearing import squads
from tests.hearing.squads import ROUNDS, bout, bouts, faults, record, report, reviewed, tree


def athlete(answer: dict[str, Any]) -> dict[str, Any]:
    [one] = answer["athletes"]
    return one


@pytest.mark.parametrize(("done", "is_done"), [(3, True), (2, False), (6, True), (0, False)])
def test_a_session_with_at_least_half_of_its_sets_is_done(tmp_path: Path, done: int, is_done: bool) -> None:
    """The circuit has 6 planned sets: 3 rounds of 2 stations."""
    stations = (bouts("A1", 3) + bouts("A2", 3))[:done]
    one = athlete(reviewed(tmp_path, {"kim.json": [record(stations=stations)]}))
    assert (one["sessions"], one["begun"]) == ((1, 0) if is_done else (0, 1))
    assert (one["minutes"], one["load"]) == (45, 270), "minutes and load are of both"


def test_planned_is_one_for_each_entry_of_on_of_the_phase_that_is_on(tmp_path: Path) -> None:
    one = athlete(reviewed(tmp_path, {"kim.json": [record(1, 0), record(2, 14)]}))
    assert [(week["monday"], week["planned"], week["sessions"]) for week in one["weeks"]] == [
        ("2027-01-11", 2, 1),
        ("2027-01-18", 2, 0),
        ("2027-01-25", 2, 1),
    ]
    assert (one["planned"], one["sessions"]) == (6, 2)


def test_a_week_in_which_no_phase_is_on_has_nothing_planned(tmp_path: Path) -> None:
    before = record(1, -7, week=1, address="trial/1.0/day/starter/week-1/")
    late = record(2, 28, week=4, address="trial/1.0/day/starter/week-4/")
    weeks = athlete(reviewed(tmp_path, {"kim.json": [before, late]}))["weeks"]
    assert [week["planned"] for week in weeks] == [0, 2, 2, 2, 2, 0]


def test_the_level_of_a_week_is_that_of_the_last_session_before_its_end(tmp_path: Path) -> None:
    circuit = squads.CIRCUIT.replace("rounds: 3", "rounds: {starter: 3, steady: [0, 3, 3, 3]}")
    programmes = tree(tmp_path, circuit)
    up = record(2, 3, address="trial/1.0/day/steady/week-1/", level="Steady", stations=[])
    one = athlete(
        reviewed(tmp_path, {"kim.json": [record(1, 0), up, record(3, 21, level="starter")]}, programmes)
    )
    assert [week["planned"] for week in one["weeks"]] == [0, 2, 2, 2], (
        "nothing is planned for steady in week 1"
    )


def test_a_level_is_known_by_its_address_its_name_and_its_id(tmp_path: Path) -> None:
    records = [
        record(1, 0, level="an older name"),
        record(2, 1, level="Starter", address=""),
        record(3, 2, level="starter", address=""),
        record(4, 3, level="Stranger", address=""),
    ]
    answer = reviewed(tmp_path, {"kim.json": records})
    assert athlete(answer)["sessions"] == 3
    assert faults(answer) == ['trial 1.0 has no level "Stranger", only starter or steady. It is not counted']


def test_more_rounds_than_planned_count_in_timed_rounds_alone(tmp_path: Path) -> None:
    """Of the timed rounds two squats end in time; the third is cut, and is not planned."""
    programmes = tree(tmp_path, squads.CIRCUIT, ROUNDS)
    stations = bouts("A1", 5) + bouts("A2", 3) + bouts("B1", 4)
    answer = reviewed(tmp_path, {"kim.json": [record(stations=stations)]}, programmes)
    found = {one["station"]: (one["planned"], one["done"], one["skipped"]) for one in answer["stations"]}
    assert found == {"A1": (3, 3, 0), "A2": (3, 3, 0), "B1": (2, 4, 0)}


def test_skipped_are_the_planned_bouts_that_are_not_in_the_log_by_label_and_round(tmp_path: Path) -> None:
    stations = [
        bout("A1", 1),
        bout("A1", 3),
        bout("A1", 3),
        *bouts("A2", 3),
        bout("warm-up 1", 1),
        bout("Z9", 1),
    ]
    answer = reviewed(tmp_path, {"kim.json": [record(stations=stations)]})
    found = {one["station"]: (one["planned"], one["done"], one["skipped"]) for one in answer["stations"]}
    assert found == {"A1": (3, 2, 1), "A2": (3, 3, 0)}


def test_easier_are_the_bouts_done_an_easier_way_by_station_and_way(tmp_path: Path) -> None:
    first = record(1, 0, stations=bouts("A1", 3, "hold on") + bouts("A2", 3))
    second = record(2, 3, stations=[bout("A1", 1, "half way"), *bouts("A2", 3)])
    answer = reviewed(tmp_path, {"kim.json": [first, second]})
    [one] = [one for one in answer["stations"] if one["station"] == "A1"]
    assert (one["planned"], one["done"], one["easier"], one["skipped"], one["athletes"]) == (6, 4, 4, 2, 1)
    assert one["ways"] == {"hold on": 3, "half way": 1}
    assert (one["exercise"], one["level"]) == ("squat", "starter")


def test_a_day_has_the_means_of_its_sessions_beside_what_was_planned_and_meant(tmp_path: Path) -> None:
    """The session takes, by hand: warm-up 600 s, rest 60 s, three rounds of squats 8 × 3 = 24 s, 15 s to change and
    a plank of 20 s a side with 5 s between, 84 s, with two rests of 60 s: 600 + 60 + 3 × 84 + 120 = 1032 s."""
    programmes = tree(tmp_path, keys="effort: [5, 6, 6, 4]")
    records = [record(1, 0, effort=7, seconds=1200), record(2, 3, effort=None, seconds=1000), record(3, 7)]
    answer = reviewed(tmp_path, {"kim.json": records}, programmes)
    assert [
        (d["week"], d["sessions"], d["seconds"], d["planned_seconds"], d["effort"], d["meant"])
        for d in answer["days"]
    ] == [
        (1, 2, 1100, 1032, 7, 5),
        (2, 1, 2700, 1032, 6, 6),
    ]


def test_without_a_meant_effort_it_is_null(tmp_path: Path) -> None:
    [day] = reviewed(tmp_path, {"kim.json": [record()]})["days"]
    assert day["meant"] is None


def test_reports_come_newest_first_also_of_a_plan_that_the_tree_does_not_know(tmp_path: Path) -> None:
    old = record(1, 0, reports=[report(), report(why="too hard", station="", where="", note="")])
    new = record(2, 7, version="7.7", address="", reports=[report(where="shoulder")])
    answer = reviewed(tmp_path, {"kim.json": [old], "lou.json": [new]})
    assert [(one["athlete"], one["date"], one["why"], one["where"]) for one in answer["reports"]] == [
        ("lou", "2027-01-18", "hurts", "shoulder"),
        ("kim", "2027-01-11", "hurts", "left knee"),
        ("kim", "2027-01-11", "too hard", None),
    ]
    assert answer["reports"][0]["version"] == "7.7"
    assert {one["note"] for one in answer["reports"]} == {"on landing", None}


def test_sessions_are_one_by_their_id_and_the_copy_that_knows_more_wins(tmp_path: Path) -> None:
    short = record(1, 0, effort=None, ended=None, seconds=600, stations=bouts("A1", 2), note="")
    whole = record(1, 0, note="Good.", reports=[report()])
    answer = reviewed(tmp_path, {"kim.2027-01.json": [short], "kim.2027-02.json": [whole, record(2, 3)]})
    assert [(one["athlete"], one["sessions"], one["new"]) for one in answer["files"]] == [
        ("kim", 1, 1),
        ("kim", 2, 1),
    ]
    assert (athlete(answer)["sessions"], athlete(answer)["load"]) == (2, 540)
    assert len(answer["reports"]) == 1
    turned = reviewed(
        tmp_path / "turned", {"kim.1.json": [whole], "kim.2.json": [short]}, tree(tmp_path / "t")
    )
    assert athlete(turned)["load"] == 270


def test_what_only_one_of_two_copies_has_is_never_lost(tmp_path: Path) -> None:
    one = record(1, 0, effort=None, stations=bouts("A1", 3), reports=[report(where="hip")])
    other = record(1, 0, effort=4, stations=bouts("A2", 2), reports=[report()])
    answer = reviewed(tmp_path, {"kim.json": [one], "kim.phone.json": [other]})
    assert {row["station"]: row["done"] for row in answer["stations"]} == {"A1": 3, "A2": 2}
    assert (athlete(answer)["effort"], len(answer["reports"])) == (4, 2)


def test_a_session_in_the_files_of_two_athletes_counts_once_and_is_told(tmp_path: Path) -> None:
    answer = reviewed(tmp_path, {"kim.json": [record()], "lou.json": [record(), record(2, 3)]})
    assert [(one["athlete"], one["sessions"]) for one in answer["athletes"]] == [("kim", 1), ("lou", 1)]
    assert faults(answer) == ["1 of its sessions are in the file of another athlete, and count there"]


def test_a_session_from_an_older_sheet_counts_and_is_told_once_a_file(tmp_path: Path) -> None:
    answer = reviewed(
        tmp_path, {"kim.json": [record(1, 0, plan="0000-1111-2222"), record(2, 3, plan="0000-1111-2222")]}
    )
    assert athlete(answer)["sessions"] == 2
    [told] = faults(answer)
    assert told.startswith("2 sessions were trained from an older sheet")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"programme": "other"}, 'programme "other" is not in the tree'),
        ({"version": "9.0", "address": ""}, 'trial has no version "9.0" in the tree'),
        ({"day": "arms"}, 'trial 1.0 has no day "arms"'),
        ({"week": 9}, "trial 1.0 has no week 9"),
        ({"started": 4_000_000_000_000}, "which is to come"),
        ({"started": 0}, "its date is 1970-01-01: the clock of the device was wrong"),
        ({"seconds": 1e308}, "it lasted more than a day"),
        ({"started": -8e15}, "no calendar has"),
    ],
)
def test_what_cannot_be_held_against_the_tree_is_told_and_the_rest_is_used(
    tmp_path: Path, changes: dict[str, Any], words: str
) -> None:
    answer = reviewed(tmp_path, {"kim.json": [record(1, 0, **changes), record(2, 3)]})
    assert athlete(answer)["sessions"] == 1
    [fault] = answer["files"][0]["faults"]
    assert words in fault["message"]
    assert fault["record"] == 1


def test_a_date_is_to_come_by_the_clock_of_the_athlete(tmp_path: Path) -> None:
    """It is 1 March, noon, in Greenwich, and already 2 March at UTC+13."""
    tomorrow = record(1, 0, started=int(squads.NOW.timestamp() * 1000), utc=13 * 60)
    in_greenwich = record(2, 0, started=int(squads.NOW.timestamp() * 1000) + 86_400_000, utc=0)
    answer = reviewed(tmp_path, {"kim.json": [tomorrow, in_greenwich]})
    assert [fault["record"] for fault in answer["files"][0]["faults"]] == [2]


def test_since_and_until_are_local_dates_and_are_in_it(tmp_path: Path) -> None:
    records = [record(number, number) for number in range(4)]
    answer = reviewed(tmp_path, {"kim.json": records}, since=date(2027, 1, 12), until=date(2027, 1, 13))
    assert athlete(answer)["sessions"] == 2
    assert answer["files"][0]["sessions"] == 4


def test_one_programme_alone(tmp_path: Path) -> None:
    answer = reviewed(tmp_path, {"kim.json": [record()]}, programme="other")
    assert athlete(answer)["sessions"] == 0
    assert answer["days"] == []


def test_names_take_the_place_of_file_names_and_two_files_of_a_name_are_one_athlete(tmp_path: Path) -> None:
    logs = {"kim.json": [record()], "old phone.json": [record(2, 3)]}
    answer = reviewed(tmp_path, logs, names={"kim.json": "Kim Invented", "old phone": "Kim Invented"})
    assert (athlete(answer)["athlete"], athlete(answer)["sessions"]) == ("Kim Invented", 2)


def test_anonymous_athletes_are_numbered_in_the_order_of_their_names_and_have_no_notes(
    tmp_path: Path,
) -> None:
    logs = {
        "zoe.json": [record(note="zoe was here", reports=[report()])],
        "Abe.json": [record(2)],
        "broken-bo.json": "{",
    }
    answer = reviewed(tmp_path, logs, anonymous=True)
    assert [one["athlete"] for one in answer["athletes"]] == ["A1", "A2", "A3"]
    assert {one["file"]: one["sessions"] for one in answer["files"]} == {"A1": 1, "A2": 0, "A3": 1}
    assert answer["reports"][0]["note"] is None
    assert not [word for word in ("zoe", "Abe", "broken", "landing") if word in str(answer)]


def test_a_squad_has_questions_about_what_a_third_and_at_least_three_changed(tmp_path: Path) -> None:
    easy = lambda number: record(number, 0, stations=bouts("A1", 3, "hold on") + bouts("A2", 3))  # noqa: E731
    logs = {f"a{number}.json": [easy(number)] for number in range(3)}
    logs |= {f"b{number}.json": [record(10 + number)] for number in range(6)}
    answer = reviewed(tmp_path, logs)
    [question] = answer["questions"]
    assert (question["station"], question["met"], question["changed"], question["why"]) == (
        "A1",
        9,
        3,
        "easier",
    )
    line = Path(question["file"]).read_text().splitlines()[question["line"] - 1]
    assert "exercise: squat, reps: 8" in line
    assert question["step"] == "do less"
    one_more = reviewed(tmp_path / "more", {**logs, "c.json": [record(99)]}, tmp_path / "programmes")
    assert one_more["questions"] == [], "3 of 10 are no third"


def test_changed_counts_athletes_whatever_they_changed_and_why_is_what_most_did(tmp_path: Path) -> None:
    logs = {
        "a.json": [record(1, 0, stations=bouts("A1", 3, "hold on") + bouts("A2", 3))],
        "b.json": [record(2, 0, stations=bouts("A1", 1) + bouts("A2", 3))],
        "c.json": [record(3, 0, reports=[report()])],
        "d.json": [record(4, 0, reports=[report(why="too hard")])],
    }
    [question] = reviewed(tmp_path, logs)["questions"]
    assert (question["met"], question["changed"], question["why"]) == (4, 4, "stopped")


def test_a_day_that_felt_two_below_what_was_meant_asks_for_a_harder_step_of_what_nobody_changed(
    tmp_path: Path,
) -> None:
    programmes = tree(tmp_path, keys="effort: 6")
    easy = {
        "kim.json": [record(1, 0, effort=3, stations=bouts("A1", 3) + bouts("A2", 2)), record(2, 3, effort=5)]
    }
    answer = reviewed(tmp_path, easy, programmes)
    assert [(one["station"], one["why"], one["changed"]) for one in answer["questions"]] == [
        ("A1", "too easy", 0)
    ]
    less = reviewed(
        tmp_path / "less", {"kim.json": [record(1, 0, effort=5), record(2, 3, effort=4)]}, programmes
    )
    assert less["questions"] == [], "1.5 below is not 2"


def test_the_newest_edition_says_what_is_planned_in_a_week(tmp_path: Path) -> None:
    old, new = phases.day(squads.CIRCUIT, on="[mon, thu]"), phases.day(squads.CIRCUIT, on="[mon, wed, fri]")
    versions = {"1.0": phases.version(old, weeks=4), "1.1": phases.version(new, weeks=4)}
    programmes = phases.planted(tmp_path, versions, phases.TWO_LEVELS)
    assert athlete(reviewed(tmp_path, {"kim.json": [record()]}, programmes))["planned"] == 3
