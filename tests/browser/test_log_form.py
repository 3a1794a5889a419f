"""The browser's import and Python's reader take the same records, and read the same in each other's files."""

import json
import random
from pathlib import Path
from typing import Any

import pytest
from phasepress.hearing import form
from phasepress.hearing.files import Readers
from playwright.sync_api import Page

from tests.browser.log_records import any_record, call, record, report
from tests.hearing.form_cases import CASES


@pytest.fixture
def page(page: Page, site_url: str) -> Page:
    page.goto(f"{site_url}about/")
    return page


def test_every_site_has_the_schema_of_its_log(built_site: Path) -> None:
    assert json.loads((built_site / "log.schema.json").read_text("utf-8")) == form.schema()


def test_the_import_takes_what_the_reader_takes(page: Page, built_site: Path) -> None:
    body = """return given.map((record) => {
        try { return m.fromText(JSON.stringify({format: "phasepress log", version: 2, sessions: [record]})).length; }
        catch (error) { return error.message; }
    });"""
    # As texts, so that 2.0 stays what it is.
    told = call(page, built_site, "transfer", body, [case for case, _ in CASES.values()])
    answers = {name: answer == 1 for name, answer in zip(CASES, told, strict=True)}
    assert answers == {name: is_one for name, (_, is_one) in CASES.items()}


def read(tmp_path: Path, name: str, text: str) -> list[Any]:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8", newline="")
    file = Readers(lambda programme: (), {}).read(path, name)
    assert file.faults == []
    return [session for _, session in file.sessions]


def test_python_reads_the_same_from_the_json_and_the_csv_that_the_page_saves(
    page: Page, built_site: Path, tmp_path: Path
) -> None:
    chance = random.Random(5)
    # A table's reader takes a version by its address, and what spreadsheets change is another test's.
    plain = {
        "version": "2.0",
        "address": "home-strength/2.0/legs/steady/week-2/",
        "programme": "home-strength",
    }
    given = [any_record(chance, number) | plain for number in range(60)]
    given += [record(id="told", reports=[report(), report(why="too hard", where="")], utc=-210)]
    saved = call(page, built_site, "transfer", "return [m.toJson(given), m.toCsv(given)]", given)
    of_json, of_csv = (
        read(tmp_path, f"kim.{kind}", text) for kind, text in zip(("json", "csv"), saved, strict=True)
    )
    assert [session.id for session in of_json] == [one["id"] for one in given]
    # A cell cannot tell a station of empty texts from none, nor lines that end in CR LF from others.
    for one, other in zip(of_json, of_csv, strict=True):
        assert (one.id, one.started, one.seconds, one.effort, one.utc) == (
            other.id, other.started, other.seconds, other.effort, other.utc
        )  # fmt: skip
        assert one.note == other.note
        assert one.stops == other.stops
        assert one.bouts == other.bouts
