"""Scripts of the theme folder as files of their own, for tests that ask one of them alone: the site has them as one."""

from functools import lru_cache
from pathlib import Path

from phasepress.publishing.assets import assets
from playwright.sync_api import Page, Route

_FOLDER = "assets/loose/"
BLANK = f"{_FOLDER}blank.html"
"""A page with nothing on it, from which they are asked, where `serve` answers."""


@lru_cache
def _files() -> dict[str, tuple[str, bytes]]:
    found = assets(loose=True).files
    return {name: (f"{_FOLDER}{at.removeprefix('assets/')}", text) for name, (at, text) in found.items()}


def serve(page: Page, site_url: str) -> None:
    """From here on the page has them, below the address of the site."""
    by_address = {f"{site_url}{at}": text for at, text in _files().values()}
    blank = f"{site_url}{BLANK}"

    def answer(route: Route) -> None:
        if route.request.url == blank:
            route.fulfill(body="<!doctype html><title>blank</title>", content_type="text/html")
        else:
            route.fulfill(body=by_address[route.request.url], content_type="text/javascript")

    page.route(f"{site_url}{_FOLDER}**", answer)


def write(site: Path) -> None:
    """Put them into a site's folder, for browsers whose driver answers no request."""
    for at, text in _files().values():
        file = site / at
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text)


def script(name: str) -> str:
    """Where a script of the guided session is, from the top of the site."""
    return _files()[f"js/guided/{name}.js"][0]
