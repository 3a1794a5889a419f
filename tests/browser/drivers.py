"""One driver of browsers for a whole process, as a second one beside it would refuse to begin; and whether any is
wanted."""

import os
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Playwright, sync_playwright

from tests.browser import chromium

_running: list[Playwright] = []


@contextmanager
def playwright() -> Iterator[Playwright]:
    """The driver that runs already, or else one until the end of the block."""
    if _running:
        yield _running[-1]
        return
    with sync_playwright() as started:
        _running.append(started)
        try:
            yield started
        finally:
            _running.remove(started)


def leave_out_where_asked() -> None:
    """Skip a test of a browser where that is asked for; in CI asking is a failure."""
    try:
        asked = chromium.skip_is_asked(os.environ)
    except chromium.NoChromiumError as refusal:
        pytest.fail(str(refusal), pytrace=False)
    if asked:
        pytest.skip("PHASEPRESS_SKIP_BROWSER=1")
