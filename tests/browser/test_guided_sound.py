"""Sounds are on the beat whatever the device says of its audio clock, and come back after an interruption.

The page's clock stands still until a test moves it, and the audio clock is a stand-in that goes with it.
"""

from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import PHONE, OpenContext
from tests.browser.guided import NOON, begin, button, forward, longest, skip, soon, stand_still, start, stop
from tests.browser.loose import script, serve

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
    "stuck audio time": (
        "(context, time, now) => ({contextTime: (context.stuck ??= time), performanceTime: now})"
    ),
    "stuck page time": (
        "(context, time, now) => ({contextTime: time, performanceTime: (context.stuck ??= now)})"
    ),
    "right": "(context, time, now) => ({contextTime: time - audio.way, performanceTime: now})",
}


def opened(context: BrowserContext, site_url: str, before: str = "") -> Page:
    """The session under way, where reps are counted out, with stand-ins for both clocks."""
    context.add_init_script(STAND_IN + before)
    page = begin(context, site_url, SESSION)
    counted = next(number for number, one in enumerate(SESSION.segments) if one["reps"])
    page.keyboard.press("ArrowRight")
    skip(page, counted)
    return page


COUNTED = next(float(one["start"]) for one in SESSION.segments if one["reps"])


def expected(page: Page, site_url: str) -> list[float]:
    """When cues are due from now on, by the wall clock: what `cues` says, which has tests of its own."""
    serve(page, site_url)
    modules = {name: site_url + script(name) for name in ("order", "state", "cues")}
    found: list[float] = page.evaluate(
        """async (given) => {
          const { readOrder } = await import(given.order);
          const { ahead } = await import(given.state);
          const { cues } = await import(given.cues);
          const { plan, stations } = readOrder(document.querySelector("main"));
          const kept = Object.entries(localStorage).find(([key]) => key.startsWith("running "))[1];
          const { events } = JSON.parse(kept);
          const now = Date.now(), until = now + 60000;
          return cues(plan, stations, ahead(plan, events, now, until), until, true)
            .map((one) => one.at);
        }""",
        modules,
    )
    return found


def assert_on_the_beat(page: Page, site_url: str) -> None:
    now = page.evaluate("Date.now()")
    # No cue is within 50 ms of an end of the window; what counts down to a stretch beyond that minute is left out.
    window = (now + 150, now + 56_000)
    wanted = [at for at in expected(page, site_url) if window[0] < at < window[1]]
    heard = [at for at in page.evaluate(HEARD) if window[0] < at < window[1]]
    assert len(wanted) > 2
    assert heard == pytest.approx(wanted, abs=NEAR * 1000, rel=0), "every cue is planned once and in time"
    past: list[Any] = page.evaluate("[...sounds].filter((one) => one.at < one.now).map((one) => one.at)")
    assert past == [], "none is put on a time that is over"


def go_on(page: Page, seconds: float) -> None:
    """Forward, and then two looks at the clock more: a quarter of a second is between them."""
    forward(page, seconds)
    forward(page, 0.3)
    forward(page, 0.3)


@pytest.mark.parametrize("stamp", STAMPS)
def test_sounds_are_on_the_beat_where_the_device_tells(
    open_context: OpenContext, site_url: str, stamp: str
) -> None:
    page = opened(open_context(**PHONE), site_url, f"audio.stamp = {STAMPS[stamp]};")
    soon(lambda: page.evaluate("sounds.size") > 0)
    assert_on_the_beat(page, site_url)
    for seconds in (0.4, 1.5, 28, 90, 480):
        go_on(page, seconds)
        assert_on_the_beat(page, site_url)


def test_the_way_to_the_ear_is_taken_off_once_it_is_known(open_context: OpenContext, site_url: str) -> None:
    """As with headphones without a wire: what is put on the audio clock is heard a fifth of a second later."""
    page = opened(open_context(**PHONE), site_url, f"audio.stamp = {STAMPS['right']}; audio.way = 0.2;")
    go_on(page, 3)
    assert_on_the_beat(page, site_url)
    page.evaluate("audio.way = 0")
    go_on(page, 1)
    assert_on_the_beat(page, site_url)


def place(kind: str) -> float:
    """Seconds into the running order, three before the end of a segment of some length."""
    one = next(
        one
        for one in SESSION.segments
        if one["kind"] == kind and one["length"] >= 15 and one["start"] > COUNTED
    )
    return float(one["start"] + one["length"] - 3)


SILENT = "There is no sound just now."


@pytest.mark.parametrize("state", ["suspended", "interrupted"])
@pytest.mark.parametrize("kind", ["rest", "work"])
@pytest.mark.parametrize("seconds", [10, 120, 1200])
def test_after_an_interruption_sounds_are_planned_anew(
    open_context: OpenContext, site_url: str, seconds: int, kind: str, state: str
) -> None:
    page = opened(open_context(**PHONE), site_url)
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
    assert_on_the_beat(page, site_url)


def test_an_audio_clock_that_stood_still_without_a_word_is_followed(
    open_context: OpenContext, site_url: str
) -> None:
    page = opened(open_context(**PHONE), site_url)
    go_on(page, 70)
    page.evaluate("audio.context.gone += 100")
    go_on(page, 1)
    assert_on_the_beat(page, site_url)


def test_the_button_of_the_notice_brings_the_sound_back(open_context: OpenContext, site_url: str) -> None:
    """Also on devices that never answer the old context again after a call."""
    page = opened(open_context(**PHONE), site_url)
    go_on(page, 30)
    page.evaluate("audio.starts = false; audio.context.turn('interrupted')")
    go_on(page, 20)
    button(page, "Sound on").tap()
    expect(page.locator(".says", has_text=SILENT)).to_be_hidden()
    forward(page, 1.1)
    button(page, "Sound on").tap()
    assert page.evaluate("audio.made") == 2
    page.evaluate("audio.starts = true")
    forward(page, 1.1)
    button(page, "Sound on").tap()
    soon(lambda: page.evaluate("audio.context.state") == "running")
    expect(page.locator(".says", has_text=SILENT)).to_be_hidden()
    assert_on_the_beat(page, site_url)


def test_a_pause_is_kept_through_an_interruption(open_context: OpenContext, site_url: str) -> None:
    page = opened(open_context(**PHONE), site_url)
    go_on(page, 30)
    button(page, "Pause").tap()
    page.evaluate("audio.context.turn('interrupted')")
    expect(page.locator(".says", has_text=SILENT)).to_be_visible()
    forward(page, 30)
    page.evaluate("audio.context.turn('running')")
    expect(page.locator(".says", has_text=SILENT)).to_be_hidden()
    assert page.evaluate(HEARD) == []
    button(page, "Go on").tap()
    soon(lambda: len(page.evaluate(HEARD)) > 0)


def test_a_device_that_stays_silent_says_so_after_a_second(open_context: OpenContext, site_url: str) -> None:
    page = opened(open_context(**PHONE), site_url, "audio.starts = false;")
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


def test_sound_and_voice_are_woken_within_the_handler_of_the_tap(
    open_context: OpenContext, site_url: str
) -> None:
    """Before the lock, or anything else that takes a moment, is asked for."""
    context = open_context(**PHONE)
    context.add_init_script(STAND_IN + SPEECH)
    page = context.new_page()
    page.goto(site_url + SESSION.address)
    expect(page.get_by_role("button", name="Start the session")).to_be_visible()
    page.locator("h1").tap()
    found = page.evaluate(WOKEN)
    assert found == {"made": 1, "resumed": 1, "spoken": 1, "kind": "playback"}
    expect(page.locator(".guide .digits")).to_be_visible()
    page.locator(".wishes").evaluate("one => { one.open = true }")
    stop(page)
    page.get_by_role("button", name="Save", exact=True).tap()
    page.wait_for_url("**/log/")


def test_who_wants_no_sound_gets_no_context(open_context: OpenContext, site_url: str) -> None:
    context = open_context(**PHONE)
    context.add_init_script(STAND_IN)
    page = context.new_page()
    page.goto(site_url)
    home = "/" + site_url.split("/", 3)[3]
    page.evaluate("(key) => localStorage.setItem(key, '{\"sound\":false}')", f"settings {home}")
    page.goto(site_url + SESSION.address)
    start(page)
    button(page, "Pause").tap()
    assert page.evaluate("audio.made") == 0
    page.locator(".wishes").evaluate("one => { one.open = true }")
    page.get_by_label("sound", exact=True).check()
    assert page.evaluate("audio.made") == 1


def test_what_mutes_a_phone_is_said_until_a_session_has_begun(
    open_context: OpenContext, site_url: str
) -> None:
    page = open_context(**PHONE).new_page()
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


@pytest.mark.parametrize("lock", AWAKE)
def test_where_the_screen_may_go_dark_it_is_said_once_how_to_keep_it(
    open_context: OpenContext, site_url: str, lock: str
) -> None:
    context = open_context(**PHONE)
    context.add_init_script(AWAKE[lock])
    page = context.new_page()
    page.clock.install(time=NOON)
    page.goto(site_url + SESSION.address)
    start(page)
    stand_still(page)
    notice = page.locator(".says", has_text="This screen may go dark by itself")
    expect(notice).to_be_visible()
    button(page, "OK").tap()
    expect(notice).to_be_hidden()
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()
    forward(page, 1)
    expect(notice).to_be_hidden()


def test_the_lock_of_the_screen_is_taken_again_after_coming_back(
    open_context: OpenContext, site_url: str
) -> None:
    context = open_context(**PHONE)
    context.add_init_script(
        """window.taken = 0;
        const locks = {request: async () => { taken += 1; return {release: async () => {}}; }};
        Object.defineProperty(Navigator.prototype, "wakeLock", {value: locks});"""
    )
    page = begin(context, site_url, SESSION)
    soon(lambda: page.evaluate("taken") == 1)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    soon(lambda: page.evaluate("taken") == 2)
    expect(page.locator(".says", has_text="go dark")).to_be_hidden()
