"""The log as files: read by Python's csv and json, brought back without loss, refused in words and never by half."""

import csv
import io
import json
import random
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import PHONE
from tests.browser.log_records import (
    HOME,
    HOSTILE,
    UsedAgain,
    any_record,
    call,
    emptied,
    kept,
    key,
    put,
    record,
    station,
    using_again,
)
from tests.browser.test_log_records import FILL
from tests.samples import every, size

# What a spreadsheet takes for a formula: OWASP, CSV Injection.
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d")
IMPORT = f"return m.importSessions('{HOME}', given)"
NO_LOG = "This file is not a log of this site"


@pytest.fixture(scope="module")
def device(browser: Browser, site_url: str) -> Iterator[UsedAgain]:
    with using_again(browser, **PHONE, timezone_id="Pacific/Auckland") as used:
        emptied(used.page, site_url)
        yield used


@pytest.fixture
def page(device: UsedAgain) -> Iterator[Page]:
    """A page for calling functions that only turn records into text, and text into records."""
    yield device.page
    device.heard_nothing()


@pytest.fixture
def fresh(page: Page, site_url: str) -> Page:
    """As a page of a device that nobody has used before, for calling functions that keep something."""
    return emptied(page, site_url)


@pytest.fixture(scope="module")
def csv_text(device: UsedAgain, built_site: Path) -> str:
    """The text of `records()` as a CSV file."""
    text = to_csv(device.page, built_site, records())
    device.heard_nothing()
    return text


def records(number: int = size(150, few=60), seed: int = 5) -> list[dict[str, Any]]:
    chance = random.Random(seed)
    hostile = [
        record(id=f"h{place}", note=text, title=text, stations=[station(name=text, dose=text)])
        for place, text in enumerate(HOSTILE)
    ]
    return [*hostile, *(any_record(chance, place) for place in range(number))]


def to_csv(page: Page, built_site: Path, given: list[dict[str, Any]]) -> str:
    text: str = call(page, built_site, "transfer", "return m.toCsv(given)", given)
    return text


def to_json(page: Page, built_site: Path, given: list[dict[str, Any]]) -> str:
    text: str = call(page, built_site, "transfer", "return m.toJson(given)", given)
    return text


def from_text(page: Page, built_site: Path, text: str) -> Any:
    """The records in the text, or in words why it is refused."""
    body = "try { return m.fromText(given); } catch (error) { if (error instanceof SyntaxError) return error.message; throw error; }"
    return call(page, built_site, "transfer", body, text)


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def unguarded(cell: str) -> str:
    """A cell without the apostrophe that keeps spreadsheets from reading it as a formula."""
    bare = cell.lstrip("'").lstrip(" ")
    return cell[1:] if cell.startswith("'") and bare.startswith(FORMULA) else cell


def test_python_reads_from_the_json_what_was_kept(page: Page, built_site: Path) -> None:
    given = records()
    read = json.loads(to_json(page, built_site, given))
    assert read == {"format": "phasepress log", "version": 2, "sessions": given}


def test_python_reads_from_the_csv_every_finished_station(csv_text: str) -> None:
    given = records()
    read = rows(csv_text)
    expected = [(one, done) for one in given for done in ([*one["stations"], *one["reports"]] or [None])]
    assert len(read) == len(expected)
    for row, (one, done) in zip(read, expected, strict=True):
        cells = {name: unguarded(cell) for name, cell in row.items()}
        assert cells["session"] == one["id"]
        for column in ("title", "programme", "version", "plan", "day", "level", "address", "note"):
            assert cells[column] == one[column]
        assert cells["effort"] == ("" if one["effort"] is None else str(one["effort"]))
        assert float(cells["trained seconds"]) == one["seconds"]
        started = datetime.fromisoformat(cells["started"]).timestamp() * 1000
        assert round(started) == one["started"]
        assert cells["minutes from UTC"] == ("" if one["utc"] is None else str(one["utc"]))
        if done and "why" in done:
            found = [cells[name] for name in ("station", "stopped because", "where", "said")]
            assert found == [done[key] for key in ("station", "why", "where", "note")]
            continue
        assert cells["stopped because"] == ""
        assert cells["station"] == (done["label"] if done else "")
        assert cells["name"] == (done["name"] if done else "")
        assert cells["easier way"] == (done["way"] if done else "")


def test_every_line_of_the_csv_ends_as_the_standard_says(csv_text: str) -> None:
    """RFC 4180, 2.1 and 2.4: CR LF after each record, as many fields in each."""
    text = csv_text.removeprefix("\ufeff")
    assert text.endswith("\r\n")
    read = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert {len(row) for row in read} == {len(read[0])}
    written = io.StringIO(newline="")
    csv.writer(written, lineterminator="\r\n").writerows(read)
    assert list(csv.reader(io.StringIO(written.getvalue(), newline=""))) == read


def test_no_cell_can_be_taken_for_a_formula(csv_text: str) -> None:
    for row in csv.reader(io.StringIO(csv_text, newline="")):
        assert [cell for cell in row if cell.lstrip(" ").startswith(FORMULA)] == []


def test_minutes_and_load_of_a_session_stand_once_so_that_they_can_be_added_up(
    page: Page, built_site: Path
) -> None:
    given = [record(), record(id="k2", effort=None, seconds=600)]
    read = rows(to_csv(page, built_site, given))
    assert [row["minutes"] for row in read] == ["45.0", "", "10.0", ""]
    assert [row["load"] for row in read] == ["270", "", "", ""]


def test_the_date_in_the_csv_is_the_local_one(page: Page, built_site: Path) -> None:
    evening = datetime(2027, 1, 11, 20, 0, tzinfo=UTC)
    [row] = rows(to_csv(page, built_site, [record(started=evening.timestamp() * 1000, stations=[])]))
    assert row["date"] == "2027-01-12", "in Auckland it is the next morning"


@pytest.mark.parametrize("write", [to_json, to_csv])
def test_a_round_trip_loses_nothing(page: Page, built_site: Path, write: Any) -> None:
    for seed in every(range(5), few=2):
        given = records(seed=seed)
        assert from_text(page, built_site, write(page, built_site, given)) == given


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_a_csv_that_python_has_written_again_is_read(page: Page, built_site: Path, separator: str) -> None:
    """With another separator, line ends of another kind, columns in another order, and one more."""
    given = [record(), record(id="k2", note='=1; "x", \n', stations=[])]
    read = rows(to_csv(page, built_site, given))
    out = io.StringIO(newline="")
    columns = ["mine", *reversed(read[0])]
    writer = csv.DictWriter(out, columns, delimiter=separator, lineterminator="\n")
    writer.writeheader()
    writer.writerows({"mine": "=1"} | row for row in read)
    assert from_text(page, built_site, out.getvalue()) == given


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", NO_LOG),
        ("name,date\nx,y\n", NO_LOG),
        ("{}", NO_LOG),
        ("[]", NO_LOG),
        ('{"format": "phasepress log"}', NO_LOG),
        ('{"format": "another log", "version": 1, "sessions": []}', NO_LOG),
        ('{"format": "phasepress log",\n "version": 1,\n "sessions": [1 2]}', "goes wrong in line 3"),
        ('{"format": "phasepress log", "version": 1, "sessions": [}', "is damaged"),
        ('{"format": "phasepress log", "version": 1, "sess', "is damaged"),
        ('{"format": "phasepress log", "version": 3, "sessions": []}', "Load this page again"),
        (json.dumps({"format": "phasepress log", "version": 1, "sessions": [None]}), "Session 1"),
        (
            json.dumps({"format": "phasepress log", "version": 1, "sessions": [record(), record(effort=11)]}),
            "Session 2 of the file (Legs and pull): effort is not a whole number from 0 to 10",
        ),
        (
            json.dumps(
                {"format": "phasepress log", "version": 1, "sessions": [record(stations=[station(round=-1)])]}
            ),
            "station 1: round is not",
        ),
    ],
)
def test_a_file_that_is_no_log_is_refused_with_the_place(
    page: Page, built_site: Path, text: str, words: str
) -> None:
    assert words in from_text(page, built_site, text)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (",6,Felt", ",11,Felt", 'Line 2, column "effort": "11" is not a whole number from 0 to 10'),
        (",6,Felt", ",-1,Felt", 'Line 2, column "effort": "-1" is not'),
        (",2700,", ",45 min,", 'Line 2, column "trained seconds": "45 min" is not a number'),
        (",2027-01-03T", ",yesterday T", 'column "started": "yesterday'),
        (",Felt good.", ',"Felt good.', "never closed"),
        (",Felt good.", ',Felt "good".', "quotation mark in the middle of a cell"),
        ("effort,", "", 'Line 1: there is no column "effort"'),
        ("\r\n2,", "\r\n3,", "Load this page again"),
    ],
)
def test_a_csv_with_a_fault_is_refused_with_line_and_column(
    page: Page, built_site: Path, old: str, new: str, words: str
) -> None:
    text = to_csv(page, built_site, [record()])
    assert old in text
    assert words in from_text(page, built_site, text.replace(old, new, 1))


def test_rows_of_one_session_that_differ_are_refused(page: Page, built_site: Path) -> None:
    head, first, second, end = to_csv(page, built_site, [record()]).split("\r\n")
    text = "\r\n".join([head, first, second.replace("Felt good.", "Felt bad."), end])
    words = from_text(page, built_site, text)
    assert 'Line 3, column "note"' in words
    assert "line 2" in words


def test_bringing_in_adds_what_is_new_and_doubles_nothing(fresh: Page, built_site: Path) -> None:
    given = records(50)
    first = call(fresh, built_site, "import", IMPORT, given)
    assert first == {"added": len(given), "completed": 0, "same": 0}
    assert kept(fresh) == {key(one): one for one in given}
    again = call(fresh, built_site, "import", IMPORT, given)
    assert again == {"added": 0, "completed": 0, "same": len(given)}
    assert kept(fresh) == {key(one): one for one in given}


def test_bringing_in_completes_a_session_and_leaves_what_was_noted_here(
    fresh: Page, built_site: Path
) -> None:
    here = record(stations=[station()], effort=3, note="", ended=None, seconds=60)
    put(fresh, [here])
    brought = call(fresh, built_site, "import", IMPORT, [record()])
    assert brought == {"added": 0, "completed": 1, "same": 0}
    assert kept(fresh) == {key("k1"): record(effort=3)}


def test_a_file_that_does_not_fit_is_not_brought_in_by_half(fresh: Page, built_site: Path) -> None:
    here = record(stations=[], note="", effort=None)
    put(fresh, [here])
    fresh.evaluate(FILL)
    fresh.evaluate(
        "localStorage.removeItem(Object.keys(localStorage).find((key) => key.startsWith('other 4096 ')))"
    )
    many = [record(id="a0"), record(), *(record(id=f"b{number}", note="x" * 1000) for number in range(20))]
    brought = call(fresh, built_site, "import", IMPORT, many)
    assert "Nothing was brought in" in brought["why"]
    assert "full" in brought["why"]
    assert kept(fresh) == {key("k1"): here}


def test_a_damaged_record_does_not_keep_a_good_copy_out(fresh: Page, built_site: Path) -> None:
    fresh.evaluate("(given) => localStorage.setItem(...given)", [key("k1"), "{half"])
    for added in (1, 0):
        assert call(fresh, built_site, "import", IMPORT, [record()])["added"] == added
    assert fresh.evaluate("(key) => localStorage.getItem(key)", key("k1")) == "{half"
    [one] = call(fresh, built_site, "records", f"return m.records('{HOME}')")
    assert one | {"id": "k1"} == record()


def test_what_a_file_holds_besides_is_left_out(page: Page, built_site: Path) -> None:
    given = json.loads(to_json(page, built_site, [record()]))
    given["sessions"][0] |= {"__proto__": {"x": 1}, "more": 1}
    assert from_text(page, built_site, json.dumps(given)) == [record()]
