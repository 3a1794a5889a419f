"""The page for parents: one screen of a phone, with what counts at once in sight; the rest a tap away and on paper."""

from itertools import product

import pytest
from phasepress.telling.views import parents, safety
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.demo import demo
from tests.browser.paper import FORMATS, printed, words
from tests.samples import every

TREE = demo()
PAGES = [f"{programme}/for-parents/" for programme in TREE.programmes]
SCREEN = 740
"""CSS pixels, of a phone of 360 by 740. The foot that all pages of the site have follows after it."""
FOLDS = ["What this is", "The first session", "Team training, missed weeks", "Privacy"]
FOLDED = (parents.HURTS, parents.FIRST, parents.EASIER, parents.SAME_DAY, parents.MISSED, parents.PRIVACY)


def in_sight(page: Page, text: str) -> bool:
    """Whether a text is shown on the first screen, as a whole."""
    found = page.get_by_text(text)
    box = found.first.bounding_box() if found.first.is_visible() else None
    return box is not None and box["y"] >= 0 and box["y"] + box["height"] <= SCREEN


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
@pytest.mark.parametrize("address", PAGES)
def test_all_that_it_has_to_say_is_one_screen_when_closed(
    open_page: OpenPage, site_url: str, address: str, script: bool
) -> None:
    page = open_page(**PHONE, java_script_enabled=script)
    page.goto(site_url + address)
    end = page.locator(".parents").evaluate(
        "one => Math.max(...[...one.children].map((part) => part.getBoundingClientRect().bottom))"
    )
    assert 0.8 * SCREEN < end <= SCREEN
    foot = page.locator(".foot").evaluate("one => one.getBoundingClientRect().top")
    assert foot <= SCREEN, "and nothing but the foot comes after it"


@pytest.mark.parametrize("address", PAGES)
def test_what_counts_at_once_is_in_sight(open_page: OpenPage, site_url: str, address: str) -> None:
    page = open_page(**PHONE)
    page.goto(site_url + address)
    for text in (safety.STOP, TREE.club["if hurt"], parents.EMERGENCY):
        assert in_sight(page, text), text
    assert in_sight(page, f"{safety.SIGNED} {TREE.club['signed']}.")
    assert in_sight(page, f"Questions: {TREE.club['contact']}.")


@pytest.mark.parametrize(("address", "script"), every(list(product(PAGES, (True, False))), few=2))
def test_a_tap_opens_each_of_the_rest(open_page: OpenPage, site_url: str, address: str, script: bool) -> None:
    page = open_page(**PHONE, java_script_enabled=script)
    page.goto(site_url + address)
    rows = page.locator(".parents summary")
    assert rows.all_inner_texts() == ["After it hurt, and before you begin", *FOLDS]
    for text in FOLDED:
        assert not in_sight(page, text)
    for row in rows.all():
        box = row.bounding_box()
        assert box
        assert box["height"] >= 44
        row.tap()
    for text in (*FOLDED, *TREE.club["cautions"]):
        shown = page.get_by_text(text).first
        assert shown.is_visible()
        assert shown.evaluate("one => one.getBoundingClientRect().height > 0"), text


@pytest.mark.parametrize("address", PAGES)
def test_the_search_of_the_browser_finds_what_is_closed(
    open_page: OpenPage, site_url: str, address: str
) -> None:
    page = open_page(**PHONE)
    page.goto(site_url + address)
    deep = page.locator(".parents .deep")
    assert deep.count() == 1 + len(FOLDS)
    for one in deep.all():
        assert one.get_attribute("hidden") == "until-found"
        one.evaluate("""one => {
            one.dispatchEvent(new Event("beforematch", { bubbles: true }));
            one.removeAttribute("hidden");
        }""")
    expect(page.locator(".parents details:not([open])")).to_have_count(0)


@pytest.mark.parametrize(
    ("address", "paper", "script"), every(list(product(PAGES, FORMATS, (True, False))), few=2)
)
def test_on_paper_all_of_it_is_one_page(
    open_page: OpenPage, site_url: str, address: str, paper: str, script: bool
) -> None:
    page = open_page(**PHONE, java_script_enabled=script)
    page.goto(site_url + address)
    sheet = printed(page, paper)
    assert len(sheet.pages) == 1
    text = words(sheet)
    assert all(
        one in text for one in (safety.STOP, *FOLDED, *FOLDS, *TREE.club["cautions"], parents.EMERGENCY)
    )
    assert f"{safety.SIGNED} {TREE.club['signed']}." in text
    assert TREE.club["contact"] in text
