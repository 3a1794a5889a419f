"""Send to my coach: a file of what is new, under the athlete's name, by the share sheet or as a download; read by review."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from phasepress.hearing.files import Readers
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage
from tests.browser.log_records import HOME, START, emptied, put, record, report

# Stands in for a share sheet, which this browser has not; `taken` says which files it takes.
SHEET = """(taken) => {
  window.shared = [];
  navigator.canShare = ({files}) => files.every(({type}) => taken.includes(type));
  navigator.share = async ({files}) => {
    if (window.turnsBack) throw new DOMException("", "AbortError");
    window.shared.push({name: files[0].name, text: await files[0].text()});
  };
}"""
SESSIONS = [record(id="k1", reports=[report()]), record(id="k2", started=START + 86_400_000, effort=None)]


@pytest.fixture
def page(open_page: OpenPage, site_url: str) -> Iterator[Page]:
    """The page of the log of a device that keeps two sessions and nothing else; all goes when the test ends."""
    page = open_page(accept_downloads=True)
    put(emptied(page, site_url), SESSIONS)
    page.goto(f"{site_url}log/")
    # The script draws it.
    expect(page.get_by_label("Your first name")).to_be_visible()
    yield page
    emptied(page, site_url)


def send(page: Page, name: str = "Kim B.") -> None:
    page.get_by_label("Your first name").fill(name)
    page.get_by_role("button", name="Send to my coach").click()


def sessions_of(tmp_path: Path, name: str, text: str) -> dict[str, Any]:
    """What the coach's side reads in a file."""
    path = tmp_path / name
    path.write_text(text, encoding="utf-8", newline="")
    file = Readers(lambda programme: (), {}).read(path, name)
    assert file.faults == []
    assert file.athlete == "Kim-B"
    return {session.id: session for _, session in file.sessions}


def test_without_a_share_sheet_it_is_a_download_that_review_reads(page: Page, tmp_path: Path) -> None:
    with page.expect_download() as waiting:
        send(page)
    name = waiting.value.suggested_filename
    assert name.startswith("Kim-B.")
    assert name.endswith(".json")
    found = sessions_of(tmp_path, name, Path(waiting.value.path()).read_text("utf-8"))
    assert found.keys() == {"k1", "k2"}
    assert [(stop.why, stop.where) for stop in found["k1"].stops] == [("hurts", "left knee")]
    expect(page.get_by_role("status")).to_contain_text("2 sessions saved as Kim-B.")


@pytest.mark.parametrize(
    ("taken", "suffix"), [(["application/json", "text/csv"], "json"), (["text/csv"], "csv")]
)
def test_a_share_sheet_gets_the_file_in_a_form_that_it_takes(
    page: Page, tmp_path: Path, taken: list[str], suffix: str
) -> None:
    page.evaluate(SHEET, taken)
    send(page)
    expect(page.get_by_role("status")).to_contain_text("2 sessions handed over as Kim-B.")
    [shared] = page.evaluate("window.shared")
    assert shared["name"].endswith(f".{suffix}")
    assert sessions_of(tmp_path, shared["name"], shared["text"]).keys() == {"k1", "k2"}


def test_the_next_time_only_what_is_new_or_changed_is_sent(page: Page) -> None:
    page.evaluate(SHEET, ["application/json"])
    send(page)
    expect(page.locator(".send select")).to_contain_text("0 sessions")
    page.get_by_role("button", name="Send to my coach").click()
    expect(page.get_by_role("status")).to_contain_text("nothing new since the last time")
    put(
        page,
        [
            record(id="k2", started=START + 86_400_000, effort=7),
            record(id="k3", started=START + 2 * 86_400_000),
        ],
    )
    page.reload()
    page.evaluate(SHEET, ["application/json"])
    expect(page.get_by_label("Your first name")).to_have_value("Kim B.")
    page.get_by_role("button", name="Send to my coach").click()
    expect(page.get_by_role("status")).to_contain_text("2 sessions handed over")
    [shared] = page.evaluate("window.shared")
    assert {one["id"]: one["effort"] for one in json.loads(shared["text"])["sessions"]} == {"k2": 7, "k3": 6}
    page.locator(".send select").select_option("all")
    page.get_by_role("button", name="Send to my coach").click()
    expect(page.get_by_role("status")).to_contain_text("3 sessions handed over")


def test_whoever_turns_back_has_sent_nothing(page: Page) -> None:
    page.evaluate(SHEET, ["application/json"])
    page.evaluate("window.turnsBack = true")
    send(page)
    expect(page.get_by_role("status")).to_have_text("Not shared.")
    expect(page.locator(".send select")).to_contain_text("2 sessions")


def test_without_a_name_the_page_asks_for_one(page: Page) -> None:
    for name in ("", "  ", "...", "/\\:"):
        page.evaluate("document.querySelector('[role=status]').textContent = ''")
        send(page, name)
        expect(page.get_by_role("status"), name).to_contain_text("Give the file a name first")
        expect(page.get_by_label("Your first name")).to_be_focused()


def test_whatever_another_page_wrote_under_its_key_everything_is_new(page: Page) -> None:
    for kept in ("7", "null", '{"sums": 3, "name": 4, "at": "x"}', "{", '{"sums": {"k1": "x"}}'):
        page.evaluate("([key, text]) => localStorage.setItem(key, text)", [f"sent {HOME}", kept])
        page.reload()
        expect(page.locator(".send select"), kept).to_contain_text("2 sessions")


def test_parents_read_what_is_in_it(page: Page) -> None:
    words = page.locator(".send")
    expect(words).to_contain_text(
        "For parents: of each session the file has the date, minutes, sets, how hard it felt"
    )
    expect(words).to_contain_text("Ask the club who reads it and when it is deleted.")


def test_with_the_log_goes_what_was_sent_and_under_which_name(page: Page) -> None:
    page.evaluate(SHEET, ["application/json"])
    send(page)
    expect(page.locator(".send select")).to_contain_text("0 sessions")
    page.get_by_role("button", name="Delete the whole log").click()
    page.get_by_role("button", name="Delete everything").click()
    expect(page.get_by_role("status")).to_have_text("The log is deleted.")
    assert page.evaluate("(key) => localStorage.getItem(key)", f"sent {HOME}") is None
