"""Files as families send them: every form, and what is wrong with one is told by its place while the rest is used."""

import json
import os
from pathlib import Path
from typing import Any

import pytest
from phasepress.hearing import files
from phasepress.hearing.form import MOST_STATIONS

from tests.hearing import squads
from tests.hearing.squads import bouts, faults, file_of, record, report, reviewed, tree
from tests.hearing.tables import table


def used(answer: dict[str, Any]) -> list[tuple[int, float | None]]:
    """Sessions and load of every athlete."""
    return [(one["sessions"], one["load"]) for one in answer["athletes"]]


def test_the_older_form_of_the_log_is_read_with_the_zone_of_the_coach(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = {key: value for key, value in record(1, 6).items() if key not in ("utc", "reports")} | {"v": 1}
    weeks = {}
    for zone in ("Pacific/Auckland", "UTC"):
        monkeypatch.setenv("TZ", zone)
        squads.datetime.now().astimezone()
        __import__("time").tzset()
        answer = reviewed(tmp_path / zone[:3], {"kim.json": file_of([old], version=1)})
        weeks[zone] = answer["athletes"][0]["weeks"][0]["monday"]
    monkeypatch.undo()
    __import__("time").tzset()
    assert weeks == {"Pacific/Auckland": "2027-01-18", "UTC": "2027-01-11"}


@pytest.mark.parametrize("old", [False, True])
@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_table_is_read_with_any_mark_between_its_cells(tmp_path: Path, mark: str, old: bool) -> None:
    answer = reviewed(tmp_path, {"kim.csv": "\ufeff" + table([record()], mark, old)})
    assert used(answer) == [(1, 270)]
    assert faults(answer) == []


def test_reports_and_minutes_from_utc_come_through_a_table(tmp_path: Path) -> None:
    answer = reviewed(
        tmp_path, {"kim.csv": table([record(utc=-300, reports=[report()])], started="2027-01-12T03:00:00Z")}
    )
    [told] = answer["reports"]
    assert (told["date"], told["where"], told["why"], told["note"]) == (
        "2027-01-11",
        "left knee",
        "hurts",
        "on landing",
    )


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32"])
def test_texts_in_any_unicode_encoding_with_its_mark_are_read(tmp_path: Path, encoding: str) -> None:
    text = table([record(note="Füße müde")])
    answer = reviewed(tmp_path, {"kim.csv": text.encode(encoding)})
    assert used(answer) == [(1, 270)]
    assert faults(answer) == []


def test_letters_of_another_encoding_are_told_and_the_numbers_are_used(tmp_path: Path) -> None:
    answer = reviewed(tmp_path, {"kim.csv": table([record(note="Füße müde")]).encode("cp1252")})
    assert used(answer) == [(1, 270)]
    assert "is not UTF-8 text (line 2)" in faults(answer)[0]


def test_a_version_that_a_spreadsheet_made_a_number_is_that_of_the_address_or_the_only_one(
    tmp_path: Path,
) -> None:
    programmes = tree(tmp_path)
    for number, changes in enumerate(
        [{"version": "1"}, {"version": "01. Jan"}, {"version": "1", "address": ""}]
    ):
        answer = reviewed(tmp_path / str(number), {"kim.csv": table([record()], **changes)}, programmes)
        assert (used(answer), faults(answer)) == ([(1, 270)], []), changes
    unsure = reviewed(
        tmp_path / "no", {"kim.csv": table([record()], version="01. Jan", address="")}, programmes
    )
    assert used(unsure) == [(0, 0)]
    assert 'line 2, column "version": "01. Jan" is not a version such as 2.0' in faults(unsure)[0]


@pytest.mark.parametrize(
    ("started", "day"),
    [
        ("2027-01-13 17:00:00", "2027-01-13"),
        ("13.01.2027 17:00", "2027-01-13"),
        ("13/01/2027 17:00:00", "2027-01-13"),
        ("1/13/2027 5:00 PM", "2027-01-13"),
        ("05.02.27 17:00", "2027-02-05"),
        ("2/2/2027 17:00", "2027-02-02"),
    ],
)
def test_a_date_in_a_local_form_is_read_where_it_means_one_day(
    tmp_path: Path, started: str, day: str
) -> None:
    answer = reviewed(tmp_path, {"kim.csv": table([record(reports=[report()])], ";", started=started)})
    assert [told["date"] for told in answer["reports"]] == [day], faults(answer)


def test_a_date_that_may_be_two_days_is_told_by_row_and_column(tmp_path: Path) -> None:
    answer = reviewed(tmp_path, {"kim.csv": table([record()], started="2/3/2027 17:00")})
    assert used(answer) == [(0, 0)]
    assert 'line 2, column "started": "2/3/2027 17:00" may be two dates' in faults(answer)[0]


def test_another_date_of_the_column_says_in_which_order_they_are(tmp_path: Path) -> None:
    head, *first = table([record(1, reports=[report()])], started="1/2/2027 17:00").splitlines()
    _, *other = table([record(2)], started="25/1/2027 17:00").splitlines()
    answer = reviewed(tmp_path, {"kim.csv": "\n".join([head, *first, *other])})
    assert [told["date"] for told in answer["reports"]] == ["2027-02-01"]


def test_decimal_commas_are_read(tmp_path: Path) -> None:
    answer = reviewed(
        tmp_path, {"kim.csv": table([record()], ";", trained_seconds="2700,0", effort="6,0", week="1,0")}
    )
    assert (used(answer), faults(answer)) == ([(1, 270)], [])


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"effort": "11"}, 'line 2, column "effort": "11" is not a whole number from 0 to 10'),
        ({"trained_seconds": "45 min"}, 'line 2, column "trained seconds": "45 min" is not a number'),
        ({"log_format": "3"}, 'line 2, column "log format": "3" is not 1 or 2'),
        ({"started": "yesterday"}, 'line 2, column "started": "yesterday" is not a date'),
        ({"started": "31.02.2027"}, "a date that no calendar has"),
    ],
)
def test_a_cell_that_is_wrong_is_told_and_the_other_sessions_are_used(
    tmp_path: Path, changes: dict[str, str], words: str
) -> None:
    wrong, right = table([record(1)], **changes), table([record(2)])
    answer = reviewed(tmp_path, {"kim.csv": wrong + right.split("\r\n", 1)[1]})
    assert used(answer) == [(1, 270)]
    [told] = faults(answer)
    assert words in told


def test_one_set_that_is_wrong_is_lost_and_not_its_session(tmp_path: Path) -> None:
    text = table([record(stations=bouts("A1", 3))]).replace("Trial,3,", "Trial,three,")
    answer = reviewed(tmp_path, {"kim.csv": text})
    assert {row["station"]: row["done"] for row in answer["stations"]} == {"A1": 2, "A2": 0}
    assert 'line 4, column "round"' in faults(answer)[0]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (file_of([record()]).replace('"seconds": 2700', '"seconds": 27'), None),
        (file_of([record(1), record(2)])[:-700], "breaks off or goes wrong in line 1"),
        (file_of([record(1), {"v": 2}]), "session 2 of the file: stations is not a list"),
        (
            file_of([record(1), record(2, effort=11)]),
            "session 2 of the file: effort is not a whole number from 0 to 10",
        ),
        (file_of([record(1), record(2, reports=[report(why="bored")])]), "report 1: why is not"),
        (file_of([record(1), record(2, stations=bouts("A1", MOST_STATIONS + 1))]), "20001 finished sets"),
        (file_of([record(1)])[:-1] + ', "more": NaN}', "cannot be read"),
    ],
)
def test_what_is_wrong_in_json_is_told_by_session_or_line_and_the_rest_is_used(
    tmp_path: Path, content: str, words: str | None
) -> None:
    answer = reviewed(tmp_path, {"kim.json": content})
    assert [one["sessions"] for one in answer["athletes"]] == [1]
    assert [words in told for told in faults(answer)] == ([True] if words else [])


@pytest.mark.parametrize(
    "content",
    ["", " \n", "{}", "[]", "[" * 100_000, '{"format": "another", "version": 1, "sessions": []}', "a,b\n1,2\n", "\0" * 99,
     '{"sessions": [], "format": "phasepress log", "version": 3}', "%PDF-1.7", '{"a":' * 50_000, "1" * 5000],
)  # fmt: skip
def test_what_is_no_log_is_told_and_nothing_is_used(tmp_path: Path, content: str) -> None:
    answer = reviewed(tmp_path, {"kim.json": content, "lou.json": [record()]})
    assert used(answer) == [(0, 0), (1, 270)]
    [told] = faults(answer)
    assert "no log" in told or "empty" in told or "of form 3" in told


def test_a_session_of_a_million_sets_is_told(tmp_path: Path) -> None:
    one = json.dumps(squads.bout("A1", 1))
    whole = file_of([record(1, stations=[]), record(2)])
    answer = reviewed(
        tmp_path, {"kim.json": whole.replace('"stations": []', f'"stations": [{",".join([one] * 10**6)}]', 1)}
    )
    assert used(answer) == [(0, 0)] or used(answer) == [(1, 270)]
    assert "1000000 finished sets" in faults(answer)[0] or "MB" in faults(answer)[0]


def test_a_file_of_200_megabytes_is_not_opened(tmp_path: Path) -> None:
    folder = squads.write(tmp_path, {"lou.json": [record()]})
    with (folder / "kim.json").open("wb") as file:
        file.truncate(200_000_000)
    os.chmod(folder / "kim.json", 0)
    answer = squads.review_json(squads.found(tree(tmp_path), folder))
    assert used(answer) == [(0, 0), (1, 270)]
    assert faults(answer) == ["the file has 200 MB, allowed are 64: it is no log of one athlete"]


def test_hidden_files_and_what_is_no_file_are_passed_over(tmp_path: Path) -> None:
    folder = squads.write(tmp_path, {"u13/kim.json": [record()], ".hidden": "x", ".git/config": "x"})
    os.mkfifo(folder / "pipe")
    answer = squads.review_json(squads.found(tree(tmp_path), folder))
    assert [one["file"] for one in answer["files"]] == ["u13/kim.json"]


def test_faults_of_one_file_are_bounded(tmp_path: Path) -> None:
    answer = reviewed(tmp_path, {"kim.json": [record(number, effort=11) for number in range(200)]})
    told = faults(answer)
    assert (len(told), told[-1]) == (51, "150 more faults than are told; mend these first")


def test_the_table_of_names_says_what_is_wrong_without_a_name(tmp_path: Path) -> None:
    path = tmp_path / "names.csv"
    path.write_text("file,name\nkim.json,Kim Invented\n")
    assert files.names_of(path) == {"kim.json": "Kim Invented"}
    path.write_text("kim.json,Kim Invented\nlou.json\n")
    with pytest.raises(files.NoNamesError, match="row 2 has not two cells"):
        files.names_of(path)
