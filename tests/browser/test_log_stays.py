"""The log stays where it is: the browser is asked to keep it, and the page says when a file was last saved."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import PHONE, OpenContext
from tests.browser.guided import begin, button, longest, soon
from tests.browser.log_records import HOME, UsedAgain, emptied, put, record, using_again

NOW = datetime(2027, 1, 20, 9, tzinfo=UTC)
ASKED = """window.asked = () => Number(sessionStorage.getItem("asked"));
// An empty page has none.
window.StorageManager ??= class {};
StorageManager.prototype.persisted = async () => false;
StorageManager.prototype.persist = async () => {
  sessionStorage.setItem("asked", asked() + 1);
  return false;
};"""


@pytest.fixture(scope="module")
def used_again(browser: Browser) -> Iterator[UsedAgain]:
    with using_again(browser, **PHONE, accept_downloads=True, timezone_id="UTC") as used:
        yield used


@pytest.fixture
def phone(used_again: UsedAgain) -> Iterator[BrowserContext]:
    yield used_again.context
    used_again.leave()


def log_page(phone: BrowserContext, site_url: str, script: str = "", **kept: str) -> Page:
    """The page of the log at that hour, with one session and this kept before; a script needs a page of its own."""
    page = phone.new_page() if script else phone.pages[0]
    if script:
        page.add_init_script(script)
    page.clock.set_fixed_time(NOW)
    put(emptied(page, site_url), [record()])
    for key, text in kept.items():
        page.evaluate("([key, text]) => localStorage.setItem(key, text)", [f"{key} {HOME}", text])
    page.goto(f"{site_url}log/")
    return page


@pytest.mark.parametrize(
    ("before", "words"),
    [
        (timedelta(), "Saved today."),
        (timedelta(hours=8), "Saved today."),
        # By the date, not by the hour.
        (timedelta(hours=10), "Saved 1 day ago."),
        (timedelta(days=30), "Saved 30 days ago."),
        # A date that was set wrong.
        (timedelta(days=-3), "Not saved on this device yet."),
    ],
)
def test_beside_the_export_it_says_when_it_was_last_done(
    phone: BrowserContext, site_url: str, before: timedelta, words: str
) -> None:
    then = round((NOW - before).timestamp() * 1000)
    page = log_page(phone, site_url, saved=str(then))
    expect(page.locator("[data-saved]")).to_have_text(words)


def test_what_another_page_of_the_host_has_written_there_is_no_time(
    phone: BrowserContext, site_url: str
) -> None:
    page = log_page(phone, site_url)
    for text in ("null", '"soon"', "{", "[1,2]", "1e999", '{"valueOf":1}'):
        page.evaluate("([key, text]) => localStorage.setItem(key, text)", [f"saved {HOME}", text])
        page.reload()
        expect(page.locator("[data-saved]"), text).to_have_text("Not saved on this device yet.")


@pytest.mark.parametrize("name", ["Save as a file", "Save for a spreadsheet (CSV)"])
def test_saving_is_remembered(phone: BrowserContext, site_url: str, name: str) -> None:
    page = log_page(phone, site_url)
    expect(page.locator("[data-saved]")).to_have_text("Not saved on this device yet.")
    with page.expect_download():
        page.get_by_role("button", name=name).tap()
    expect(page.locator("[data-saved]")).to_have_text("Saved today.")
    page.clock.set_fixed_time(NOW + timedelta(days=4))
    page.reload()
    expect(page.locator("[data-saved]")).to_have_text("Saved 4 days ago.")


def test_the_browser_is_asked_to_keep_it_once_there_is_something_to_keep(
    open_context: OpenContext, site_url: str
) -> None:
    phone = open_context(**PHONE, timezone_id="UTC")
    phone.add_init_script(ASKED)
    empty = phone.new_page()
    empty.goto(f"{site_url}log/")
    expect(empty.get_by_text("Nothing here yet")).to_be_visible()
    assert empty.evaluate("asked()") == 0
    page = begin(phone, site_url, longest())
    assert page.evaluate("asked()") == 0
    button(page, "Stop").tap()
    page.get_by_role("button", name="I am done").tap()
    page.get_by_role("button", name="Save", exact=True).tap()
    page.wait_for_url("**/log/")
    soon(lambda: page.evaluate("asked()") > 0)


def test_what_is_kept_for_good_is_not_asked_for_again(phone: BrowserContext, site_url: str) -> None:
    page = log_page(phone, site_url, ASKED + "StorageManager.prototype.persisted = async () => true;")
    expect(page.locator("[data-saved]")).to_be_visible()
    assert page.evaluate("asked()") == 0


def test_a_browser_without_such_a_wish_is_not_asked(phone: BrowserContext, site_url: str) -> None:
    without = "Object.defineProperty(Navigator.prototype, 'storage', {value: undefined});"
    page = log_page(phone, site_url, without)
    expect(page.locator("[data-saved]")).to_be_visible()


def test_the_page_says_when_a_browser_may_clear_it(kept_page: Page, site_url: str) -> None:
    """Seven days without interaction, and installed sites apart: WebKit blog of 24 March 2020, Full Third-Party
    Cookie Blocking and More."""
    kept_page.goto(f"{site_url}log/")
    words = kept_page.locator("#main").inner_text()
    assert "after 7 days on which you used the browser and did not open this site" in words
    assert "A site on the home screen may have a log of its own" in words
