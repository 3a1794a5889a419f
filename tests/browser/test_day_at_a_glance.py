"""A day page at a glance: how long it is, what opens in place, what search and paper reach, and that nothing moves."""

import re
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import PHONE, OpenContext, OpenPage
from tests.browser.demo import Day, demo
from tests.browser.paper import printed, words
from tests.samples import in_turn

TREE = demo()
DAYS = TREE.versions[-1].days
NEWEST = {(one.programme, one.name.split(".")[0]): one for one in TREE.versions}
"""The newest edition of each phase; others carry a banner above all that."""
FULLEST = max(
    (day for one in NEWEST.values() for day in one.days),
    key=lambda day: max(len(session.rows) for session in day.sessions),
)
# The project's own bounds.
MOST_SCREENS = 2.5
MOST_SHIFT = 0.02

EVERY_HEIGHT = """() => {
  const form = document.querySelector("form.pick");
  const found = [];
  for (const level of form.level.options) for (const week of form.week.options) {
    form.level.value = level.value;
    form.week.value = week.value;
    form.dispatchEvent(new Event("change", { bubbles: true }));
    found.push([level.value, week.value, document.documentElement.scrollHeight]);
  }
  return found;
}"""


@pytest.mark.parametrize("day", [FULLEST, *DAYS], ids=repr)
def test_a_closed_day_is_short_for_every_level_and_week(
    open_context: OpenContext, site_url: str, day: Day
) -> None:
    context = open_context(**PHONE, timezone_id="UTC")
    context.clock.set_fixed_time(datetime.combine(day.version.starts, time(12), ZoneInfo("UTC")))
    page = context.new_page()
    page.goto(site_url + day.address)
    heights = page.evaluate(EVERY_HEIGHT)
    assert len(heights) == len(day.sessions)
    limit = MOST_SCREENS * PHONE["viewport"]["height"]
    assert [one for one in heights if one[2] > limit] == []


def test_a_row_opens_in_place_and_nothing_above_it_moves(kept_page: Page, site_url: str) -> None:
    kept_page.goto(site_url + DAYS[0].address)
    rows = kept_page.locator(".seen > summary:visible")
    last = rows.nth(rows.count() - 1)
    last.scroll_into_view_if_needed()
    before = last.bounding_box()
    last.tap()
    deep = last.locator("xpath=../following-sibling::*[1]")
    expect(deep).to_be_visible()
    expect(deep.locator(".fig:visible img:visible").first).to_be_visible()
    assert last.bounding_box() == before
    last.tap()
    expect(deep).to_be_hidden()


def test_what_is_closed_is_found_and_opens(kept_page: Page, site_url: str) -> None:
    kept_page.goto(site_url + DAYS[0].address)
    states = kept_page.evaluate(
        "() => [...document.querySelectorAll('.deep')].map((one) => [one.hidden, getComputedStyle(one).display])"
    )
    assert len(states) > 10
    assert {tuple(state) for state in states} == {("until-found", "block")}
    opened = kept_page.evaluate("""async () => {
      const deep = document.querySelector(".stations .deep");
      deep.dispatchEvent(new Event("beforematch", { bubbles: true }));
      await new Promise((done) => setTimeout(done, 0));
      return deep.previousElementSibling.open;
    }""")
    assert opened


def is_there(part: str, text: str) -> bool:
    """Whether a sentence is in a text; it may go on in the next column or on the next page."""
    said = part.split()
    return any(
        " ".join(said[:cut]) in text and " ".join(said[cut:]) in text for cut in range(1, len(said) + 1)
    )


PAPERS = ("A4", "Letter")


@pytest.mark.parametrize(
    ("day", "paper"),
    [(day, paper) for turn, day in enumerate(DAYS) for paper in in_turn(PAPERS, turn, few=1)],
    ids=repr,
)
def test_a_day_is_on_one_or_two_pages_with_all_that_is_closed(
    open_page: OpenPage, site_url: str, day: Day, paper: str
) -> None:
    page = open_page()
    page.goto(site_url + day.address)
    sheets = printed(page, paper)
    assert len(sheets.pages) <= 2
    text = " ".join(words(sheets, number) for number in range(len(sheets.pages)))
    session = day.sessions[0]
    for row in session.rows:
        exercise = TREE.files["exercises"][row.exercise]
        parts = [*exercise["cues"], *exercise["cautions"]]
        if re.fullmatch(r"[A-Z]\d+", row.label):
            parts += [*exercise["setup"], *exercise.get("faults", [])]
        assert [part for part in parts if not is_there(part, text)] == [], row.label


def test_without_script_all_is_there_at_a_tap(open_page: OpenPage, site_url: str) -> None:
    page = open_page(**PHONE, java_script_enabled=False)
    page.goto(site_url + DAYS[0].address)
    row = page.locator(".stations > li").filter(has=page.locator(".seen")).first
    expect(row.locator(".cues")).to_be_hidden()
    row.locator("summary").tap()
    expect(row.locator(".cues")).to_be_visible()


SHIFTS = """(() => {
  window.shifted = 0;
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) if (!entry.hadRecentInput) window.shifted += entry.value;
  }).observe({ type: "layout-shift", buffered: true });
})()"""


@pytest.mark.parametrize("kind", ["home", "programme", "day", "session"])
def test_nothing_moves_while_a_page_loads(open_context: OpenContext, site_url: str, kind: str) -> None:
    """Scripts come late, as on a slow line: only then is there something to move."""
    context = open_context(**PHONE, timezone_id="UTC")
    day = DAYS[0]
    addresses = {
        "home": "",
        "programme": f"{day.version.programme}/",
        "day": day.address,
        "session": day.sessions[0].address,
    }
    level = next(iter(day.version.levels))
    key = f"level /club/site/{day.version.programme}"
    context.add_init_script(f"if (origin !== 'null') localStorage.setItem('{key}', '{level}')")
    # What is said before the first session of all on a device comes with the guided session, a line below its button.
    context.add_init_script("if (origin !== 'null') localStorage.setItem('told sound /club/site/', '1')")
    context.add_init_script(SHIFTS)
    page = context.new_page()

    def late(route: Route) -> None:
        page.wait_for_timeout(150)
        route.continue_()

    page.route("**/*.js", late)
    page.goto(site_url + addresses[kind], wait_until="networkidle")
    page.evaluate("new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    assert page.evaluate("window.shifted") <= MOST_SHIFT


def test_a_shift_would_be_noticed(open_page: OpenPage) -> None:
    page = open_page()
    page.goto("about:blank")
    page.set_content("<p style='height:300px'>a</p><p style='height:300px'>b</p>")
    page.evaluate(SHIFTS)
    page.evaluate("""async () => {
      const frame = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
      await frame();
      document.body.prepend(Object.assign(document.createElement("p"), { style: "height:300px" }));
      await frame();
    }""")
    page.wait_for_function(f"() => window.shifted > {MOST_SHIFT}")


def test_the_days_date_is_that_of_its_week(kept_page: Page, site_url: str) -> None:
    day = DAYS[0]
    kept_page.goto(site_url + day.address)
    kept_page.get_by_label("Week").select_option("2")
    names = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    when = day.version.starts + timedelta(days=7 + names.index(day.plan["on"][0].split(" or ")[0]))
    expect(kept_page.locator(".sessions a:visible")).to_contain_text(f"{when.day} {when:%B}")


def test_the_coachs_line_and_effort_are_those_of_the_week(kept_page: Page, site_url: str) -> None:
    day = next(day for day in DAYS if "say" in day.plan and "effort" in day.plan)
    kept_page.goto(site_url + day.address)
    for week, (line, effort) in enumerate(zip(day.plan["say"], day.plan["effort"], strict=True), 1):
        kept_page.get_by_label("Week").select_option(str(week))
        assert [one.inner_text() for one in kept_page.locator("main > .say span:visible").all()] == [
            line
        ] * bool(line)
        expect(kept_page.locator(".effort:visible")).to_contain_text(f"Meant to feel: {effort}")
