"""One browser for the session; watched phones and desk screens for each test that asks."""

import fcntl
import json
import os
import re
import shutil
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlsplit

import pytest
from click.testing import CliRunner, Result
from phasepress.cli import main
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, Route

from tests.browser import chromium, crowded, drivers, loose
from tests.browser.demo import DEMO, Tree, demo, kinds
from tests.browser.looks import Looks
from tests.browser.preview import Preview, previewed, small_tree, undone
from tests.browser.watch import Watch
from tests.conftest import ROOT, SUB_PATH, Serve, shared_between_workers
from tests.fixtures.settings import beside
from tests.samples import every

HERE = Path(__file__).resolve().parent
# What works without script is the ground that the rest stands on, so it is tried before anything else.
FIRST = "test_without_script.py"
PHONE = {
    "viewport": {"width": 360, "height": 740},
    "device_scale_factor": 2,
    "has_touch": True,
    "is_mobile": True,
}
DESKTOP = {"viewport": {"width": 1280, "height": 800}}
# What the preview's own script says when it starts.
GREETING = ("console log: Enabled live reload",)
# A worker answers before a test that routes or blocks requests sees them, and it goes on when the page is done.
# So there is one only in tests of it, which open their contexts with `service_workers="allow"`.
NO_WORKER = {"service_workers": "block"}
BLOCKED = ("console warning: Service Worker registration blocked by Playwright",)
OpenContext = Callable[..., BrowserContext]
OpenPage = Callable[..., Page]
Visit = Callable[[Page, str], None]
OnPaper = Callable[[str, str], bytes]
Run = Callable[..., Result]
# Nothing may leave the machine by the browser's own doing, or a test of "no requests" says nothing.
QUIET = [
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
]


# Each move of a clock is told to every page that its context loads from then on.
WORN_AFTER = 15


@dataclass(eq=False)
class Emptied:
    """A page that is used again, what was noted of it, and how many tests have had it."""

    page: Page
    watch: Watch
    uses: int = 0

    def empty(self, site_url: str) -> None:
        """Leaves the page and forgets what the site has kept; a page that is left may keep more until it is gone."""
        for other in self.page.context.pages:
            if other is not self.page:
                other.close()
        self.page.unroute_all()
        # A file without scripts, of the same site: a blank page would be another process.
        self.page.goto(f"{site_url}offline.json")
        self.page.evaluate("() => { localStorage.clear(); sessionStorage.clear(); }")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    places = [place for place, item in enumerate(items) if HERE in item.path.parents]
    own = sorted((items[place] for place in places), key=lambda item: item.path.name != FIRST)
    for place, item in zip(places, own, strict=True):
        item.add_marker(pytest.mark.browser)
        items[place] = item


# A hook, not a fixture: fixtures of the session would look for a Chromium before it.
@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    drivers.leave_out_where_asked()


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Prints what tests have measured, from every worker."""
    for report in terminalreporter.getreports("passed"):
        for name, value in report.user_properties:
            terminalreporter.write_line(f"{name}: {value}")


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """The path of a Chromium that runs; a test that asks for it fails where there is none."""
    try:
        path = chromium.find(os.environ)
    except chromium.NoChromiumError as error:
        pytest.fail(str(error), pytrace=False)
    if path is None:
        pytest.fail(chromium.HOW_TO_GET_ONE, pytrace=False)
    return path


def _options(path: str) -> dict[str, Any]:
    # Chromium's sandbox does not start for root; for anyone else it stays on.
    sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
    return {"executable_path": path, "args": [*QUIET, *sandbox]}


@pytest.fixture(scope="session")
def launch_options(chromium_path: str) -> dict[str, Any]:
    return _options(chromium_path)


@pytest.fixture(scope="session")
def whole_launch_options() -> dict[str, Any]:
    """For a browser that has settings and installed apps; a test that asks for it fails where there is none."""
    path = chromium.find_whole(os.environ)
    if path is None:
        pytest.fail(chromium.WHOLE, pytrace=False)
    return _options(path)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with drivers.playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Playwright, launch_options: dict[str, Any]) -> Iterator[Browser]:
    started = playwright.chromium.launch(**launch_options)
    yield started
    started.close()


@pytest.fixture(scope="session")
def whole_browser(playwright: Playwright, whole_launch_options: dict[str, Any]) -> Iterator[Browser]:
    started = playwright.chromium.launch(**whole_launch_options)
    yield started
    started.close()


@pytest.fixture
def own_browser(playwright: Playwright, launch_options: dict[str, Any]) -> Iterator[Browser]:
    """A browser whose processes may be killed."""
    started = playwright.chromium.launch(**launch_options)
    yield started
    started.close()


@pytest.fixture
def open_context(browser: Browser) -> Iterator[OpenContext]:
    """`open_context(**options)`: a watched browser context; at the end nothing may have been complained of."""
    opened: list[tuple[BrowserContext, Watch]] = []

    def open_(*, preview: bool = False, **options: Any) -> BrowserContext:
        context = browser.new_context(**NO_WORKER | options)
        opened.append((context, Watch(context, (*BLOCKED, *(GREETING if preview else ())))))
        return context

    yield open_
    for context, _ in opened:
        context.close()
    assert [problem for _, watch in opened for problem in watch.problems()] == []


def as_at_first(page: Page, options: dict[str, Any]) -> None:
    """Gives a page that was used before the window and the looks of its options."""
    page.set_viewport_size(options.get("viewport", {"width": 1280, "height": 720}))
    page.emulate_media(
        media="null",
        color_scheme=options.get("color_scheme", "null"),
        reduced_motion=options.get("reduced_motion", "null"),
    )


@pytest.fixture(scope="session")
def kept_pages() -> dict[str, tuple[Page, Watch]]:
    """Pages that are used again, by the options of their context."""
    return {}


@pytest.fixture
def open_page(browser: Browser, kept_pages: dict[str, tuple[Page, Watch]]) -> Iterator[OpenPage]:
    """`open_page(**options)`: a watched page, for tests that leave nothing behind on the device.

    A browser context takes longer to open than ten pages to load, so the next test that asks for the same
    options gets the same page. Figures that move would be drawn meanwhile, so it does not stay where one is.
    """
    used: list[tuple[Page, Watch]] = []

    def open_(**options: Any) -> Page:
        key = json.dumps(options, sort_keys=True)
        if key not in kept_pages:
            context = browser.new_context(**NO_WORKER | options)
            kept_pages[key] = context.new_page(), Watch(context, BLOCKED)
        page, watch = kept_pages[key]
        used.append((page, watch))
        as_at_first(page, options)
        return page

    yield open_
    for page, _ in used:
        if page.evaluate("document.querySelector('.fig') !== null"):
            page.goto("about:blank")
    assert [problem for _, watch in used for problem in watch.problems()] == []


@pytest.fixture(scope="session")
def emptied_pages() -> dict[str, Emptied]:
    """Pages whose device is emptied after each test, by the options of their context."""
    return {}


@pytest.fixture
def emptied_page(browser: Browser, emptied_pages: dict[str, Emptied], site_url: str) -> Iterator[OpenPage]:
    """`emptied_page(**options)`: a watched page, for tests that leave something in the stores of the demo's site,
    and of no other.

    It stands at a file of the site without scripts. The next test that asks for the same options gets the same page,
    with its stores emptied, its window and looks as at first, other tabs closed and what answers its requests taken
    off. A clock that a test has set stays, so who needs a clock sets one. Motion is not wanted on it.
    """
    used: list[Emptied] = []

    def open_(**wanted: Any) -> Page:
        options = {"reduced_motion": "reduce"} | wanted
        key = json.dumps(options, sort_keys=True)
        if key not in emptied_pages:
            context = browser.new_context(**NO_WORKER | options)
            emptied_pages[key] = Emptied(context.new_page(), Watch(context, BLOCKED))
            emptied_pages[key].empty(site_url)
        one = emptied_pages[key]
        if one not in used:
            one.uses += 1
            used.append(one)
            as_at_first(one.page, options)
        return one.page

    yield open_
    for one in used:
        one.empty(site_url)
        if one.uses >= WORN_AFTER:
            one.page.context.close()
            for key in [key for key, kept in emptied_pages.items() if kept is one]:
                del emptied_pages[key]
    assert [problem for one in used for problem in one.watch.problems()] == []


@pytest.fixture(scope="module")
def blank_page(browser: Browser, site_url: str) -> Iterator[Page]:
    """A blank page below the site's address, from which scripts may be loaded that are no part of a page, and asked."""
    context = browser.new_context(**NO_WORKER)
    watch = Watch(context, BLOCKED)
    page = context.new_page()
    loose.serve(page, site_url)
    page.goto(site_url + loose.BLANK)
    yield page
    context.close()
    assert watch.problems() == []


@pytest.fixture
def visit(site_url: str, built_site: Path) -> Iterator[Visit]:
    """`visit(page, kind)` goes to the demo's page of this kind."""
    routed: list[Page] = []

    def go(page: Page, kind: str) -> None:
        if kind == "missing":
            answer_at_public_address(page, built_site)
            routed.append(page)
        page.goto(site_url + kinds()[kind])

    yield go
    for page in routed:
        leave(page)


@pytest.fixture(scope="session")
def look(
    browser: Browser, site_url: str, built_site: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Looks]:
    """`look(kind, device)`: what was measured in one visit of the demo's page of this kind, see looks.py."""

    def go(page: Page, kind: str) -> None:
        if kind == "missing":
            answer_at_public_address(page, built_site)
        page.goto(site_url + kinds()[kind])

    folder = shared_between_workers(tmp_path_factory) / "looks"
    folder.mkdir(exist_ok=True)
    # The 404 page is shown at any depth, so it names its files from the top of the host.
    allowed = (site_url, site_url.removesuffix(SUB_PATH) + urlsplit(public_address()).path)
    options = {"phone": PHONE | NO_WORKER, "desktop": DESKTOP | NO_WORKER}

    def leave_if_need_be(page: Page, kind: str) -> None:
        # A figure that moves would be drawn until the next visit.
        if kind == "missing" or page.evaluate("document.querySelector('.fig') !== null"):
            leave(page)

    looks = Looks(browser, options, go, leave_if_need_be, folder, allowed, BLOCKED)
    yield looks
    looks.close()


def leave(page: Page) -> None:
    """To an empty page; its icon may still be on the way from the routes that are given up."""
    page.goto("about:blank")
    page.unroute_all(behavior="wait")


def answer_at_public_address(page: Page, site: Path) -> None:
    """Answers requests below the path of `site_url`, where the page for a wrong address looks for its files."""
    path = urlsplit(public_address()).path

    def answer(route: Route) -> None:
        wanted = urlsplit(route.request.url).path.removeprefix(path)
        file = site / wanted / "index.html" if not wanted or wanted.endswith("/") else site / wanted
        route.fulfill(path=file)

    page.route(lambda url: urlsplit(url).path.startswith(path), answer)


def go_to_an_empty_page(page: Page, site_url: str) -> None:
    """A page of the site with nothing on it, in which a test reaches the browser's stores; the server has none such."""
    url = f"{site_url}empty"
    blank = '<!doctype html><link rel="icon" href="data:,"><title>Empty</title>'
    page.route(url, lambda route: route.fulfill(body=blank, content_type="text/html"))
    page.goto(url)
    page.unroute(url)


def public_address() -> str:
    """`site_url` of the project's settings."""
    found = re.search(r"^site_url: (\S+)$", (ROOT / "mkdocs.yml").read_text(encoding="utf-8"), re.MULTILINE)
    assert found
    return found[1]


@pytest.fixture(scope="session")
def extra_tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's last version with more programmes beside it: `twin`, a copy of it, a crowded one, the long cases.

    Its site is built beside it, once for all workers. Read both, never write to them.
    """
    folder = shared_between_workers(tmp_path_factory) / "extra"
    tree, site = folder / "tree", folder / "site"
    with open(folder.with_suffix(".lock"), "w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not folder.exists():
            folder.mkdir()
            last = demo().versions[-1]
            crowded.write(tree, last.programme, last.name)
            done = CliRunner().invoke(main, ["build", "--programmes", str(tree), "--to", str(site)])
            assert done.exit_code == 0, done.output + repr(done.exception)
    return tree


@pytest.fixture(scope="session")
def extra_url(extra_tree: Path, serve: Serve) -> Iterator[str]:
    """The address of the site of `extra_tree`; ends in a slash."""
    with serve(extra_tree.with_name("site")) as url:
        yield url


@pytest.fixture
def on_paper(open_page: OpenPage, site_url: str, tmp_path_factory: pytest.TempPathFactory) -> OnPaper:
    """`on_paper(address, "A4")`: a page of the demo as a dark screen prints it, as the bytes of a PDF file.

    Each is printed by the first test of all workers that asks for it, and kept for the others.
    """
    folder = shared_between_workers(tmp_path_factory) / "on-paper"
    folder.mkdir(exist_ok=True)

    def print_(address: str, paper: str) -> bytes:
        file = folder / f"{paper} {quote(address, safe='')}.pdf"
        with file.with_suffix(".lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not file.exists():
                page = open_page(color_scheme="dark")
                page.goto(site_url + address)
                file.write_bytes(page.pdf(format=paper, prefer_css_page_size=False))
        return file.read_bytes()

    return print_


@pytest.fixture(scope="session")
def phasepress(chromium_path: str) -> Run:
    """`phasepress("print", ..., NAME="value")`: the command with the browser of these tests and these variables.

    It runs in this process, since a new one reads modules for longer than it prints a small pack; and in a thread
    of its own, since a thread has one playwright at a time.
    """

    def run(*words: object, **env: str | None) -> Result:
        runner = CliRunner(env={"PHASEPRESS_CHROMIUM": chromium_path} | env)
        with ThreadPoolExecutor(1) as alone:
            return alone.submit(runner.invoke, main, list(map(str, words))).result(300)

    return run


@pytest.fixture(scope="session")
def plans() -> dict[tuple[str, str], str]:
    """The fingerprint of each version of the demo, as the report has it, by programme and version."""
    done = CliRunner().invoke(main, ["--programmes", str(DEMO), "report", "--format", "json"])
    assert done.exit_code == 0, done.output
    return {(one["programme"], one["version"]): one["plan"] for one in json.loads(done.stdout)["versions"]}


@pytest.fixture
def phone(open_context: OpenContext) -> BrowserContext:
    """A small phone: 360 by 740 CSS pixels, two device pixels each, touch."""
    return open_context(**PHONE)


@pytest.fixture
def desktop(open_context: OpenContext) -> BrowserContext:
    """A desk screen: 1280 by 800 CSS pixels."""
    return open_context(**DESKTOP)


@pytest.fixture
def page(phone: BrowserContext) -> Page:
    """A page on a phone that nobody has used before."""
    return phone.new_page()


@pytest.fixture
def kept_page(open_page: OpenPage) -> Page:
    """A page on a phone, for tests that leave nothing behind."""
    return open_page(**PHONE)


@pytest.fixture(scope="module", params=every(["small", "demo"], few=["small"]))
def tree(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Tree:
    """Files to change: a small tree's, which are built in a tenth of the time; all tests see a copy of the demo's too."""
    folder = tmp_path_factory.mktemp("preview") / "tree"
    if request.param == "small":
        return Tree(small_tree(folder))
    return Tree(beside(Path(shutil.copytree(DEMO, folder))))


@pytest.fixture(scope="module")
def started_preview(tree: Tree) -> Iterator[Preview]:
    """A preview of these files, which has to end well."""
    with previewed(
        tree.folder, tree.folder.with_name("said.txt"), urlsplit(public_address()).path
    ) as running:
        yield running
    assert running.process.returncode == 0, running.said()


@pytest.fixture
def preview(started_preview: Preview, tree: Tree) -> Iterator[Preview]:
    """That preview, the same one for all tests of a file. What a test changes is undone after it, in the files and
    then in the pages, so that each begins with one in which nothing is wrong."""
    with undone(started_preview, tree):
        yield started_preview
