"""A new build of the site arrives whole or not at all, never under a running session, and the old one goes."""

import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.host import FAULTS, Host, copied, hosted
from tests.browser.offline_sites import (
    CURRENT,
    EXERCISES,
    NEW_WORDS,
    OLD_WORDS,
    OTHER,
    PROGRAMME,
    ask,
    build,
    build_in_force,
    current,
    kept_addresses,
    restyled,
    saved,
    visiting,
    words_of,
)
from tests.conftest import SUB_PATH
from tests.site.pages import Site

SESSION = f"{CURRENT}legs/new/week-1/"
HOLD = """(name) => new Promise((held) => navigator.locks.request(name, () => {
    held(true);
    return new Promise((go) => { window.release = go; });
}))"""
RUNNING = f"running {SUB_PATH}"


@pytest.fixture(scope="module")
def old(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build(tmp_path_factory.mktemp("old"))


@pytest.fixture(scope="module")
def new(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build(tmp_path_factory.mktemp("new"), NEW_WORDS)


@pytest.fixture
def host(old: Path) -> Iterator[Host]:
    with hosted(Host({SUB_PATH: old})) as running:
        yield running


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    # What the host of these tests answers to the worker is meant to be wrong, and so is nothing on a page.
    with visiting(browser, "answer (404|410|500): |failed: .*ERR_(CONTENT_LENGTH|HTTP)") as opened:
        yield opened


@pytest.fixture
def page(context: BrowserContext, host: Host) -> Page:
    """A page that has visited the programme once."""
    opened = context.new_page()
    saved(opened, host.url + PROGRAMME)
    opened.goto(host.url + SESSION)
    return opened


def assert_all_is_of(page: Page, host: Host, site: Path) -> None:
    """Every page of the current version, with no network, is the one of this build."""
    page.context.set_offline(True)
    for address in current(Site(site)):
        answer = page.goto(host.url + address)
        assert answer
        assert answer.body() == (site / address / "index.html").read_bytes(), address
    page.context.set_offline(False)


def build_of(site: Path) -> str:
    return str(json.loads((site / "offline.json").read_text(encoding="utf-8"))["build"])


def look(page: Page, host: Host) -> None:
    """Opens a page, and waits until the worker has done whatever it does about a newer build."""
    page.goto(host.url + SESSION)
    ask(page, "look")


def test_the_next_visit_shows_the_new_build(page: Page, host: Host, old: Path, new: Path) -> None:
    assert build_of(old) != build_of(new)
    assert OLD_WORDS in words_of(page, host.url + SESSION)
    host.deploy(new)
    words = words_of(page, host.url + SESSION)
    assert NEW_WORDS in words
    assert OLD_WORDS not in words
    assert build_in_force(page) == build_of(new)
    assert_all_is_of(page, host, new)


def test_a_window_that_was_open_all_the_time_does_not_hold_it_up(
    page: Page, context: BrowserContext, host: Host, new: Path
) -> None:
    host.deploy(new)
    assert NEW_WORDS in words_of(context.new_page(), host.url + SESSION)
    assert OLD_WORDS in page.locator("body").inner_text(), "nothing moves under the reader"
    page.reload()
    assert NEW_WORDS in page.locator("body").inner_text()


def test_a_window_that_is_looked_at_again_says_that_there_are_newer_pages(
    page: Page, host: Host, new: Path
) -> None:
    """A device keeps windows for weeks and shows them again without loading them."""
    see = "document.dispatchEvent(new Event('visibilitychange'))"
    expect(page.get_by_text("saved on this device")).to_be_visible()
    page.evaluate(see)
    page.wait_for_timeout(500)
    expect(page.get_by_text("There are newer pages")).to_have_count(0)
    host.deploy(new)
    page.evaluate(see)
    told = page.get_by_role("status").filter(has_text="There are newer pages")
    expect(told).to_be_visible()
    told.get_by_role("link", name="show them").click()
    expect(page.get_by_text(NEW_WORDS).first).to_be_visible()


def test_only_what_has_changed_is_fetched(page: Page, host: Host, old: Path, new: Path) -> None:
    """On a phone every byte is somebody's."""
    host.deploy(new)
    host.paths()
    look(page, host)
    asked = host.paths()
    same = {name for name in (f"{EXERCISES[1]}", "about/", "plan/app.webmanifest")}
    assert {(old / n / "index.html").read_bytes() for n in ("about",)} == {(new / "about/index.html").read_bytes()}
    assert SESSION in asked
    assert not same & asked


def test_no_new_build_while_a_session_runs(
    page: Page, context: BrowserContext, host: Host, old: Path, new: Path
) -> None:
    page.evaluate(HOLD, RUNNING)
    host.deploy(new)
    host.paths()
    other = context.new_page()
    for _ in range(3):
        assert OLD_WORDS in words_of(other, host.url + SESSION)
        assert ask(other, "look")["build"] == build_of(old)
    assert f"{PROGRAMME}offline.json" not in host.paths(), "the line is the session's, too"
    assert_all_is_of(other, host, old)
    page.evaluate("release()")
    assert NEW_WORDS in words_of(other, host.url + SESSION)


def test_a_session_of_another_site_on_the_host_is_no_reason_to_wait(page: Page, host: Host, new: Path) -> None:
    page.evaluate(HOLD, "running /club/other/")
    host.deploy(new)
    assert NEW_WORDS in words_of(page.context.new_page(), host.url + SESSION)


def test_a_session_that_begins_during_the_download_keeps_its_build(
    page: Page, context: BrowserContext, host: Host, old: Path, new: Path
) -> None:
    host.deploy(new)
    page.evaluate("""([name, hold]) => {
        const asked = new Promise((go) => {
            const { port1, port2 } = new MessageChannel();
            port1.onmessage = ({ data }) => go(data);
            navigator.serviceWorker.controller.postMessage({ programme: "plan", wish: "look" }, [port2]);
        });
        window.asked = asked;
    }""", [RUNNING, ""])
    page.evaluate(HOLD, RUNNING)
    assert page.evaluate("asked.then(({ build }) => build)") in (build_of(old), build_of(new))
    before = build_in_force(page)
    look(context.new_page(), host)
    assert build_in_force(page) == before
    page.evaluate("release()")
    look(page, host)
    assert build_in_force(page) == build_of(new)


BROKEN = ("offline.json", "plan/offline.json", SESSION, "exercises/stool/", "about/")


@pytest.mark.parametrize("name", BROKEN)
@pytest.mark.parametrize("fault", FAULTS)
def test_one_file_that_goes_wrong_leaves_the_old_build_whole(
    page: Page, host: Host, old: Path, new: Path, fault: str, name: str
) -> None:
    host.faults[name] = fault
    if name.startswith("exercises") or name == "about/":
        # Not among what differs: another build changes it, so that it has to be fetched.
        new = host_changed(new, name)
    host.deploy(new)
    look(page, host)
    look(page, host)
    assert build_in_force(page) == build_of(old)
    assert_all_is_of(page, host, old)
    host.faults.clear()
    look(page, host)
    assert build_in_force(page) == build_of(new)
    assert_all_is_of(page, host, new)


_changed: dict[tuple[Path, str], Path] = {}


def host_changed(site: Path, name: str) -> Path:
    """A build like this one with other words on one page."""
    key = (site, name)
    if key not in _changed:
        from tests.browser.offline_sites import relisted

        found = copied(site, site.parent / f"with another {name.replace('/', ' ')}")
        file = found / name / "index.html"
        file.write_text(file.read_text(encoding="utf-8").replace("</h1>", " anew</h1>"), encoding="utf-8")
        relisted(found)
        _changed[key] = found
    return _changed[key]
