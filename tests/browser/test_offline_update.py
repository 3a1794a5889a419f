"""A new build of the site arrives whole or not at all, never under a running session, and the old one goes."""

import functools
import json
import os
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from phasepress.publishing.precache import OFF
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect

from tests.browser.axe import violations
from tests.browser.conftest import public_address
from tests.browser.host import FAULTS, Host, copied, hosted
from tests.browser.offline_device import Device, device
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
    built,
    current,
    kept_addresses,
    patient,
    restyled,
    saved,
    thinned,
    tree,
    until,
    visiting,
    words_of,
)
from tests.browser.preview import previewed
from tests.conftest import ROOT, SUB_PATH
from tests.samples import every
from tests.site import trees
from tests.site.pages import Site

SESSION = f"{CURRENT}legs/new/week-1/"
LATER = """(message) => ({ answer: new Promise((go) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => go(data);
    navigator.serviceWorker.controller.postMessage(message, [port2]);
}) })"""
HOLD = """(name) => new Promise((held) => navigator.locks.request(name, () => {
    held(true);
    return new Promise((go) => { window.release = go; });
}))"""
RUNNING = f"running {SUB_PATH}"
TEXTS = "(urls) => Promise.all(urls.map((url) => fetch(url).then((answer) => answer.text())))"


@pytest.fixture(scope="module")
def old(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(tmp_path_factory)


@pytest.fixture(scope="module")
def thin(old: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The old build as a device keeps it soon."""
    return thinned(old, tmp_path_factory.mktemp("thin") / "site")


@pytest.fixture(scope="module")
def new(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(tmp_path_factory, NEW_WORDS)


# What the host of these tests answers to the worker is meant to be wrong, and so is nothing on a page.
FAULTY = "answer (404|410|500): |failed: .*ERR_(CONTENT_LENGTH|HTTP)"


@pytest.fixture(scope="module")
def kept_device(browser: Browser, old: Path) -> Iterator[Device]:
    with device(browser, old, FAULTY) as one:
        yield one


@pytest.fixture
def phone(kept_device: Device) -> Iterator[Device]:
    """A phone that has visited nothing."""
    kept_device.forget()
    yield kept_device
    kept_device.leave()


@pytest.fixture
def host(phone: Device) -> Host:
    return phone.host


@pytest.fixture
def context(phone: Device) -> BrowserContext:
    return phone.context


@pytest.fixture
def page(phone: Device) -> Page:
    """A page that has visited the programme once."""
    saved(phone.page, phone.host.url + SESSION)
    return phone.page


@pytest.fixture
def new_phone(browser: Browser) -> Iterator[BrowserContext]:
    """A phone that no other test has, and that has downloaded nothing."""
    with visiting(browser, FAULTY) as opened:
        yield opened


@functools.cache
def pages_of(site: Path) -> dict[str, str]:
    """Every page that has to be kept of a site, by its address."""
    return {
        address: (site / address / "index.html").read_text(encoding="utf-8")
        for address in current(Site(site))
    }


def assert_all_is_of(page: Page, host: Host, site: Path) -> None:
    """Every page of the current version, with no network, is the one of this build."""
    page.context.set_offline(True)
    pages = pages_of(site)
    texts = page.evaluate(TEXTS, [host.url + address for address in pages])
    page.context.set_offline(False)
    for (address, wanted), text in zip(pages.items(), texts, strict=True):
        assert text == wanted, address


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


def test_a_page_does_not_wait_for_long_on_a_line_that_is_silent(
    context: BrowserContext, host: Host, old: Path, tmp_path: Path
) -> None:
    site = copied(old, tmp_path / "as built")
    patient(site, back=True)
    host.deploy(site)
    page = context.new_page()
    saved(page, host.url + CURRENT)
    host.faults["offline.json"] = "silent"
    waited = [seconds(lambda: words_of(page, host.url + SESSION)) for _ in range(3)]
    # The worker's own bound is 2 s for the first page, and then none waits for half a minute.
    assert 1.5 < waited[0] < 10
    assert max(waited[1:]) < waited[0]


def seconds(job: Callable[[], object]) -> float:
    start = time.perf_counter()
    job()
    return time.perf_counter() - start


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
    # Answered when the worker has looked, and the page before it.
    ask(page, "look")
    expect(page.get_by_text("There are newer pages")).to_have_count(0)
    host.deploy(new)
    page.evaluate(see)
    told = page.get_by_role("status").filter(has_text="There are newer pages")
    expect(told).to_be_visible()
    for scheme in every(("light", "dark"), few=("dark",)):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        assert violations(page) == []
    told.get_by_role("link", name="show them").click()
    expect(page.get_by_text(NEW_WORDS).first).to_be_visible()


def test_only_what_has_changed_is_fetched(page: Page, host: Host, old: Path, new: Path) -> None:
    """On a phone every byte is somebody's."""
    host.deploy(new)
    host.paths()
    look(page, host)
    asked = host.paths()
    same = {name for name in (f"{EXERCISES[1]}", "about/", "plan/app.webmanifest")}
    assert {(old / n / "index.html").read_bytes() for n in ("about",)} == {
        (new / "about/index.html").read_bytes()
    }
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


def test_a_session_of_another_site_on_the_host_is_no_reason_to_wait(
    page: Page, host: Host, new: Path
) -> None:
    page.evaluate(HOLD, "running /club/other/")
    host.deploy(new)
    assert NEW_WORDS in words_of(page.context.new_page(), host.url + SESSION)


def test_a_session_that_begins_during_the_download_keeps_its_build(
    page: Page, host: Host, old: Path, new: Path
) -> None:
    host.deploy(new)
    host.faults[SESSION] = "slow"
    with page.context.expect_event("request", lambda request: request.url.endswith(f"/{SESSION}")):
        asked = page.evaluate_handle(LATER, {"programme": "plan", "wish": "look"})
    page.evaluate(HOLD, RUNNING)
    assert asked.evaluate("({ answer }) => answer")["build"] == build_of(old)
    page.evaluate("release()")
    look(page, host)
    assert build_in_force(page) == build_of(new)


# Of every kind of file one, with the faults that a server may have there; and those that are tried each time.
LISTED = ("error", "missing", "login", "other words")
BROKEN: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    SESSION: (FAULTS, ("other words", "broken off", "another host")),
    "offline.json": (FAULTS, ("error", "missing", "a part")),
    "plan/offline.json": (LISTED, ("login",)),
    "exercises/": (("missing",), ("missing",)),
    "exercises/sit/": (("error",), ("error",)),
}


@pytest.mark.parametrize("name", every(BROKEN, few=[SESSION, "offline.json", "plan/offline.json"]))
def test_one_file_that_goes_wrong_leaves_the_old_build_whole(
    page: Page, host: Host, old: Path, new: Path, name: str
) -> None:
    """However often it does, and in which way; and then the new one comes all the same."""
    host.deploy(new)
    faults, few = BROKEN[name]
    for fault in every(faults, few=few):
        host.faults[name] = fault
        look(page, host)
        assert build_in_force(page) == build_of(old), fault
        assert_all_is_of(page, host, old)
    host.faults.clear()
    ask(page, "look")
    assert build_in_force(page) == build_of(new)
    assert_all_is_of(page, host, new)


def test_an_upload_in_the_middle_of_which_a_visit_falls_changes_nothing(
    page: Page, host: Host, old: Path, new: Path, tmp_path: Path
) -> None:
    """Files of two builds side by side, in either order."""
    first = copied(old, tmp_path / "first")
    shutil.copy(new / "offline.json", first)
    last = copied(new, tmp_path / "last")
    shutil.copytree(old / CURRENT, last / CURRENT, dirs_exist_ok=True)
    for half in (first, last):
        host.deploy(half)
        look(page, host)
        assert build_in_force(page) == build_of(old)
        assert_all_is_of(page, host, old)


def test_a_first_visit_that_breaks_off_claims_nothing_and_is_made_up_for(
    new_phone: BrowserContext, host: Host, thin: Path
) -> None:
    host.deploy(thin)
    host.faults[SESSION] = "error"
    page = new_phone.new_page()
    with answered(page, SESSION):
        page.goto(host.url + PROGRAMME)
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    # In turn: so that which the page has asked for has come to its end before.
    assert ask(page, "keep") == {"build": None, "kept": False}
    expect(page.get_by_text("saved on this device")).to_have_count(0)
    host.faults.clear()
    saved(page, host.url + PROGRAMME)


def answered(page: Page, name: str) -> AbstractContextManager[Any]:
    """Waits, at the end of the block, until the host has answered a request for this file, whoever has sent it."""
    return page.context.expect_event("response", lambda answer: answer.url.endswith(f"/{name}"))


def test_files_that_all_have_one_date_are_renewed_too(
    new_phone: BrowserContext, host: Host, old: Path, new: Path, tmp_path: Path
) -> None:
    """RFC 9110, 13.1.3: a server may answer 304 to If-Modified-Since; many build tools set one date for all."""
    sites = [copied(site, tmp_path / site.parent.name) for site in (old, new)]
    for site in sites:
        for file in site.rglob("*"):
            os.utime(file, (10**9, 10**9))
    host.deploy(sites[0])
    page = new_phone.new_page()
    saved(page, host.url + PROGRAMME)
    host.deploy(sites[1])
    look(page, host)
    assert build_in_force(page) == build_of(new)
    assert_all_is_of(page, host, new)


def test_what_only_the_old_build_needed_goes(page: Page, host: Host, new: Path) -> None:
    before = kept_addresses(page)
    for site in (new, host.sites[SUB_PATH], new):
        host.deploy(site)
        look(page, host)
        saved(page, host.url + PROGRAMME)
        ask(page, "keep")
    after = kept_addresses(page)
    assert len(after) == len(before)
    assert {url.partition("?")[0] for url in after} == {url.partition("?")[0] for url in before}
    assert after != before


def test_a_window_of_the_old_build_gets_the_styles_of_the_old_build(
    page: Page, context: BrowserContext, host: Host, old: Path, tmp_path: Path
) -> None:
    """A page and what it loads are of one build, however late it loads; once it is closed the rest goes."""
    later = restyled(old, tmp_path / "later")
    (name,) = (path.name for path in (old / "assets/css").glob("sheet.*.css"))
    assert not (later / "assets/css" / name).exists()
    host.deploy(later)
    other = context.new_page()
    other.goto(host.url + SESSION)
    assert build_in_force(other) == build_of(later)
    style = other.locator('link[rel=stylesheet][href*="sheet"]').get_attribute("href")
    assert style
    assert name not in style
    context.set_offline(True)
    url = f"{host.url}assets/css/{name}"
    assert page.evaluate("(url) => fetch(url).then((answer) => answer.status)", url) == 200
    context.set_offline(False)
    page.close()
    ask(other, "keep")
    assert not [kept for kept in kept_addresses(other) if name in kept]
    assert [kept for kept in kept_addresses(other) if "assets/css/sheet." in kept]


def test_a_programme_that_the_club_has_taken_away_is_kept_no_longer(
    page: Page, host: Host, tmp_path: Path
) -> None:
    saved(page, host.url + OTHER)
    smaller = tree()
    for name in [name for name in smaller if name.startswith(OTHER)]:
        del smaller[name]
    host.deploy(build(tmp_path, tree_files=smaller))
    look(page, host)
    # The window showed the old build until now; what only that needs goes when the next page is kept.
    ask(page, "keep")
    assert not [url for url in kept_addresses(page) if f"/{OTHER}" in url]
    assert [url for url in kept_addresses(page) if f"/{PROGRAMME}" in url]


def test_two_sites_on_one_host_and_foreign_caches_do_not_meet(
    page: Page, host: Host, thin: Path, new: Path, tmp_path: Path
) -> None:
    page.evaluate("caches.open('mine').then((cache) => cache.put('/x', new Response('x')))")
    host.deploy(thin, "/club/other/")
    host.deploy(thin, "/club/site/inner/")
    other = page.context.new_page()
    for path in ("/club/other/", "/club/site/inner/"):
        saved(other, host.address(path) + PROGRAMME)
    host.deploy(new)
    look(page, host)
    assert NEW_WORDS in words_of(page, host.url + SESSION)
    for path in ("/club/other/", "/club/site/inner/"):
        assert OLD_WORDS in words_of(other, host.address(path) + SESSION)
    stores = [f"offline {path}" for path in ("/club/other/", SUB_PATH, "/club/site/inner/")]
    assert sorted(page.evaluate("caches.keys()")) == sorted(["mine", *stores])
    host.deploy(switched_off(new, tmp_path / "off"))
    page.goto(host.url + SESSION)
    left = sorted({"mine", *stores} - {f"offline {SUB_PATH}"})
    until(page, "async (left) => String((await caches.keys()).sort()) === String(left)", left)
    page.context.set_offline(True)
    assert OLD_WORDS in words_of(other, host.address("/club/other/") + SESSION)


def switched_off(site: Path, to: Path) -> Path:
    """The site as its club deploys it to take the worker off every device, as theme_overrides/README.md says."""
    off = copied(site, to)
    for name, content in OFF.items():
        (off / name).write_bytes(content)
    shutil.copy(ROOT / "theme_overrides" / "worker" / "uninstall.js", off / "sw.js")
    return off


def gone(page: Page) -> None:
    """Waits until no worker is left: at once, or when the one that leaves has rested for two seconds."""
    until(page, "async () => (await navigator.serviceWorker.getRegistrations()).length === 0")


def test_a_site_that_switches_it_off_is_rid_of_it_on_the_next_visit(
    page: Page, host: Host, new: Path, tmp_path: Path
) -> None:
    host.deploy(switched_off(new, tmp_path / "off"))
    assert NEW_WORDS in words_of(page, host.url + SESSION), "at once, from the network"
    gone(page)
    assert page.evaluate("caches.keys()") == []


def test_the_script_alone_takes_the_worker_off(page: Page, host: Host, old: Path, tmp_path: Path) -> None:
    off = copied(old, tmp_path / "off")
    shutil.copy(ROOT / "theme_overrides" / "worker" / "uninstall.js", off / "sw.js")
    host.deploy(off)
    page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update()).then(() => 0)")
    gone(page)
    assert page.evaluate("caches.keys()") == []


# Answers before the rest of the worker does, and only this.
NEWER = """addEventListener("fetch", (event) => {
  if (!event.request.url.endsWith("which-worker")) return;
  event.stopImmediatePropagation();
  event.respondWith(new Response("the newer one"));
});
"""


@pytest.fixture
def released(page: Page, host: Host, old: Path, tmp_path: Path) -> Callable[[], None]:
    """`released()`: the host gets the same site with a newer worker, and the browser has looked for it."""

    def go() -> None:
        newer = copied(old, tmp_path / "newer")
        (newer / "which-worker").write_text("the older one", encoding="utf-8")
        (newer / "sw.js").write_text(NEWER + (old / "sw.js").read_text(encoding="utf-8"), encoding="utf-8")
        host.deploy(newer)
        page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update()).then(() => 0)")

    return go


def is_newer(page: Page, host: Host) -> bool:
    script = "(url) => fetch(url).then((answer) => answer.text())"
    return bool(page.evaluate(script, f"{host.url}which-worker") == "the newer one")


def becomes_newer(page: Page, host: Host) -> None:
    """To ask for the word itself would keep the old worker at work."""
    until(page, f"async () => String(await ({STATES})()) === ',,activated'")
    assert is_newer(page, host)


STATES = """async () => {
    const one = await navigator.serviceWorker.getRegistration();
    return [one.installing, one.waiting, one.active].map((worker) => worker?.state ?? "");
}"""


def test_a_newer_worker_takes_over_under_an_open_page_and_fetches_nothing_again(
    page: Page, host: Host, released: Callable[[], None]
) -> None:
    released()
    becomes_newer(page, host)
    host.paths()
    saved(page, host.url + PROGRAMME)
    ask(page, "keep")
    assert host.paths() <= {"offline.json", "sw.js"}
    page.context.set_offline(True)
    assert OLD_WORDS in words_of(page, host.url + SESSION)


def test_a_newer_worker_waits_until_no_session_runs(
    page: Page, context: BrowserContext, host: Host, released: Callable[[], None]
) -> None:
    page.evaluate(HOLD, RUNNING)
    released()
    other = context.new_page()
    saved(other, host.url + PROGRAMME)
    until(page, f"async () => (await ({STATES})())[1] === 'installed'")
    # Longer than it rests, and the other page has asked it to take over too.
    page.wait_for_timeout(3500)
    assert not is_newer(page, host)
    page.evaluate("release()")
    saved(other, host.url + PROGRAMME)
    becomes_newer(other, host)


@pytest.fixture
def again(
    playwright: Playwright, launch_options: dict[str, Any], tmp_path: Path
) -> Iterator[Callable[[], Page]]:
    """`again()`: a page of a browser that was closed in between, so that its worker starts anew."""
    opened: list[BrowserContext] = []

    def start() -> Page:
        for one in opened:
            one.close()
        launched = playwright.chromium.launch_persistent_context(tmp_path / "profile", **launch_options)
        opened[:] = [launched]
        return launched.pages[0]

    yield start
    for one in opened:
        one.close()


AGO = """async (ago) => {
    const cache = await caches.open((await caches.keys())[0]);
    const [key] = (await cache.keys()).filter((request) => request.url.includes("?record"));
    const record = await (await cache.match(key)).json();
    if (!record.gone) throw new Error("not noted");
    await cache.put(key, new Response(JSON.stringify({ ...record, gone: record.gone - ago })));
}"""


def test_a_site_without_lists_for_more_than_a_day_is_another_site(
    again: Callable[[], Page], host: Host, thin: Path, tmp_path: Path
) -> None:
    """The club has moved away and somebody else has its address now."""
    host.deploy(thin)
    page = again()
    saved(page, host.url + PROGRAMME)
    other = tmp_path / "other" / SESSION / "index.html"
    other.parent.mkdir(parents=True)
    other.write_text('<!doctype html><meta charset="utf-8"><title>x</title><p>Another site', encoding="utf-8")
    host.deploy(tmp_path / "other")
    look(page, host)
    assert OLD_WORDS in words_of(page, host.url + SESSION), "it may be an upload that is under way"
    page.evaluate(AGO, 25 * 3600 * 1000)
    page = again()
    assert words_of(page, host.url + SESSION) == "Another site"
    gone(page)
    assert page.evaluate("caches.keys()") == []


def test_a_browser_that_was_closed_goes_on_where_it_was(
    again: Callable[[], Page], host: Host, thin: Path, new: Path
) -> None:
    host.deploy(thin)
    saved(again(), host.url + PROGRAMME)
    page = again()
    page.context.set_offline(True)
    assert OLD_WORDS in words_of(page, host.url + SESSION)
    page = again()
    host.deploy(new)
    assert NEW_WORDS in words_of(page, host.url + SESSION)


def test_a_preview_at_the_place_of_a_built_site_is_a_preview(
    browser: Browser, thin: Path, tmp_path: Path
) -> None:
    """A worker that was left behind goes; the first page is of the preview already."""
    path = urlsplit(public_address()).path
    host = Host({path: thin})
    with visiting(browser, "console log: |answer (404|500): |.*ERR_EMPTY_RESPONSE") as context:
        page = context.new_page()
        with hosted(host):
            saved(page, host.url + PROGRAMME)
        source = trees.write(tree(NEW_WORDS), tmp_path / "tree")
        with previewed(source, tmp_path / "said.txt", path, host.port) as preview:
            assert preview.url == host.url
            assert NEW_WORDS in words_of(page, preview.url + SESSION)
            page.goto(preview.url + PROGRAMME)
            gone(page)
            assert page.evaluate("caches.keys()") == []
            expect(page.get_by_text("saved on this device")).to_have_count(0)


DATES = ["2026-01-05", "2026-02-02", "2026-03-02", "2026-05-04"]
DAYS = [
    "2025-12-31",
    "2026-01-04",
    "2026-01-05",
    "2026-02-01",
    "2026-02-02",
    "2026-03-15",
    "2026-05-04",
    "2027-01-01",
]


def test_the_worker_and_the_page_agree_on_the_current_phase(
    new_phone: BrowserContext, host: Host, old: Path
) -> None:
    """The page's rule is tested with dates of its own; a worker has no clock that a test can set."""
    page = new_phone.new_page()
    page.clock.set_fixed_time(f"{DAYS[0]}T23:30")
    page.goto(host.url + "about/")
    (name,) = (path.name for path in (old / "assets/js").glob("dates.*.js"))
    worker = (old / "sw.js").read_text(encoding="utf-8")
    page.evaluate(worker.replace("location.href", f"{host.url + 'sw.js'!r}") + "; window.wanted = wanted; 0")
    script = """async ([url, starts]) => {
        const { currentPhase, today } = await import(url);
        return [starts[currentPhase(today(), starts)], wanted(starts, 0)[0], wanted(starts)];
    }"""
    for day in DAYS:
        page.clock.set_fixed_time(f"{day}T23:30")
        theirs, ours, kept = page.evaluate(script, [f"{host.url}assets/js/{name}", DATES])
        assert ours == theirs, day
        assert kept == DATES[DATES.index(ours) : DATES.index(ours) + 2], day
