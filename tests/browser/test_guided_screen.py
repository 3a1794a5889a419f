"""The guided session on screens of every size, on devices that lack or refuse what it would use, and in two tabs."""

import json
from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.axe import CONTRAST, violations
from tests.browser.conftest import DESKTOP, PHONE, OpenContext, OpenPage
from tests.browser.demo import demo
from tests.browser.guided import (
    LEAD,
    NOON,
    begin,
    button,
    current_line,
    forward,
    longest,
    press,
    records,
    resize,
    skip_to_line,
    stand_still,
    start,
    stop,
    wishes,
)
from tests.browser.test_storage_refused import REFUSALS
from tests.samples import every, in_turn

SESSION = longest()
ON_ITS_SIDE = {**PHONE, "viewport": {"width": 740, "height": 360}}
HOLD = next(
    s for s in demo().sessions if s.version.name == "3.0" and any("hold" in str(row.dose) for row in s.rows)
)


def walk(page: Page) -> Iterator[str]:
    """Goes through every state of the screen. The clock runs: the axe rules are tried by timers of the page."""

    def on(wanted: Callable[[dict[str, Any]], bool]) -> None:
        here = current_line(page)
        skip_to_line(page, next(n for n, one in enumerate(HOLD.segments) if n > here and wanted(one)))

    yield "before the start"
    start(page)
    yield "the lead"
    on(lambda one: bool(one["reps"]) and bool(one["side"]))
    yield "a set"
    on(lambda one: one["kind"] == "side change")
    yield "a change of sides"
    on(lambda one: one["kind"] == "changeover")
    yield "on the way to the next station"
    on(lambda one: one["kind"] == "work" and "hold" in HOLD.row(one["station"]).dose)
    yield "a hold"
    on(lambda one: one["kind"] == "rest")
    yield "rest"
    press(button(page, "Pause"))
    yield "paused"
    press(button(page, "Go on"))
    page.evaluate("scrollTo(0, 0)")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    wishes(page)
    press(button(page, "At my own pace: I tap when done"))
    yield "everything opened"
    page.locator(".wishes").evaluate("one => { one.open = false }")
    on(lambda one: bool(one["reps"]))
    forward(page, 660)
    yield "waiting for a tap for eleven minutes"
    press(button(page, "Done"))
    yield "tapped"
    # A rest that has just begun is over after a minute and a half, however long the rules have taken.
    on(lambda one: one["kind"] == "rest" and one["length"] <= 75)
    address = page.url
    page.goto("about:blank")
    forward(page, 90)
    page.goto(address)
    expect(page.get_by_text("You were away for")).to_be_visible()
    yield "found again after a while"
    stop(page)
    yield "the form"
    press(page.get_by_role("button", name="7 very hard"))
    page.evaluate(f"() => {{ {REFUSALS['the store is full'][0]} }}")
    press(page.get_by_role("button", name="Save", exact=True))
    expect(page.get_by_role("button", name="Save as a file")).to_be_visible()
    yield "the form, refused"


TURNED = {"phone": (360, 740), "on its side": (740, 360)}
LOOKS = [(screen, scheme) for screen in TURNED for scheme in ("light", "dark")]
# What hangs on colours and places; all other rules ask what there is, which is the same in every look.
OF_LOOKS = ("color-contrast", "link-in-text-block", "scrollable-region-focusable")
WHOLE = ("before the start", "the lead", "the form")
"""States in which all of the page is new; in the others only the guided session is, or the form."""
OF_A_KIND = (
    "on the way to the next station",
    "a hold",
    "rest",
    "waiting for a tap for eleven minutes",
    "tapped",
)
"""States that have the colours and the places of a state before them, and other words."""
WIDE = """[...document.querySelectorAll(".guide, .guide *, .order ol")]
  .filter((one) => one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== "inline"
    && !one.matches(".sr")).map((one) => `wide: ${one.outerHTML.slice(0, 80)}`)"""


def test_no_rule_of_accessibility_is_broken_in_any_state(open_context: OpenContext, site_url: str) -> None:
    """The axe rules, from the start to the form; and nothing is wider than its place.

    All of them upright in the light, those of looks on its side in the dark; of states of a kind each has all of them in
    one of the looks, in turn. `make test-all` tries all in every look.
    """
    page = open_context(**PHONE, reduced_motion="reduce").new_page()
    page.clock.install()
    page.goto(site_url + HOLD.address)
    expect(page.get_by_role("button", name="Start the session")).to_be_visible()
    found = {}
    for turn, state in enumerate(walk(page)):
        guided = page.locator(".guide").count() > 0
        looks = every(LOOKS, few=2)
        looks = in_turn(looks, turn, few=1 if state in OF_A_KIND else len(looks))
        for look in looks:
            screen, scheme = look
            page.emulate_media(color_scheme=scheme)
            resize(page, *TURNED[screen])
            whole = state == WHOLE[0] or (state in WHOLE and look == looks[0])
            part = "" if whole else ".guide" if guided else ".finish"
            # Before the start the colours in the dark are those of every page of its kind, which is looked at in both.
            of_looks = [rule for rule in OF_LOOKS if guided or rule != CONTRAST]
            broken = violations(page, part, () if look == looks[0] else of_looks)
            found[state, screen, scheme] = broken + (page.evaluate(WIDE) if guided else [])
    assert {look: broken for look, broken in found.items() if broken} == {}
    assert len({state for state, _, _ in found}) >= 14


def test_no_rule_of_accessibility_is_broken_where_a_session_is_under_way_in_another_tab(
    emptied_page: OpenPage, site_url: str
) -> None:
    """The clock runs on: the axe rules are tried by timers of the page."""
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    other = page.context.new_page()
    other.goto(page.url)
    expect(other.locator(".elsewhere")).to_be_visible()
    other.clock.resume()
    assert violations(other) == []


def to_segment(page: Page, wanted: Callable[[dict[str, Any]], bool]) -> None:
    """From the lead or a segment to the next one that is wanted, and a second into it."""
    forward(page, LEAD)
    here = current_line(page)
    skip_to_line(page, next(n for n, one in enumerate(SESSION.segments) if n >= here and wanted(one)))
    forward(page, 1)


# One after the other.
STATES: dict[str, Callable[[Page], None]] = {
    "ready": lambda page: None,
    "paused": lambda page: press(button(page, "Pause")),
    "gone on": lambda page: press(button(page, "Go on")),
    "on the way to the next station": lambda page: to_segment(page, lambda one: one["kind"] == "changeover"),
    "rest": lambda page: to_segment(page, lambda one: one["kind"] == "rest"),
    "reps of a side": lambda page: to_segment(page, lambda one: bool(one["reps"] and one["side"])),
    "reps": lambda page: to_segment(page, lambda one: bool(one["reps"] and not one["side"])),
    "a wait": lambda page: to_segment(page, lambda one: one["kind"] == "wait"),
}
MOST_OF_ALL = ("paused", "reps of a side")
"""States with more on the screen than others have; those are seen in one of the windows, in turn."""
# Where all of it lies, and how much of each is in the window.
ROOM = """async () => {
  const places = [".digits", "h2", ".keys"].map((one) => document.querySelector(`.guide ${one}`));
  const buttons = [...document.querySelectorAll(".guide .keys button")].filter((one) => one.checkVisibility());
  const all = [...places, ...buttons];
  const shares = await new Promise((tell) => {
    const watch = new IntersectionObserver((found) => {
      watch.disconnect();
      tell(new Map(found.map((one) => [one.target, one.intersectionRatio])));
    });
    for (const one of all) watch.observe(one);
  });
  const box = (one) => one.getBoundingClientRect();
  return {
    fits: document.documentElement.scrollWidth <= innerWidth,
    tops: places.map((one) => box(one).y),
    buttons: Object.fromEntries(buttons.map((one) => [one.textContent.trim(), Math.min(box(one).width, box(one).height)])),
    shares: all.map((one) => shares.get(one)),
  };
}"""


@pytest.mark.parametrize(
    ("device", "windows"),
    [(PHONE, [(360, 740), (740, 360)]), (DESKTOP, [(1280, 800), (320, 640)])],
    ids=["phone", "desk"],
)
def test_all_of_it_has_room(
    emptied_page: OpenPage, site_url: str, device: dict[str, Any], windows: list[tuple[int, int]]
) -> None:
    """Nothing scrolls sideways, the buttons can be reached, and the current line can be seen, in every state.

    320 CSS pixels: WCAG 2.2, 1.4.10 Reflow. 24 pixels: WCAG 2.2, 2.5.8 Target Size (Minimum).
    """
    page = begin(emptied_page(**device), site_url, SESSION)
    for turn, (state, get_there) in enumerate(STATES.items()):
        get_there(page)
        for window in in_turn(windows, turn + turn // 2, few=len(windows) if state in MOST_OF_ALL else 1):
            resize(page, *window)
            told = page.evaluate(ROOM)
            at = f"{state}, {window}"
            assert told["fits"], at
            assert {"Back", "Go on" if state == "paused" else "Pause", "Skip"} <= set(told["buttons"]), at
            assert min(told["buttons"].values()) >= 24, at
            assert min(told["shares"]) > 0, at
            assert told["shares"][0] == 1, f"all of the digits: {at}"
            assert told["tops"] == sorted(told["tops"]), at


def test_digits_can_be_read_from_three_metres(emptied_page: OpenPage, site_url: str) -> None:
    """A phone of 360 pixels is about 65 mm wide, so a millimetre is 5.5 pixels.

    At 3 m the smallest letter that normal sight tells is 4.4 mm high: 5 minutes of arc (the definition of the
    Snellen and logMAR charts, from memory). Three times that is read at a glance (common practice, no source).
    """
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    size = float(page.locator(".guide .digits").evaluate("one => parseFloat(getComputedStyle(one).fontSize)"))
    capital = 0.7  # of the type size, in most faces
    assert size * capital / 5.5 >= 3 * 4.4


def test_a_reload_goes_on_where_the_clock_is(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    to_segment(page, lambda one: one["kind"] == "rest")
    before = page.locator(".guide .next").inner_text()
    done = records(page)[0]["stations"]
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()
    assert page.locator(".guide .next").inner_text() == before
    assert records(page)[0]["stations"] == done
    press(button(page, "Pause"))
    page.reload()
    expect(button(page, "Go on")).to_be_visible()


def test_what_is_done_and_how_it_felt_comes_into_the_log(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    first = SESSION.segments[0]
    forward(page, LEAD + first["length"] + 1)
    [record] = records(page)
    assert [one["round"] for one in record["stations"]] == [1]
    assert record["ended"] is None
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert len(records(page)[0]["stations"]) == 1, "what is skipped is not done"
    stop(page)
    press(page.get_by_role("button", name="7 very hard"))
    page.get_by_label("Note").fill("Wobbly, but <b>fine</b>.")
    press(page.get_by_role("button", name="Save", exact=True))
    page.wait_for_url("**/log/")
    [record] = records(page)
    assert (record["effort"], record["note"]) == (7, "Wobbly, but <b>fine</b>.")
    assert record["ended"] is not None
    assert not page.evaluate("Object.keys(localStorage).some((key) => key.startsWith('running '))")
    expect(page.get_by_text("Wobbly, but <b>fine</b>.").first).to_be_attached()


def test_back_from_the_form_goes_on_as_it_was(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    press(button(page, "Pause"))
    stop(page)
    press(page.get_by_role("button", name="Back to the session"))
    expect(button(page, "Go on")).to_be_visible()


@pytest.mark.parametrize("refusal", REFUSALS)
def test_a_session_goes_on_and_can_be_saved_as_a_file_where(
    emptied_page: OpenPage, site_url: str, refusal: str
) -> None:
    script, _ = REFUSALS[refusal]
    page = emptied_page(**PHONE)
    with page.add_init_script(f"{script};{script.replace('localStorage', 'sessionStorage')}"):
        begin(page, site_url, SESSION)
    first = SESSION.segments[0]
    forward(page, LEAD + first["length"] + 1)
    expect(page.locator(".guide [data-notices]")).to_contain_text("Save it as a file")
    stop(page)
    press(page.get_by_role("button", name="5 hard"))
    press(page.get_by_role("button", name="Save", exact=True))
    with page.expect_download() as download:
        press(page.get_by_role("button", name="Save as a file"))
    kept = json.loads(download.value.path().read_text(encoding="utf-8"))
    assert '"effort":5' in json.dumps(kept, separators=(",", ":"))


LACKS = {
    "no voice": "delete window.speechSynthesis; delete window.SpeechSynthesisUtterance;",
    "no vibration": "delete Navigator.prototype.vibrate;",
    "no wake lock": "Object.defineProperty(Navigator.prototype, 'wakeLock', {value: undefined});",
    "a wake lock refused": "Object.defineProperty(Navigator.prototype, 'wakeLock', {value: {request: () => "
    "Promise.reject(new DOMException('low battery', 'NotAllowedError'))}});",
    "no sound": "delete window.AudioContext;",
    "sound refused": "window.AudioContext = class { constructor() { throw new Error('busy'); } };",
    "no locks": "Object.defineProperty(Navigator.prototype, 'locks', {value: undefined});",
}


@pytest.mark.parametrize("lack", LACKS)
def test_a_session_runs_on_a_device_with(emptied_page: OpenPage, site_url: str, lack: str) -> None:
    page = emptied_page(**PHONE)
    page.clock.install(time=NOON)
    page.clock.resume()
    with page.add_init_script(LACKS[lack]):
        page.goto(site_url + SESSION.address)
    # Without locks it waits a moment for another tab to speak up.
    start(page)
    stand_still(page)
    to_segment(page, lambda one: bool(one["reps"]))
    expect(page.locator(".guide .count")).to_contain_text("rep 1 of")
    wishes(page)
    for name in ("sound", "voice", "vibration"):
        assert page.get_by_label(name, exact=True).count() <= 1
    missing = {"no voice": "voice", "no sound": "sound"}.get(lack)
    if missing:
        expect(page.locator(f"input[name={missing}]")).to_be_hidden()


STAND_INS = """
window.said = []; window.shaken = []; window.locks = [];
Object.defineProperty(window, "speechSynthesis", {value: {cancel() {}, speak({text}) { said.push(text); }}});
window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
Navigator.prototype.vibrate = (pattern) => { shaken.push(pattern); return true; };
Object.defineProperty(Navigator.prototype, "wakeLock", {value: {request: async (kind) => {
  locks.push(kind); return {release: async () => { locks.push("released"); }}; }}});
"""


def test_names_are_said_changes_are_felt_and_the_screen_stays_on(
    emptied_page: OpenPage, site_url: str
) -> None:
    page = emptied_page(**PHONE)
    with page.add_init_script(STAND_INS):
        say_shake_and_stay_on(page, site_url)


def say_shake_and_stay_on(page: Page, site_url: str) -> None:
    begin(page, site_url, SESSION)
    forward(page, LEAD + 1)
    name = SESSION.row(SESSION.segments[0]["station"]).name
    assert any(name in text for text in page.evaluate("said"))
    assert page.evaluate("shaken.length") >= 1
    assert page.evaluate("locks") == ["screen"]
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    page.wait_for_function("() => locks.filter((one) => one === 'screen').length === 2")
    wishes(page)
    for door in ("voice", "vibration"):
        page.get_by_label(door, exact=True).uncheck()
    before = page.evaluate("[said.length, shaken.length]")
    page.keyboard.press("ArrowRight")
    forward(page, 1)
    assert page.evaluate("[said.length, shaken.length]") == before
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()
    wishes(page)
    expect(page.get_by_label("voice", exact=True)).not_to_be_checked()
    stop(page)
    page.wait_for_function("() => locks.at(-1) === 'released'")


def test_two_tabs_never_run_one_session_side_by_side(emptied_page: OpenPage, site_url: str) -> None:
    one = begin(emptied_page(**PHONE), site_url, SESSION)
    first = SESSION.segments[0]
    forward(one, LEAD + first["length"] + 1)
    other = one.context.new_page()
    other.goto(site_url + SESSION.address)
    expect(other.get_by_text("under way in another tab")).to_be_visible()
    expect(other.locator(".guide")).to_have_count(0)
    press(other.get_by_role("button", name="Go on here instead"))
    expect(other.locator(".guide")).to_have_count(1)
    expect(one.get_by_text("goes on in another tab")).to_be_visible()
    expect(one.locator(".guide")).to_have_count(0)
    [record] = records(other)
    assert len(record["stations"]) >= 1, "nothing finished is lost"


def test_other_pages_lead_back_to_a_session_under_way(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    page.goto(site_url)
    expect(page.get_by_text("A session is under way")).to_be_visible()
    page.get_by_role("link", name=SESSION.day.title).first.click()
    expect(page.locator(".guide .digits")).to_be_visible()


def test_a_session_left_for_a_day_is_over(emptied_page: OpenPage, site_url: str) -> None:
    """What was finished stays in the log, and the page is a page again."""
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    forward(page, LEAD + 1)
    press(button(page, "Pause"))
    page.goto("about:blank")
    forward(page, timedelta(days=1).total_seconds())
    page.goto(site_url + SESSION.address)
    expect(page.get_by_role("button", name="Start the session")).to_be_visible()
    [record] = records(page)
    assert record["ended"] is not None


def test_paper_has_the_sheet_and_not_the_timer(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    page.emulate_media(media="print")
    expect(page.locator(".guide")).to_be_hidden()
    expect(page.locator("table").first).to_be_visible()
