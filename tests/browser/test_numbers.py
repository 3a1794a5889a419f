"""The coach's numbers: one level at a time where script runs, all of them where it does not, and on paper."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.demo import demo, kinds

LEVELS = list(
    next(v for v in demo().versions if v.address == kinds()["numbers"].removesuffix("numbers/")).levels
)


@pytest.fixture
def page(kept_page: Page) -> Page:
    return kept_page


def shown(page: Page) -> list[str]:
    """The levels in sight."""
    sections = page.locator("[data-level]").all()
    return [section.get_attribute("data-level") or "" for section in sections if section.is_visible()]


def test_the_level_chosen_is_the_only_one_in_sight(page: Page, site_url: str) -> None:
    page.goto(site_url + kinds()["numbers"])
    choice = page.get_by_label("Level")
    for level in LEVELS:
        choice.select_option(level)
        assert shown(page) == [level]
    choice.select_option(label="every level")
    assert shown(page) == LEVELS


def test_the_first_level_is_in_sight_at_first(page: Page, site_url: str) -> None:
    page.goto(site_url + kinds()["numbers"])
    expect(page.get_by_label("Level")).to_have_value(LEVELS[0])
    assert shown(page) == LEVELS[:1]


def test_without_script_every_level_is_in_sight_and_nothing_is_offered_that_does_nothing(
    open_page: OpenPage, site_url: str
) -> None:
    page = open_page(**PHONE, java_script_enabled=False)
    page.goto(site_url + kinds()["numbers"])
    assert shown(page) == LEVELS
    expect(page.get_by_label("Level")).to_be_hidden()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_number_that_is_outside_can_be_told_without_colour(page: Page, site_url: str, scheme: str) -> None:
    """The key shows one: its ground is the ink of the words around it, and its letters are the paper."""
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    page.goto(site_url + kinds()["numbers"])
    key = page.locator("p.key")
    ground, letters = key.locator(".outside").evaluate(
        "one => [getComputedStyle(one).backgroundColor, getComputedStyle(one).color]"
    )
    body = page.locator("body").evaluate(
        "one => [getComputedStyle(one).color, getComputedStyle(one).backgroundColor]"
    )
    assert [ground, letters] == body
    page.emulate_media(color_scheme="null")


def test_a_plot_is_no_wider_than_a_phone_and_its_words_can_be_read(
    open_page: OpenPage, site_url: str
) -> None:
    page = open_page(**PHONE)
    page.goto(site_url + kinds()["numbers"])
    for plot in page.locator(".plot").all():
        if plot.is_visible():
            box = plot.bounding_box()
            assert box
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= 360
            heights = plot.locator("text").evaluate_all(
                "all => all.map(one => one.getBoundingClientRect().height)"
            )
            assert min(heights) >= 10


def test_on_paper_the_choice_and_closed_tables_are_left_out(page: Page, site_url: str) -> None:
    page.goto(site_url + kinds()["numbers"])
    page.emulate_media(media="print")
    expect(page.get_by_label("Level")).to_be_hidden()
    assert not any(each.is_visible() for each in page.locator(".numbers details").all())
    assert shown(page) == LEVELS[:1]
    page.emulate_media(media="null")
