"""The guided session on screens of every size, on devices that lack or refuse what it would use, and in two tabs."""

import json
from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import DESKTOP, PHONE, OpenContext
from tests.browser.demo import Session, demo
from tests.browser.guided import (
    LEAD,
    button,
    current_line,
    forward,
    longest,
    records,
    skip,
    start,
    stop,
    wishes,
)
from tests.browser.test_accessibility import violations
from tests.browser.test_storage_refused import REFUSALS
from tests.samples import every

SESSION = longest()
ON_ITS_SIDE = {**PHONE, "viewport": {"width": 740, "height": 360}}
SCREENS = {"phone": PHONE, "on its side": ON_ITS_SIDE, "desk": DESKTOP}


def begin(context: BrowserContext, site_url: str, session: Session = SESSION) -> Page:
    """A session that has just begun; the page's clock is in the test's hand, and its figure stands still."""
    page = context.new_page()
    page.emulate_media(reduced_motion="reduce")
    page.clock.install()
    page.goto(site_url + session.address)
    page.get_by_role("button", name="Start the session").click()
    expect(page.locator(".guide .digits")).to_be_visible()
    return page


def to_segment(page: Page, wanted: Callable[[dict[str, Any]], bool], session: Session = SESSION) -> None:
    """Skips to the first segment that is wanted, and a second into it."""
    number = next(n for n, one in enumerate(session.segments) if wanted(one))
    page.clock.run_for(LEAD * 1000)
    skip(page, number)
    page.clock.run_for(1000)


STATES: dict[str, Callable[[Page], None]] = {
    "ready": lambda page: None,
    "reps": lambda page: to_segment(page, lambda one: bool(one["reps"])),
    "a side": lambda page: to_segment(page, lambda one: bool(one["side"])),
    "rest": lambda page: to_segment(page, lambda one: one["kind"] == "rest"),
    "a full minute's wait": lambda page: to_segment(page, lambda one: one["kind"] in ("wait", "changeover")),
    "paused": lambda page: button(page, "Pause").click(),
}


HOLD = next(
    s for s in demo().sessions if any("hold" in str(row.dose) for row in s.rows) and s.version.name == "3.0"
)


def walk(page: Page) -> Iterator[str]:
    """Goes through every state of the screen. The clock runs: the axe rules are tried by timers of the page."""

    def on(wanted: Callable[[dict[str, Any]], bool]) -> None:
        number = next(n for n, one in enumerate(HOLD.segments) if n > current_line(page) and wanted(one))
        for _ in HOLD.segments:
            if current_line(page) < number:
                page.keyboard.press("ArrowRight")
        assert current_line(page) >= number

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
    button(page, "Pause").click()
    yield "paused"
    button(page, "Go on").click()
    page.evaluate("scrollTo(0, 0)")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    wishes(page)
    button(page, "At my own pace: I tap when done").click()
    yield "everything opened"
    page.locator(".wishes").evaluate("one => { one.open = false }")
    on(lambda one: bool(one["reps"]))
    forward(page, 660)
    yield "waiting for a tap for eleven minutes"
    button(page, "Done").click()
    yield "tapped"
    address = page.url
    page.goto("about:blank")
    forward(page, 90)
    page.goto(address)
    expect(page.get_by_text("You were away for")).to_be_visible()
    yield "found again after a while"
    other = page.context.new_page()
    other.goto(page.url)
    expect(other.locator(".elsewhere")).to_be_visible()
    assert violations(other) == []
    other.close()
    stop(page)
    yield "the form"
    page.get_by_role("button", name="7 very hard").click()
    page.evaluate(f"() => {{ {REFUSALS['the store is full'][0]} }}")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_role("button", name="Save as a file")).to_be_visible()
    yield "the form, refused"


@pytest.mark.parametrize(
    ("screen", "scheme"),
    every([(screen, scheme) for screen in ("phone", "on its side") for scheme in ("light", "dark")], few=2),
)
def test_no_rule_of_accessibility_is_broken_in_any_state(
    open_context: OpenContext, site_url: str, screen: str, scheme: str
) -> None:
    """The axe rules, from the start to the form; and nothing is wider than its place."""
    page = open_context(**SCREENS[screen], color_scheme=scheme, reduced_motion="reduce").new_page()
    page.clock.install()
    page.goto(site_url + HOLD.address)
    expect(page.get_by_role("button", name="Start the session")).to_be_visible()
    found = {}
    for state in walk(page):
        found[state] = violations(page)
        if page.locator(".guide").count():
            found[state] += page.evaluate(
                """[...document.querySelectorAll(".guide, .guide *, .order ol")]
                .filter((one) => one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== "inline"
                  && !one.matches(".sr")).map((one) => `wide: ${one.outerHTML.slice(0, 80)}`)"""
            )
    assert {state: broken for state, broken in found.items() if broken} == {}
    assert len(found) >= 14


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("screen", [*SCREENS, "narrow"])
def test_all_of_it_has_room(open_context: OpenContext, site_url: str, screen: str, state: str) -> None:
    """Nothing scrolls sideways, the buttons can be reached, and the current line can be seen.

    320 CSS pixels: WCAG 2.2, 1.4.10 Reflow. 24 pixels: WCAG 2.2, 2.5.8 Target Size (Minimum).
    """
    narrow = {"viewport": {"width": 320, "height": 640}}
    page = begin(open_context(**{**SCREENS, "narrow": narrow}[screen]), site_url)
    STATES[state](page)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    for name in ("Back", "Go on" if state == "paused" else "Pause", "Skip"):
        box = button(page, name).bounding_box()
        assert box
        assert min(box["width"], box["height"]) >= 24
        expect(button(page, name)).to_be_in_viewport()
    expect(page.locator(".guide .digits")).to_be_in_viewport(ratio=1)
    expect(page.locator(".guide h2")).to_be_in_viewport()
    boxes = [page.locator(f".guide {place}").bounding_box() for place in (".digits", "h2", ".keys")]
    tops = [box["y"] for box in boxes if box]
    assert tops == sorted(tops)


def test_digits_can_be_read_from_three_metres(open_context: OpenContext, site_url: str) -> None:
    """A phone of 360 pixels is about 65 mm wide, so a millimetre is 5.5 pixels.

    At 3 m the smallest letter that normal sight tells is 4.4 mm high: 5 minutes of arc (the definition of the
    Snellen and logMAR charts, from memory). Three times that is read at a glance (common practice, no source).
    """
    page = begin(open_context(**PHONE), site_url)
    size = float(page.locator(".guide .digits").evaluate("one => parseFloat(getComputedStyle(one).fontSize)"))
    capital = 0.7  # of the type size, in most faces
    assert size * capital / 5.5 >= 3 * 4.4


def test_a_reload_goes_on_where_the_clock_is(open_context: OpenContext, site_url: str) -> None:
    page = begin(open_context(**PHONE), site_url)
    to_segment(page, lambda one: one["kind"] == "rest")
    before = page.locator(".guide .next").inner_text()
    done = records(page)[0]["stations"]
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()
    assert page.locator(".guide .next").inner_text() == before
    assert records(page)[0]["stations"] == done
    button(page, "Pause").click()
    page.reload()
    expect(button(page, "Go on")).to_be_visible()


def test_what_is_done_and_how_it_felt_comes_into_the_log(open_context: OpenContext, site_url: str) -> None:
    page = begin(open_context(**PHONE), site_url)
    first = SESSION.segments[0]
    page.clock.run_for((LEAD + int(first["length"]) + 1) * 1000)
    [record] = records(page)
    assert [one["round"] for one in record["stations"]] == [1]
    assert record["ended"] is None
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert len(records(page)[0]["stations"]) == 1, "what is skipped is not done"
    stop(page)
    page.get_by_role("button", name="7 very hard").click()
    page.get_by_label("Note").fill("Wobbly, but <b>fine</b>.")
    page.get_by_role("button", name="Save", exact=True).click()
    page.wait_for_url("**/log/")
    [record] = records(page)
    assert (record["effort"], record["note"]) == (7, "Wobbly, but <b>fine</b>.")
    assert record["ended"] is not None
    assert not page.evaluate("Object.keys(localStorage).some((key) => key.startsWith('running '))")
    expect(page.get_by_text("Wobbly, but <b>fine</b>.").first).to_be_attached()


def test_back_from_the_form_goes_on_as_it_was(open_context: OpenContext, site_url: str) -> None:
    page = begin(open_context(**PHONE), site_url)
    button(page, "Pause").click()
    stop(page)
    page.get_by_role("button", name="Back to the session").click()
    expect(button(page, "Go on")).to_be_visible()


@pytest.mark.parametrize("refusal", REFUSALS)
def test_a_session_goes_on_and_can_be_saved_as_a_file_where(
    open_context: OpenContext, site_url: str, refusal: str
) -> None:
    script, _ = REFUSALS[refusal]
    context = open_context(**PHONE)
    context.add_init_script(f"{script};{script.replace('localStorage', 'sessionStorage')}")
    page = begin(context, site_url)
    first = SESSION.segments[0]
    page.clock.run_for((LEAD + int(first["length"]) + 1) * 1000)
    expect(page.locator(".guide [data-notices]")).to_contain_text("Save it as a file")
    stop(page)
    page.get_by_role("button", name="5 hard").click()
    page.get_by_role("button", name="Save", exact=True).click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
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
def test_a_session_runs_on_a_device_with(open_context: OpenContext, site_url: str, lack: str) -> None:
    context = open_context(**PHONE)
    context.add_init_script(LACKS[lack])
    page = begin(context, site_url)
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
    open_context: OpenContext, site_url: str
) -> None:
    context = open_context(**PHONE)
    context.add_init_script(STAND_INS)
    page = begin(context, site_url)
    page.clock.run_for((LEAD + 1) * 1000)
    name = SESSION.row(SESSION.segments[0]["station"]).name
    assert any(name in text for text in page.evaluate("said"))
    assert page.evaluate("shaken.length") >= 1
    assert page.evaluate("locks") == ["screen"]
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    page.wait_for_function("locks.filter((one) => one === 'screen').length === 2")
    wishes(page)
    for door in ("voice", "vibration"):
        page.get_by_label(door, exact=True).uncheck()
    before = page.evaluate("[said.length, shaken.length]")
    page.keyboard.press("ArrowRight")
    page.clock.run_for(1000)
    assert page.evaluate("[said.length, shaken.length]") == before
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()
    wishes(page)
    expect(page.get_by_label("voice", exact=True)).not_to_be_checked()
    stop(page)
    page.wait_for_function("locks.at(-1) === 'released'")


def test_two_tabs_never_run_one_session_side_by_side(open_context: OpenContext, site_url: str) -> None:
    context = open_context(**PHONE)
    one = begin(context, site_url)
    first = SESSION.segments[0]
    one.clock.run_for((LEAD + int(first["length"]) + 1) * 1000)
    other = context.new_page()
    other.goto(site_url + SESSION.address)
    expect(other.get_by_text("under way in another tab")).to_be_visible()
    expect(other.locator(".guide")).to_have_count(0)
    other.get_by_role("button", name="Go on here instead").click()
    expect(other.locator(".guide")).to_have_count(1)
    expect(one.get_by_text("goes on in another tab")).to_be_visible()
    expect(one.locator(".guide")).to_have_count(0)
    [record] = records(other)
    assert len(record["stations"]) >= 1, "nothing finished is lost"


def test_other_pages_lead_back_to_a_session_under_way(open_context: OpenContext, site_url: str) -> None:
    page = begin(open_context(**PHONE), site_url)
    page.goto(site_url)
    expect(page.get_by_text("A session is under way")).to_be_visible()
    page.get_by_role("link", name=SESSION.day.title).first.click()
    expect(page.locator(".guide .digits")).to_be_visible()


def test_a_session_left_for_a_day_is_over(open_context: OpenContext, site_url: str) -> None:
    """What was finished stays in the log, and the page is a page again."""
    page = begin(open_context(**PHONE), site_url)
    page.clock.run_for((LEAD + 1) * 1000)
    button(page, "Pause").click()
    page.goto("about:blank")
    page.clock.fast_forward(timedelta(days=1).total_seconds() * 1000)
    page.goto(site_url + SESSION.address)
    expect(page.get_by_role("button", name="Start the session")).to_be_visible()
    [record] = records(page)
    assert record["ended"] is not None


def test_paper_has_the_sheet_and_not_the_timer(open_context: OpenContext, site_url: str) -> None:
    page = begin(open_context(**PHONE), site_url)
    page.emulate_media(media="print")
    expect(page.locator(".guide")).to_be_hidden()
    expect(page.locator("table").first).to_be_visible()
