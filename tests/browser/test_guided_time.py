"""A guided session keeps time: digits, words and line at any moment are those of the oracle."""

from fractions import Fraction
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenContext, OpenPage
from tests.browser.demo import Session, demo
from tests.browser.guided import (
    LEAD,
    Clockwork,
    begin,
    button,
    forward,
    press,
    records,
    running,
    shown_at_line,
    soon,
    start,
)
from tests.samples import every, in_turn, size

TREE = demo()
# The page looks at the clock within a few milliseconds of a change, so a moment shortly after it is looked at.
SOON = Fraction(1, 20)


def longest(programme: str = "home-strength") -> Session:
    own = [one for one in TREE.sessions if one.address.startswith(f"{programme}/")]
    return max(own, key=lambda one: len(one.segments))


CLOCKWORK = Clockwork(longest())
# Well within a segment, every few minutes of a session.
MIDDLES = [one["start"] + one["length"] / 2 for one in CLOCKWORK.segments if one["length"] >= 20][::4]


def moments(clockwork: Clockwork) -> list[Fraction]:
    """In the lead, and shortly after the beginning, a third into and shortly before the end of every segment."""
    found = [Fraction(-LEAD), -SOON]
    for number, one in enumerate(clockwork.segments):
        start, length = one["start"], one["length"]
        own = [
            start + SOON,
            start + round(length * 10 / 3) * Fraction(1, 10) + SOON,
            start + length - SOON,
        ]
        # In turn, with a step between, so that each kind of segment is seen at each of its moments.
        found += in_turn(own, number + number // 6, few=1)
    return found


def differences(page: Page, clockwork: Clockwork, moment: Fraction) -> list[Any]:
    """What the screen shows other than the oracle."""
    (found, line), expected = shown_at_line(page), clockwork.face(moment)
    wrong = [
        (name, had, vars(expected)[name]) for name, had in vars(found).items() if had != vars(expected)[name]
    ]
    number = clockwork.at(max(moment, Fraction(0)))
    return [float(moment), *wrong, line, number] if wrong or line != number else []


@pytest.mark.parametrize("programme", TREE.programmes)
def test_the_screen_shows_what_the_oracle_has_at_every_moment(
    emptied_page: OpenPage, site_url: str, programme: str
) -> None:
    clockwork = Clockwork(longest(programme))
    page = begin(emptied_page(**PHONE), site_url, clockwork.session)
    now = Fraction(-LEAD)
    wrong = []
    for moment in moments(clockwork):
        forward(page, moment - now)
        now = moment
        wrong.append(differences(page, clockwork, moment))
    assert [one for one in wrong if one] == []


def test_a_slow_phone_shows_the_right_segment_and_second_to_the_end(
    open_context: OpenContext, site_url: str
) -> None:
    """Its processor six times slower over three quarters of an hour, some seconds of them in real time."""
    page = begin(open_context(**PHONE), site_url, CLOCKWORK.session)
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 6})
    now = Fraction(-LEAD)
    for moment in every(MIDDLES, few=3):
        forward(page, moment - now)
        now = moment
        assert differences(page, CLOCKWORK, moment) == []
    page.clock.resume()
    for _ in range(size(3, few=1)):
        page.wait_for_timeout(1000)
        soon(lambda: on_time(page))
    page.clock.fast_forward(1000 * int(CLOCKWORK.length))
    expect(page.get_by_role("heading", name="Done")).to_be_visible()
    [record] = records(page)
    cut = {(one["station"], one["round"]) for one in CLOCKWORK.session.work if one["cut"]}
    bouts = {(one["station"], one["round"]) for one in CLOCKWORK.session.work} - cut
    assert len(record["stations"]) == len(bouts)


def on_time(page: Page) -> bool:
    """By the page's own clock, which runs: the digits are at most a second behind it."""
    kept = running(page)
    assert kept
    started = kept["events"][0]["at"]
    moment, found = page.evaluate("() => [Date.now(), document.querySelector('.guide .digits').textContent]")
    seconds = Fraction(moment - started, 1000) - LEAD
    return found in {CLOCKWORK.face(seconds - late).digits for late in (0, Fraction(1, 2), 1)}


def test_ten_minutes_in_the_background_change_nothing(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, CLOCKWORK.session)
    forward(page, LEAD + 30)
    page.evaluate(HIDE, True)
    moment = next(one for one in MIDDLES if one > 630)
    forward(page, moment - 30)
    page.evaluate(HIDE, False)
    assert differences(page, CLOCKWORK, moment) == []
    expect(page.locator(".guide [data-notices]")).to_contain_text("You were away for")
    press(button(page, "Back to where I was"))
    assert differences(page, CLOCKWORK, Fraction(30)) == []
    assert records(page)[0]["stations"] == [], "what the clock passed alone was not done"


# A browser without a window shows every page, so what it says of a page in the background is said by the test.
HIDE = """(hidden) => {
  Object.defineProperty(document, "hidden", {value: hidden, configurable: true});
  Object.defineProperty(document, "visibilityState", {value: hidden ? "hidden" : "visible", configurable: true});
  document.dispatchEvent(new Event("visibilitychange"));
}"""


def test_a_page_whose_scripts_stood_still_is_right_at_once(open_context: OpenContext, site_url: str) -> None:
    """In real time: the browser's debugger holds the page as one that the system has frozen."""
    page = open_context(**PHONE, reduced_motion="reduce").new_page()
    page.goto(site_url + CLOCKWORK.session.address)
    start(page)
    debugger = page.context.new_cdp_session(page)
    debugger.send("Debugger.enable")
    page.evaluate(HIDE, True)
    debugger.send("Debugger.pause")
    page.wait_for_timeout(6000)
    debugger.send("Debugger.resume")
    page.evaluate(HIDE, False)
    soon(lambda: on_time(page))
    assert page.locator(".guide").get_attribute("data-phase") == "going"


def test_sleep_counts_though_the_monotonic_clock_stood_still(emptied_page: OpenPage, site_url: str) -> None:
    """On some devices performance.now() does not go on while the lid is closed; the date does."""
    page = begin(emptied_page(**PHONE), site_url, CLOCKWORK.session)
    moment = next(one for one in MIDDLES if one > 630)
    forward(page, LEAD + 30)
    set_date(page, moment - 31)
    forward(page, 1)
    assert differences(page, CLOCKWORK, moment) == []
    expect(page.locator(".guide [data-notices]")).to_contain_text("You were away for")


def set_date(page: Page, by: Fraction | int) -> None:
    """Moves the date alone; the monotonic clock stays."""
    now = page.evaluate("Date.now()")
    page.clock.set_system_time((now + round(by * 1000)) / 1000)


def test_a_date_that_is_set_back_and_put_right_moves_nothing(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, CLOCKWORK.session)
    forward(page, LEAD + 30)
    set_date(page, -3600)
    forward(page, 1)
    assert differences(page, CLOCKWORK, Fraction(31)) == []
    set_date(page, 3600)
    forward(page, 1)
    assert differences(page, CLOCKWORK, Fraction(32)) == []


def test_a_reload_is_at_the_right_segment_and_second(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, CLOCKWORK.session)
    now = Fraction(-LEAD)
    for moment in every(MIDDLES[::3], few=2):
        forward(page, moment - now)
        now = moment
        page.reload()
        expect(page.locator(".guide .digits")).to_be_visible()
        assert differences(page, CLOCKWORK, moment) == []


def test_a_page_that_is_left_and_found_again_is_where_the_clock_is(
    emptied_page: OpenPage, site_url: str
) -> None:
    page = begin(emptied_page(**PHONE), site_url, CLOCKWORK.session)
    moment = next(one for one in MIDDLES if one > 630)
    forward(page, LEAD + 30)
    page.goto(site_url)
    forward(page, moment - 30)
    page.goto(site_url + CLOCKWORK.session.address)
    expect(page.locator(".guide .digits")).to_be_visible()
    assert differences(page, CLOCKWORK, moment) == []
    expect(page.locator(".guide [data-notices]")).to_contain_text("You were away for")


def test_paused_for_an_hour_it_stands_where_it_was(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, CLOCKWORK.session)
    forward(page, LEAD + 30)
    press(button(page, "Pause"))
    forward(page, 3600)
    page.reload()
    expect(button(page, "Go on")).to_be_visible()
    forward(page, 600)
    press(button(page, "Go on"))
    assert differences(page, CLOCKWORK, Fraction(30)) == []
    forward(page, 60)
    assert differences(page, CLOCKWORK, Fraction(90)) == []
