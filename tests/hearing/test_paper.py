"""The template for those who train from paper: written for a version, filled in, saved by a spreadsheet, read back."""

import csv
import io
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from phasepress.cli import main

from tests.hearing.squads import ROUNDS, faults, record, reviewed, tree


def template(programmes: Path) -> list[dict[str, str]]:
    done = CliRunner().invoke(main, ["review", "--template", "trial", "1.0", "--programmes", str(programmes)])
    assert done.exit_code == 0, done.output
    return list(csv.DictReader(io.StringIO(done.stdout.removeprefix("\ufeff"), newline="")))


def filled(programmes: Path, *rows: dict[str, Any], mark: str = ",") -> str:
    """The template with the first rows filled in."""
    every = template(programmes)
    for row, changes in zip(every, rows, strict=False):
        row.update({name.replace("_", " "): str(value) for name, value in changes.items()})
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, list(every[0]), delimiter=mark)
    writer.writeheader()
    writer.writerows(every)
    return out.getvalue()


@pytest.fixture
def programmes(tmp_path: Path) -> Path:
    return tree(tmp_path)


def test_it_has_a_row_for_each_session_of_each_level_as_often_as_it_is_trained(programmes: Path) -> None:
    rows = template(programmes)
    assert len(rows) == 2 * 4 * 2, "two levels, four weeks, Monday and Thursday"
    first = rows[0]
    assert (first["level"], first["week"], first["planned minutes"], first["planned sets"]) == (
        "starter",
        "1",
        "17",
        "6",
    )
    assert {
        first[name] for name in ("date", "minutes", "effort", "sets", "left out", "easier", "hurts", "note")
    } == {""}


def test_a_row_without_anything_filled_in_is_no_session(tmp_path: Path, programmes: Path) -> None:
    answer = reviewed(tmp_path, {"kim.csv": filled(programmes)}, programmes)
    assert [one["sessions"] for one in answer["athletes"]] == [0]
    assert faults(answer) == []


def test_a_filled_in_row_is_a_session_with_every_set_that_is_not_left_out(
    tmp_path: Path, programmes: Path
) -> None:
    row = {
        "date": "2027-01-11",
        "minutes": 40,
        "effort": 5,
        "left_out": "a2",
        "easier": "A1",
        "hurts": "left knee",
    }
    answer = reviewed(tmp_path, {"kim.csv": filled(programmes, row)}, programmes)
    [one] = answer["athletes"]
    assert (one["sessions"], one["minutes"], one["load"]) == (1, 40, 200)
    found = {row["station"]: (row["done"], row["easier"], row["skipped"]) for row in answer["stations"]}
    assert found == {"A1": (3, 3, 0), "A2": (0, 0, 3)}
    assert [(told["date"], told["where"], told["why"]) for told in answer["reports"]] == [
        ("2027-01-11", "left knee", "hurts")
    ]


def test_a_number_of_sets_alone_says_whether_it_was_done_and_nothing_of_stations(
    tmp_path: Path, programmes: Path
) -> None:
    rows = [
        {"date": "2027-01-11", "minutes": 20, "sets": 2},
        {"date": "2027-01-14", "minutes": 40, "sets": 6},
    ]
    answer = reviewed(tmp_path, {"kim.csv": filled(programmes, *rows)}, programmes)
    [one] = answer["athletes"]
    assert (one["sessions"], one["begun"]) == (1, 1)
    assert {row["station"]: row["planned"] for row in answer["stations"]} == {"A1": 3, "A2": 3}, (
        "of the second alone"
    )


def test_minutes_that_nobody_wrote_down_are_unknown_and_so_is_the_load(
    tmp_path: Path, programmes: Path
) -> None:
    answer = reviewed(
        tmp_path, {"kim.csv": filled(programmes, {"date": "2027-01-11", "effort": 5})}, programmes
    )
    [week] = answer["athletes"][0]["weeks"]
    assert (week["sessions"], week["load"], week["unknown"]) == (1, None, 1)


def test_it_is_read_as_a_spreadsheet_saves_it_again(tmp_path: Path, programmes: Path) -> None:
    rows = [{"date": "25.01.2027", "minutes": "42,5", "effort": "6", "version": "1"}]
    answer = reviewed(tmp_path, {"kim.csv": filled(programmes, *rows, mark=";")}, programmes)
    assert (answer["athletes"][0]["minutes"], faults(answer)) == (42.5, [])


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ({"date": "Monday", "minutes": 40}, 'line 2, column "date": "Monday" is not a date'),
        (
            {"date": "2027-01-11", "effort": 12},
            'line 2, column "effort": "12" is not a whole number from 0 to 10',
        ),
        ({"minutes": 40}, 'line 2, column "date": "" is not a date'),
        ({"date": "2027-01-11", "minutes": "long"}, 'line 2, column "minutes": "long" is not a number'),
    ],
)
def test_a_cell_that_is_wrong_is_told_by_row_and_column(
    tmp_path: Path, programmes: Path, row: dict[str, Any], words: str
) -> None:
    answer = reviewed(tmp_path, {"kim.csv": filled(programmes, row)}, programmes)
    assert words in faults(answer)[0]
    assert answer["athletes"][0]["sessions"] == 0


def test_paper_and_the_log_of_the_page_are_one_athlete_and_rows_are_not_doubled(
    tmp_path: Path, programmes: Path
) -> None:
    text = filled(programmes, {"date": "2027-01-14", "minutes": 40})
    answer = reviewed(tmp_path, {"kim.csv": text, "kim.copy.csv": text, "kim.json": [record()]}, programmes)
    assert [one["sessions"] for one in answer["athletes"]] == [2]


def test_timed_rounds_from_paper_are_those_that_were_planned(tmp_path: Path) -> None:
    programmes = tree(tmp_path / "timed", ROUNDS)
    answer = reviewed(tmp_path, {"kim.csv": filled(programmes, {"date": "2027-01-11"})}, programmes)
    assert [(one["planned"], one["done"]) for one in answer["stations"]] == [(2, 2)]
