"""Easier ways, a day without jumps, rounds by tap, and stopping, with real taps on a phone; and where the buttons lie.

The doses of a way that was not planned follow the format: of the same measure the same amount in its own tempo, of
another measure the planned station's seconds of work; its place in the running order keeps its length.
"""

import json
import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.axe import violations
from tests.browser.conftest import PHONE, OpenContext, OpenPage
from tests.browser.demo import DEMO, Session, demo
from tests.browser.guided import (
    LEAD,
    begin,
    button,
    forward,
    longest,
    read_to_the_end,
    records,
    shown,
    skip,
    soon,
    stop,
    wishes,
)
from tests.browser.test_guided_screen import ON_ITS_SIDE
from tests.oracle import oracle
from tests.samples import every

TREE = demo()
LEVELS = sorted({(session.version.programme, session.level) for session in TREE.sessions})
FIXED = ("back", "pause", "skip", "stop")
BOXES = """() => Object.fromEntries([...document.querySelectorAll(".hand .keys button")].map((one) => {
  const { x, y, width, height } = one.getBoundingClientRect();
  return [one.dataset.do ?? "stop", [x, y, width, height].map(Math.round)];
}))"""
CLUB_SAYS = oracle.load(DEMO / "club.yaml")["if hurt"]
EMERGENCY = "Call your local emergency number at once (112 in Europe)"


def exercise(session: Session, name: str) -> dict[str, Any]:
    found: dict[str, Any] = session.version.tree.files["exercises"][name]
    return found


def lands(one: dict[str, Any]) -> bool:
    return bool(one.get("contacts")) or one["pattern"] == "jump"


def newest(programme: str, level: str) -> Session:
    """The session of a level that has the most landings in the programme's newest version."""
    own = [s for s in TREE.sessions if (s.version.programme, s.level) == (programme, level)]
    last = max(s.version.name for s in own)
    return max(
        (s for s in own if s.version.name == last),
        key=lambda s: (
            sum(lands(exercise(s, one["exercise"])) for one in s.segments if one["exercise"]),
            s.address,
        ),
    )


def skip_to(page: Page, session: Session, number: int) -> None:
    """A second into a segment."""
    forward(page, LEAD)
    skip(page, number)
    forward(page, 1)


def first(session: Session, wanted: Any) -> int:
    return next(n for n, one in enumerate(session.segments) if one["kind"] == "work" and wanted(one))


@pytest.mark.parametrize("options", [PHONE, ON_ITS_SIDE], ids=["upright", "on its side"])
def test_the_buttons_lie_at_one_place_in_every_segment_of_the_longest_session(
    emptied_page: OpenPage, site_url: str, options: dict[str, Any]
) -> None:
    session = longest()
    page = begin(emptied_page(**options), site_url, session)
    lead = json.dumps(page.evaluate(BOXES))
    forward(page, LEAD)
    height = options["viewport"]["height"]
    told = read_to_the_end(page, BOXES)
    assert {number for number, _ in told} == set(range(len(session.segments)))
    found = {lead, *(json.dumps(boxes) for _, boxes in told)}
    assert len(found) == 1
    boxes = json.loads(found.pop())
    assert tuple(boxes) == FIXED
    for x, y, wide, high in boxes.values():
        assert x >= 0
        assert x + wide <= options["viewport"]["width"]
        assert height - 130 < y < y + high <= height, "within a thumb's reach"
        assert min(wide, high) >= 44


def test_an_easier_way_changes_everything_at_once_and_in_later_rounds_and_back(
    emptied_page: OpenPage, site_url: str
) -> None:
    session = next(
        s
        for s in TREE.sessions
        if s.version.name == "3.0"
        and any(one["exercise"] == "bag-hinge" and one["round"] == 2 for one in s.segments)
    )
    planned, easier = exercise(session, "bag-hinge"), exercise(session, "hip-hinge")
    number = first(session, lambda one: one["exercise"] == "bag-hinge")
    page = begin(emptied_page(**PHONE), site_url, session)
    skip_to(page, session, number)
    before = shown(page)
    drawn = page.evaluate(FIGURE)
    wishes(page)
    way = page.locator("[data-ways] button").nth(1)
    words = way.inner_text()
    way.tap()
    after = shown(page)
    assert easier["name"] in after.what
    assert planned["name"] not in after.what
    assert after.dose == before.dose, "the same amount: both are counted in reps"
    assert after.cue.startswith("no bag")
    assert page.locator(".load").is_hidden(), "nothing to load"
    assert after.digits == before.digits, "its place keeps its length"
    assert page.evaluate(FIGURE) != drawn
    again = next(
        n
        for n, one in enumerate(session.segments)
        if n > number and one["exercise"] == "bag-hinge" and one["reps"]
    )
    skip(page, again - number)
    assert easier["name"] in shown(page).what
    forward(page, float(session.segments[again]["length"]) + 0.5)
    [record] = records(page)
    [done] = [one for one in record["stations"] if one["round"] == session.segments[again]["round"]]
    assert (done["exercise"], done["name"], done["way"]) == ("hip-hinge", easier["name"], words)
    button(page, "Back").tap()
    wishes(page)
    page.get_by_role("button", name="As planned").tap()
    assert planned["name"] in shown(page).what


FIGURE = """() => {
  const svg = document.querySelector(".figure").shadowRoot.querySelector("svg");
  return svg && svg.getAttribute("viewBox") + svg.querySelectorAll("path").length + svg.innerHTML.length;
}"""


def test_another_measure_is_done_for_the_planned_seconds(emptied_page: OpenPage, site_url: str) -> None:
    """A shoulder tap is counted in reps, the plank in its place is held."""
    session = next(s for s in TREE.sessions if any(one["exercise"] == "shoulder-tap" for one in s.segments))
    number = first(session, lambda one: one["exercise"] == "shoulder-tap")
    page = begin(emptied_page(**PHONE), site_url, session, pace="own")
    skip_to(page, session, number)
    assert button(page, "Done").is_enabled()
    wishes(page)
    page.locator("[data-ways] button", has_text="Front plank").tap()
    forward(page, 0.2)
    face = shown(page)
    seconds = float(session.segments[number]["length"])
    assert face.dose == f"{seconds:g} s"
    assert face.count == ""
    assert page.locator("[data-do=done]").is_disabled(), "the clock ends it, at whatever pace"
    forward(page, seconds)
    [record] = records(page)
    [done] = record["stations"]
    assert (done["exercise"], done["dose"], done["reps"]) == ("front-plank", f"{seconds:g} s", None)


HEADING_AND_TIP = '() => [".guide h2", ".tip"].map((place) => document.querySelector(place).innerText.trim())'


# Between them they have every exercise of the newest sessions that lands.
FEW_LEVELS = [("first-jumps", "new"), ("home-strength", "steady"), ("home-strength", "strong")]


@pytest.mark.parametrize(("programme", "level"), every(LEVELS, few=FEW_LEVELS))
def test_a_day_without_jumps_has_none(
    emptied_page: OpenPage, site_url: str, programme: str, level: str
) -> None:
    """Chosen before the start, with real taps; every station that lands gives way, and the log says so."""
    session = newest(programme, level)
    landing = {
        one["exercise"]
        for one in session.segments
        if one["exercise"] and lands(exercise(session, one["exercise"]))
    }
    page = emptied_page(**PHONE)
    page.clock.install()
    page.clock.resume()
    page.goto(site_url + session.address)
    box = page.get_by_label("No jumps today")
    box.tap()
    told = page.locator(".changes")
    for name in landing:
        expect(told).to_contain_text(exercise(session, name)["name"])
    expect(told).to_contain_text("Tell your coach")
    page.get_by_role("button", name="Start the session").tap()
    expect(page.locator(".guide .digits")).to_be_visible()
    names = {exercise(session, name)["name"] for name in landing}
    seen = set()
    forward(page, LEAD)
    for number, (heading, tip) in read_to_the_end(page, HEADING_AND_TIP):
        if session.segments[number]["exercise"] in landing and not re.search(r"Rise onto|toes", tip):
            assert not any(heading.endswith(name) for name in names), heading
            seen.add(number)
    assert seen or landing <= {"ankle-bounce"}


def test_jumps_are_left_out_while_it_runs_and_the_log_says_what_was_done(
    emptied_page: OpenPage, site_url: str
) -> None:
    session = newest("home-strength", "steady")
    number = first(session, lambda one: one["exercise"] == "quick-drop")
    page = begin(emptied_page(**PHONE), site_url, session)
    skip_to(page, session, number)
    assert "Quick drop" in shown(page).what
    wishes(page)
    page.locator(".wishes").get_by_label("No jumps today").tap()
    expect(page.locator(".says")).to_contain_text("Tell your coach")
    assert shown(page).what == "Chair squat"
    assert shown(page).cue.startswith("slowly, no drop")
    forward(page, float(session.segments[number]["length"]))
    [done] = records(page)[0]["stations"]
    assert (done["exercise"], done["way"]) == ("chair-squat", "no jumps: Chair squat, slowly, no drop")
    page.reload()
    expect(page.locator(".guide .digits")).to_be_visible()
    wishes(page)
    expect(page.locator(".wishes").get_by_label("No jumps today")).to_be_checked()
    page.locator(".wishes").get_by_label("No jumps today").tap()
    button(page, "Back").tap()
    button(page, "Back").tap()
    assert "Quick drop" in shown(page).what or "Quick drop" in shown(page).next


def test_rounds_of_timed_rounds_are_counted_by_taps(emptied_page: OpenPage, site_url: str) -> None:
    """What is left of the block goes on; the log has the whole round, and Back takes it out of it again."""
    session = next(
        s
        for s in TREE.sessions
        if s.version.name == "3.0" and any("carry" in (one["exercise"] or "") for one in s.segments)
    )
    number = first(session, lambda one: one["station"].startswith("C"))
    block = [one for one in session.segments if one["block"] == "C" and one["kind"] != "rest"]
    length = float(sum(one["length"] for one in block))
    labels = {one["station"] for one in block if one["kind"] == "work"}
    page = begin(emptied_page(**PHONE), site_url, session)
    assert page.get_by_role("button", name="Round done").is_hidden()
    skip_to(page, session, number)
    left = page.locator("[data-say=toGo]")
    expect(left).to_have_text(f"{int(length - 1) // 60}:{int(length - 1) % 60:02d} left in block")
    assert shown(page).round == "round 1"
    page.get_by_role("button", name="Round done").tap()
    assert shown(page).round == "round 2, 1 done"
    expect(left).to_have_text(f"{int(length - 1) // 60}:{int(length - 1) % 60:02d} left in block")
    assert {one["label"] for one in records(page)[0]["stations"]} == labels
    button(page, "Back").tap()
    assert shown(page).round == "round 1"
    assert records(page)[0]["stations"] == []


def test_what_hurts_is_met_with_what_to_do_and_goes_into_the_log(
    emptied_page: OpenPage, site_url: str
) -> None:
    """Stop now, tell an adult, the club's line, when to call for help; no number is asked for, nothing is named."""
    session = longest()
    number = first(session, lambda one: one["station"].startswith("A"))
    page = begin(emptied_page(**PHONE), site_url, session)
    skip_to(page, session, number)
    digits = shown(page).digits
    button(page, "Stop").tap()
    page.get_by_role("button", name="Something hurts").tap()
    dialog = page.get_by_role("dialog")
    for words in ("Stop now.", "Tell an adult now", EMERGENCY, CLUB_SAYS):
        expect(dialog).to_contain_text(words)
    text = dialog.inner_text().lower()
    assert not re.search(
        r"\b(0 ?(to|-|–) ?10|scale|sprain|strain|torn|fracture|push through|keep going)\b", text
    )
    assert dialog.locator("input[type=range], input[type=number]").count() == 0
    page.get_by_label("Where does it hurt?").fill("left knee, at the front")
    page.get_by_role("button", name="Save and end the session").tap()
    [record] = records(page)
    [report] = record["reports"]
    assert (report["station"], report["where"], report["why"]) == (
        session.segments[number]["station"],
        "left knee, at the front",
        "hurts",
    )
    expect(page.get_by_role("heading", name="Stopped")).to_be_visible()
    expect(page.locator(".finish")).to_contain_text("Tell an adult now")
    assert page.get_by_role("button", name="Back to the session").is_hidden(), "no way on after that"
    assert digits


def test_no_rule_of_accessibility_is_broken_where_the_session_asks_and_explains(
    open_context: OpenContext, site_url: str
) -> None:
    """The clock runs: the axe rules are tried by timers of the page."""
    page = open_context(**PHONE, reduced_motion="reduce").new_page()
    page.clock.install()
    page.goto(site_url + longest().address)
    page.get_by_label("No jumps today").tap()
    # The rest of the page is looked at with all the others.
    found = {"before the start": violations(page, "label:has([data-no-jumps]), .changes")}
    page.get_by_role("button", name="Start the session").tap()
    expect(page.locator(".guide .digits")).to_be_visible()
    found["no jumps"] = violations(page, ".guide")
    page.get_by_role("button", name="Stop", exact=True).tap()
    found["stop"] = violations(page, ".halt")
    page.get_by_role("button", name="Something hurts").tap()
    found["hurts"] = violations(page, ".halt")
    page.get_by_role("button", name="Save and end the session").tap()
    found["ended"] = violations(page, ".finish")
    assert {state: broken for state, broken in found.items() if broken} == {}


@pytest.mark.parametrize(
    ("answer", "reports"), [("Too tired, or too hard", ["too hard"]), ("I am done for today", [])]
)
def test_too_hard_is_a_report_and_done_is_none(
    emptied_page: OpenPage, site_url: str, answer: str, reports: list[str]
) -> None:
    page = begin(emptied_page(**PHONE), site_url, longest())
    forward(page, LEAD + 1)
    button(page, "Stop").tap()
    page.get_by_role("button", name=answer).tap()
    expect(page.get_by_role("heading", name="Stopped")).to_be_visible()
    assert [one["why"] for one in records(page)[0]["reports"]] == reports


def test_a_wrong_tap_on_stop_costs_no_time_and_says_nothing(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, longest())
    forward(page, LEAD + 3)
    before = shown(page)
    button(page, "Stop").tap()
    page.get_by_role("button", name="Something hurts").tap()
    forward(page, 30)
    page.get_by_role("button", name="That was a wrong tap").tap()
    page.get_by_role("button", name="Go on with the session").tap()
    assert page.get_by_role("dialog").count() == 0
    assert shown(page) == before
    assert records(page)[0]["reports"] == []


def test_a_page_that_goes_away_keeps_what_was_said_to_hurt(emptied_page: OpenPage, site_url: str) -> None:
    page = begin(emptied_page(**PHONE), site_url, longest())
    forward(page, LEAD + 3)
    button(page, "Stop").tap()
    page.get_by_role("button", name="Something hurts").tap()
    page.get_by_label("Where does it hurt?").fill("back")
    page.goto("about:blank")
    page.goto(site_url + longest().address)
    assert [(one["why"], one["where"]) for one in records(page)[0]["reports"]] == [("hurts", "back")]


def test_a_word_is_explained_at_a_tap_and_no_button_moves(emptied_page: OpenPage, site_url: str) -> None:
    session = next(s for s in TREE.sessions if any(one["exercise"] == "glute-bridge" for one in s.segments))
    page = begin(emptied_page(**PHONE), site_url, session)
    skip_to(page, session, first(session, lambda one: one["exercise"] == "glute-bridge"))
    before = page.evaluate(BOXES)
    page.get_by_role("button", name="glutes").tap()
    expect(page.locator(".says")).to_contain_text("the muscles you sit on")
    assert page.evaluate(BOXES) == before


@pytest.mark.parametrize("motion", ["no-preference", "reduce"])
def test_the_figure_is_large_mirrored_to_the_side_that_works_and_keeps_time(
    emptied_page: OpenPage, site_url: str, motion: str
) -> None:
    """At least 120 px high; from one side to the other it turns round; where motion is not wanted it stands still."""
    session = next(s for s in TREE.sessions if any(one["exercise"] == "split-squat" for one in s.segments))
    left = first(session, lambda one: one["exercise"] == "split-squat" and one["side"] == "left")
    page = emptied_page(**PHONE)
    page.emulate_media(reduced_motion=motion)
    begin(page, site_url, session, moving=True)
    skip_to(page, session, left)
    look = """() => { const svg = document.querySelector(".figure").shadowRoot.querySelector("svg");
      return {high: svg.getBoundingClientRect().height, mirrored: svg.classList.contains("mirrored"),
        still: svg.animationsPaused(), at: svg.getCurrentTime()}; }"""
    found = page.evaluate(look)
    assert found["high"] >= 120
    assert found["still"] is (motion == "reduce")
    if motion == "no-preference":
        assert abs(found["at"] - 1) < 0.5
    button(page, "Skip").tap()
    button(page, "Skip").tap()
    forward(page, 1)
    assert shown(page).side == "right side"
    assert page.evaluate(look)["mirrored"] is not found["mirrored"]


# They come one after the other, once the session has begun.
PICTURES_OF_OTHER_WAYS = """async () => {
  const { exercises } = await (await fetch("../guide.json")).json();
  const wanted = Object.values(exercises).filter(({ picture, figures }) => picture && !("" in (figures ?? {})));
  return wanted.map(({ picture }) => new URL(document.body.dataset.root + picture, location.href).href);
}"""


def test_a_figure_stands_in_every_segment_also_without_a_network(
    open_context: OpenContext, site_url: str
) -> None:
    """All of them came before the start: what is lost on the way afterwards does not matter."""
    session = longest()
    context = open_context(**PHONE)
    come: list[str] = []
    context.on("requestfinished", lambda request: come.append(request.url))
    page = begin(context, site_url, session)
    soon(lambda: set(page.evaluate(PICTURES_OF_OTHER_WAYS)) <= set(come))
    context.set_offline(True)
    forward(page, LEAD)
    drawn = read_to_the_end(page, FIGURE)
    assert {number for number, _ in drawn} == set(range(len(session.segments)))
    empty = [
        number
        for number, figure in drawn
        if session.segments[number]["kind"] == "work"
        and "figure" in exercise(session, session.segments[number]["exercise"])
        and not figure
    ]
    assert empty == []
    context.set_offline(False)


@pytest.mark.parametrize(("programme", "level"), every(LEVELS, few=3))
def test_a_session_of_each_level_is_led_through_by_taps_to_the_log(
    emptied_page: OpenPage, site_url: str, programme: str, level: str
) -> None:
    """Start, a set by the beat, Stop, effort, save: what a first evening with it is."""
    session = newest(programme, level)
    page = begin(emptied_page(**PHONE), site_url, session)
    forward(page, LEAD + float(session.segments[0]["length"]) + 0.5)
    stop(page)
    expect(page.get_by_role("heading", name="Stopped")).to_be_visible()
    boxes = [one.bounding_box() for one in page.locator(".effort button").all()]
    assert len({round(box["x"]) for box in boxes if box}) == 1, "one column"
    page.get_by_role("button", name="4 somewhat hard").tap()
    page.get_by_role("button", name="Save", exact=True).tap()
    page.wait_for_url("**/log/")
    [record] = records(page)
    assert (record["effort"], len(record["stations"])) == (4, 1)
