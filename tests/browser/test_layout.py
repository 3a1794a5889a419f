"""Nothing to scroll sideways, nothing too small for a thumb, nothing cut when the type is twice as large."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESKTOP, PHONE, OpenPage, Visit
from tests.browser.demo import kinds
from tests.browser.geometry import cut_off, overlaps, targets, too_wide
from tests.samples import every

WIDTHS = [320, 360, 768, 1280]
THUMB = 44
# WCAG 2.2, 2.5.8 Target Size (Minimum), level AA: 24 by 24 CSS pixels; links in a sentence are excepted.
LEAST = 24


@pytest.fixture
def page(kept_page: Page) -> Page:
    return kept_page


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
@pytest.mark.parametrize("kind", kinds())
def test_no_page_scrolls_sideways(open_page: OpenPage, visit: Visit, kind: str, script: bool) -> None:
    page = open_page(java_script_enabled=script)
    visit(page, kind)
    for width in every(WIDTHS, few=2):
        page.set_viewport_size({"width": width, "height": 740})
        assert too_wide(page) == [], f"{width} px"


@pytest.mark.parametrize("kind", kinds())
def test_double_type_neither_overlaps_nor_is_cut(open_page: OpenPage, visit: Visit, kind: str) -> None:
    """WCAG 2.2, 1.4.4 Resize Text: 200 % without loss of content."""
    for screen in (PHONE, DESKTOP):
        page = open_page(**screen)
        visit(page, kind)
        page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        heading = page.locator("h1").evaluate("one => parseFloat(getComputedStyle(one).fontSize)")
        assert heading > 48, "the type did not grow"
        assert too_wide(page) == []
        assert cut_off(page) == []
        assert overlaps(page) == []


def test_overlapping_cut_and_wide_text_would_be_noticed(page: Page) -> None:
    page.goto("about:blank")
    page.set_content("""<body style="margin:0"><p style="position:absolute;top:9px">one text</p>
        <p style="position:absolute;top:9px">and another</p>
        <p style="position:absolute;top:90px;width:50px;overflow:hidden;white-space:nowrap">cut in the middle</p>
        <p style="position:absolute;top:200px;width:3000px">wide</p>""")
    assert ("one text", "and another") in overlaps(page)
    assert 'p "cut in the middle"' in cut_off(page)
    assert 'p "wide"' in too_wide(page)


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
@pytest.mark.parametrize("kind", kinds())
def test_what_is_tapped_fits_a_thumb(open_page: OpenPage, visit: Visit, kind: str, script: bool) -> None:
    page = open_page(**PHONE, java_script_enabled=script)
    visit(page, kind)
    selector = ".cards a, .sessions a, button, select, summary, input:not([type=checkbox]), td label"
    small = [one for one in targets(page, selector) if one["height"] < THUMB]
    assert small == []
    assert [one for one in targets(page, "td label") if one["width"] < THUMB] == []


@pytest.mark.parametrize("kind", kinds())
def test_links_outside_sentences_are_large_enough(page: Page, visit: Visit, kind: str) -> None:
    visit(page, kind)
    links = targets(page, "nav a, footer a, td a, h3 a, h2 a")
    assert links
    assert [one for one in links if one["height"] < LEAST] == []


@pytest.mark.parametrize("kind", ["day", "session"])
def test_the_first_screen_says_what_to_do(page: Page, visit: Visit, kind: str) -> None:
    """On a phone the way on is in sight without scrolling."""
    visit(page, kind)
    way_on = page.locator(".sessions a:visible, .tools button").first
    expect(way_on).to_be_visible()
    box = way_on.bounding_box()
    assert box
    assert box["y"] + box["height"] < PHONE["viewport"]["height"]
