"""Nothing finished is lost: killed tabs, stores that are emptied, full or foreign, other plans, two tabs."""

import json
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import NO_WORKER, PHONE, OpenContext, OpenPage
from tests.browser.guided import (
    LEAD,
    NOON,
    Clockwork,
    begin,
    button,
    current_line,
    forward,
    longest,
    press,
    records,
    running,
    shown,
    start,
    stop,
)
from tests.browser.test_log_records import FILL, kill_pages, opened_after
from tests.samples import every

SESSION = longest()
CLOCKWORK = Clockwork(SESSION)
# Two stations are finished and the third is under way.
THIRD = SESSION.row(CLOCKWORK.segments[4]["station"])
MOMENT = CLOCKWORK.segments[4]["start"] + 10
DONE = [(SESSION.row(one["station"]).name, 1) for one in (CLOCKWORK.segments[0], CLOCKWORK.segments[2])]


def done(page: Page) -> list[tuple[str, int]]:
    """Name and round of every bout in the log."""
    return [(one["name"], one["round"]) for record in records(page) for one in record["stations"]]


def two_done(where: BrowserContext | Page, site_url: str) -> Page:
    page = begin(where, site_url, SESSION)
    forward(page, LEAD + CLOCKWORK.segments[2]["start"])
    forward(page, MOMENT - CLOCKWORK.segments[2]["start"])
    assert done(page) == DONE
    return page


@dataclass(frozen=True)
class Kept:
    """What a device keeps, and the time of its clock."""

    store: dict[str, str]
    now: float

    def running(self) -> dict[str, Any]:
        """The session under way."""
        [text] = [text for key, text in self.store.items() if key.startswith("running ")]
        found: dict[str, Any] = json.loads(text)
        return found

    def on(self, page: Page, name: str = "", value: Any = None) -> None:
        """Put onto the device of a page that shows another file of the site, with a key of the session under way that
        has become something else."""
        page.clock.install(time=NOON)
        page.clock.pause_at(self.now / 1000)
        page.evaluate(
            """([store, name, value]) => { for (const [key, text] of Object.entries(store)) {
            const changed = name && key.startsWith("running ");
            localStorage.setItem(key, changed ? JSON.stringify({...JSON.parse(text), [name]: value}) : text); } }""",
            [self.store, name, value],
        )


@pytest.fixture(scope="module")
def kept(browser: Browser, site_url: str) -> Kept:
    """Of a session that was left when two stations were finished and the third was under way."""
    context = browser.new_context(**PHONE, **NO_WORKER)
    page = two_done(context, site_url)
    now = page.evaluate("Date.now()")
    page.goto(f"{site_url}offline.json")
    store = page.evaluate("({...localStorage})")
    context.close()
    return Kept(store, now)


def again(page: Page) -> None:
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()


def finish(page: Page) -> None:
    """To the form, and saved without a word."""
    stop(page)
    press(page.get_by_role("button", name="Save", exact=True))
    page.wait_for_url("**/log/")


def test_a_tab_that_is_killed_in_the_middle_of_a_station_is_found_again_there(
    own_browser: Browser, site_url: str
) -> None:
    context = own_browser.new_context(**PHONE, **NO_WORKER)
    page = two_done(context, site_url)
    before, started = records(page), running(page)
    assert started
    with page.expect_event("crash"):
        kill_pages(own_browser)
    page = opened_after(context, site_url)
    assert records(page) == before
    expect(page.get_by_text("A session is under way")).to_be_visible()
    page.goto(site_url + SESSION.address)
    expect(page.locator(".guide .digits")).to_be_visible()
    assert THIRD.name in shown(page).what
    assert done(page) == DONE
    assert records(page)[0]["id"] == before[0]["id"]
    finish(page)
    assert done(page) == DONE


def test_a_store_that_is_emptied_in_the_middle_has_everything_again_with_the_next_set(
    emptied_page: OpenPage, site_url: str
) -> None:
    page = two_done(emptied_page(**PHONE), site_url)
    page.evaluate("localStorage.clear()")
    forward(page, 60)
    assert running(page), "where it stands is kept again"
    page.keyboard.press("ArrowRight")
    finish(page)
    assert done(page)[:2] == DONE


def test_a_full_store_loses_neither_what_is_done_nor_where_it_stands(
    emptied_page: OpenPage, site_url: str
) -> None:
    page = two_done(emptied_page(**PHONE), site_url)
    page.evaluate(FILL)
    turn = next(
        n
        for n, one in enumerate(SESSION.segments)
        if n > 4 and one["kind"] == "work" and one["station"] != SESSION.segments[4]["station"]
    )
    forward(page, SESSION.segments[turn]["start"] - MOMENT + 2)
    expect(page.locator(".guide [data-notices]")).to_contain_text("store is full")
    press(button(page, "Pause"))
    assert done(page) == DONE, "the device has not taken the third"
    again(page)
    assert shown(page).count == "Paused", "though the device could not be told"
    assert current_line(page) == turn
    page.evaluate(
        "Object.keys(localStorage).filter((key) => !/^(log|running) /.test(key)).forEach((key) => localStorage.removeItem(key))"
    )
    press(button(page, "Go on"))
    forward(page, 6)
    finish(page)
    assert done(page)[:3] == [*DONE, (THIRD.name, 1)]


FOREIGN: dict[str, str] = {
    "nothing": "",
    "half of it": '{"address":"',
    "null": "null",
    "a number": "5",
    "a list": "[]",
    "an empty object": "{}",
    "a text": '"going"',
}


@pytest.mark.parametrize("value", every(FOREIGN, few=["half of it", "null"]))
def test_a_session_can_be_begun_where_what_was_kept_is(
    emptied_page: OpenPage, site_url: str, value: str
) -> None:
    page = emptied_page(**PHONE)
    home = "/" + site_url.split("/", 3)[3]
    page.evaluate("(one) => localStorage.setItem(...one)", [f"running {home}", FOREIGN[value]])
    page.goto(site_url)
    page.goto(site_url + SESSION.address)
    start(page)
    expect(page.locator(".guide")).to_have_attribute("data-phase", "ready")


START = {"type": "start", "at": 1, "pace": "paced"}
PLACE = {"type": "place", "at": 1, "index": 0, "into": 0, "kept": 0}
# What another build, another program or a damaged store may have made of a session under way, and whether it is
# still one: text, a fault in one of its keys, another type of event.
DAMAGES: dict[str, tuple[str, Any]] = {
    "no events": ("events", None),
    "no start among the events": ("events", [{"type": "pause", "at": 1}]),
    "events without times": ("events", [{"type": "start", "at": None}]),
    "events of no kind": ("events", [5, "x", None]),
    "more events than anybody taps": ("events", [START, *({"type": "skip", "at": 1} for _ in range(10_000))]),
    "a time between two milliseconds": ("events", [START | {"at": 1.5}]),
    "a time past every date": ("events", [START | {"at": 1e300}]),
    "a place before the first": ("events", [START, PLACE | {"index": -1}]),
    "a place that is none": ("events", [START, PLACE | {"index": "A1"}]),
    "fewer bouts than none": ("events", [START, PLACE | {"kept": -1}]),
    "a time within a place that is none": ("events", [START, PLACE | {"into": None}]),
    "a pace of no kind": ("events", [START | {"pace": ["own"]}]),
    "a way that is no text": ("events", [START, {"type": "way", "at": 1, "station": "A1", "way": {}}]),
    "no time seen": ("seen", "yesterday"),
    "a time seen past every date": ("seen", 1e300),
    "no record": ("record", None),
    "a record that is a text": ("record", "all of it"),
    "a record of a later format": ("record", {"v": 99, "ended": None}),
    "a record without stations": ("record", {"v": 1, "id": "x", "ended": None}),
    "another plan": ("plan", "0000-0000-0000"),
    "no plan": ("plan", None),
}


# One of each key, and of an event one that is none and one that says what cannot be.
FEW = [
    "events of no kind",
    "a place that is none",
    "a time seen past every date",
    "a record without stations",
    "no plan",
]


@pytest.mark.parametrize("damage", every(DAMAGES, few=FEW))
def test_what_cannot_be_gone_on_with_is_said_and_nothing_finished_is_lost(
    emptied_page: OpenPage, site_url: str, kept: Kept, damage: str
) -> None:
    page = emptied_page(**PHONE)
    kept.on(page, *DAMAGES[damage])
    page.goto(site_url + SESSION.address)
    expect(page.get_by_role("button", name="Start the session")).to_be_visible()
    if damage != "no record":
        expect(page.locator(".elsewhere")).to_contain_text("What you finished is in your log")
    assert done(page) == DONE
    start(page)
    assert len(records(page)) == 2
    assert done(page) == DONE


def test_unknown_events_of_a_later_build_are_passed_over(
    emptied_page: OpenPage, site_url: str, kept: Kept
) -> None:
    page = emptied_page(**PHONE)
    going = kept.running()
    more = [{"type": type_, "at": going["seen"]} for type_ in ("applause", "toString")]
    kept.on(page, "events", [*going["events"], *more])
    page.goto(site_url + SESSION.address)
    expect(page.locator(".guide .digits")).to_be_visible()
    assert shown(page) == CLOCKWORK.face(MOMENT)


def test_another_plan_under_the_same_address_begins_anew_and_keeps_what_was_done(
    emptied_page: OpenPage, built_site: Path, site_url: str
) -> None:
    page = two_done(emptied_page(**PHONE), site_url)
    text = (built_site / SESSION.address / "index.html").read_text(encoding="utf-8")
    other, changed = re.subn(r'data-plan="[^"]+"', 'data-plan="ffff-ffff-ffff"', text)
    assert changed == 1
    lines = re.findall(r"<li data-s=.*?</li>\n", other)
    other = other.replace("".join(lines[:4]), "")
    page.route(site_url + SESSION.address, lambda route: route.fulfill(body=other, content_type="text/html"))
    page.reload()
    expect(page.locator(".elsewhere")).to_contain_text("What you finished is in your log")
    expect(page.locator(".guide")).to_have_count(0)
    [record] = records(page)
    assert record["ended"] is not None
    assert done(page) == DONE
    assert running(page) is None, "no page leads back to it"
    page.goto(site_url)
    expect(page.get_by_text("A session is under way")).to_have_count(0)


NO_LOCKS = "Object.defineProperty(Navigator.prototype, 'locks', {value: undefined});"


def test_without_locks_too_two_tabs_never_lead_one_session(open_context: OpenContext, site_url: str) -> None:
    """As on a host without https. What the first has done, the second has; and the other way round."""
    context = open_context(**PHONE, reduced_motion="reduce")
    context.add_init_script(NO_LOCKS)
    one = context.new_page()
    one.goto(site_url + SESSION.address)
    start(one)
    other = context.new_page()
    other.goto(site_url + SESSION.address)
    expect(other.get_by_text("under way in another tab")).to_be_visible()
    expect(other.locator(".guide")).to_have_count(0)
    press(other.get_by_role("button", name="Go on here instead"))
    expect(other.locator(".guide .digits")).to_be_visible()
    expect(one.get_by_text("goes on in another tab")).to_be_visible()
    expect(one.locator(".guide")).to_have_count(0)
    press(one.get_by_role("button", name="Go on here instead"))
    expect(one.locator(".guide .digits")).to_be_visible()
    expect(other.locator(".guide")).to_have_count(0)
    assert len(records(one)) == 1
    left = one.evaluate("Object.keys(localStorage).filter((key) => key.startsWith('lock '))")
    assert left == []


def test_what_a_tab_finished_before_another_took_over_is_kept_with_what_came_after(
    emptied_page: OpenPage, site_url: str
) -> None:
    one = two_done(emptied_page(**PHONE), site_url)
    other = one.context.new_page()
    other.goto(site_url + SESSION.address)
    press(other.get_by_role("button", name="Go on here instead"))
    expect(other.locator(".guide .digits")).to_be_visible()
    expect(one.locator(".guide")).to_have_count(0)
    assert done(other) == DONE
    assert THIRD.name in shown(other).what
    forward(
        other,
        next(x for x in SESSION.segments[5:] if x["station"] != SESSION.segments[4]["station"])["start"]
        - MOMENT,
    )
    finish(other)
    assert done(other)[:3] == [*DONE, (THIRD.name, 1)]
    assert len(records(other)) == 1


def test_a_set_that_another_tab_wrote_into_the_record_stays_in_it(
    emptied_page: OpenPage, site_url: str
) -> None:
    """Two tabs that know nothing of each other, however that came about."""
    page = two_done(emptied_page(**PHONE), site_url)
    page.evaluate(
        """() => { for (const key of Object.keys(localStorage)) if (key.startsWith("log ")) {
        const record = JSON.parse(localStorage.getItem(key));
        record.stations.push({...record.stations[0], name: "Of the other tab", round: 9});
        localStorage.setItem(key, JSON.stringify(record)); } }"""
    )
    for number in (5, 6, 7, 8, 9, 10, 11):
        forward(page, SESSION.segments[number]["start"] - SESSION.segments[number - 1]["start"])
    assert ("Of the other tab", 9) in done(page)
    assert [one for one in done(page) if one[1] != 9][:3] == [*DONE, (THIRD.name, 1)]
    writes = page.evaluate(
        """() => { window.writes = 0; const set = Storage.prototype.setItem;
        Storage.prototype.setItem = function (key, ...all) { if (key.startsWith("log ")) writes += 1;
          return set.call(this, key, ...all); }; return writes; }"""
    )
    for _ in range(4):
        forward(page, 1)
    assert page.evaluate("writes") == writes, "nothing is written where nothing was finished"


def test_a_foreign_record_in_the_kept_session_is_shown_as_text(
    emptied_page: OpenPage, site_url: str, kept: Kept
) -> None:
    """The way back on other pages names the session by what the store says."""
    page = emptied_page(**PHONE)
    name = "<img src=x onerror=alert(1)>"
    kept.on(page, "record", kept.running()["record"] | {"title": name})
    page.goto(f"{site_url}about/")
    expect(page.get_by_role("link", name=name)).to_be_visible()
    expect(page.locator("img[onerror]")).to_have_count(0)
