"""Nothing to scroll sideways, nothing too small for a thumb, nothing cut when the type is twice as large."""

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import DESKTOP, PHONE, OpenContext
from tests.browser.demo import kinds
from tests.browser.geometry import cut_off, overlaps, targets, too_wide

WIDTHS = [320, 360, 768, 1280]
THUMB = 44
# WCAG 2.2, 2.5.8 Target Size (Minimum), level AA: 24 by 24 CSS pixels; links in a sentence are excepted.
LEAST = 24


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
@pytest.mark.parametrize("kind", kinds())
def test_no_page_scrolls_sideways(open_context: OpenContext, site_url: str, kind: str, script: bool) -> None:
    page = open_context(java_script_enabled=script).new_page()
    page.goto(site_url + kinds()[kind])
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 740})
        assert too_wide(page) == [], f"{width} px"


@pytest.mark.parametrize("kind", kinds())
def test_double_type_neither_overlaps_nor_is_cut(open_context: OpenContext, site_url: str, kind: str) -> None:
    """WCAG 2.2, 1.4.4 Resize Text: 200 % without loss of content."""
    for screen in (PHONE, DESKTOP):
        page = open_context(**screen).new_page()
        page.goto(site_url + kinds()[kind])
        page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        heading = page.locator("h1").evaluate("one => parseFloat(getComputedStyle(one).fontSize)")
        assert heading > 48, "the type did not grow"
        assert too_wide(page) == []
        assert cut_off(page) == []
        assert overlaps(page) == []


def test_overlapping_cut_and_wide_text_would_be_noticed(page: Page) -> None:
    page.set_content("""<body style="margin:0"><p style="position:absolute;top:9px">one text</p>
        <p style="position:absolute;top:9px">and another</p>
        <p style="position:absolute;top:90px;width:50px;overflow:hidden;white-space:nowrap">cut in the middle</p>
        <p style="position:absolute;top:200px;width:3000px">wide</p>""")
    assert ("one text", "and another") in overlaps(page)
    assert 'p "cut in the middle"' in cut_off(page)
    assert 'p "wide"' in too_wide(page)


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
@pytest.mark.parametrize("kind", kinds())
def test_what_is_tapped_fits_a_thumb(
    open_context: OpenContext, site_url: str, kind: str, script: bool
) -> None:
    page = open_context(**PHONE, java_script_enabled=script).new_page()
    page.goto(site_url + kinds()[kind])
    selector = ".cards a, .sessions a, button, select, summary, input:not([type=checkbox]), td label"
    small = [one for one in targets(page, selector) if one["height"] < THUMB]
    assert small == []
    assert [one for one in targets(page, "td label") if one["width"] < THUMB] == []


@pytest.mark.parametrize("kind", kinds())
def test_links_outside_sentences_are_large_enough(page: Page, site_url: str, kind: str) -> None:
    page.goto(site_url + kinds()[kind])
    links = targets(page, "nav a, footer a, td a, h3 a, h2 a")
    assert links
    assert [one for one in links if one["height"] < LEAST] == []


@pytest.mark.parametrize("kind", ["day", "session"])
def test_the_first_screen_says_what_to_do(page: Page, site_url: str, kind: str) -> None:
    """On a phone the way on is in sight without scrolling."""
    page.goto(site_url + kinds()[kind])
    way_on = page.locator(".sessions a:visible, .tools button").first
    box = way_on.bounding_box()
    assert box
    assert box["y"] + box["height"] < PHONE["viewport"]["height"]
