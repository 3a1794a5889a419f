"""Nothing to scroll sideways, nothing too small for a thumb, nothing cut when the type is twice as large."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, Visit
from tests.browser.demo import kinds
from tests.browser.geometry import cut_off, overlaps, too_wide
from tests.browser.looks import ON, ON_A_PHONE, WITHOUT_SCRIPT, Device, Looks, turns

THUMB = 44
# WCAG 2.2, 2.5.8 Target Size (Minimum), level AA: 24 by 24 CSS pixels; links in a sentence are excepted.
LEAST = 24


@pytest.fixture
def page(kept_page: Page) -> Page:
    return kept_page


@pytest.mark.parametrize(
    ("kind", "device"),
    [(kind, ON[screen]) for kind, screen in turns()] + [(kind, WITHOUT_SCRIPT) for kind in kinds()],
    ids=str,
)
def test_no_page_scrolls_sideways(look: Looks, kind: str, device: Device) -> None:
    """From 320 to 1280 pixels."""
    found = look(kind, device)["wide"]
    assert [width for width, _ in found][:: len(found) - 1] == [320, 1280]
    assert [[width, wide] for width, wide in found if wide] == []


@pytest.mark.parametrize(("kind", "screen"), turns())
def test_double_type_neither_overlaps_nor_is_cut(look: Looks, kind: str, screen: str) -> None:
    """WCAG 2.2, 1.4.4 Resize Text: 200 % without loss of content."""
    double = look(kind, ON[screen])["double"]
    assert double["heading"] > 48, "the type did not grow"
    assert double["wide"] == []
    assert double["cut"] == []
    assert double["overlaps"] == []


def test_overlapping_cut_and_wide_text_would_be_noticed(page: Page) -> None:
    page.goto("about:blank")
    page.set_content("""<body style="margin:0"><p style="position:absolute;top:9px">one text</p>
        <p style="position:absolute;top:9px">and another</p>
        <p style="position:absolute;top:90px;width:50px;overflow:hidden;white-space:nowrap">cut in the middle</p>
        <p style="position:absolute;top:200px;width:3000px">wide</p>""")
    assert ("one text", "and another") in overlaps(page)
    assert 'p "cut in the middle"' in cut_off(page)
    assert 'p "wide"' in too_wide(page)


@pytest.mark.parametrize("device", [ON_A_PHONE, WITHOUT_SCRIPT], ids=["with script", "without script"])
@pytest.mark.parametrize("kind", kinds())
def test_what_is_tapped_fits_a_thumb(look: Looks, kind: str, device: Device) -> None:
    found = look(kind, device)
    assert [one for one in found["thumbs"] if one["height"] < THUMB] == []
    assert [one for one in found["boxes"] if one["width"] < THUMB] == []


@pytest.mark.parametrize("kind", kinds())
def test_links_outside_sentences_are_large_enough(look: Looks, kind: str) -> None:
    links = look(kind, ON_A_PHONE)["links"]
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
