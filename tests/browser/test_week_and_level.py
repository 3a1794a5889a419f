"""Week and level of a day page: one session at a time, the right doses, the level remembered."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import PHONE, OpenContext
from tests.browser.crowded import TWIN
from tests.browser.demo import Day, Row, demo, near, recipe_kg
from tests.browser.reading_pages import Station, read_day
from tests.conftest import SUB_PATH, Serve

TREE = demo()
DAY = TREE.versions[-1].days[0]
ANOTHER_DAY = TREE.versions[-1].days[-1]
LEVEL = list(DAY.version.levels)[-1]


def choose(page: Page, level: str, week: int) -> None:
    page.get_by_label("Level").select_option(level)
    page.get_by_label("Week").select_option(str(week))


@pytest.mark.parametrize("day", TREE.days, ids=repr)
def test_every_choice_shows_its_one_session_and_its_doses(page: Page, site_url: str, day: Day) -> None:
    page.goto(site_url + day.address)
    for session in day.sessions:
        choose(page, session.level, session.week)
        shown = read_day(page)
        [(address, words)] = shown.sessions
        assert address == f"{session.level}/week-{session.week}/"
        assert words.startswith(f"Open the session {session.level_name}, week {session.week} · ")
        assert f" · about {session.minutes} min, up to {session.by_hand} without the timer" in words
        assert [station.label for station in shown.stations] == [row.label for row in session.rows], session
        for station, row in zip(shown.stations, session.rows, strict=True):
            assert_says(station, row)
    page.get_by_role("link", name="Open the session").click()
    expect(page).to_have_url(site_url + day.sessions[-1].address)


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


def test_the_week_can_be_changed_from_the_keyboard(page: Page, site_url: str) -> None:
    page.clock.set_fixed_time(datetime.combine(DAY.version.starts, datetime.min.time(), UTC))
    page.goto(site_url + DAY.address)
    page.get_by_label("Week").focus()
    page.keyboard.press("ArrowDown")
    expect(page.get_by_label("Week")).to_have_value("2")
    [(address, _)] = read_day(page).sessions
    assert address.endswith("/week-2/")


def test_the_level_is_remembered_over_a_reload(page: Page, site_url: str) -> None:
    page.goto(site_url + DAY.address)
    expect(page.get_by_label("Level")).to_have_value(next(iter(DAY.version.levels)))
    choose(page, LEVEL, 1)
    page.reload()
    expect(page.get_by_label("Level")).to_have_value(LEVEL)
    [(address, _)] = read_day(page).sessions
    assert address.startswith(f"{LEVEL}/")


def test_the_week_is_not_remembered_but_follows_the_date(page: Page, site_url: str) -> None:
    page.clock.set_fixed_time(datetime.combine(DAY.version.starts, datetime.min.time(), UTC))
    page.goto(site_url + DAY.address)
    choose(page, LEVEL, 3)
    page.clock.set_fixed_time(datetime.combine(DAY.version.starts + timedelta(7), datetime.min.time(), UTC))
    page.reload()
    expect(page.get_by_label("Week")).to_have_value("2")


def test_the_level_is_remembered_on_other_days_and_phases_of_the_programme(page: Page, site_url: str) -> None:
    page.goto(site_url + DAY.address)
    choose(page, LEVEL, 1)
    for version in TREE.versions:
        if version.programme == DAY.version.programme and LEVEL in version.levels:
            page.goto(site_url + version.days[-1].address)
            expect(page.get_by_label("Level")).to_have_value(LEVEL)


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


def test_a_remembered_level_that_is_no_more_is_passed_over(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    page.goto(site_url + DAY.address)
    choose(page, LEVEL, 1)
    page.evaluate("for (const key of Object.keys(localStorage)) localStorage.setItem(key, 'long gone')")
    page.reload()
    expect(page.get_by_label("Level")).to_have_value(next(iter(DAY.version.levels)))
    assert len(read_day(page).sessions) == 1


def test_nothing_but_the_level_is_stored(phone: BrowserContext, site_url: str) -> None:
    page = phone.new_page()
    page.goto(site_url + DAY.address)
    assert page.evaluate("Object.keys(localStorage)") == []
    choose(page, LEVEL, 2)
    assert page.evaluate("Object.entries(localStorage)") == [
        [f"level {SUB_PATH}{DAY.version.programme}", LEVEL]
    ]
    assert phone.cookies() == []
