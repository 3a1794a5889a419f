"""Browsers of three engines, each begun anew for a test; one that is missing fails with the way to get it."""

import contextlib
import io
import os
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.browser import drivers
from tests.conftest import Serve, shared_between_workers

from . import in_chromium, in_firefox, in_webkit
from .driver import PATIENCE, Driver, NoEngineError, Wishes
from .watched import watched

ENGINES: dict[str, Callable[[Wishes], AbstractContextManager[Driver]]] = {
    "Chromium": in_chromium.began,
    "WebKit": in_webkit.began,
    "Firefox": in_firefox.began,
}
HERE = Path(__file__).resolve().parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    drivers.leave_out_where_asked()


SETTLED = """document.readyState === "complete"
  && [...document.querySelectorAll("link[rel=stylesheet]")].every((one) => one.sheet)
  && (!document.querySelector("[data-today]") || document.querySelector("[data-today]:not([hidden])"))
  && (!document.querySelector("[data-log]") || document.querySelector(".log-tools")) && (!document.querySelector("[data-guide]")
  || document.body.classList.contains("guided") || document.querySelector("[data-start]:not([hidden],.yet)"))"""


class Visit:
    """A browser at the site, and the words in which a journey is told. `turn`: the number of its engine."""

    def __init__(self, driver: Driver, url: str, end_server: Callable[[], None], turn: int = 0) -> None:
        self.driver = driver
        self.turn = turn
        self.url = url
        self.end_server = end_server

    def go(self, address: str) -> None:
        self.settle()
        self.driver.open(self.url + address)

    def settle(self) -> None:
        """Waits until the page has all that it asks for: some engines complain of what one that is left still wanted."""
        self.until(SETTLED)

    def run(self, body: str, *given: Any) -> Any:
        return self.driver.run(body, *given)

    def set_date(self, day: date | None) -> None:
        """From the next page on it is noon of that day on the device; with none, it is as on the machine."""
        self.run(
            "if (given[0]) sessionStorage.setItem('ahead', Date.parse(given[0]) - Date.now());"
            "else sessionStorage.removeItem('ahead');",
            f"{day.isoformat()}T12:00" if day else "",
        )

    def until(self, condition: str, *given: Any) -> None:
        """Waits until an expression holds in the page, which may be about to change."""
        end = time.monotonic() + PATIENCE
        while True:
            # A page that is being left answers with an error of its engine's own.
            with contextlib.suppress(Exception):
                if self.run(f"return Boolean({condition})", *given):
                    return
            if time.monotonic() > end:
                where = self.run("return location.href + ' ' + document.body.innerText.slice(0, 2000)")
                pytest.fail(f"it never came to this: {condition}\n{where}")
            time.sleep(0.05)

    def tap(self, selector: str, text: str = "") -> None:
        """The first element that is shown, and has this text."""
        mark = """const all = [...document.querySelectorAll(given[0])];
            document.querySelector("[data-here]")?.removeAttribute("data-here");
            const one = all.find((one) => one.getClientRects().length && getComputedStyle(one).visibility === "visible"
              && one.textContent.trim().startsWith(given[1]));
            one?.setAttribute("data-here", ""); return Boolean(one);"""
        end = time.monotonic() + PATIENCE
        while not self.run(mark, selector, text):
            assert time.monotonic() < end, f"there is no {selector} {text!r}"
            time.sleep(0.05)
        self.driver.tap("[data-here]")

    def text(self, selector: str) -> str:
        return str(self.run("return document.querySelector(given[0])?.innerText ?? ''", selector))

    def picture(self) -> Image.Image:
        return Image.open(io.BytesIO(self.driver.picture())).convert("L")

    def assert_quiet(self) -> None:
        """Neither the pages nor the engine have complained of anything."""
        noted = self.run(
            "const all = sessionStorage.getItem('complaints') ?? ''; sessionStorage.removeItem('complaints'); return all"
        )
        assert [*noted.splitlines(), *self.driver.complaints()] == []


@pytest.fixture(scope="session")
def watched_site(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo with the script that notes complaints."""
    name = f"watched-{os.environ.get('PYTEST_XDIST_WORKER', '')}"
    return watched(built_site, shared_between_workers(tmp_path_factory) / name)


Begin = Callable[..., Visit]


@pytest.fixture(params=ENGINES)
def begin(
    request: pytest.FixtureRequest, built_site: Path, watched_site: Path, serve: Serve
) -> Iterator[Begin]:
    """`begin(dark=True, still=True)`: a visit in the engine of the parameter."""
    engine = request.param
    with ExitStack() as whole:

        def begin_(**wishes: bool) -> Visit:
            site = watched_site if engine == "WebKit" else built_site
            server = whole.enter_context(ExitStack())
            url = server.enter_context(serve(site))
            try:
                driver = whole.enter_context(ENGINES[engine](Wishes(**wishes)))
            except NoEngineError as missing:
                pytest.fail(str(missing), pytrace=False)
            return Visit(driver, url, server.close, list(ENGINES).index(engine))

        yield begin_
