"""Sounds are on the beat whatever the device says of its audio clock, and come back after an interruption.

The page's clock stands still until a test moves it, and the audio clock is a stand-in that goes with it.
"""

from collections.abc import Callable, Iterator
from contextlib import ExitStack

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.guided import (
    begin,
    button,
    forward,
    longest,
    press,
    skip,
    soon,
    start,
    stop,
)
from tests.browser.loose import script, serve
from tests.samples import every

SESSION = longest()
NEAR = 0.05
"""Seconds by which a sound may be off."""
STAND_IN = """
window.sounds = new Set();
window.audio = {made: 0, resumed: 0, starts: true, type: "running", way: 0};
class Gain { gain = {value: 1, setValueAtTime() {}, linearRampToValueAtTime() {}};
  connect(to) { this.to = to; return to; } disconnect() { this.off = true; } }
window.AudioContext = class {
  state = "suspended"; destination = {}; gone = 0; stopped = null; onstatechange = null;
  constructor() { audio.made += 1; audio.context = this; this.born = performance.now(); }
  get currentTime() { return ((this.stopped ?? performance.now()) - this.born - this.gone) / 1000; }
  getOutputTimestamp() { return audio.stamp?.(this, this.currentTime, performance.now()) ?? {}; }
  async resume() { audio.resumed += 1; if (!audio.starts) return new Promise(() => {}); this.turn("running"); }
  async close() { this.turn("closed"); }
  turn(state) {
    if (state === this.state) return;
    if (state === "running") { if (this.stopped) this.gone += performance.now() - this.stopped; this.stopped = null; }
    else this.stopped ??= performance.now();
    this.state = state;
    this.onstatechange?.(new Event("statechange"));
  }
  createGain() { return new Gain(); }
  createOscillator() {
    const sound = {frequency: new Gain().gain, connect(to) { this.to = to; return to; },
      start: (at) => { sound.at = at; sound.now = this.currentTime; sounds.add(sound); }, stop(at) { this.end = at; },
      get off() { return this.to.to.off; }};
    return sound;
  }
};
"""
# What is heard from now on, by the wall clock. The second tone of a sound begins where its first one ends.
HEARD = """() => {
  const all = [...sounds].filter((one) => !one.off);
  const ends = new Set(all.map((one) => one.end));
  return all.filter((one) => !ends.has(one.at))
    .map((one) => Date.now() + (one.at + audio.way - audio.context.currentTime) * 1000).sort((a, b) => a - b);
}"""
STAMPS = {
    "nothing": "undefined",
    "zero": "() => ({contextTime: 0, performanceTime: 0})",
    # Seen in WebKitGTK 2.50.
    "ahead by the age of the context": (
        "(context, time, now) => ({contextTime: time - 0.003, performanceTime: now + time * 1000})"
    ),
    # Versions of Safari before 17.4 are said to have given these.
    "divided by the sample rate": (
        "(context, time, now) => ({contextTime: time / 44100, performanceTime: now})"
    ),
    "divided by the sample rate, both": (
        "(context, time, now) => ({contextTime: time / 44100, performanceTime: now / 44100})"
    ),
    "stuck": "(context, time, now) => (context.stuck ??= {contextTime: time, performanceTime: now - 40})",
    "stuck with a way to the ear": (
        "(context, time, now) => (context.stuck ??= {contextTime: time - 0.2, performanceTime: now})"
    ),
    "stuck audio time": (
        "(context, time, now) => ({contextTime: (context.stuck ??= time), performanceTime: now})"
    ),
    "stuck page time": (
        "(context, time, now) => ({contextTime: time, performanceTime: (context.stuck ??= now)})"
    ),
    "right": "(context, time, now) => ({contextTime: time - audio.way, performanceTime: now})",
}


Opened = Callable[..., Page]


@pytest.fixture
def with_stand_in(emptied_page: OpenPage) -> Iterator[Page]:
    """A page with a stand-in for the audio clock."""
    page = emptied_page(**PHONE)
    with page.add_init_script(STAND_IN):
        yield page


@pytest.fixture
def opened(with_stand_in: Page, site_url: str) -> Opened:
    """`opened(before="")`: the session under way, where reps are counted out, with stand-ins for both clocks.

    `before` is a script that says how the audio clock is when the session begins.
    """

    def open_(before: str = "") -> Page:
        page = with_stand_in
        with page.add_init_script(before):
            begin(page, site_url, SESSION)
        # The lead is skipped too.
        skip(page, COUNTED_AT + 1)
        serve(page, site_url)
        page.evaluate(DUE, {name: site_url + script(name) for name in ("order", "state", "cues")})
        page.unroute_all()
        return page

    return open_


COUNTED_AT = next(number for number, one in enumerate(SESSION.segments) if one["reps"])
COUNTED = float(SESSION.segments[COUNTED_AT]["start"])


# `due()`: when cues are due from now on, by the wall clock: what `cues` says, which has tests of its own.
DUE = """async (given) => {
  const { readOrder } = await import(given.order);
  const { ahead } = await import(given.state);
  const { cues } = await import(given.cues);
  const { plan, stations } = readOrder(document.querySelector("main"));
  window.due = () => {
    const kept = Object.entries(localStorage).find(([key]) => key.startsWith("running "))[1];
    const { events } = JSON.parse(kept);
    const now = Date.now(), until = now + 60000;
    return cues(plan, stations, ahead(plan, events, now, until), until, true).map((one) => one.at);
  };
}"""
BEAT = f"""() => ({{
  now: Date.now(), due: due(), heard: ({HEARD})(),
  past: [...sounds].filter((one) => one.at < one.now).map((one) => one.at),
}})"""


def assert_on_the_beat(page: Page) -> None:
    found = page.evaluate(BEAT)
    # No cue is within 50 ms of an end of the window; what counts down to a stretch beyond that minute is left out.
    window = (found["now"] + 150, found["now"] + 56_000)
    wanted = [at for at in found["due"] if window[0] < at < window[1]]
    heard = [at for at in found["heard"] if window[0] < at < window[1]]
    assert len(wanted) > 2
    assert heard == pytest.approx(wanted, abs=NEAR * 1000, rel=0), "every cue is planned once and in time"
    assert found["past"] == [], "none is put on a time that is over"


def go_on(page: Page, seconds: float) -> None:
    """Forward, and then two looks at the clock more: a quarter of a second is between them."""
    forward(page, seconds)
    forward(page, 0.3)
    forward(page, 0.3)


# Nothing, one that is right, and of those that are wrong one of each way to be so.
FEW_STAMPS = [
    "nothing",
    "ahead by the age of the context",
    "divided by the sample rate",
    "stuck with a way to the ear",
    "right",
]


@pytest.mark.parametrize("stamp", every(STAMPS, few=FEW_STAMPS))
def test_sounds_are_on_the_beat_where_the_device_tells(opened: Opened, stamp: str) -> None:
    page = opened(f"audio.stamp = {STAMPS[stamp]};")
    soon(lambda: page.evaluate("sounds.size") > 0)
    assert_on_the_beat(page)
    for seconds in (0.4, 1.5, 28, 90, 480):
        go_on(page, seconds)
        assert_on_the_beat(page)


def test_the_way_to_the_ear_is_taken_off_once_it_is_known(opened: Opened) -> None:
    """As with headphones without a wire: what is put on the audio clock is heard a fifth of a second later."""
    page = opened(f"audio.stamp = {STAMPS['right']}; audio.way = 0.2;")
    go_on(page, 3)
    assert_on_the_beat(page)
    page.evaluate("audio.way = 0")
    go_on(page, 1)
    assert_on_the_beat(page)


def place(kind: str) -> float:
    """Seconds into the running order, three before the end of a segment of some length."""
    one = next(
        one
        for one in SESSION.segments
        if one["kind"] == kind and one["length"] >= 15 and one["start"] > COUNTED
    )
    return float(one["start"] + one["length"] - 3)


SILENT = "There is no sound just now."


INTERRUPTIONS = [
    (seconds, kind, state)
    for seconds in (10, 120, 1200)
    for kind in ("rest", "work")
    for state in ("suspended", "interrupted")
]
# Each value once.
FEW_INTERRUPTIONS = [(10, "work", "suspended"), (120, "rest", "interrupted"), (1200, "work", "interrupted")]


@pytest.mark.parametrize(("seconds", "kind", "state"), every(INTERRUPTIONS, few=FEW_INTERRUPTIONS))
def test_after_an_interruption_sounds_are_planned_anew(
    opened: Opened, seconds: int, kind: str, state: str
) -> None:
    page = opened()
    go_on(page, place(kind) - COUNTED)
    notice = page.locator(".says", has_text=SILENT)
    expect(notice).to_be_hidden()
    page.evaluate("(state) => audio.context.turn(state)", state)
    expect(notice.get_by_role("button", name="Sound on")).to_be_visible()
    assert page.evaluate(HEARD) == [], "what was planned is taken off"
    go_on(page, seconds)
    assert page.evaluate(HEARD) == [], "nothing is put on a clock that stands"
    expect(notice).to_be_visible()
    page.evaluate("audio.context.turn('running')")
    expect(notice).to_be_hidden()
    assert_on_the_beat(page)


def test_an_audio_clock_that_stood_still_without_a_word_is_followed(opened: Opened) -> None:
    page = opened()
    go_on(page, 70)
    page.evaluate("audio.context.gone += 100")
    go_on(page, 1)
    assert_on_the_beat(page)


def test_the_button_of_the_notice_brings_the_sound_back(opened: Opened) -> None:
    """Also on devices that never answer the old context again after a call."""
    page = opened()
    go_on(page, 30)
    page.evaluate("audio.starts = false; audio.context.turn('interrupted')")
    go_on(page, 20)
    press(button(page, "Sound on"))
    expect(page.locator(".says", has_text=SILENT)).to_be_hidden()
    forward(page, 1.1)
    press(button(page, "Sound on"))
    assert page.evaluate("audio.made") == 2
    page.evaluate("audio.starts = true")
    forward(page, 1.1)
    press(button(page, "Sound on"))
    soon(lambda: page.evaluate("audio.context.state") == "running")
    expect(page.locator(".says", has_text=SILENT)).to_be_hidden()
    assert_on_the_beat(page)


def test_a_pause_is_kept_through_an_interruption(opened: Opened) -> None:
    page = opened()
    go_on(page, 30)
    press(button(page, "Pause"))
    page.evaluate("audio.context.turn('interrupted')")
    expect(page.locator(".says", has_text=SILENT)).to_be_visible()
    forward(page, 30)
    page.evaluate("audio.context.turn('running')")
    expect(page.locator(".says", has_text=SILENT)).to_be_hidden()
    assert page.evaluate(HEARD) == []
    press(button(page, "Go on"))
    soon(lambda: len(page.evaluate(HEARD)) > 0)


def test_a_device_that_stays_silent_says_so_after_a_second(opened: Opened) -> None:
    page = opened("audio.starts = false;")
    notice = page.locator(".says", has_text="silent switch")
    forward(page, 0.5)
    expect(notice).to_be_hidden()
    forward(page, 0.6)
    expect(notice.get_by_role("button", name="Sound on")).to_be_visible()
    page.locator(".wishes").evaluate("one => { one.open = true }")
    page.get_by_label("sound", exact=True).uncheck()
    expect(notice).to_be_hidden()


WOKEN = """() => {
  document.querySelector("[data-start]").click();
  return {made: audio.made, resumed: audio.resumed, spoken: spoken.length, kind: navigator.audioSession.type};
}"""
SPEECH = """window.spoken = [];
Object.defineProperty(window, "speechSynthesis", {value: {cancel() {}, speak(one) { spoken.push(one.text); }}});
Object.defineProperty(navigator, "audioSession", {value: {type: "auto"}});"""


def test_sound_and_voice_are_woken_within_the_handler_of_the_tap(with_stand_in: Page, site_url: str) -> None:
    """Before the lock, or anything else that takes a moment, is asked for."""
    page = with_stand_in
    with page.add_init_script(SPEECH):
        page.goto(site_url + SESSION.address)
    expect(page.get_by_role("button", name="Start the session")).to_be_visible()
    page.locator("h1").tap()
    found = page.evaluate(WOKEN)
    assert found == {"made": 1, "resumed": 1, "spoken": 1, "kind": "playback"}
    expect(page.locator(".guide .digits")).to_be_visible()
    page.locator(".wishes").evaluate("one => { one.open = true }")
    stop(page)
    press(page.get_by_role("button", name="Save", exact=True))
    page.wait_for_url("**/log/")


def test_who_wants_no_sound_gets_no_context(with_stand_in: Page, site_url: str) -> None:
    page = with_stand_in
    home = "/" + site_url.split("/", 3)[3]
    page.evaluate("(key) => localStorage.setItem(key, '{\"sound\":false}')", f"settings {home}")
    page.goto(site_url + SESSION.address)
    start(page)
    press(button(page, "Pause"))
    assert page.evaluate("audio.made") == 0
    page.locator(".wishes").evaluate("one => { one.open = true }")
    page.get_by_label("sound", exact=True).check()
    assert page.evaluate("audio.made") == 1


def test_what_mutes_a_phone_is_said_until_a_session_has_begun(emptied_page: OpenPage, site_url: str) -> None:
    page = emptied_page(**PHONE)
    page.goto(site_url + SESSION.address)
    words = page.get_by_text("the silent switch of the phone off")
    expect(words).to_be_visible()
    start(page)
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()
    expect(words).to_have_count(0)
    page.goto(site_url + SESSION.address.replace("week-3", "week-2"))
    expect(page.locator("h1")).to_be_visible()
    expect(words).to_have_count(0)


AWAKE = {
    "none": "Object.defineProperty(Navigator.prototype, 'wakeLock', {value: undefined});",
    "one that refuses": (
        "Object.defineProperty(Navigator.prototype, 'wakeLock', "
        "{value: {request: () => Promise.reject(new DOMException('no', 'NotAllowedError'))}});"
    ),
}


@pytest.fixture
def with_lock(emptied_page: OpenPage) -> Iterator[Callable[[str], Page]]:
    """`with_lock(script)`: a page whose lock of the screen is what the script makes of it."""
    page = emptied_page(**PHONE)
    with ExitStack() as given:

        def open_(script: str) -> Page:
            given.enter_context(page.add_init_script(script))
            return page

        yield open_


@pytest.mark.parametrize("lock", AWAKE)
def test_where_the_screen_may_go_dark_it_is_said_once_how_to_keep_it(
    with_lock: Callable[[str], Page], site_url: str, lock: str
) -> None:
    page = with_lock(AWAKE[lock])
    begin(page, site_url, SESSION)
    notice = page.locator(".says", has_text="This screen may go dark by itself")
    expect(notice).to_be_visible()
    press(button(page, "OK"))
    expect(notice).to_be_hidden()
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()
    forward(page, 1)
    expect(notice).to_be_hidden()


def test_the_lock_of_the_screen_is_taken_again_after_coming_back(
    with_lock: Callable[[str], Page], site_url: str
) -> None:
    page = with_lock(
        """window.taken = 0;
        const locks = {request: async () => { taken += 1; return {release: async () => {}}; }};
        Object.defineProperty(Navigator.prototype, "wakeLock", {value: locks});"""
    )
    begin(page, site_url, SESSION)
    soon(lambda: page.evaluate("taken") == 1)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    soon(lambda: page.evaluate("taken") == 2)
    expect(page.locator(".says", has_text="go dark")).to_be_hidden()
