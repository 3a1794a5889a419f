"""Every kind of page through the axe rules, light and dark, on a phone and on a desk screen."""

import re

import pytest
from playwright.sync_api import Page

from tests.browser.axe import thin_out, violations
from tests.browser.conftest import Visit
from tests.browser.demo import kinds
from tests.browser.looks import ON, ON_A_PHONE, Looks, turns
from tests.samples import every


@pytest.fixture
def page(kept_page: Page) -> Page:
    return kept_page


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("kind", "screen"), turns())
def test_no_rule_is_broken(look: Looks, kind: str, screen: str, scheme: str) -> None:
    assert look(kind, ON[screen])["axe"][scheme] == []


def test_a_broken_rule_would_be_noticed(page: Page) -> None:
    page.goto("about:blank")
    page.set_content("<html><body><img src='x.png'><p style='color:#bbb;background:#fff'>pale</p>")
    rules = {one.split(":")[0] for one in violations(page)}
    assert {"image-alt", "color-contrast", "html-has-lang"} <= rules


def test_of_many_that_are_alike_the_first_are_left_to_the_rules_and_all_that_differ(page: Page) -> None:
    page.goto("about:blank")
    same = "<li><a href='/'>same</a></li>"
    page.set_content(f"<ul>{same * 4}<li><a href='/' class='new'>new</a></li>{same}<li><a>bare</a></li></ul>")
    thin_out(page, most=2)
    assert page.locator("li").all_inner_texts() == ["same", "same", "new", "bare"]


@pytest.mark.parametrize("kind", kinds())
def test_the_first_tab_skips_to_the_page(look: Looks, kind: str) -> None:
    words, is_in_sight, led_to = look(kind, ON_A_PHONE)["tab"]
    assert words.startswith("Skip to")
    assert is_in_sight
    assert led_to == "main"


FOCUS = """() => {
  const one = document.activeElement, style = getComputedStyle(one);
  return [parseFloat(style.outlineWidth), style.outlineStyle, one.outerHTML];
}"""


@pytest.mark.parametrize("kind", every(["day", "session", "programme", "exercises"], few=2))
def test_the_focus_can_be_seen_wherever_it_goes(page: Page, visit: Visit, kind: str) -> None:
    visit(page, kind)
    for _ in range(12):
        page.keyboard.press("Tab")
        width, style, focused = page.evaluate(FOCUS)
        assert width >= 2, focused
        assert style != "none", focused


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_hint_in_the_search_box_can_be_read(page: Page, visit: Visit, scheme: str) -> None:
    """Which axe does not look at. WCAG 2.2, 1.4.3 Contrast (Minimum): 4.5 to 1."""
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    visit(page, "exercises")
    ink, paper = page.get_by_label("Find an exercise").evaluate(
        "one => [getComputedStyle(one, '::placeholder').color, getComputedStyle(one).backgroundColor]"
    )
    assert contrast(ink, paper) >= 4.5


@pytest.mark.parametrize("motion", ["no-preference", "reduce"])
@pytest.mark.parametrize("kind", ["exercise", "day"])
def test_a_reader_hears_once_what_a_figure_shows(page: Page, visit: Visit, kind: str, motion: str) -> None:
    page.emulate_media(reduced_motion=motion)  # type: ignore[arg-type]
    visit(page, kind)
    groups = page.locator("main li:has(> .fig)" if kind == "day" else "main")
    for group in groups.all():
        said = group.locator(".fig img:visible").evaluate_all(
            "all => all.map((one) => one.alt).filter(Boolean)"
        )
        assert len(said) == len(set(said))
        assert len(said) == group.locator(".fig:visible").count() if kind == "day" else len(said) == 1


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two opaque colours as WCAG 2.2 defines it."""
    darker, lighter = sorted(map(luminance, (one, other)))
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    parts = re.fullmatch(r"rgb\((\d+), (\d+), (\d+)\)", colour)
    assert parts, colour
    shares = [int(part) / 255 for part in parts.groups()]
    red, green, blue = (s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_the_contrast_of_black_and_white_is_21() -> None:
    assert contrast("rgb(0, 0, 0)", "rgb(255, 255, 255)") == pytest.approx(21)
    # #767676 on white, a pair that is often quoted (from memory).
    assert contrast("rgb(118, 118, 118)", "rgb(255, 255, 255)") == pytest.approx(4.54, abs=0.01)
