"""One browser for the session; a phone and a desk for each test that asks."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, sync_playwright

from tests.browser import chromium

HERE = Path(__file__).resolve().parent
# Nothing may leave the machine by the browser's own doing, or a test of "no requests" says nothing.
QUIET = [
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)


# A hook, not a fixture: fixtures of the session would look for a Chromium before it.
@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item: pytest.Item) -> None:
    try:
        asked = chromium.skip_is_asked(os.environ)
    except chromium.NoChromiumError as refusal:
        pytest.fail(str(refusal), pytrace=False)
    if asked:
        pytest.skip("PHASEPRESS_SKIP_BROWSER=1")


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


@pytest.fixture(scope="session")
def browser(chromium_path: str) -> Iterator[Browser]:
    # Chromium's sandbox does not start for root; for anyone else it stays on.
    sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium_path, args=[*QUIET, *sandbox])
        yield started
        started.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    """A small phone: 360 by 740 CSS pixels, two device pixels each, touch."""
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, device_scale_factor=2, has_touch=True, is_mobile=True
    )
    yield context
    context.close()


@pytest.fixture
def desktop(browser: Browser) -> Iterator[BrowserContext]:
    """A desk screen: 1280 by 800 CSS pixels."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    yield context
    context.close()
