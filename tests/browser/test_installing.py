"""A programme can be installed: what Chromium itself finds wrong is nothing, and the icons are our icon."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser import icons
from tests.browser.host import Host, hosted
from tests.browser.offline_sites import CURRENT, PROGRAMME, SAVED, built, visiting
from tests.conftest import SUB_PATH

PAGES = {
    "programme": PROGRAMME,
    "version": CURRENT,
    "day": f"{CURRENT}legs/",
    "session": f"{CURRENT}legs/new/week-1/",
}


def asked(page: Page, method: str) -> dict[str, Any]:
    """The answer of Chromium's own check (Chrome DevTools Protocol, domain Page)."""
    session = page.context.new_cdp_session(page)
    answer: dict[str, Any] = session.send(method)
    session.detach()
    return answer


@pytest.fixture(scope="module")
def host(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Host]:
    with hosted(Host({SUB_PATH: built(tmp_path_factory)})) as running:
        yield running


@pytest.fixture(scope="module")
def page(whole_browser: Browser) -> Iterator[Page]:
    """One phone for all kinds of pages: what is kept is kept for all of them at the first."""
    with visiting(whole_browser) as context:
        yield context.new_page()


@pytest.mark.parametrize("kind", PAGES)
def test_nothing_stands_in_the_way_of_installing(page: Page, host: Host, kind: str) -> None:
    page.goto(host.url + PAGES[kind])
    page.get_by_text(SAVED).wait_for()
    errors = asked(page, "Page.getInstallabilityErrors")["installabilityErrors"]
    # Windows without a trace are never offered to be installed from; nothing else may be found.
    assert [one["errorId"] for one in errors] in ([], ["in-incognito"])
    found = asked(page, "Page.getAppManifest")
    assert found["errors"] == []
    said = json.loads(found["data"])
    assert found["url"] == f"{host.url}{PROGRAMME}app.webmanifest"
    assert said["start_url"] == "./"


def test_a_page_outside_any_programme_is_not_offered(page: Page, host: Host) -> None:
    page.goto(f"{host.url}about/")
    errors = asked(page, "Page.getInstallabilityErrors")["installabilityErrors"]
    assert "no-manifest" in [one["errorId"] for one in errors]


@pytest.mark.parametrize(("name", "pixels", "maskable"), icons.ICONS)
def test_each_icon_is_the_one_icon_drawn(browser: Browser, name: str, pixels: int, maskable: bool) -> None:
    """`python -m tests.browser.icons` draws them anew; edges may differ a little between browsers."""
    kept = icons.read((icons.FOLDER / name).read_bytes())
    drawn = icons.picture(browser, maskable, pixels)
    assert len(kept) == len(drawn) == pixels * pixels * 4
    apart = [abs(one - other) for one, other in zip(kept, drawn, strict=True)]
    assert sum(apart) / len(apart) < 0.5
    assert sum(one > 24 for one in apart) / len(apart) < 0.005


def test_another_drawing_would_be_noticed() -> None:
    one, other = (
        icons.read((icons.FOLDER / name).read_bytes()) for name in ("icon-512.png", "icon-maskable.png")
    )
    apart = [abs(a - b) for a, b in zip(one, other, strict=True)]
    assert sum(apart) / len(apart) > 0.5


def test_a_device_may_cut_the_maskable_icon_to_a_circle() -> None:
    """W3C Web Application Manifest, "Icon masks and safe zone": a circle of 40 % of the width around the middle."""
    pixels = icons.read((icons.FOLDER / "icon-maskable.png").read_bytes())
    ground = pixels[:4]
    assert ground[3] == 255
    middle, safe = 255.5, 0.4 * 512
    for at in range(0, len(pixels), 4):
        down, right = divmod(at // 4, 512)
        if pixels[at : at + 4] != ground:
            assert (down - middle) ** 2 + (right - middle) ** 2 <= safe**2
