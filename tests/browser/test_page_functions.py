"""The functions of dates.js in the browser, against Python's calendar."""

from datetime import date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import PHONE, OpenPage

WEEK = timedelta(days=7)
ZONES = [
    "Pacific/Auckland",
    "America/Los_Angeles",
    "Asia/Kolkata",
    "Europe/London",
    "America/Sao_Paulo",
    "UTC",
]
# Around these the local day has 23 or 25 hours in one zone or another (IANA time zone database), or a year ends.
TURNS = [
    date(2018, 11, 4),
    date(2026, 3, 8),
    date(2026, 3, 29),
    date(2026, 4, 5),
    date(2026, 9, 27),
    date(2026, 10, 25),
    date(2026, 11, 1),
    date(2027, 1, 1),
    date(2028, 2, 29),
    date(2028, 12, 31),
]
DAYS = [turn + timedelta(days=off) for turn in TURNS for off in range(-8, 9)]
HOURS = [time(0, 0), time(0, 30), time(12, 0), time(23, 30), time(23, 59, 59)]


@pytest.fixture(scope="module")
def script(built_site: Path) -> str:
    [file] = (built_site / "assets/js").glob("dates.*.js")
    return f"assets/js/{file.name}"


def monday(day: date) -> date:
    year, week, _ = day.isocalendar()
    return date.fromisocalendar(year, week, 1)


def call(page: Page, site_url: str, script: str, body: str, argument: object) -> object:
    return page.evaluate(
        f"async (given) => {{ const m = await import('{site_url}{script}'); {body} }}", argument
    )


@pytest.mark.parametrize("zone", ZONES)
def test_the_day_is_the_local_date_whatever_the_hour(
    open_page: OpenPage, site_url: str, script: str, zone: str
) -> None:
    page = open_page(**PHONE, timezone_id=zone)
    page.goto(site_url)
    instants = [datetime.combine(day, hour, ZoneInfo(zone)) for day in DAYS for hour in HOURS]
    # A local time that the clocks skip is another one when it is read back.
    local = [datetime.fromtimestamp(instant.timestamp(), ZoneInfo(zone)).date() for instant in instants]
    body = "return given.map((t) => new Date(m.today(new Date(t * 1000))).toISOString().slice(0, 10))"
    shown = call(page, site_url, script, body, [instant.timestamp() for instant in instants])
    assert shown == [day.isoformat() for day in local]


@pytest.mark.parametrize("zone", ZONES)
def test_weeks_turn_on_monday_through_clock_changes_and_year_ends(
    open_page: OpenPage, site_url: str, script: str, zone: str
) -> None:
    page = open_page(**PHONE, timezone_id=zone)
    page.goto(site_url)
    starts = [monday(turn) + weeks * WEEK for turn in TURNS for weeks in (-5, -1, 0, 2)]
    pairs = [(day, start) for day in DAYS for start in starts]
    body = "return given.map(([y, mo, d, start]) => m.weekOn(m.today(new Date(y, mo - 1, d, 23, 30)), start))"
    given = [(day.year, day.month, day.day, start.isoformat()) for day, start in pairs]
    assert call(page, site_url, script, body, given) == [
        (monday(day) - start) // WEEK + 1 for day, start in pairs
    ]


def test_the_current_phase_is_the_last_that_has_started(kept_page: Page, site_url: str, script: str) -> None:
    kept_page.goto(site_url)
    starts = [date(2026, 10, 5), date(2026, 11, 9), date(2027, 1, 11)]
    days = [date(2026, 9, 1) + timedelta(days=off) for off in range(200)]
    expected = [max([i for i, start in enumerate(starts) if start <= day], default=0) for day in days]
    assert set(expected) == {0, 1, 2}
    body = "return given.days.map((day) => m.currentPhase(Date.parse(day), given.starts))"
    given = {"days": [d.isoformat() for d in days], "starts": [s.isoformat() for s in starts]}
    assert call(kept_page, site_url, script, body, given) == expected


@pytest.mark.parametrize(
    ("week", "weeks", "words"),
    [
        (-3, 4, ""),
        (0, 4, ""),
        (1, 4, "week 1 of 4"),
        (4, 4, "week 4 of 4"),
        (5, 4, "finished"),
        (1, 1, "week 1 of 1"),
        (60, 52, "finished"),
    ],
)
def test_weeks_in_words(
    kept_page: Page, site_url: str, script: str, week: int, weeks: int, words: str
) -> None:
    kept_page.goto(site_url)
    assert call(kept_page, site_url, script, "return m.weekWords(...given)", [week, weeks]) == words
