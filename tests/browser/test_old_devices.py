"""Old phones: nothing that matters needs what the oldest browsers lack; below those a page is as without script."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.browser.conftest import BLOCKED, NO_WORKER, PHONE, OpenContext
from tests.browser.demo import kinds
from tests.browser.geometry import cut_off, overlaps, too_wide
from tests.browser.guided import begin, button, longest
from tests.browser.looks import INSETS, ON_A_PHONE, WITHOUT_SCRIPT, Looks
from tests.browser.watch import Watch
from tests.samples import every

# Safari has it since 15.4 and Chrome since 97: whatever lacks it is older than scripts/floor.js.
OLDER = "delete Array.prototype.findLast;"
WORDS = "document.querySelector('#main').innerText"


@pytest.fixture(scope="module")
def older(browser: Browser) -> Iterator[tuple[Page, Watch]]:
    """A page in a browser that is too old for the scripts; it goes from kind to kind and keeps nothing."""
    context = browser.new_context(**PHONE | NO_WORKER)
    context.add_init_script(OLDER)
    yield context.new_page(), Watch(context, BLOCKED)
    context.close()


# Those with scripts of their own; the rest have what all have.
@pytest.mark.parametrize(
    "kind",
    every(
        [kind for kind in kinds() if kind != "missing"],
        few=["home", "log", "exercises", "figures", "programme", "parents", "numbers", "day", "session"],
    ),
)
def test_an_older_browser_gets_the_page_without_script_and_whole(
    older: tuple[Page, Watch], look: Looks, site_url: str, kind: str
) -> None:
    page, watch = older
    page.goto(site_url + kinds()[kind], wait_until="networkidle")
    if kind == "numbers":
        # Its own script shows one level at a time, with what every browser has.
        page.locator("select[name=level]").select_option("")
        page.locator("form.pick").evaluate("form => { form.hidden = true }")
    # What a script would show has room, not words.
    assert page.evaluate(WORDS).split() == look(kind, WITHOUT_SCRIPT)["words"]
    assert watch.problems() == []


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


@pytest.mark.parametrize("kind", kinds())
def test_whatever_is_tapped_is_44_pixels_high_and_wide(look: Looks, kind: str) -> None:
    assert look(kind, ON_A_PHONE)["small"] == []


@pytest.mark.parametrize("kind", kinds())
def test_a_double_tap_does_not_zoom_and_a_notch_covers_nothing(look: Looks, kind: str) -> None:
    found = look(kind, ON_A_PHONE)
    assert found["touch"] == "manipulation"
    left, top, right = found["notch"]
    assert left >= INSETS["left"]
    assert top >= INSETS["top"]
    assert right <= 740 - INSETS["right"]


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
