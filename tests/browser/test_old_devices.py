"""Old phones: nothing that matters needs what the oldest browsers lack; below those a page is as without script."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import PHONE, OpenContext, OpenPage, Visit
from tests.browser.demo import kinds
from tests.browser.geometry import cut_off, overlaps, too_wide
from tests.browser.guided import begin, button, longest

# Safari has it since 15.4 and Chrome since 97: whatever lacks it is older than scripts/floor.js.
OLDER = "delete Array.prototype.findLast;"
WORDS = "document.querySelector('#main').innerText"


@pytest.mark.parametrize("kind", [kind for kind in kinds() if kind != "missing"])
def test_an_older_browser_gets_the_page_without_script_and_whole(
    open_context: OpenContext, open_page: OpenPage, visit: Visit, site_url: str, kind: str
) -> None:
    older = open_context(**PHONE)
    older.add_init_script(OLDER)
    page = older.new_page()
    page.goto(site_url + kinds()[kind], wait_until="networkidle")
    plain = open_page(**PHONE, java_script_enabled=False)
    plain.goto(site_url + kinds()[kind])
    if kind == "numbers":
        # Its own script shows one level at a time, with what every browser has.
        page.locator("select[name=level]").select_option("")
        page.locator("form.pick").evaluate("form => { form.hidden = true }")
    # What a script would show has room, not words.
    assert page.evaluate(WORDS).split() == plain.locator("#main").inner_text().split()


def test_no_style_of_the_site_asks_what_an_element_has(built_site: Path) -> None:
    """Chrome has `:has` since 105 and Firefox since 121, later than the oldest that pages count on."""
    styles = list((built_site / "assets/css").glob("*.css"))
    assert len(styles) > 4
    assert [one.name for one in styles if ":has(" in one.read_text(encoding="utf-8")] == []


def without_containers(route: Route) -> None:
    """The style as a browser without container queries takes it."""
    text = route.fetch().text()
    older = text.replace("container-type:inline-size}", "}").replace(
        "@supports not (container-type:inline-size)", "@supports (display:block)"
    )
    assert older.count("@container") == 2
    assert older != text
    route.fulfill(body=older.replace("@container ", "@container none "), content_type="text/css")


@pytest.mark.parametrize("width", [320, 360])
def test_a_sheet_fits_a_phone_without_container_queries(
    open_context: OpenContext, site_url: str, width: int
) -> None:
    page = open_context(**PHONE | {"viewport": {"width": width, "height": 740}}).new_page()
    page.route(re.compile(r"/sheet\.\w+\.css$"), without_containers)
    page.goto(site_url + longest().address)
    assert page.locator("table.many tr").last.evaluate("one => getComputedStyle(one).display") == "flex"
    assert too_wide(page) == []
    assert cut_off(page) == []
    assert overlaps(page) == []


def test_the_whole_stop_rule_is_there_before_the_start_and_in_a_pause(
    open_context: OpenContext, site_url: str
) -> None:
    page = begin(open_context(**PHONE), site_url, longest())
    rule = page.locator("main > .stop")
    expect(rule).to_be_visible()
    page.keyboard.press("ArrowRight")
    expect(rule).to_be_hidden()
    button(page, "Pause").tap()
    expect(rule).to_be_visible()


# Links within a sentence are as high as its lines (WCAG 2.2, 2.5.8, exception "inline").
SMALL = """() => [...document.querySelectorAll("a, button, select, summary, textarea, label, input")].filter((one) => {
  const box = one.getBoundingClientRect();
  if (!one.getClientRects().length || box.right < 0 || one.matches("label input, label:not(:has(input))")) return false;
  const around = one.parentElement.closest("li, p, td, th, dd, dt, nav, h1, h2, h3, div") ?? one.parentElement;
  const rest = around.textContent.replace(one.textContent, "").trim();
  const isWithin = getComputedStyle(one).display === "inline" || one.matches(".card th a");
  if (one.localName === "a" && isWithin && rest.length > 3) return false;
  return box.height < 44 || box.width < 44;
}).map((one) => one.outerHTML.slice(0, 90))"""


@pytest.mark.parametrize("kind", kinds())
def test_whatever_is_tapped_is_44_pixels_high_and_wide(kept_page: Page, visit: Visit, kind: str) -> None:
    visit(kept_page, kind)
    kept_page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    assert kept_page.evaluate(SMALL) == []


@pytest.mark.parametrize("kind", kinds())
def test_a_double_tap_does_not_zoom_and_a_notch_covers_nothing(
    open_context: OpenContext, visit: Visit, kind: str
) -> None:
    page = open_context(**PHONE | {"viewport": {"width": 740, "height": 360}}).new_page()
    device = page.context.new_cdp_session(page)
    insets = {"top": 20, "left": 47, "bottom": 21, "right": 34}
    device.send("Emulation.setSafeAreaInsetsOverride", {"insets": insets})
    visit(page, kind)
    assert page.evaluate("getComputedStyle(document.documentElement).touchAction") == "manipulation"
    left, top, right = page.evaluate(
        """(() => {
          const all = [...document.querySelectorAll("body *")].filter((one) => one.getClientRects().length
            && one.getBoundingClientRect().left >= 0 && !one.matches(".sr, .defs, .defs *, .wide *"));
          const boxes = all.map((one) => one.getBoundingClientRect());
          return [Math.min(...boxes.map((one) => one.left)), Math.min(...boxes.map((one) => one.top)),
            Math.max(...boxes.map((one) => one.right))];
        })()"""
    )
    assert left >= insets["left"]
    assert top >= insets["top"]
    assert right <= 740 - insets["right"]


def test_the_buttons_of_the_session_stay_clear_of_the_bar_of_the_system(
    open_context: OpenContext, site_url: str
) -> None:
    context = open_context(**PHONE)
    page = begin(context, site_url, longest())
    device = context.new_cdp_session(page)
    insets = {"top": 44, "left": 0, "bottom": 34, "right": 0}
    device.send("Emulation.setSafeAreaInsetsOverride", {"insets": insets})
    box = button(page, "Pause").bounding_box()
    assert box
    assert box["y"] + box["height"] <= 740 - insets["bottom"]
    digits = page.locator(".guide .at").bounding_box()
    assert digits
    assert digits["y"] >= insets["top"]
