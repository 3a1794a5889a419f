"""One driver of browsers for a whole process: a second one beside it would refuse to begin."""

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Playwright, sync_playwright

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
