"""A guided session by mouse, by touch, by keys and by a switch, from its start until it is saved."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import DESKTOP, PHONE, OpenPage
from tests.browser.demo import Session, demo
from tests.browser.guided import (
    LEAD,
    NOON,
    Clockwork,
    begin,
    button,
    current_line,
    forward,
    press,
    records,
    shown,
    skip,
    stand_still,
    stop,
    wishes,
)
from tests.samples import ALL, every

TREE = demo()
Press = Callable[[Locator], None]


def mouse(target: Locator) -> None:
    target.click()


def touch(target: Locator) -> None:
    target.tap()


# How many stops away it may be; where it is fewer, because some are no stops, the way once around leads there too.
AWAY = """one => {
  const stops = [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex]")]
    .filter((other) => other.checkVisibility() && other.tabIndex >= 0 && !other.disabled);
  return Math.max(0, stops.indexOf(one) - stops.indexOf(document.activeElement));
}"""


def reached(target: Locator, most: int = 80) -> None:
    """Goes to it as a switch does: one key, forwards. It is looked where that has led when it may be near."""
    target.wait_for()
    for _ in range(target.evaluate(AWAY) - 2):
        target.page.keyboard.press("Tab")
    for _ in range(most):
        if target.evaluate("one => one === document.activeElement"):
            return
        target.page.keyboard.press("Tab")
    raise AssertionError(f"{target} is not reached")


def by_enter(target: Locator) -> None:
    reached(target)
    target.page.keyboard.press("Enter")


def by_space(target: Locator) -> None:
    reached(target)
    target.page.keyboard.press("Space")


HANDS: dict[str, tuple[dict[str, Any], Press]] = {
    "mouse": (DESKTOP, mouse),
    "touch": (PHONE, touch),
    "keyboard": (DESKTOP, by_space),
    "a switch": (PHONE, by_enter),
}


def easier_ways(session: Session, label: str) -> list[str]:
    """The easier ways of a station, each as a text that holds what the page says of it."""
    exercises = session.version.tree.files["exercises"]
    written = exercises[session.row(label).exercise].get("easier", [])
    return [one.get("how", "") or exercises[one["exercise"]]["name"] for one in written]


@dataclass(frozen=True)
class Place:
    """A segment of work in reps."""

    session: Session
    number: int

    @property
    def segment(self) -> dict[str, Any]:
        return self.session.segments[self.number]

    @property
    def next(self) -> dict[str, Any]:
        return self.session.segments[self.number + 1]


def place(kind: str, wanted: Callable[[Place], bool] = lambda one: True) -> Place:
    """The first work in reps on both sides at once, in a block of this kind."""
    for session in TREE.sessions:
        kinds = Clockwork(session).kinds
        for number, one in enumerate(session.segments[:-1]):
            found = Place(session, number)
            reps = one["kind"] == "work" and one["reps"] and not one["side"]
            day = len(one["block"]) == 1
            if reps and day and kinds[one["station"]] == kind and wanted(found):
                return found
    raise AssertionError(f"no {kind} in the demo has such a station")


SETS = place(
    "straight sets",
    lambda one: one.next["kind"] == "rest" and bool(easier_ways(one.session, one.segment["station"])),
)
MINUTE = place("every minute", lambda one: one.next["kind"] == "wait" and one.segment["round"] == 1)
CAP = place("timed rounds", lambda one: one.segment["round"] == 1)


def to(page: Page, number: int) -> None:
    """Skips to a segment; the clock stands at its beginning."""
    page.keyboard.press("ArrowRight")
    skip(page, number)
    assert current_line(page) == number


# Touch and the keyboard's other key are tried where a tap ends a set.
@pytest.mark.parametrize("hand", every(HANDS, few=["mouse", "a switch"]))
def test_a_session_is_led_from_its_start_until_it_is_saved_by(
    emptied_page: OpenPage, site_url: str, hand: str
) -> None:
    options, by_hand = HANDS[hand]
    page = emptied_page(**options)
    page.clock.install(time=NOON)
    page.goto(site_url + SETS.session.address)
    stand_still(page)
    by_hand(page.get_by_role("button", name="Start the session"))
    expect(page.locator(".guide .digits")).to_be_visible()
    clockwork = Clockwork(SETS.session)

    forward(page, LEAD + 3)
    by_hand(button(page, "Pause"))
    forward(page, 60)
    assert shown(page).count == "Paused"
    assert shown(page).digits == clockwork.face(3).digits
    by_hand(button(page, "Go on"))
    forward(page, Fraction(1, 2))
    assert shown(page) == clockwork.face(Fraction(7, 2))

    by_hand(button(page, "Skip"))
    assert shown(page).what == clockwork.face(clockwork.segments[1]["start"]).what
    by_hand(button(page, "Back"))
    assert shown(page) == clockwork.face(Fraction(7, 2))

    by_hand(button(page, "Skip"))
    skip(page, SETS.number - 1)
    label = SETS.segment["station"]
    assert SETS.session.row(label).name in shown(page).what
    by_hand(page.locator(".wishes summary"))
    way = page.locator("[data-ways] button").nth(1)
    words = way.inner_text()
    assert easier_ways(SETS.session, label)[0] in words
    by_hand(way)
    expect(way).to_have_attribute("aria-pressed", "true")
    by_hand(page.get_by_label("voice", exact=True))
    expect(page.get_by_label("voice", exact=True)).not_to_be_checked()

    own = button(page, "At my own pace: I tap when done")
    by_hand(own)
    expect(own).to_have_attribute("aria-pressed", "true")
    forward(page, 20)
    by_hand(button(page, "Done"))
    assert shown(page).what == clockwork.face(SETS.next["start"]).what
    by_hand(button(page, "Stop"))
    by_hand(page.get_by_role("button", name="I am done for today"))

    expect(page.get_by_role("heading", name="Stopped")).to_be_focused()
    by_hand(page.get_by_role("button", name="4 somewhat hard"))
    by_hand(page.get_by_role("button", name="Save", exact=True))
    page.wait_for_url("**/log/")
    [record] = records(page)
    assert record["effort"] == 4
    assert record["ended"] is not None
    assert [(one["label"], one["round"], one["way"]) for one in record["stations"]] == [(label, 1, words)]


@pytest.mark.parametrize(
    ("hand", "seconds"),
    every(
        [(hand, seconds) for hand in ("touch", "keyboard") for seconds in (8, 59, 61, 200)],
        few=[("touch", 61), ("keyboard", 8)],
    ),
)
def test_at_own_pace_a_tap_ends_the_set_and_the_rest_shifts(
    emptied_page: OpenPage, site_url: str, hand: str, seconds: int
) -> None:
    options, by_hand = HANDS[hand]
    page = begin(emptied_page(**options), site_url, SETS.session, pace="own")
    to(page, SETS.number)
    forward(page, seconds)
    face = shown(page)
    assert face.count == "at your own pace"
    assert face.digits == f"{seconds // 60}:{seconds % 60:02d}", "they count up, since only a tap ends it"
    by_hand(button(page, "Done"))
    assert current_line(page) == SETS.number + 1
    clockwork = Clockwork(SETS.session)
    start = SETS.next["start"]
    assert shown(page) == clockwork.face(start)
    # From here on it is the running order again, later or earlier than planned.
    for after in (Fraction(5), SETS.next["length"] - 1):
        forward(page, after - (start - SETS.next["start"]))
        start = SETS.next["start"] + after
        assert shown(page) == clockwork.face(start)
    [record] = records(page)
    assert [(one["label"], one["round"]) for one in record["stations"]] == [
        (SETS.segment["station"], SETS.segment["round"])
    ]


def test_a_tap_ends_the_set_under_a_full_minute_and_what_is_left_of_it_is_rest(
    emptied_page: OpenPage, site_url: str
) -> None:
    page = begin(emptied_page(**PHONE), site_url, MINUTE.session, pace="own")
    to(page, MINUTE.number)
    forward(page, 10)
    assert shown(page).digits == "0:50", "the minute ends it whatever is tapped, so it is counted down"
    button(page, "Done").tap()
    assert (shown(page).what, shown(page).digits) == ("Rest", "0:50")
    expect(button(page, "Done")).to_have_count(0)
    forward(page, 49)
    assert (shown(page).what, shown(page).digits) == ("Rest", "0:01")
    forward(page, 1.05)
    face = shown(page)
    assert face.digits == "1:00"
    assert face.what != "Rest"
    [record] = records(page)
    assert [one["label"] for one in record["stations"]] == [MINUTE.segment["station"]]


def test_without_a_tap_the_full_minute_ends_the_set(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, MINUTE.session, pace="own")
    to(page, MINUTE.number)
    forward(page, 60.05)
    assert current_line(page) > MINUTE.number + 1
    assert shown(page).digits == "1:00"
    [record] = records(page)
    assert [one["label"] for one in record["stations"]] == [MINUTE.segment["station"]], (
        "its planned time was over"
    )


# What is not counted in reps is skipped on the way to what is.
DONE_AND_SKIP = """() => {
  const tap = (name) => document.querySelector(`.guide [data-do=${name}]`).click();
  const counted = () => document.querySelector(".guide [data-do=done]")?.checkVisibility();
  if (counted()) tap("done");
  for (let n = 0; n < 5 && !counted(); n += 1) tap("skip");
  const [, text] = Object.entries(localStorage).find(([key]) => key.startsWith("log "));
  return JSON.parse(text).stations.length;
}"""


def test_who_taps_early_has_more_rounds_until_the_cap(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, CAP.session, pace="own")
    block = CAP.segment["block"]
    to(
        page,
        next(n for n, one in enumerate(CAP.session.segments) if one["block"] == block and one["station"]),
    )
    own = [one for one in CAP.session.segments if one["block"] == block and one["kind"] != "rest"]
    cap = int(sum(one["length"] for one in own))
    planned = {(one["station"], one["round"]) for one in own if one["kind"] == "work" and not one["cut"]}
    gone = 0
    while gone + 2 < cap:
        # What is counted in reps takes two seconds.
        forward(page, 2)
        gone += 2
        if page.evaluate(DONE_AND_SKIP) > len(planned):
            break
    done = {(one["label"], one["round"]) for one in records(page)[0]["stations"]}
    assert len(done) > len(planned)
    assert max(turn for _, turn in done) > max(turn for _, turn in planned)
    forward(page, cap - gone + 1)
    assert shown(page).mark != block or shown(page).what in ("Rest", "Done")


def test_a_second_tap_too_many_skips_nothing(emptied_page: OpenPage, site_url: str) -> None:
    """A wet thumb taps twice."""
    page = begin(emptied_page(**PHONE), site_url, SETS.session, pace="own")
    to(page, SETS.number)
    forward(page, 10)
    box = button(page, "Done").bounding_box()
    assert box
    for _ in range(2):
        page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    assert current_line(page) == SETS.number + 1
    assert page.locator(".guide").get_attribute("data-phase") == "going"


def test_a_space_or_an_arrow_in_a_text_is_no_tap(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, SETS.session)
    stop(page)
    page.get_by_label("Note").press_sequentially("Hard but good")
    page.keyboard.press("ArrowLeft")
    expect(page.get_by_label("Note")).to_have_value("Hard but good")
    expect(page.get_by_role("heading", name="Stopped")).to_be_visible()


@pytest.mark.parametrize(
    ("chosen", "easier"),
    [({1: 1}, [False, True, True]), ({0: 1, 1: 0}, [True, False, False])],
    ids=["from the second set on", "in the first set alone"],
)
def test_an_easier_way_holds_from_the_set_in_which_it_is_chosen_until_it_is_taken_back(
    emptied_page: OpenPage, site_url: str, chosen: dict[int, int], easier: list[bool]
) -> None:
    """And over a reload. `chosen` is the number of the button that is pressed, by set."""
    wanted = place(
        "circuit",
        lambda one: bool(easier_ways(one.session, one.segment["station"])) and rounds(one) >= 3,
    )
    label = wanted.segment["station"]
    page = begin(emptied_page(**PHONE), site_url, wanted.session)
    numbers = [
        number
        for number, one in enumerate(wanted.session.segments)
        if one["kind"] == "work" and one["station"] == label
    ][:3]
    to(page, numbers[0])
    words = ""
    for turn, number in enumerate(numbers):
        skip(page, number - current_line(page))
        forward(page, 1)
        wishes(page)
        ways = page.locator("[data-ways] button")
        if turn in chosen:
            press(ways.nth(chosen[turn]))
            words = words or ways.nth(1).inner_text()
        expect(ways.nth(int(easier[turn]))).to_have_attribute("aria-pressed", "true")
        forward(page, wanted.segment["length"])
        if ALL or turn in chosen:
            page.reload()
            expect(page.locator(".guide .digits")).to_be_visible()
    [record] = records(page)
    found = [(one["label"], one["round"], one["way"]) for one in record["stations"]]
    assert found == [(label, turn + 1, words if easier[turn] else "") for turn in range(3)]
    assert easier_ways(wanted.session, label)[0] in words


def rounds(one: Place) -> int:
    same = [other["round"] for other in one.session.segments if other["station"] == one.segment["station"]]
    return max(turn for turn in same if turn)
