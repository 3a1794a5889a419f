"""A guided session on devices that lack, refuse or break what it would use, and what is told by which means."""

from itertools import pairwise
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.guided import (
    LEAD,
    NOON,
    Clockwork,
    begin,
    button,
    forward,
    longest,
    press,
    records,
    shown,
    soon,
    stand_still,
    start,
    stop,
    wishes,
)
from tests.samples import every, size

SESSION = longest()
CLOCKWORK = Clockwork(SESSION)
THROW = "() => { throw new DOMException('not here', 'NotAllowedError'); }"
REJECT = "() => Promise.reject(new DOMException('not here', 'NotAllowedError'))"
NAVIGATOR = "Object.defineProperty(Navigator.prototype, '{}', {{value: {}}});"
NO_VOICE = "delete window.speechSynthesis; delete window.SpeechSynthesisUtterance;"
NO_LOCKS = NAVIGATOR.format("locks", "undefined")
# One thing missing at a time is tried with the screens.
DEVICES = {
    "nothing": "".join(
        [
            NO_VOICE,
            "delete Navigator.prototype.vibrate; delete window.AudioContext;",
            NAVIGATOR.format("wakeLock", "undefined"),
            NO_LOCKS,
        ]
    ),
    "nothing but things that throw": "".join(
        [
            f"speechSynthesis.speak = speechSynthesis.cancel = Navigator.prototype.vibrate = {THROW};",
            f"window.AudioContext = class {{ constructor() {{ ({THROW})(); }} }};",
            NAVIGATOR.format("wakeLock", f"{{request: {THROW}}}"),
            f"if (window.LockManager) LockManager.prototype.request = {THROW};",
        ]
    ),
    "nothing but promises that are broken": "".join(
        [
            "Object.defineProperty(window, 'speechSynthesis', {value: undefined});",
            f"AudioContext.prototype.close = AudioContext.prototype.resume = {REJECT};",
            NAVIGATOR.format("wakeLock", f"{{request: {REJECT}}}"),
            f"if (window.LockManager) LockManager.prototype.request = {REJECT};",
        ]
    ),
    "sound that never begins, a screen that never sleeps": "".join(
        [
            "AudioContext.prototype.resume = () => new Promise(() => {});",
            "Object.defineProperty(AudioContext.prototype, 'state', {value: 'suspended'});",
            NAVIGATOR.format("wakeLock", f"{{request: async () => ({{release: {REJECT}}})}}"),
        ]
    ),
    "sound that breaks off": f"AudioContext.prototype.createOscillator = {THROW};",
    "sound that does not tell its time": "delete AudioContext.prototype.getOutputTimestamp;",
}
MISSING = {"nothing": {"voice", "sound"}, "nothing but promises that are broken": {"voice"}}


@pytest.mark.parametrize("device", DEVICES)
def test_a_session_runs_to_its_end_on_a_device_with(
    emptied_page: OpenPage, site_url: str, device: str
) -> None:
    page = emptied_page(**PHONE)
    with page.add_init_script(DEVICES[device]):
        led_to_the_log(page, site_url, MISSING.get(device, set()))


def led_to_the_log(page: Page, site_url: str, missing: set[str]) -> None:
    page.clock.install(time=NOON)
    page.clock.resume()
    page.goto(site_url + SESSION.address)
    start(page)
    stand_still(page)
    forward(page, LEAD + 1)
    press(button(page, "Pause"))
    at = shown(page)
    forward(page, 30)
    assert shown(page) == at
    press(button(page, "Go on"))
    firsts = {one["station"]: one for one in reversed(SESSION.work)}
    *work, after = sorted(firsts.values(), key=lambda one: one["start"])[:4]
    for one, then in pairwise(work):
        assert SESSION.row(one["station"]).name in shown(page).what
        forward(page, then["start"] - one["start"])
    page.reload()
    soon(lambda: comes_back(page))
    page.locator(".guide .digits").tap()
    assert SESSION.row(work[2]["station"]).name in shown(page).what
    forward(page, after["start"] - work[2]["start"])
    wishes(page)
    for name in ("sound", "voice", "vibration"):
        box = page.locator(f"input[name={name}]")
        if name in missing:
            expect(box).to_be_hidden()
    stop(page)
    press(page.get_by_role("button", name="3 moderate"))
    press(page.get_by_role("button", name="Save", exact=True))
    page.wait_for_url("**/log/")
    [record] = records(page)
    assert [one["exercise"] for one in record["stations"]] == [one["exercise"] for one in work]
    assert record["effort"] == 3


def comes_back(page: Page) -> bool:
    """Whether the session is there again. Without locks it waits a moment for another tab to speak up."""
    forward(page, 0.1)
    return page.locator(".guide .digits").is_visible()


NOTED = """
window.told = {sound: 0, voice: 0, vibration: 0};
const play = OscillatorNode.prototype.start;
OscillatorNode.prototype.start = function (...all) { told.sound += 1; return play.apply(this, all); };
Object.defineProperty(window, "speechSynthesis", {value: {cancel() {}, speak() { told.voice += 1; }}});
Navigator.prototype.vibrate = () => { told.vibration += 1; return true; };
"""


def told(page: Page) -> dict[str, int]:
    found: dict[str, int] = page.evaluate("({...told})")
    return found


def go_over_changes(page: Page) -> None:
    """Three segments on, with a touch so that the page may sound."""
    page.locator(".guide .digits").tap()
    for _ in range(3):
        page.keyboard.press("ArrowRight")
        forward(page, 8)


MEANS = ("sound", "voice", "vibration")


def only_the_others_tell(page: Page, name: str) -> None:
    before = told(page)
    go_over_changes(page)
    soon(lambda: [one for one, count in told(page).items() if count == before[one]] == [name])


def test_each_means_is_turned_off_stays_off_and_comes_back(emptied_page: OpenPage, site_url: str) -> None:
    """One after the other, in one session: the others tell meanwhile."""
    page = emptied_page(**PHONE)
    with page.add_init_script(NOTED):
        begin(page, site_url, SESSION)
        go_over_changes(page)
        soon(lambda: min(told(page).values()) > 0)
        for name in MEANS:
            wishes(page)
            page.get_by_label(name, exact=True).uncheck()
            only_the_others_tell(page, name)
            page.reload()
            expect(page.locator(".guide .digits")).to_be_visible()
            wishes(page)
            expect(page.get_by_label(name, exact=True)).not_to_be_checked()
            only_the_others_tell(page, name)
            # The device remembers all of them in one place.
            if name in every(MEANS, few=["voice"]):
                stop(page)
                press(page.get_by_role("button", name="Save", exact=True))
                page.wait_for_url("**/log/")
                page.goto(site_url + SESSION.address)
                start(page)
                wishes(page)
                expect(page.get_by_label(name, exact=True)).not_to_be_checked()
                only_the_others_tell(page, name)
            page.get_by_label(name, exact=True).check()
            before = told(page)[name]
            go_over_changes(page)
            soon(lambda name=name, before=before: told(page)[name] > before)


def test_a_pause_takes_back_what_would_have_been_heard(emptied_page: OpenPage, site_url: str) -> None:
    """Cues lie a minute and a half ahead on the audio clock; none of them may sound while it is paused."""
    page = emptied_page(**PHONE)
    with page.add_init_script(
        """window.cut = 0; window.ahead = 0;
        const off = GainNode.prototype.disconnect;
        GainNode.prototype.disconnect = function (...all) { cut += 1; return off.apply(this, all); };
        const play = OscillatorNode.prototype.start;
        OscillatorNode.prototype.start = function (...all) { ahead += 1; return play.apply(this, all); };"""
    ):
        begin(page, site_url, SESSION)
    page.locator(".guide .digits").tap()
    soon(lambda: page.evaluate("ahead") > 0)
    before = page.evaluate("[cut, ahead]")
    press(button(page, "Pause"))
    assert page.evaluate("cut") > before[0]
    forward(page, 60)
    assert page.evaluate("ahead") == before[1]
    press(button(page, "Go on"))
    soon(lambda: page.evaluate("ahead") > before[1])


HEARD = """() => { window.heard = []; new MutationObserver(() => { heard.push(live.textContent); })
  .observe(live, {childList: true, characterData: true, subtree: true}); }"""


def test_a_screen_reader_hears_each_change_once_and_nothing_between(
    emptied_page: OpenPage, site_url: str
) -> None:
    """Over some minutes, second by second, with a pause: one text a segment, in order."""
    end = size(420, few=240)
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    page.evaluate("window.live = document.querySelector('[data-live]')")
    page.evaluate(HEARD)
    first, segments = (
        page.locator("[data-live]").inner_text(),
        [one for one in SESSION.segments if one["start"] < end],
    )
    assert first.startswith("Get ready.")
    for _ in range(LEAD + 60):
        forward(page, 1)
    press(button(page, "Pause"))
    for _ in range(20):
        forward(page, 1)
    press(button(page, "Go on"))
    for _ in range(end - 60 - 1):
        forward(page, 1)
    heard: list[str] = page.evaluate("heard")
    assert heard.pop(1) == "Paused"
    again = heard.pop(1)
    assert again == heard[0], "going on says again where it stands"
    expected = [CLOCKWORK.face(one["start"]).what for one in segments]
    assert len(heard) == len(expected)
    for text, what in zip(heard, expected, strict=True):
        assert what in text
    assert not any("⁨" in text for text in heard)


def test_nothing_moves_but_the_digits_and_the_line(emptied_page: OpenPage, site_url: str) -> None:
    """With reduced motion asked for, and without: no style of the guided session animates anything."""
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    for motion in ("reduce", "no-preference"):
        page.emulate_media(reduced_motion=motion)
        page.reload()
        expect(page.locator(".guide .digits")).to_be_visible()
        for _ in range(4):
            page.keyboard.press("ArrowRight")
            moving: list[Any] = page.evaluate(
                """[document.getAnimations().length, ...[...document.querySelectorAll("main *, main")]
                .filter((one) => !/^(0s(, )?)+$/.test(getComputedStyle(one).transitionDuration)
                  || getComputedStyle(one).animationName !== "none").map((one) => one.outerHTML.slice(0, 80))]"""
            )
            assert moving == [0]
