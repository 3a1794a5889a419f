"""Session load and weeks, against worked examples and Python's calendar."""

import random
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.log_records import call, emptied, record
from tests.samples import every

UTC = ZoneInfo("UTC")
# A Monday.
MONDAY = datetime(2027, 1, 11, 17, 30, tzinfo=UTC)
LATER = MONDAY + timedelta(days=7)


@pytest.fixture
def page(open_page: OpenPage, site_url: str) -> Page:
    return emptied(open_page(**PHONE, timezone_id="UTC"), site_url)


def ms(moment: datetime) -> int:
    return round(moment.timestamp() * 1000)


def trained(moment: datetime, minutes: float, effort: int | None) -> dict[str, Any]:
    return record(started=ms(moment), seconds=minutes * 60, effort=effort)


def a_week(loads: list[float]) -> list[dict[str, Any]]:
    """One session on each day that has a load: as many minutes, at effort 1."""
    return [trained(MONDAY + timedelta(days=day), load, 1) for day, load in enumerate(loads) if load]


def weeks(
    page: Page, built_site: Path, records: list[dict[str, Any]], now: datetime, most: int = 12
) -> list[Any]:
    found: list[Any] = call(page, built_site, "weeks", "return m.weeks(...given)", [records, ms(now), most])
    return found


def test_the_example_of_the_design(page: Page, built_site: Path) -> None:
    """45 min at effort 6 is 270; days without training count as 0."""
    assert call(page, built_site, "weeks", "return m.load(given)", trained(MONDAY, 45, 6)) == 270
    [week, _] = weeks(page, built_site, a_week([270, 0, 300, 0, 240, 0, 0]), LATER)
    assert (week["loads"], week["total"]) == ([270, 0, 300, 0, 240, 0, 0], 810)


def test_effort_five_for_an_hour_is_300_and_the_scale_ends_at_0_and_10(page: Page, built_site: Path) -> None:
    """Foster et al. (2021), Int J Sports Physiol Perform 16(5):612-621: session load = rating × minutes."""
    assert call(page, built_site, "weeks", "return m.load(given)", trained(MONDAY, 60, 5)) == 300
    body = "return given.map((effort) => m.onScale(effort))"
    assert call(page, built_site, "effort", body, [*range(-1, 12), 5.5, "5", None]) == [
        False,
        *[True] * 11,
        False,
        False,
        False,
        False,
    ]


def test_the_words_of_the_scale(page: Page, built_site: Path) -> None:
    """The modified CR-10 of Foster et al. (2001), J Strength Cond Res 15(1):109-115; 6, 8 and 9 have no words."""
    words = call(page, built_site, "effort", "return [...Array(11).keys()].map(m.words)")
    assert words == [
        "rest",
        "very very easy",
        "easy",
        "moderate",
        "somewhat hard",
        "hard",
        "",
        "very hard",
        "",
        "",
        "maximal",
    ]


def test_an_unknown_effort_is_not_0(page: Page, built_site: Path) -> None:
    sessions = [trained(MONDAY, 30, 5), trained(MONDAY + timedelta(days=2), 30, None)]
    [week, _] = weeks(page, built_site, sessions, LATER)
    assert (week["total"], week["sessions"], week["unknown"]) == (150, 2, 1)
    assert week["unknowns"] == [0, 0, 1, 0, 0, 0, 0]
    assert call(page, built_site, "weeks", "return m.load(given)", sessions[1]) is None
    words = call(
        page,
        built_site,
        "words",
        "return [m.totalWords(given), m.dayLoadWords(given, 2), m.dayLoadWords(given, 3)]",
        week,
    )
    assert words == ["150 + ?", "?", "0"]


@pytest.mark.parametrize("day", range(7))
def test_a_week_that_is_not_over_says_so(page: Page, built_site: Path, day: int) -> None:
    [week] = weeks(page, built_site, [trained(MONDAY, 30, 5)], MONDAY + timedelta(days=day))
    assert (week["over"], week["coming"]) == (False, 6 - day)
    words = call(
        page, built_site, "words", "return given.loads.map((_, day) => m.dayLoadWords(given, day))", week
    )
    assert words == ["150", *["0"] * day, *["–"] * (6 - day)]


def test_weeks_between_are_there_and_the_oldest_are_left_out(page: Page, built_site: Path) -> None:
    sessions = [trained(MONDAY - timedelta(weeks=back), 30, 5) for back in (0, 3, 40)]
    found = weeks(page, built_site, sessions, MONDAY, 5)
    assert [week["sessions"] for week in found] == [0, 1, 0, 0, 1]
    assert weeks(page, built_site, [], MONDAY) == []
    ahead = trained(MONDAY + timedelta(weeks=2), 30, 5)
    assert [week["sessions"] for week in weeks(page, built_site, [*sessions, ahead], MONDAY, 1)] == [1]
    assert weeks(page, built_site, [ahead], MONDAY) == []


@pytest.mark.parametrize(
    "zone", every(["Pacific/Auckland", "America/Los_Angeles", "Asia/Kolkata", "Europe/London"], few=2)
)
def test_a_session_is_in_the_week_of_its_local_date(
    open_page: OpenPage, built_site: Path, site_url: str, zone: str
) -> None:
    page = emptied(open_page(**PHONE, timezone_id=zone), site_url)
    chance = random.Random(zone)
    around = [
        datetime(2026, 3, 29, tzinfo=UTC),
        datetime(2026, 10, 25, tzinfo=UTC),
        datetime(2027, 1, 1, tzinfo=UTC),
    ]
    instants = [
        turn + timedelta(minutes=chance.randrange(-20_000, 20_000)) for turn in around for _ in range(300)
    ]
    sessions = [trained(instant, chance.randrange(1, 90), chance.randrange(11)) for instant in instants]
    expected: dict[date, list[float]] = {}
    for instant, one in zip(instants, sessions, strict=True):
        day = instant.astimezone(ZoneInfo(zone)).date()
        loads = expected.setdefault(day - timedelta(days=day.weekday()), [0.0] * 7)
        loads[day.weekday()] += one["effort"] * one["seconds"] / 60
    found = weeks(page, built_site, sessions, max(instants) + timedelta(days=30), 100)
    shown = {datetime.fromtimestamp(week["monday"] / 1000, UTC).date(): week for week in found}
    assert {day: week["loads"] for day, week in shown.items() if week["sessions"]} == {
        day: pytest.approx(loads) for day, loads in expected.items()
    }
    for monday, loads in expected.items():
        assert shown[monday]["total"] == pytest.approx(sum(loads))
    assert sum(week["sessions"] for week in found) == len(sessions)


@pytest.mark.parametrize(
    ("seconds", "effort", "words"),
    [
        (120, 4, "2 min × effort 4 = 8 · somewhat hard"),
        (2700, 6, "45 min × effort 6 = 270"),
        (2306, 6, "38 min 26 s × effort 6 = 231"),
        (40, 10, "40 s × effort 10 = 7 · maximal"),
        (0, 0, "0 min × effort 0 = 0 · rest"),
        (1800, None, "30 min · no effort noted, so no load yet"),
    ],
)
def test_a_load_is_written_as_the_sum_that_it_is(
    page: Page, built_site: Path, seconds: int, effort: int | None, words: str
) -> None:
    one = record(started=ms(MONDAY), seconds=seconds, effort=effort, ended=ms(LATER))
    assert call(page, built_site, "words", "return m.sessionWords(given)", one) == words
