"""Week and level of a day page: one session at a time, the right doses, the level remembered."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenContext, OpenPage
from tests.browser.crowded import TWIN
from tests.browser.demo import Day, Row, demo, near, recipe_kg
from tests.browser.reading_pages import Station, read_day
from tests.conftest import SUB_PATH, Serve
from tests.samples import every

TREE = demo()
DAY = TREE.versions[-1].days[0]
ANOTHER_DAY = TREE.versions[-1].days[-1]
LEVEL = list(DAY.version.levels)[-1]


@pytest.fixture
def day_page(emptied_page: OpenPage) -> Page:
    """A page on a phone that keeps nothing yet."""
    return emptied_page(**PHONE)


def choose(page: Page, level: str, week: int) -> None:
    page.get_by_label("Level").select_option(level)
    page.get_by_label("Week").select_option(str(week))


# As `choose`, without the way of the finger.
CHOSEN = """(wanted) => {
  for (const [name, value] of Object.entries(wanted)) {
    const [list] = [...document.querySelectorAll("label")].filter((one) => one.textContent.includes(name))
      .map((one) => one.control);
    list.value = value;
    if (list.value !== value) throw new Error(`no such ${name}: ${value}`);
    for (const type of ["input", "change"]) list.dispatchEvent(new Event(type, {bubbles: true}));
  }
}"""


@pytest.mark.parametrize("day", every(TREE.days, few=2), ids=repr)
def test_every_choice_shows_its_one_session_and_its_doses(day_page: Page, site_url: str, day: Day) -> None:
    day_page.goto(site_url + day.address)
    for session in day.sessions:
        day_page.evaluate(CHOSEN, {"Level": session.level, "Week": str(session.week)})
        shown = read_day(day_page)
        [(address, words)] = shown.sessions
        assert address == f"{session.level}/week-{session.week}/"
        assert words.startswith(f"Open the session {session.level_name}, week {session.week} · ")
        assert f" · about {session.minutes} min, up to {session.by_hand} without the timer" in words
        assert [station.label for station in shown.stations] == [row.label for row in session.rows], session
        for station, row in zip(shown.stations, session.rows, strict=True):
            assert_says(station, row)
    day_page.get_by_role("link", name="Open the session").click()
    expect(day_page).to_have_url(site_url + day.sessions[-1].address)


def assert_says(station: Station, row: Row) -> None:
    assert (station.name, station.when) == (row.name, ""), row
    [dose] = station.doses
    assert (dose.words, dose.when) == (row.dose, ""), row
    assert row.total in dose.note, row
    assert list(station.tempos) == [in_words(row)] * bool(row.tempo), row
    assert len(station.loads) == bool(row.load), row
    for load in station.loads:
        kg, _, recipe = load.partition(" kg: ")
        assert float(kg) == row.load, row
        assert near(recipe_kg(TREE.club, recipe), row.load), row


def in_words(row: Row) -> str:
    """The counts of a tempo in the order in which they are done; digits are the coach's."""
    exercise = TREE.files["exercises"][row.exercise]
    named = list(zip(("lower", "pause", "lift", "pause"), row.tempo.split("-"), strict=False))
    if exercise.get("begins", "lifting" if exercise["pattern"] == "pull" else "lowering") == "lifting":
        named = named[2:] + named[:2]
    fast = "as fast as you can control"
    return ", ".join(
        f"{name} {fast if count == 'X' else f'{count} s'}" for name, count in named if count != "0"
    )


def test_the_week_can_be_changed_from_the_keyboard(day_page: Page, site_url: str) -> None:
    day_page.clock.set_fixed_time(datetime.combine(DAY.version.starts, datetime.min.time(), UTC))
    day_page.goto(site_url + DAY.address)
    day_page.get_by_label("Week").focus()
    day_page.keyboard.press("ArrowDown")
    expect(day_page.get_by_label("Week")).to_have_value("2")
    [(address, _)] = read_day(day_page).sessions
    assert address.endswith("/week-2/")


def test_the_level_is_remembered_over_a_reload(day_page: Page, site_url: str) -> None:
    day_page.goto(site_url + DAY.address)
    expect(day_page.get_by_label("Level")).to_have_value(next(iter(DAY.version.levels)))
    choose(day_page, LEVEL, 1)
    day_page.reload()
    expect(day_page.get_by_label("Level")).to_have_value(LEVEL)
    [(address, _)] = read_day(day_page).sessions
    assert address.startswith(f"{LEVEL}/")


def test_the_week_is_not_remembered_but_follows_the_date(day_page: Page, site_url: str) -> None:
    day_page.clock.set_fixed_time(datetime.combine(DAY.version.starts, datetime.min.time(), UTC))
    day_page.goto(site_url + DAY.address)
    choose(day_page, LEVEL, 3)
    day_page.clock.set_fixed_time(
        datetime.combine(DAY.version.starts + timedelta(7), datetime.min.time(), UTC)
    )
    day_page.reload()
    expect(day_page.get_by_label("Week")).to_have_value("2")


def test_the_level_is_remembered_on_other_days_and_phases_of_the_programme(
    day_page: Page, site_url: str
) -> None:
    day_page.goto(site_url + DAY.address)
    choose(day_page, LEVEL, 1)
    own = [one for one in TREE.versions if one.programme == DAY.version.programme and LEVEL in one.levels]
    for version in every(own, few=3):
        day_page.goto(site_url + version.days[-1].address)
        expect(day_page.get_by_label("Level")).to_have_value(LEVEL)


def test_the_level_is_remembered_with_the_browser_closed(open_context: OpenContext, site_url: str) -> None:
    context = open_context(**PHONE)
    page = context.new_page()
    page.goto(site_url + DAY.address)
    choose(page, LEVEL, 1)
    kept = context.storage_state()
    page = open_context(**PHONE, storage_state=kept).new_page()
    page.goto(site_url + ANOTHER_DAY.address)
    expect(page.get_by_label("Level")).to_have_value(LEVEL)


@pytest.fixture
def two_sites(built_site: Path, tmp_path: Path, serve: Serve) -> Iterator[str]:
    """The address of a host with the demo twice, as a club with two squads may have it."""
    (tmp_path / "one").symlink_to(built_site, target_is_directory=True)
    (tmp_path / "two").symlink_to(built_site, target_is_directory=True)
    with serve(tmp_path) as url:
        yield url


def test_the_level_is_not_taken_to_another_site_of_the_same_host(page: Page, two_sites: str) -> None:
    page.goto(f"{two_sites}one/{DAY.address}")
    choose(page, LEVEL, 1)
    page.goto(f"{two_sites}two/{DAY.address}")
    expect(page.get_by_label("Level")).to_have_value(next(iter(DAY.version.levels)))
    page.goto(f"{two_sites}one/{DAY.address}")
    expect(page.get_by_label("Level")).to_have_value(LEVEL)


def test_the_level_is_not_taken_to_another_programme(page: Page, extra_url: str) -> None:
    page.goto(f"{extra_url}{DAY.address}")
    choose(page, LEVEL, 1)
    page.goto(f"{extra_url}{TWIN}/{DAY.version.name}/{DAY.plan['id']}/")
    expect(page.get_by_label("Level")).to_have_value(next(iter(DAY.version.levels)))


def test_a_remembered_level_that_is_no_more_is_passed_over(day_page: Page, site_url: str) -> None:
    day_page.goto(site_url + DAY.address)
    choose(day_page, LEVEL, 1)
    day_page.evaluate("for (const key of Object.keys(localStorage)) localStorage.setItem(key, 'long gone')")
    day_page.reload()
    expect(day_page.get_by_label("Level")).to_have_value(next(iter(DAY.version.levels)))
    assert len(read_day(day_page).sessions) == 1


def test_nothing_but_the_level_is_stored(day_page: Page, site_url: str) -> None:
    day_page.goto(site_url + DAY.address)
    assert day_page.evaluate("Object.keys(localStorage)") == []
    choose(day_page, LEVEL, 2)
    assert day_page.evaluate("Object.entries(localStorage)") == [
        [f"level {SUB_PATH}{DAY.version.programme}", LEVEL]
    ]
    assert day_page.context.cookies() == []
