"""One journey through the site in three engines: from the home page to the log, and on without a network."""

import json
import time
from datetime import timedelta

from PIL import Image, ImageChops

from tests.browser.demo import demo, kinds
from tests.browser.guided import longest
from tests.samples import in_turn

from .conftest import Begin, Visit

SESSION = longest()
DAY = SESSION.day.address
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def test_a_journey_from_home_to_the_log_and_without_a_network(begin: Begin) -> None:
    visit = begin()
    finds_what_is_on_today(visit)
    finds_the_day(visit)
    picks_week_and_level(visit)
    sees_figures_move(visit)
    trains(visit)
    saves_and_brings_back(visit)
    is_printed(visit)
    fits_a_narrow_phone(visit)
    visit.assert_quiet()
    works_with_the_server_gone(visit)


def finds_what_is_on_today(visit: Visit) -> None:
    """On a day that has a session: a first visit is asked for its level; then one tap leads to the session, where the next one starts it."""
    weekday = SESSION.day.plan["on"][0].split(" or ")[0]
    due = SESSION.version.starts + timedelta(weeks=SESSION.week - 1, days=WEEKDAYS.index(weekday))
    visit.go("")
    visit.set_date(due)
    visit.go("")
    card = f"[data-today][aria-label='Today: {demo().programmes[SESSION.version.programme]['title']}']"
    visit.tap(f"{card} .levels button", SESSION.level_name)
    visit.until(f"document.querySelector({json.dumps(card)} + ' .go a')")
    words = f"about {SESSION.minutes} min, up to {SESSION.by_hand} without the timer"
    assert visit.text(f"{card} .go a").split("\n")[0].startswith(f"Today: {SESSION.day.title}")
    assert words in visit.text(f"{card} .go a")
    visit.tap(f"{card} .go a")
    visit.until("location.pathname.endsWith(given[0])", SESSION.address)
    visit.settle()
    assert visit.text("[data-start]") == "Start the session"
    visit.set_date(None)
    visit.assert_quiet()


def finds_the_day(visit: Visit) -> None:
    visit.go("")
    assert visit.text("h1") == demo().club["club"]
    programme = SESSION.address.split("/")[0]
    visit.settle()
    visit.tap(f".programmes a[href='{programme}/']")
    visit.until(
        "document.querySelector('[data-phase]') && location.pathname.endsWith(given[0])", programme + "/"
    )
    visit.go(DAY)
    visit.until("document.querySelector('main.picked')")
    visit.assert_quiet()


def picks_week_and_level(visit: Visit) -> None:
    pick = """for (const [name, value] of Object.entries(given[0])) {
        const one = document.querySelector("form.pick").elements[name];
        one.value = [...one.options].find((option) => option.text.startsWith(value)).value;
        one.dispatchEvent(new Event("change", {bubbles: true}));
    }"""
    visit.run(pick, {"week": str(SESSION.week), "level": SESSION.level_name})
    shown = "[...document.querySelectorAll('.sessions li')].filter((one) => !one.hidden).map((one) => one.innerText)"
    [found] = visit.run(f"return {shown}")
    assert f"{SESSION.level_name}, week {SESSION.week}" in found
    visit.go(DAY)
    visit.until("document.querySelector('main.picked')")
    [found] = visit.run(f"return {shown}")
    assert SESSION.level_name in found, "the level is remembered"
    visit.run(pick, {"week": str(SESSION.week)})
    visit.assert_quiet()


FIRST = "[...document.querySelectorAll('.fig img')].find((one) => one.getClientRects().length && one.checkVisibility())"
OPEN = "for (const one of [...document.querySelectorAll('.seen')].slice(0, 2)) one.open = true;"
"""On a day page figures lie in rows, which are opened by a tap."""


def brings_a_figure(visit: Visit) -> None:
    visit.run(OPEN)
    visit.until(FIRST)
    visit.run(f"{FIRST}.scrollIntoView({{block: 'center'}})")
    visit.until(
        "[...document.querySelectorAll('.fig img')]"
        ".filter((one) => one.getClientRects().length && one.checkVisibility())"
        ".filter((one) => one.getBoundingClientRect().top < innerHeight && one.getBoundingClientRect().bottom > 0)"
        ".every((one) => one.complete && one.naturalWidth)"
    )


def moves(visit: Visit, first: Image.Image) -> bool:
    """Whether the first figure, which has looked like this, moves within two seconds."""
    for wait in (0.1, 0.4, 0.5, 1):
        time.sleep(wait)
        if ImageChops.difference(first, picture_of(visit, ".fig img")).getbbox():
            return True
    return False


def sees_figures_move(visit: Visit) -> None:
    brings_a_figure(visit)
    assert visit.run(f"return {FIRST}.className") == "moves"
    assert moves(visit, picture_of(visit, ".fig img"))


SLEEP = """if (document.querySelector('.guide').dataset.phase !== 'ready') return;
const own = Date.now;
Date.now = () => own() + given[0];"""
"""The device sleeps for so many milliseconds, as far as the page can tell: of the five seconds that lead in, four are over."""


def trains(visit: Visit) -> None:
    visit.tap(".sessions a", "Open the session")
    visit.until("document.querySelector('[data-start]:not([hidden],.yet)')")
    visit.settle()
    visit.run("document.querySelector('[data-start]').focus()")
    visit.driver.press("Enter")
    visit.until("document.querySelector('.guide .digits')?.innerText")
    sounds_or_says_so(visit)
    visit.run(SLEEP, 4000)
    visit.until("document.querySelector('.guide').dataset.phase === 'going'")
    before = visit.text(".guide .digits")
    visit.until("document.querySelector('.guide .digits').innerText !== given[0]", before)
    visit.driver.press(" ")
    visit.until("document.querySelector('[data-do=pause]').innerText === 'Go on'")
    visit.driver.press(" ")
    visit.until("document.querySelector('[data-do=pause]').innerText === 'Pause'")
    for _ in range(5):
        visit.driver.press("ArrowRight")
    here = visit.text(".guide h2")
    visit.go(SESSION.address)
    visit.until("document.querySelector('.guide h2')?.innerText === given[0]", here)
    # Full minutes and caps last as long as they are, so no number of skips leads to the end.
    visit.tap("[data-do=skip]")
    visit.until("document.querySelector('.guide h2').innerText !== given[0]", here)
    visit.tap("[data-stop]")
    visit.tap("dialog button", "I am done")
    visit.until("document.querySelector('.finish h2')?.innerText === 'Stopped'")
    visit.tap(".effort button", "4")
    visit.tap("button", "Save")
    visit.until("location.pathname.endsWith('/log/') && document.querySelector('.log-sessions h3')")
    assert SESSION.day.title in visit.text(".log-sessions")
    visit.assert_quiet()


def sounds_or_says_so(visit: Visit) -> None:
    """Where a machine has no device for sound, an engine may stay silent; then the page has to say so."""
    visit.until(
        "window.heard?.length && audio.state === 'running' "
        "|| document.querySelector('.says').innerText.includes('There is no sound just now')"
    )


CATCH = """URL.createObjectURL = (blob) => { window.saved = blob.text(); return "#"; };
HTMLAnchorElement.prototype.click = function () { window.savedAs = this.download; };"""
BRING = """const field = document.querySelector("input[type=file]"), files = new DataTransfer();
files.items.add(new File([given[0]], "log.json", {type: "application/json"}));
field.files = files.files;
field.dispatchEvent(new Event("change"));"""


def saves_and_brings_back(visit: Visit) -> None:
    """The file is caught on its way to the device, since each engine asks in its own way where to put it."""
    visit.run(CATCH)
    visit.tap("button", "Save as a file")
    assert visit.run("return savedAs").endswith(".json")
    text = visit.run("return saved")
    [session] = json.loads(text)["sessions"]
    assert session["effort"] == 4
    assert "Saved today" in visit.text("[data-saved]")
    visit.tap("button", "Delete the whole log")
    visit.tap("dialog button", "Delete everything")
    visit.until("document.body.innerText.includes('Nothing here yet')")
    visit.run(BRING, text)
    visit.until("document.querySelector('.said').innerText.startsWith('Brought in: 1 new')")
    assert SESSION.day.title in visit.text(".log-sessions")
    visit.assert_quiet()


# The rules for paper, as if the screen were one.
ON_PAPER = """for (const sheet of document.styleSheets) {
  const all = [...sheet.cssRules].flatMap((rule) => rule.styleSheet ? [...rule.styleSheet.cssRules] : [rule]);
  for (const rule of all) {
    if (!(rule instanceof CSSMediaRule)) continue;
    const text = rule.media.mediaText;
    if (/print/.test(text)) rule.media.mediaText = text.replace("print", "all");
    else if (/screen/.test(text)) rule.media.mediaText = "not all";
  }
}"""


def is_printed(visit: Visit) -> None:
    visit.go(SESSION.address)
    visit.run("for (const link of document.querySelectorAll('link[media=print]')) link.media = 'all'")
    visit.until("[...document.querySelectorAll('link[rel=stylesheet]')].every((link) => link.sheet)")
    visit.run(ON_PAPER)
    seen = """return Object.fromEntries(given[0].map((selector) =>
        [selector, Boolean(document.querySelector(selector).getClientRects().length)]))"""
    shown = ["table.block", ".stop", ".qr", ".done"]
    hidden = [".top", ".foot", ".tools", ".order"]
    assert visit.run(seen, shown + hidden) == {one: one in shown for one in shown + hidden}
    grounds = visit.run("return getComputedStyle(document.body).backgroundColor")
    assert grounds == "rgb(255, 255, 255)"


def fits_a_narrow_phone(visit: Visit) -> None:
    """Pages of every kind; without test-all each engine takes a third of the kinds."""
    narrow = [(kind, address) for kind, address in kinds().items() if kind != "missing"]
    for kind, address in in_turn(narrow, visit.turn, few=6):
        visit.driver.open_narrow(visit.url + address)
        visit.settle()
        width, whole = visit.run("return [innerWidth, document.documentElement.scrollWidth]")
        assert width == 360
        assert whole <= width, kind


def works_with_the_server_gone(visit: Visit) -> None:
    visit.go(SESSION.address.split("/")[0] + "/")
    visit.until("document.querySelector('.foot').innerText.includes('works without a network')")
    visit.end_server()
    visit.go(DAY)
    visit.until("document.querySelector('main.picked')")
    brings_a_figure(visit)
    visit.go(SESSION.address)
    visit.tap("[data-start]")
    visit.until("document.querySelector('.guide .digits')?.innerText")
    visit.go("log/")
    visit.until("document.querySelector('.log-sessions h3')")
    visit.go("no/such/page/")
    assert visit.text("h1") == "This page is not on this device"


def test_dark_and_still(begin: Begin) -> None:
    """Figures, ribbons and plots are light on dark; with reduced motion nothing moves. Figures and a ribbon are looked at in
    every engine; of the other pages each takes two."""
    visit = begin(dark=True, still=True)
    visit.go(DAY)
    visit.until("document.querySelector('main.picked')")
    brings_a_figure(visit)
    assert visit.run(f"return {FIRST}.className") in ("strip", "held")
    figure = picture_of(visit, ".fig img")
    assert not moves(visit, figure)
    assert_light_on_dark(figure, ".fig img")
    ribbon = ".sessions li:not([hidden]) .ribbon"
    assert_light_on_dark(picture_of(visit, ribbon), ribbon)
    looks = [("exercise", ".fig img"), ("session", ".ribbon"), ("figures", ".fig img"), ("numbers", ".plot")]
    for kind, selector in in_turn(looks, visit.turn, few=2):
        visit.go(kinds()[kind])
        visit.until("document.readyState === 'complete'")
        assert_light_on_dark(picture_of(visit, selector), selector)
    visit.go(kinds()["poster"])
    # A code is read by its dark squares, so its ground stays white.
    box = picture_of(visit, ".qr")
    assert box.getextrema() == (0, 255)
    assert box.getpixel((2, 2)) == 255
    visit.assert_quiet()


def picture_of(visit: Visit, selector: str) -> Image.Image:
    """The first such element that is shown, cut out of the picture of the page."""
    find = f"""const one = [...document.querySelectorAll({selector!r})]
        .find((one) => one.getClientRects().length && one.checkVisibility());"""
    visit.run(find + "one.scrollIntoView({block: 'center'})")
    visit.until(f"(() => {{ {find} return one.complete ?? true; }})()")
    left, top, right, bottom = visit.run(
        find
        + "const box = one.getBoundingClientRect(); return [box.left, box.top, Math.min(box.right, innerWidth), box.bottom]"
    )
    return visit.picture().crop((round(left), round(top), round(right), round(bottom)))


def assert_light_on_dark(part: Image.Image, selector: str) -> None:
    """WCAG 2.2, 1.4.11 Non-text Contrast wants 3 : 1; here half of the scale lies between ink and ground."""
    shades = sorted(part.tobytes())
    ground, ink = shades[len(shades) // 20], shades[-1]
    assert ground < 60, (selector, ground)
    assert ink > 180, (selector, ink)
