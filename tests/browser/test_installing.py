"""A programme can be installed: what Chromium itself finds wrong is nothing, and the icons are our icon."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser import icons
from tests.browser.conftest import Visit
from tests.browser.demo import kinds
from tests.browser.offline_sites import SAVED, visiting

KINDS = ("programme", "version", "day", "session")


def asked(page: Page, method: str) -> dict[str, Any]:
    """The answer of Chromium's own check (Chrome DevTools Protocol, domain Page)."""
    session = page.context.new_cdp_session(page)
    answer: dict[str, Any] = session.send(method)
    session.detach()
    return answer


@pytest.fixture(scope="module")
def phone_with_worker(whole_browser: Browser) -> Iterator[BrowserContext]:
    """One phone for all kinds of pages: what is kept is kept for all of them at the first."""
    with visiting(whole_browser) as context:
        yield context


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_stands_in_the_way_of_installing(
    phone_with_worker: BrowserContext, visit: Visit, kind: str
) -> None:
    page = phone_with_worker.new_page()
    visit(page, kind)
    page.get_by_text(SAVED).wait_for()
    errors = asked(page, "Page.getInstallabilityErrors")["installabilityErrors"]
    # Windows without a trace are never offered to be installed from; nothing else may be found.
    assert [one["errorId"] for one in errors] in ([], ["in-incognito"])
    found = asked(page, "Page.getAppManifest")
    assert found["errors"] == []
    said = json.loads(found["data"])
    programme = kinds()[kind].split("/")[0]
    assert found["url"].endswith(f"{programme}/app.webmanifest")
    assert said["start_url"] == "./"
    page.close()


def test_a_page_outside_any_programme_is_not_offered(whole_browser: Browser, visit: Visit) -> None:
    with visiting(whole_browser) as context:
        page = context.new_page()
        visit(page, "about")
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
