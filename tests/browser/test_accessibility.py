"""Every kind of page through the axe rules, light and dark, on a phone and on a desk screen."""

from pathlib import Path
from typing import Any

import axe_playwright_python
import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESKTOP, PHONE, OpenContext
from tests.browser.demo import kinds

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
# Hidden toggles of the theme, which its own scripts would use; nothing here shows or needs them.
LEFT_OUT = [["[data-md-toggle]"], ["label.md-overlay"]]
RUN = "(leftOut) => axe.run({exclude: leftOut}, {resultTypes: ['violations']})"


def violations(page: Page) -> list[str]:
    """Each broken rule with the elements that break it."""
    page.evaluate(AXE)
    found: dict[str, Any] = page.evaluate(RUN, LEFT_OUT)
    assert found["passes"], "no rule was tried"
    return [f"{rule['id']}: {node['html']}" for rule in found["violations"] for node in rule["nodes"]]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("screen", [PHONE, DESKTOP], ids=["phone", "desktop"])
@pytest.mark.parametrize("kind", kinds())
def test_no_rule_is_broken(
    open_context: OpenContext, site_url: str, kind: str, screen: dict[str, object], scheme: str
) -> None:
    page = open_context(**screen, color_scheme=scheme).new_page()
    page.goto(site_url + kinds()[kind])
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    assert violations(page) == []


def test_a_broken_rule_would_be_noticed(page: Page) -> None:
    page.set_content("<html><body><img src='x.png'><p style='color:#bbb;background:#fff'>pale</p>")
    rules = {one.split(":")[0] for one in violations(page)}
    assert {"image-alt", "color-contrast", "html-has-lang"} <= rules


@pytest.mark.parametrize("kind", kinds())
def test_the_first_tab_skips_to_the_page(page: Page, site_url: str, kind: str) -> None:
    page.goto(site_url + kinds()[kind])
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="Skip to")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_focused()


@pytest.mark.parametrize("kind", ["day", "session", "programme", "exercises"])
def test_the_focus_can_be_seen_wherever_it_goes(page: Page, site_url: str, kind: str) -> None:
    page.goto(site_url + kinds()[kind])
    for _ in range(12):
        page.keyboard.press("Tab")
        width = page.evaluate("parseFloat(getComputedStyle(document.activeElement).outlineWidth)")
        style = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert width >= 2, page.evaluate("document.activeElement.outerHTML")
        assert style != "none"
