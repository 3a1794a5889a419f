"""`phasepress review` as it is called: its shapes, its exit status, and what it cannot do in words."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from phasepress.cli import main

from tests.hearing import squads
from tests.hearing.squads import bouts, past, report

KEYS = {
    "files": {"file", "athlete", "sessions", "new", "faults"},
    "reports": {"athlete", "date", "programme", "version", "day", "station", "where", "why", "note"},
    "athletes": {"athlete", "sessions", "begun", "planned", "minutes", "load", "effort", "weeks"},
    "stations": {
        "programme", "version", "day", "level", "station", "exercise", "planned", "done", "easier", "skipped",
        "athletes", "ways",
    },
    "days": {"programme", "version", "day", "level", "week", "sessions", "seconds", "planned_seconds", "effort", "meant"},
    "questions": {
        "programme", "version", "day", "level", "station", "exercise", "file", "line", "met", "changed", "why", "step"
    },
}  # fmt: skip
WEEK = {
    "monday",
    "sessions",
    "begun",
    "planned",
    "minutes",
    "load",
    "unknown",
    "effort",
    "monotony",
    "strain",
}


@pytest.fixture
def room(tmp_path: Path) -> Path:
    squads.tree(tmp_path)
    easy = bouts("A1", 3, "hold on") + bouts("A2", 3)
    logs: dict[str, Any] = {f"a{number}.json": [past(number, stations=easy)] for number in range(3)}
    logs["kim.json"] = [past(9, reports=[report()], note="Went well."), {"v": 2}]
    squads.write(tmp_path, logs)
    return tmp_path


def run(room: Path, *words: str, logs: str = "logs") -> Result:
    return CliRunner().invoke(
        main, ["review", str(room / logs), "--programmes", str(room / "programmes"), *words]
    )


def test_json_has_every_key_that_is_documented_and_no_other(room: Path) -> None:
    answer = json.loads(run(room, "--format", "json").stdout)
    assert answer.keys() == KEYS.keys()
    for part, keys in KEYS.items():
        assert answer[part], part
        assert all(one.keys() == keys for one in answer[part]), part
    assert all(week.keys() == WEEK for one in answer["athletes"] for week in one["weeks"])
    assert {
        fault.keys() == {"record", "message"} for file in answer["files"] for fault in file["faults"]
    } == {True}


def test_the_text_has_its_parts_in_the_order_in_which_a_coach_needs_them(room: Path) -> None:
    text = run(room).stdout
    titles = [
        "Reports\n",
        "The squad\n",
        "The plan against what was done\n",
        "Questions for the next edition\n",
        "\nkim\n",
    ]
    places = [text.index(title) for title in titles]
    assert places == sorted(places)
    assert "Ask, and follow your club's safeguarding rules." in text
    assert "kim: something hurts, left knee" in text
    assert re.search(r"trial/1\.0\.yaml:\d+: A1 Trial", text)
    assert "Went well." in text


def test_no_figure_is_called_safe_or_risky_good_or_bad_and_nobody_is_ranked(room: Path) -> None:
    for shape in ("text", "html"):
        text = run(room, "--format", shape).stdout.replace("so no number here is called good or bad", "")
        for word in (
            "safe ",
            "unsafe",
            "risk",
            " good",
            " bad",
            "injur",
            "rank",
            "best",
            "worst",
            "overload",
        ):
            assert word not in text.lower().replace("went well", ""), word


def test_nothing_that_could_be_used_is_exit_1_and_something_is_0(room: Path) -> None:
    assert run(room).exit_code == 0
    assert run(room, "--since", "2027-06-01").exit_code == 0, "it could be used, and was not asked for"
    (room / "empty").mkdir()
    (room / "empty/kim.json").write_text("{")
    done = run(room, "--format", "json", logs="empty")
    assert (done.exit_code, len(json.loads(done.stdout)["files"])) == (1, 1)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--since", "January"], "--since: found 'January', allowed a date such as 2027-01-11"),
        (["--programme", "trail"], "unknown programme 'trail'"),
        (["--template"], "--template needs a programme and a version"),
    ],
)
def test_a_call_that_is_wrong_is_told_and_is_exit_2(room: Path, words: list[str], told: str) -> None:
    done = run(room, *words)
    assert done.exit_code == 2
    assert told in done.stderr


def test_a_call_without_files_says_what_to_name(room: Path) -> None:
    done = CliRunner().invoke(main, ["review", "--programmes", str(room / "programmes")])
    assert (done.exit_code, "phasepress review logs" in done.stderr) == (2, True)


def test_what_an_athlete_wrote_is_not_obeyed_by_a_terminal(room: Path) -> None:
    (room / "logs/lou.json").write_text(squads.file_of([past(50, note="\x1b[2J::error::\u202e")]))
    for shape in ("text", "json"):
        out = run(room, "--format", shape).stdout
        assert not {"\x1b", "\u202e"} & set(out)


@pytest.mark.parametrize(("shape", "begins"), [(None, "<!doctype html>"), ("json", "{"), ("text", "5 files")])
def test_it_is_written_as_html_unless_another_shape_is_named(
    room: Path, shape: str | None, begins: str
) -> None:
    (room / "logs/zoe.json").write_text(squads.file_of([past(60)]))
    done = run(room, "--to", str(room / "out"), *(["--format", shape] if shape else []))
    assert done.exit_code == 0, done.output
    assert (room / "out").read_text().lstrip().startswith(begins)
