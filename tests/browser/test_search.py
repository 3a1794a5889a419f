"""The search of the exercise index."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.demo import demo

EXERCISES = demo().files["exercises"]


@pytest.fixture
def index(kept_page: Page, site_url: str) -> Page:
    kept_page.goto(f"{site_url}exercises/")
    return kept_page


def found(page: Page) -> list[str]:
    return sorted(page.locator(".cards strong").locator("visible=true").all_inner_texts())


def matching(word: str) -> list[str]:
    """Names of the exercises whose name, pattern, muscles or kit hold the word."""
    return sorted(
        one["name"]
        for one in EXERCISES.values()
        if word
        in " ".join([one["name"], one["pattern"], *one.get("works", []), *one.get("needs", [])]).lower()
    )


NAME = next(iter(EXERCISES.values()))["name"]
MUSCLE = next(one["works"][0] for one in EXERCISES.values() if one.get("works"))
THING = next(one["needs"][0] for one in EXERCISES.values() if one.get("needs"))


@pytest.mark.parametrize("words", [NAME, MUSCLE, THING, NAME.upper(), f"  {THING} "])
def test_an_exercise_is_found_by_name_muscle_or_kit(index: Page, words: str) -> None:
    expected = matching(words.strip().lower())
    assert expected
    assert len(expected) < len(EXERCISES), "a word that all have shows nothing"
    index.get_by_label("Find an exercise").fill(words)
    assert found(index) == expected
    expect(index.get_by_role("search").get_by_text(f"{len(expected)} found")).to_be_visible()


def test_several_words_must_all_fit_in_any_order(index: Page) -> None:
    box = index.get_by_label("Find an exercise")
    box.fill(f"{THING} {MUSCLE}")
    one_way = found(index)
    box.fill(f"{MUSCLE} {THING}")
    assert found(index) == one_way == sorted(set(matching(THING)) & set(matching(MUSCLE)))


def test_nothing_found_is_said_and_undone(index: Page) -> None:
    box = index.get_by_label("Find an exercise")
    box.fill("no such thing")
    expect(index.get_by_text("0 found")).to_be_visible()
    assert found(index) == []
    expect(index.locator("section").get_by_role("heading", level=2)).to_have_count(0)
    box.fill("")
    assert len(found(index)) == len(EXERCISES)
    expect(index.get_by_role("search").locator("output")).to_have_text("")


def test_headings_without_an_exercise_go(index: Page) -> None:
    index.get_by_label("Find an exercise").fill(NAME)
    patterns = {one["pattern"] for one in EXERCISES.values() if one["name"] in matching(NAME.lower())}
    headings = index.locator("section[data-group]").get_by_role("heading", level=2).all_inner_texts()
    assert {heading.lower() for heading in headings} == patterns


def test_the_search_works_by_keyboard_alone(index: Page, site_url: str) -> None:
    name = max(matching(NAME.lower()), key=len)
    for _ in range(10):
        index.keyboard.press("Tab")
        if index.get_by_label("Find an exercise").evaluate("box => box === document.activeElement"):
            break
    index.keyboard.type(name)
    index.keyboard.press("Enter")
    expect(index).to_have_url(f"{site_url}exercises/")
    assert found(index) == [name]
    index.keyboard.press("Tab")
    index.keyboard.press("Enter")
    expect(index.get_by_role("heading", level=1)).to_have_text(name)


def test_how_many_were_found_is_told_to_a_screen_reader(index: Page) -> None:
    index.get_by_label("Find an exercise").fill(THING)
    told = index.get_by_role("status")
    expect(told).to_have_text(re.compile(r"^\d+ found$"))
    expect(told).to_have_attribute("aria-live", "polite")
