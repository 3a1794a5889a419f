"""A browser that refuses to store anything: private windows, blocked cookies, a full store."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, expect

from tests.browser.conftest import PHONE, OpenPage, go_to_an_empty_page
from tests.browser.demo import demo
from tests.browser.log_records import emptied
from tests.browser.reading_pages import read_day
from tests.browser.watch import Watch

TREE = demo()
DAY = TREE.versions[-1].days[0]
LEVEL = list(DAY.version.levels)[-1]
TRY_TO_STORE = (
    "() => { try { localStorage.setItem('a', 'b'); return 'stored'; } catch (e) { return e.name; } }"
)
REFUSALS = {
    "the store may not be touched": (
        "Object.defineProperty(window, 'localStorage',"
        " {get() { throw new DOMException('denied', 'SecurityError'); }})",
        "SecurityError",
    ),
    "nothing may be read or written": (
        "Storage.prototype.getItem = Storage.prototype.setItem ="
        " () => { throw new DOMException('denied', 'SecurityError'); }",
        "SecurityError",
    ),
    "the store is full": (
        "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }",
        "QuotaExceededError",
    ),
    "there is no store": (
        "Object.defineProperty(window, 'localStorage', {value: null})",
        "TypeError",
    ),
}


def assert_a_day_works(page: Page, site_url: str) -> None:
    """Week and level can be chosen and the session opened; only the memory is missing."""
    page.goto(site_url + DAY.address)
    page.get_by_label("Level").select_option(LEVEL)
    page.get_by_label("Week").select_option("2")
    shown = read_day(page)
    assert [address for address, _ in shown.sessions] == [f"{LEVEL}/week-2/"]
    session = DAY.session(LEVEL, 2)
    assert [(s.label, s.doses[0].words) for s in shown.stations] == [(r.label, r.dose) for r in session.rows]
    page.reload()
    expect(page.get_by_label("Level")).to_have_value(next(iter(DAY.version.levels)))
    page.get_by_role("link", name="Open the session").click()
    expect(page.get_by_role("button", name="Print this sheet")).to_be_visible()
    page.goto(f"{site_url}exercises/")
    page.get_by_label("Find an exercise").fill("zzz")
    expect(page.get_by_text("0 found")).to_be_visible()


@pytest.mark.parametrize("refusal", REFUSALS)
def test_a_day_works_when(open_page: OpenPage, site_url: str, refusal: str) -> None:
    script, error = REFUSALS[refusal]
    # A script stays in its page, so each has one of its own, on a device that has nothing in its stores.
    device = emptied(open_page(**PHONE, reduced_motion="reduce"), site_url)
    page = device.context.new_page()
    page.add_init_script(script)
    go_to_an_empty_page(page, site_url)
    assert page.evaluate(TRY_TO_STORE) == error
    assert_a_day_works(page, site_url)
    page.close()


@pytest.fixture
def without_cookies(
    playwright: Playwright, whole_launch_options: dict[str, Any], tmp_path: Path
) -> Iterator[BrowserContext]:
    """A browser whose own setting blocks all cookies and site data."""
    settings = {"profile": {"default_content_setting_values": {"cookies": 2}}}
    (tmp_path / "Default").mkdir()
    (tmp_path / "Default" / "Preferences").write_text(json.dumps(settings), encoding="utf-8")
    context = playwright.chromium.launch_persistent_context(
        tmp_path, reduced_motion="reduce", **whole_launch_options
    )
    watch = Watch(context)
    yield context
    context.close()
    assert watch.problems() == []


def test_a_day_works_with_cookies_blocked_in_the_browser(
    without_cookies: BrowserContext, site_url: str
) -> None:
    page = without_cookies.new_page()
    go_to_an_empty_page(page, site_url)
    assert page.evaluate(TRY_TO_STORE) == "SecurityError"
    assert_a_day_works(page, site_url)
