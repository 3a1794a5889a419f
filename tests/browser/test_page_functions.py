"""The functions of dates.js in the browser, against Python's calendar."""

from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page

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


Call = Callable[[str, Any], Any]
InZone = Callable[[str], None]


@pytest.fixture(scope="module")
def call(blank_page: Page, site_url: str, script: str) -> Call:
    """`call(body, given)`: what a function gives that has the module as `m`; in one blank page for all tests of this file."""
    return lambda body, given: blank_page.evaluate(
        f"async (given) => {{ const m = await import('{site_url}{script}'); {body} }}", given
    )


@pytest.fixture(scope="module")
def in_zone(blank_page: Page) -> InZone:
    """`in_zone(name)`: from here on the device of that page is in this time zone, until the next call."""
    session = blank_page.context.new_cdp_session(blank_page)
    return lambda zone: session.send("Emulation.setTimezoneOverride", {"timezoneId": zone})


@pytest.mark.parametrize("zone", ZONES)
def test_the_day_is_the_local_date_whatever_the_hour(call: Call, in_zone: InZone, zone: str) -> None:
    in_zone(zone)
    instants = [datetime.combine(day, hour, ZoneInfo(zone)) for day in DAYS for hour in HOURS]
    # A local time that the clocks skip is another one when it is read back.
    local = [datetime.fromtimestamp(instant.timestamp(), ZoneInfo(zone)).date() for instant in instants]
    body = "return given.map((t) => new Date(m.today(new Date(t * 1000))).toISOString().slice(0, 10))"
    assert call(body, [instant.timestamp() for instant in instants]) == [day.isoformat() for day in local]


@pytest.mark.parametrize("zone", ZONES)
def test_weeks_turn_on_monday_through_clock_changes_and_year_ends(
    call: Call, in_zone: InZone, zone: str
) -> None:
    in_zone(zone)
    starts = [monday(turn) + weeks * WEEK for turn in TURNS for weeks in (-5, -1, 0, 2)]
    body = """return given.days.map(([y, mo, d]) => {
      const today = m.today(new Date(y, mo - 1, d, 23, 30));
      return given.starts.map((start) => m.weekOn(today, start));
    })"""
    days = [(day.year, day.month, day.day) for day in DAYS]
    assert call(body, {"days": days, "starts": [start.isoformat() for start in starts]}) == [
        [(first - start) // WEEK + 1 for start in starts] for first in map(monday, DAYS)
    ]


def test_the_current_phase_is_the_last_that_has_started(call: Call) -> None:
    starts = [date(2026, 10, 5), date(2026, 11, 9), date(2027, 1, 11)]
    days = [date(2026, 9, 1) + timedelta(days=off) for off in range(200)]
    expected = [max([i for i, start in enumerate(starts) if start <= day], default=0) for day in days]
    assert set(expected) == {0, 1, 2}
    body = "return given.days.map((day) => m.currentPhase(Date.parse(day), given.starts))"
    given = {"days": [d.isoformat() for d in days], "starts": [s.isoformat() for s in starts]}
    assert call(body, given) == expected


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
def test_weeks_in_words(call: Call, week: int, weeks: int, words: str) -> None:
    assert call("return m.weekWords(...given)", [week, weeks]) == words
