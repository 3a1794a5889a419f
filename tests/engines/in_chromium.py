"""Chromium, driven by playwright."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from playwright.sync_api import Page

from tests.browser import chromium
from tests.browser.drivers import playwright
from tests.browser.watch import Watch

from .driver import NARROW, SIZE, WATCH, NoEngineError, Wishes


class InChromium:
    """A `Driver`."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self._watch = Watch(page.context)

    def open(self, address: str) -> None:
        self._page.goto(address)

    def open_narrow(self, address: str) -> None:
        self._page.set_viewport_size({"width": NARROW[0], "height": NARROW[1]})
        self.open(address)

    def run(self, body: str, *given: Any) -> Any:
        return self._page.evaluate(f"async (given) => {{ {body} }}", list(given))

    def tap(self, selector: str) -> None:
        self._page.click(selector)

    def press(self, key: str) -> None:
        self._page.keyboard.press(key)

    def picture(self) -> bytes:
        return self._page.screenshot()

    def complaints(self) -> list[str]:
        return self._watch.problems()

    def close(self) -> None:
        self._page.context.close()


@contextmanager
def began(wishes: Wishes) -> Iterator[InChromium]:
    """Raises NoEngineError where there is none that runs."""
    path = chromium.find(os.environ)
    if path is None:
        raise NoEngineError(chromium.HOW_TO_GET_ONE)
    sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
    with playwright() as started:
        browser = started.chromium.launch(executable_path=path, args=sandbox)
        context = browser.new_context(
            viewport={"width": SIZE[0], "height": SIZE[1]},
            color_scheme="dark" if wishes.dark else "light",
            reduced_motion="reduce" if wishes.still else "no-preference",
        )
        context.add_init_script(WATCH)
        yield InChromium(context.new_page())
        browser.close()
