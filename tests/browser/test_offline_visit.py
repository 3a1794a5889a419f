"""After one visit to a programme its current version works with the network cut; nothing else is kept."""

import hashlib
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from playwright.sync_api import Error as PlaywrightError

from tests.browser.axe import violations
from tests.browser.conftest import OpenContext
from tests.browser.host import Host, copied, hosted
from tests.browser.offline_device import Device, device
from tests.browser.offline_sites import (
    CURRENT,
    EXERCISES,
    LEFT_OUT,
    NEXT,
    OTHER,
    PROGRAMME,
    SAVED,
    built,
    current,
    everything_kept,
    kept_addresses,
    loaded,
    saved,
    thinned,
    until,
    visiting,
    words_of,
)
from tests.conftest import SUB_PATH
from tests.samples import every
from tests.site.pages import Site

DAY = f"{CURRENT}legs/"
SESSION = f"{DAY}new/week-1/"
CUT = "net::ERR_(INTERNET_DISCONNECTED|CONNECTION_REFUSED|FAILED)"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(tmp_path_factory)


@pytest.fixture(scope="module")
def thin(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return thinned(folder, tmp_path_factory.mktemp("thin") / "site")


@pytest.fixture(scope="module")
def site(folder: Path) -> Site:
    return Site(folder)


@pytest.fixture(scope="module")
def kept_device(browser: Browser, folder: Path) -> Iterator[Device]:
    # What the worker says of a page that is not kept.
    with device(browser, folder, "answer 503: |status of 503 ") as one:
        yield one


@pytest.fixture
def phone(kept_device: Device) -> Iterator[Device]:
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
    """A page on a phone that has visited nothing."""
    phone.forget()
    return phone.page


@pytest.fixture
def away(phone: Device) -> Page:
    """A page on a phone that has visited the programme once and has no network now; a test leaves it like that."""
    phone.visit()
    phone.context.set_offline(True)
    return phone.page


DIGESTS = """(urls) => Promise.all(urls.map(async (url) => {
    const digest = await crypto.subtle.digest("SHA-256", await (await fetch(url)).arrayBuffer());
    return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}))"""
# Of every kind one, of both phases and levels some.
KINDS = (
    *("", "exercises/", "exercises/sit/", PROGRAMME, "plan/versions/"),
    *(CURRENT, f"{CURRENT}kit/", DAY, SESSION, f"{NEXT}numbers/", f"{NEXT}legs/used/week-2/"),
)


def test_every_page_works_and_is_whole(away: Page, host: Host, site: Site) -> None:
    """The pages and all that they load, byte for byte; each page has its own policy in its head."""
    for address in every(current(site), few=KINDS):
        answer = away.goto(host.url + address)
        assert answer
        assert answer.status == 200
        assert answer.from_service_worker
        assert answer.body() == (site.folder / address / "index.html").read_bytes()
        styles, policy = away.evaluate(
            """[document.styleSheets.length, document.querySelector("meta[http-equiv=Content-Security-Policy]")?.content]"""
        )
        assert styles > 0
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
    files = loaded(site, current(site))
    urls = [host.url + name.removesuffix("index.html") for name in files]
    for name, digest in zip(files, away.evaluate(DIGESTS, urls), strict=True):
        assert digest == hashlib.sha256(files[name]).hexdigest(), name


def test_a_day_can_be_read_and_a_session_opened_in_a_new_window(
    away: Page, context: BrowserContext, host: Host
) -> None:
    away.close()
    page = context.new_page()
    page.goto(host.url + PROGRAMME)
    page.get_by_role("link", name="Legs").filter(visible=True).click()
    page.get_by_label("Level").select_option("Used")
    page.locator(".sessions a").filter(visible=True).first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Legs")
    expect(page.locator("body")).to_have_css("margin", "0px")


def test_it_works_with_the_server_gone_and_the_browser_unaware(
    browser: Browser, folder: Path, site: Site
) -> None:
    with visiting(browser) as context:
        page = context.new_page()
        with hosted(Host({SUB_PATH: folder})) as host:
            saved(page, host.url + PROGRAMME)
        for address in every(current(site), few=("", DAY, SESSION)):
            answer = page.goto(host.url + address)
            assert answer
            assert answer.status == 200


WITHOUT_WORKERS = "delete Navigator.prototype.serviceWorker"


def at_rest(page: Page) -> None:
    """Waits until the page has done all that it does by itself once it is loaded."""
    for _ in range(2):
        page.evaluate("new Promise((go) => requestIdleCallback(() => setTimeout(go, 100)))")


def test_the_same_visit_without_a_worker_does_not_help(
    page: Page, context: BrowserContext, host: Host
) -> None:
    page = context.new_page()
    page.add_init_script(WITHOUT_WORKERS)
    page.goto(host.url + PROGRAMME)
    at_rest(page)
    expect(page.get_by_text(SAVED)).to_have_count(0)
    context.set_offline(True)
    with pytest.raises(PlaywrightError, match=CUT):
        page.goto(host.url + DAY)


STATUSES = "(urls) => Promise.all(urls.map((url) => fetch(url).then((answer) => answer.status)))"


@pytest.mark.parametrize("address", [PROGRAMME, CURRENT, DAY, SESSION, "plan/versions/", "plan/1.0/"])
def test_a_visit_to_any_page_of_the_programme_will_do(
    page: Page, context: BrowserContext, host: Host, address: str
) -> None:
    saved(page, host.url + address)
    context.set_offline(True)
    answer = page.goto(host.url + SESSION)
    assert answer
    assert answer.status == 200
    others = [host.url + other for other in (PROGRAMME, DAY, *EXERCISES)]
    assert page.evaluate(STATUSES, others) == [200] * len(others)


def test_a_visit_to_other_pages_keeps_nothing(page: Page, host: Host) -> None:
    before = everything_kept(page)
    for address in ("", "about/", "exercises/", "exercises/sit/"):
        page.goto(host.url + address)
        at_rest(page)
        assert page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
        assert everything_kept(page) == before
    assert "sw.js" not in host.paths()


def test_only_the_current_phase_and_the_next_of_this_programme_are_kept(page: Page, host: Host) -> None:
    saved(page, host.url + PROGRAMME)
    kept = {urlsplit(url).path.removeprefix(SUB_PATH) for url in kept_addresses(page)}
    assert {CURRENT, NEXT, DAY, SESSION, *EXERCISES} <= kept
    assert not [address for address in kept if address.startswith((*LEFT_OUT, OTHER))]


def test_a_second_programme_is_kept_beside_the_first(page: Page, context: BrowserContext, host: Host) -> None:
    saved(page, host.url + PROGRAMME)
    host.paths()
    saved(page, host.url + OTHER)
    asked = host.paths()
    assert "other/1.0/legs/" in asked
    assert DAY not in asked, "it is on the device already"
    context.set_offline(True)
    for address in (DAY, "other/1.0/legs/"):
        page.goto(host.url + address)


def test_a_page_that_is_not_kept_leads_to_those_that_are(
    away: Page, context: BrowserContext, host: Host
) -> None:
    for address in LEFT_OUT:
        answer = away.goto(host.url + address)
        assert answer
        # RFC 9110, 15.6.4: a state that is likely to pass.
        assert answer.status == 503
        expect(away.get_by_role("heading", name="This page is not on this device")).to_be_visible()
    expect(away.locator("body")).to_have_css("margin", "0px")
    schemes: tuple[Literal["light", "dark"], ...] = ("light", "dark")
    for scheme in schemes:
        away.emulate_media(color_scheme=scheme)
        assert violations(away) == []
    away.get_by_role("link", name="Go to the pages on this device").click()
    assert away.url == host.url
    away.goto(host.url + LEFT_OUT[0])
    context.set_offline(False)
    away.get_by_role("link", name="Try this page once more").click()
    expect(away.get_by_role("heading", level=1)).not_to_have_text("This page is not on this device")
    assert away.url == host.url + LEFT_OUT[0]


def test_the_workers_own_answer_runs_and_loads_nothing_but_its_style(
    away: Page, phone: Device, host: Host
) -> None:
    """By its own header; and a browser obeys it: no style and no script that stand in the page itself."""
    answer = away.goto(host.url + LEFT_OUT[0])
    assert answer
    rules = dict(rule.split(" ", 1) for rule in answer.headers["content-security-policy"].split("; "))
    assert rules == {
        "default-src": "'none'",
        "style-src": "'self'",
        "img-src": "data:",
        "base-uri": "'none'",
        "form-action": "'none'",
        "frame-ancestors": "'none'",
    }
    assert answer.headers["x-content-type-options"] == "nosniff"
    expect(away.locator("body")).to_have_css("margin", "0px")
    assert phone.problems() == []
    away.evaluate("""() => {
        document.body.append(Object.assign(document.createElement("style"), { textContent: "h1 { color: red }" }));
        document.body.append(Object.assign(document.createElement("script"), { textContent: "window.ran = true" }));
        document.querySelector("h1").setAttribute("onclick", "window.ran = true");
    }""")
    away.get_by_role("heading", level=1).click()
    assert away.evaluate("window.ran ?? false") is False
    expect(away.get_by_role("heading", level=1)).not_to_have_css("color", "rgb(255, 0, 0)")
    refused = phone.problems()
    assert len(refused) == 3, refused
    assert all("Content Security Policy" in problem for problem in refused), refused


def test_the_workers_ways_lead_into_the_site_whatever_the_address(away: Page, host: Host) -> None:
    for way in (f"{DAY.removesuffix('/')}?to=//elsewhere.example", f"/{PROGRAMME.removesuffix('/')}"):
        away.goto(host.url + way)
        assert away.url.startswith(host.url)


@pytest.mark.parametrize(
    "path", every(["/a&copy/", "/$&/", "/it's-$'/", "/a&copy/$&/it's-$'/"], few=["/a&copy/$&/it's-$'/"])
)
def test_the_way_to_what_is_kept_leads_there_whatever_the_folder_is_called(
    browser: Browser, thin: Path, path: str
) -> None:
    """Such names stay as they are in an address (WHATWG URL, path percent-encode set)."""
    with hosted(Host({path: thin})) as host, visiting(browser, "answer 503: |status of 503 ") as context:
        page = context.new_page()
        saved(page, host.url + PROGRAMME)
        context.set_offline(True)
        page.goto(host.url + LEFT_OUT[0])
        expect(page.locator("body")).to_have_css("margin", "0px")
        page.get_by_role("link", name="Go to the pages on this device").click()
        expect(page.get_by_role("heading", name="This page is not on this device")).to_have_count(0)
        assert page.evaluate("location.href") == page.evaluate("(url) => new URL(url).href", host.url)


SAVES_DATA = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"
SAVED_OR_ASKED = [(said, scheme) for said in ("saved", "asked") for scheme in ("light", "dark")]


@pytest.mark.parametrize(
    ("said", "scheme"), every(SAVED_OR_ASKED, few=[("saved", "dark"), ("asked", "light")])
)
def test_no_rule_is_broken_by_what_the_footer_says_of_it(
    page: Page, context: BrowserContext, host: Host, said: str, scheme: Any
) -> None:
    if said == "asked":
        page = context.new_page()
        page.add_init_script(SAVES_DATA)
    page.emulate_media(color_scheme=scheme)
    if said == "saved":
        saved(page, host.url + DAY)
    else:
        page.goto(host.url + OTHER)
        expect(page.get_by_role("button", name="Save the current phase")).to_be_visible()
    assert violations(page) == []


@pytest.mark.parametrize(
    "way", ["?utm_source=poster", "#main", "?a=b#main", "index.html", "index.html?a=b", "index.html#main"]
)
def test_other_ways_to_write_an_address_lead_to_the_page(away: Page, host: Host, way: str) -> None:
    assert "Legs" in words_of(away, host.url + DAY + way)
    assert away.url == host.url + DAY + way


def test_a_folder_without_its_slash_gets_it(away: Page, host: Host) -> None:
    answer = away.goto(f"{host.url}{DAY.removesuffix('/')}?a=b")
    assert answer
    assert away.url == f"{host.url}{DAY}?a=b"
    away.locator(".sessions a").filter(visible=True).first.click()
    away.wait_for_url("**/week-*/")


def test_requests_that_are_not_for_a_whole_file_pass(page: Page, host: Host) -> None:
    saved(page, host.url + PROGRAMME)
    host.asked.clear()
    send = "([url, options]) => fetch(url, options).then((answer) => answer.text())"
    url = host.url + DAY
    assert page.evaluate(send, [url, {"method": "POST", "body": "x"}]) == "posted"
    page.evaluate(send, [url, {"method": "HEAD"}])
    page.evaluate(send, [url, {"headers": {"range": "bytes=0-9"}}])
    page.evaluate(send, [url, {"cache": "no-store"}])
    asked = [(method, part) for method, path, part in host.asked if path == SUB_PATH + DAY]
    assert asked == [("POST", ""), ("HEAD", ""), ("GET", "bytes=0-9"), ("GET", "")]


def test_what_is_not_kept_comes_from_the_network(page: Page, host: Host) -> None:
    saved(page, host.url + PROGRAMME)
    for address in LEFT_OUT:
        answer = page.goto(host.url + address)
        assert answer
        assert answer.status == 200
    answer = page.request.get(host.url + "plan/9.9/")
    assert answer.status == 404


def test_it_is_said_aloud_when_it_happens_and_only_then(page: Page, host: Host) -> None:
    """WCAG 2.2, 4.1.3 Status Messages: told without taking the focus, by its role."""
    saved(page, host.url + PROGRAMME)
    expect(page.get_by_role("status").filter(has_text=SAVED)).to_have_count(1)
    assert page.evaluate("document.activeElement === document.body")
    saved(page, host.url + DAY)
    expect(page.get_by_role("status").filter(has_text=SAVED)).to_have_count(0)


def test_the_page_comes_first(page: Page, host: Host) -> None:
    """Nothing is asked for ahead before all that the page itself loads has been asked for."""
    saved(page, host.url + DAY)
    asked = [urlsplit(path).path.removeprefix(SUB_PATH) for _, path, _ in host.asked]
    worker = asked.index("sw.js")
    assert {re.sub(r"\.\w+", "", name) for name in asked[:worker]} >= {
        "assets/js/page",
        "assets/css/sheet",
        "assets/js/offline",
    }
    assert "plan/offline.json" in asked[worker:]


def test_who_saves_data_decides(browser: Browser, thin: Path) -> None:
    with hosted(Host({SUB_PATH: thin})) as host, visiting(browser) as context:
        decide(context.new_page(), host)


def decide(page: Page, host: Host) -> None:
    page.add_init_script(SAVES_DATA)
    page.goto(host.url + PROGRAMME)
    button = page.get_by_role("button", name="Save the current phase for use without a network")
    expect(button).to_be_visible()
    assert not {"plan/offline.json", DAY} & host.paths()
    assert page.evaluate("caches.keys()") in ([], [f"offline {SUB_PATH}"])
    box = button.bounding_box()
    assert box
    # WCAG 2.2, 2.5.5 Target Size (Enhanced).
    assert box["height"] >= 44
    button.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text(SAVED)).to_be_visible()
    assert DAY in host.paths()


def test_a_browser_without_workers_shows_the_page_all_the_same(context: BrowserContext, host: Host) -> None:
    page = context.new_page()
    page.add_init_script(WITHOUT_WORKERS)
    assert "Legs" in words_of(page, host.url + DAY)
    at_rest(page)


@pytest.mark.parametrize("door", ["match", "open", "keys"])
def test_a_store_that_fails_leaves_the_network(
    context: BrowserContext, folder: Path, tmp_path: Path, door: str
) -> None:
    """The worker's own surprises are never the visitor's."""
    worker = (folder / "sw.js").read_text(encoding="utf-8")
    broken = f"for (const one of [CacheStorage, Cache]) one.prototype.{door} = () => Promise.reject(new Error('x'));"
    site = copied(folder, tmp_path / "site")
    (site / "sw.js").write_text(broken + worker, encoding="utf-8")
    page = context.new_page()
    with hosted(Host({SUB_PATH: site})) as host:
        page.goto(host.url + PROGRAMME)
        until(page, "async () => (await navigator.serviceWorker.getRegistration())?.active")
        assert "Legs" in words_of(page, host.url + DAY)
        expect(page.locator("body")).to_have_css("margin", "0px")


def test_a_page_with_a_worker_is_quiet(open_context: OpenContext, host: Host, site: Site) -> None:
    """Nothing is complained of and nothing asked of another site, from the first page to the last."""
    context = open_context(service_workers="allow")
    page = context.new_page()
    saved(page, host.url + PROGRAMME)
    for address in every(current(site), few=KINDS[-5:]):
        page.goto(host.url + address)
