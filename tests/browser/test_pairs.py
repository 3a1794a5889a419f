"""Right and not so in a day's row: it comes when the row is opened, beside its words, and stays off the day's paper."""

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import DESKTOP, PHONE, OpenPage
from tests.browser.demo import demo
from tests.browser.paper import printed, words

TREE = demo()
NEWEST = {(one.programme, one.name.split(".")[0]): one for one in TREE.versions}
LANDINGS = ("jump", "land")
DAY, ROW = next(
    (day, row)
    for version in NEWEST.values()
    for day in version.days
    for row in day.sessions[0].rows
    if TREE.files["exercises"][row.exercise]["pattern"] in LANDINGS and row.label[0].isupper()
)
"""A day with a landing in one of its blocks."""


def open_row(page: Page) -> Locator:
    """What a tap on the row of the landing opens."""
    summary = page.locator(".seen > summary:visible").filter(has_text=ROW.name).first
    summary.click()
    return summary.locator("xpath=../following-sibling::*[1]")


@pytest.mark.parametrize("screen", [PHONE, DESKTOP], ids=["phone", "desk"])
def test_a_pair_is_fetched_when_its_row_is_opened_and_not_before(
    open_page: OpenPage, site_url: str, screen: dict[str, object]
) -> None:
    page = open_page(**screen)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(site_url + DAY.address, wait_until="networkidle")
    assert [url for url in asked if "/assets/figures/" in url] == []
    image = open_row(page).locator(".pair img")
    image.scroll_into_view_if_needed()
    expect(image).to_have_js_property("complete", True)
    assert [url for url in asked if f"/{ROW.exercise}-right-and-not-so." in url]


def test_a_pair_stands_beside_its_words_on_a_phone_and_both_of_its_bodies_are_seen(
    open_page: OpenPage, site_url: str
) -> None:
    page = open_page(**PHONE)
    page.goto(site_url + DAY.address)
    pair = open_row(page).locator(".pair")
    pair.scroll_into_view_if_needed()
    expect(pair).to_contain_text("Right:")
    expect(pair).to_contain_text("Not so:")
    drawn, *told = (one.bounding_box() for one in (pair.locator("img"), *pair.locator("span").all()))
    assert drawn
    assert len(told) == 2
    assert drawn["height"] >= 64
    for box in told:
        assert box
        assert box["x"] >= drawn["x"] + drawn["width"]
        assert box["x"] + box["width"] <= PHONE["viewport"]["width"]
        assert drawn["y"] <= box["y"] + box["height"] / 2 <= drawn["y"] + drawn["height"]


def test_the_paper_of_a_day_leaves_pairs_to_the_card_and_to_the_page_of_the_exercise(
    open_page: OpenPage, site_url: str
) -> None:
    page = open_page()
    page.goto(site_url + DAY.address)
    sheets = printed(page, "A4")
    text = " ".join(words(sheets, number) for number in range(len(sheets.pages)))
    assert ROW.name in text
    assert "Not so:" not in text
    page.goto(f"{site_url}exercises/{ROW.exercise}/")
    assert "Not so:" in words(printed(page, "A4"))
