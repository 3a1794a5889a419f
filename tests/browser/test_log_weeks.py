"""Session load, weeks and monotony, against worked examples, Python's calendar and its statistics."""

import math
import random
import statistics
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.log_records import call, record
from tests.samples import every

UTC = ZoneInfo("UTC")
# A Monday.
MONDAY = datetime(2027, 1, 11, 17, 30, tzinfo=UTC)
LATER = MONDAY + timedelta(days=7)
# Weeks of daily loads, each with total, mean, standard deviation of a sample, and monotony. No published week with its
# result was found: these are worked by hand for this project from the definition of Foster (1998), Med Sci Sports
# Exerc 30(7):1164-1168: mean / standard deviation, days without training as 0.
WEEKS = [
    ([300, 0, 450, 0, 160, 720, 0], 1630, 232.86, 275.97, 0.844),
    ([120, 0, 200, 0, 120, 420, 0], 860, 122.86, 152.50, 0.806),
    ([300, 300, 300, 300, 300, 300, 0], 1800, 257.14, 113.39, 2.268),
]


@pytest.fixture
def page(open_page: OpenPage, site_url: str) -> Page:
    page = open_page(**PHONE, timezone_id="UTC")
    page.goto(f"{site_url}about/")
    return page


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


@pytest.mark.parametrize(("loads", "total", "mean", "deviation", "monotony"), WEEKS)
def test_the_worked_weeks(
    page: Page,
    built_site: Path,
    loads: list[float],
    total: float,
    mean: float,
    deviation: float,
    monotony: float,
) -> None:
    body = "return [m.mean(given), m.deviation(given), m.monotony(given)]"
    worked = call(page, built_site, "weeks", body, loads)
    assert worked == pytest.approx([mean, deviation, monotony], abs=0.005)
    [week, _] = weeks(page, built_site, a_week(loads), LATER)
    assert (week["loads"], week["total"]) == (loads, total)
    assert week["monotony"] == pytest.approx(monotony, abs=0.0005)


def test_the_published_ratio_of_a_mean_to_its_deviation(page: Page, built_site: Path) -> None:
    """Ladlow et al., BMJ Military Health, table 1: 790 / 897 = 0.88."""
    # Two days at 790 + d and five at 790 - 2d/5 have the mean 790 and the variance 2.8 d² / 6.
    d = 897 * math.sqrt(6 / 2.8)
    loads = [790 + d, 790 + d, *[790 - 2 * d / 5] * 5]
    body = "return [m.mean(given), m.deviation(given), m.monotony(given)]"
    assert call(page, built_site, "weeks", body, loads) == pytest.approx([790, 897, 0.88], rel=0.005)


def test_the_example_of_the_design(page: Page, built_site: Path) -> None:
    """45 min at effort 6 is 270; a week of 270, 0, 300, 0, 240, 0, 0 has the mean 115.7."""
    assert call(page, built_site, "weeks", "return m.load(given)", trained(MONDAY, 45, 6)) == 270
    [week, _] = weeks(page, built_site, a_week([270, 0, 300, 0, 240, 0, 0]), LATER)
    assert call(page, built_site, "weeks", "return m.mean(given)", week["loads"]) == pytest.approx(
        115.7, abs=0.05
    )
    expected = 115.714 / statistics.stdev([270, 0, 300, 0, 240, 0, 0])
    assert week["monotony"] == pytest.approx(expected, abs=1e-4)


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


@pytest.mark.parametrize("minutes", [60, 45.221, 1 / 3])
def test_seven_equal_days_have_no_monotony(page: Page, built_site: Path, minutes: float) -> None:
    sessions = [trained(MONDAY + timedelta(days=day), minutes, 5) for day in range(6)]
    # The seventh day comes to the same in two parts, which may differ in the last binary digit.
    sessions += [trained(MONDAY + timedelta(days=6), minutes * part, 5) for part in (0.3, 0.7)]
    [week, _] = weeks(page, built_site, sessions, LATER)
    assert (week["monotony"], week["why"]) == (None, "equal")
    assert call(page, built_site, "words", "return m.monotonyWords(given)", week).startswith("not defined")


def test_a_week_without_load_has_no_monotony(page: Page, built_site: Path) -> None:
    [resting, empty, _] = weeks(page, built_site, [trained(MONDAY, 30, 0)], LATER + timedelta(days=7))
    assert [(week["monotony"], week["why"]) for week in (resting, empty)] == [(None, "none")] * 2
    for loads in ([0] * 7, [300] * 7):
        assert call(page, built_site, "weeks", "return m.monotony(given)", loads) is None


def test_days_without_training_count_as_nothing_and_are_not_left_out(page: Page, built_site: Path) -> None:
    """Four training days of 300, 450, 160 and 720: the mean of the week is 232.9, not the 407.5 of those four."""
    [week, _] = weeks(page, built_site, a_week([300, 0, 450, 0, 160, 720, 0]), LATER)
    assert len(week["loads"]) == 7
    assert call(page, built_site, "weeks", "return m.mean(given)", week["loads"]) == pytest.approx(
        232.9, abs=0.05
    )


def test_an_unknown_effort_is_not_0(page: Page, built_site: Path) -> None:
    sessions = [trained(MONDAY, 30, 5), trained(MONDAY + timedelta(days=2), 30, None)]
    [week, _] = weeks(page, built_site, sessions, LATER)
    assert (week["total"], week["sessions"], week["unknown"]) == (150, 2, 1)
    assert (week["unknowns"], week["why"], week["monotony"]) == ([0, 0, 1, 0, 0, 0, 0], "unknown", None)
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
    assert (week["over"], week["why"], week["monotony"], week["coming"]) == (False, "not over", None, 6 - day)
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
    page = open_page(**PHONE, timezone_id=zone)
    page.goto(f"{site_url}about/")
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
        if len(set(loads)) > 1:
            assert shown[monday]["monotony"] == pytest.approx(
                statistics.mean(loads) / statistics.stdev(loads)
            )
    assert sum(week["sessions"] for week in found) == len(sessions)
