"""The door to the browser that prints, which no other module names: a pack in, a PDF file out."""

from __future__ import annotations

import io
import logging
import os
import re
import shutil
import signal
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import NamedTuple

from playwright.sync_api import Browser, BrowserType, Error, Playwright, Route, sync_playwright
from pypdf import PdfReader, PdfWriter
from pypdf.generic import Fit, IndirectObject

from .booklet import Bookmark, Pack
from .stopping import held_back

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "/usr/bin/chromium")
"""The one without windows first: it starts in half the time."""
ASKED = "PHASEPRESS_CHROMIUM"
OLDEST = 131
"""The first Chromium that writes numbers and titles into the margins of a page."""
HOW_TO_GET_ONE = (
    "Debian: apt-get install chromium-headless-shell. "
    "Elsewhere: .venv/bin/python -m playwright install --only-shell chromium. "
    f"Or name one: {ASKED}=/path/to/chromium"
)
NO_FONT = (
    "the browser cannot use the typeface of the pack, as on a machine that has no font at all. "
    "Debian: apt-get install fonts-dejavu-core"
)
_HOST = "http://pack.invalid/"
"""RFC 2606: a name that no network has. What the browser asks for below it, it is given; nothing else."""
_AS_DRAWN = ["--font-render-hinting=none"]
"""Letters as wide as the typeface says, not as the machine's screen would have them."""
_TYPES = {"css": "text/css", "png": "image/png", "svg": "image/svg+xml", "ttf": "font/ttf"}
_TYPEFACES = "Promise.all([...document.fonts].map((face) => face.load())).then(() => true)"
_PATIENCE = 300_000
"""Milliseconds for one step: a long season on a slow machine."""
_MOST_PASSES = 8
_MARKED = b"/MCID"
"""What stands in every page that has something on it besides its margins (ISO 32000-1, 14.7.4)."""
_LONGEST = 50
"""Letters of a folder in which Chromium can still make a socket: 45 more, of the 104 that systems allow."""
_ELEMENT = re.compile(rb"\(node\d{8}\)")
Progress = Callable[[int, int], None]


class NotPrintedError(Exception):
    """Nothing was printed; the text says why, and what to do."""


class Printed(NamedTuple):
    """A PDF file: its bytes, how many pages it has, and the titles of sheets that take more than one."""

    content: bytes
    pages: int
    longer: tuple[str, ...]


def printed(pack: Pack, env: Mapping[str, str], progress: Progress = lambda done, of: None) -> Printed:
    """Print a pack. Raises NotPrintedError.

    The numbers in its list of contents are those that are expected; where its parts turn out to begin on
    other pages, it is printed again with theirs. On a busy machine Chromium 156 begins 1 document of 25 with
    a page that has nothing on it; one with an empty page is printed again too.
    """
    steps = 4
    with _stop_held_back() as asked, _browser(env) as browser:
        progress(1, steps)
        pages = _Pages(browser, pack)
        found = pack.expected
        is_lacking = False
        for done in range(_MOST_PASSES):
            if asked:
                break
            known, reader = found, pages.printed(found)
            progress(min(done + 2, steps - 1), steps)
            if is_lacking := _has_empty_pages(reader):
                continue
            found = _beginnings(reader)
            if found.items() <= known.items():
                break
    if is_lacking:
        raise NotPrintedError("the browser printed an empty page each time; try again")
    return Printed(_finished(reader, pack, found), len(reader.pages), tuple(_longer(reader, pack, found)))


@contextmanager
def _stop_held_back() -> Iterator[list[int]]:
    """A request to stop waits until the browser is closed: in the middle of its machinery it would leave
    things behind. The list has something in it from then on.

    The browser is ended by it, by us or by a terminal, and then fails; so that is no fault of it.
    """
    with held_back(_end_the_driver) as asked:
        try:
            yield asked
        except Exception:
            if not asked:
                raise
        finally:
            if asked:
                # What is left of the machinery complains when it is collected, some time from here on.
                logging.getLogger("asyncio").setLevel(logging.CRITICAL + 1)


def _end_the_driver() -> None:
    """Tell the program that drives the browser, our only child, to end with it. It is found on Linux alone;
    elsewhere the pass that is being printed comes to its end first."""
    for path in Path("/proc/self/task").glob("*/children"):
        with suppress(OSError):
            for child in path.read_text("ascii").split():
                os.kill(int(child), signal.SIGINT)


@contextmanager
def _browser(env: Mapping[str, str]) -> Iterator[Browser]:
    with _left_behind() as scratch, _driver(scratch) as playwright:
        own = {"TMPDIR": scratch} if len(scratch) <= _LONGEST else {}
        browser = _launched(playwright.chromium, {**env, **own})
        try:
            if int(browser.version.split(".")[0]) < OLDEST:
                message = f"the Chromium found is version {browser.version}; {OLDEST} or later is needed"
                raise NotPrintedError(f"{message}. {HOW_TO_GET_ONE}")
            yield browser
        except Error as error:
            raise NotPrintedError(f"the browser did not print: {_first_line(error)}") from None
        finally:
            # One that an interrupt has closed already cannot be closed again.
            with suppress(Error):
                browser.close()


@contextmanager
def _driver(scratch: str) -> Iterator[Playwright]:
    """The driver, which makes the browser's profile where temporary files were kept when it started."""
    before = os.environ.get("TMPDIR")
    with ExitStack() as stack:
        os.environ["TMPDIR"] = scratch
        try:
            playwright = stack.enter_context(sync_playwright())
        finally:
            if before is None:
                del os.environ["TMPDIR"]
            else:
                os.environ["TMPDIR"] = before
        yield playwright


@contextmanager
def _left_behind() -> Iterator[str]:
    """A folder for what a browser leaves behind that is ended by an interrupt; it goes, and what the
    machinery around the browser would say of such an end is not said."""
    log = logging.getLogger("asyncio")
    before = log.level
    log.setLevel(logging.CRITICAL + 1)
    try:
        with tempfile.TemporaryDirectory(prefix="phasepress-", ignore_cleanup_errors=True) as folder:
            yield folder
    finally:
        log.setLevel(before)


def _launched(chromium: BrowserType, env: Mapping[str, str]) -> Browser:
    """The browser that is asked for, or the first one that starts. Raises NotPrintedError."""
    asked = env.get(ASKED)
    for path in [asked] if asked else _candidates(chromium):
        with suppress(Error):
            # The sandbox of Chromium does not start for root.
            return chromium.launch(
                executable_path=path, args=_AS_DRAWN, env=dict(env), chromium_sandbox=not _is_root()
            )
    if asked:
        raise NotPrintedError(f"{ASKED}={asked} does not run; correct it or unset it")
    raise NotPrintedError(f"no Chromium that runs was found. {HOW_TO_GET_ONE}")


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0


def _candidates(chromium: BrowserType) -> list[str | None]:
    """Nothing stands for the headless shell that the driver may have installed."""
    on_the_path = filter(None, map(shutil.which, NAMES))
    return list(dict.fromkeys([*on_the_path, None, chromium.executable_path]))


class _Pages:
    """A pack in a browser that runs no script of it and reaches no network."""

    def __init__(self, browser: Browser, pack: Pack) -> None:
        self._pack, self._text = pack, ""
        self._page = browser.new_page(java_script_enabled=False, service_workers="block")
        self._page.set_default_timeout(_PATIENCE)
        self._page.route("**/*", self._answer)

    def printed(self, pages: Mapping[str, int]) -> PdfReader:
        """The pack with these numbers in its contents."""
        self._text = self._pack.text(pages)
        self._page.goto(_HOST)
        # A browser that prints does not wait for a typeface; what it has not loaded it sets in another.
        try:
            self._page.evaluate(_TYPEFACES)
        except Error as error:
            if "NetworkError" in error.message:
                raise NotPrintedError(NO_FONT) from None
            raise
        content = self._page.pdf(prefer_css_page_size=True, tagged=True)
        return PdfReader(io.BytesIO(content))

    def _answer(self, route: Route) -> None:
        address = route.request.url.removeprefix(_HOST)
        if not address:
            route.fulfill(body=self._text, content_type="text/html; charset=utf-8")
        elif address in self._pack.files:
            kind = _TYPES[address.rpartition(".")[2]]
            route.fulfill(body=self._pack.files[address], content_type=kind)
        else:
            route.abort()


def _has_empty_pages(reader: PdfReader) -> bool:
    contents = [page.get_contents() for page in reader.pages]
    return not all(content is not None and _MARKED in content.get_data() for content in contents)


def _beginnings(reader: PdfReader) -> dict[str, int]:
    """The numbers of the pages on which the parts begin that something links to, by their ids."""
    found = {}
    for name, place in reader.named_destinations.items():
        number = reader.get_destination_page_number(place)
        if number is not None:
            found[name.removeprefix("/")] = number + 1
    return found


def _longer(reader: PdfReader, pack: Pack, pages: Mapping[str, int]) -> Iterator[str]:
    """The titles of sheets that take more than one page."""
    begins = sorted({*pages.values(), len(reader.pages) + 1})
    for part, title in pack.sheets.items():
        if begins[begins.index(pages[part]) + 1] > pages[part] + 1:
            yield title


def _finished(reader: PdfReader, pack: Pack, pages: Mapping[str, int]) -> bytes:
    """The file with its outline, and without the clock and the name of the browser that wrote it."""
    writer = PdfWriter(clone_from=reader)
    _outline(writer, pack.bookmarks, pages, None)
    date = f"D:{pack.starts.replace('-', '')}000000Z"
    writer.metadata = {
        "/Title": pack.title,
        "/Creator": "phasepress",
        "/CreationDate": date,
        "/ModDate": date,
    }
    writer.page_mode = "/UseOutlines"
    content = io.BytesIO()
    writer.write(content)
    return _renumbered(content.getvalue())


def _renumbered(content: bytes) -> bytes:
    """The names of tagged elements counted from 1: the browser's own begin where its last page ended. They
    keep their order and their length, so that the file's tables stay right."""
    names = sorted(set(_ELEMENT.findall(content)))
    numbers = {name: b"(node%08d)" % number for number, name in enumerate(names, 1)}
    return _ELEMENT.sub(lambda found: numbers[found[0]], content)


def _outline(
    writer: PdfWriter,
    bookmarks: Sequence[Bookmark],
    pages: Mapping[str, int],
    above: IndirectObject | None,
) -> None:
    for bookmark in bookmarks:
        number = pages.get(bookmark.part, 1) - 1
        line = writer.add_outline_item(
            title=bookmark.title, page_number=number, parent=above, fit=Fit.xyz(), is_open=above is None
        )
        _outline(writer, bookmark.below, pages, line)


def _first_line(error: Error) -> str:
    return error.message.strip().partition("\n")[0]
