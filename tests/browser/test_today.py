"""What is on today: by the date, the level, the log and an athlete's own week; against Python's calendar."""

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.demo import demo
from tests.browser.guided import press
from tests.browser.log_records import record, station
from tests.browser.reading_pages import text_of
from tests.samples import every

TREE = demo()
LAST = TREE.versions[-1]
PROGRAMME = LAST.programme
LEVEL, LEVEL_NAME = next(iter(LAST.levels.items()))
HOME = "/club/site/"
NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
# Two phases with a gap of two weeks between; A on Mondays, B on Tuesdays or Wednesdays, C twice a week.
FIRST, SECOND = date(2027, 1, 11), date(2027, 2, 22)


def day_of(name: str, on: list[list[int]], weeks: int, left_out: tuple[int, ...] = ()) -> dict[str, Any]:
    minutes = [[0, 0] if week + 1 in left_out else [30 + week, 35 + week] for week in range(weeks)]
    return {"id": name, "title": name.upper(), "on": on, "takes": {"x": minutes}}


def phase(number: int, starts: date, weeks: int, days: list[dict[str, Any]]) -> dict[str, Any]:
    address = f"p/{number}.0/"
    return {
        "number": number, "phase": "P", "starts": starts.isoformat(), "weeks": weeks, "address": address,
        "levels": ["x"], "days": days,
    }  # fmt: skip


PHASES = [
    phase(1, FIRST, 4, [day_of("a", [[0]], 4, (3,)), day_of("b", [[1, 2]], 4), day_of("c", [[3], [5]], 4)]),
    phase(2, SECOND, 2, [day_of("a", [[0]], 2)]),
]


@pytest.fixture(scope="module")
def agenda_script(built_site: Path) -> str:
    [file] = (built_site / "assets/js/today").glob("agenda.*.js")
    return f"assets/js/today/{file.name}"


@pytest.fixture(scope="module")
def ask_each(blank_page: Page, site_url: str, agenda_script: str) -> Any:
    """`ask_each(function, given)` of agenda.js, with each of the lists of arguments; in one blank page."""

    def call(name: str, given: list[list[Any]]) -> Any:
        body = f"const m = await import('{site_url}{agenda_script}'); return given.map((one) => m.{name}(...one));"
        return blank_page.evaluate(f"async (given) => {{ {body} }}", given)

    return call


@pytest.fixture(scope="module")
def ask(ask_each: Any) -> Any:
    """`ask(function, *arguments)` of agenda.js."""
    return lambda name, *arguments: ask_each(name, [list(arguments)])[0]


def test_next_is_the_weekday_to_take_and_after_it_any_that_is_left(ask: Any) -> None:
    """B on Tuesdays or Wednesdays, better on Wednesdays; after another session on Tuesday too."""
    days = [day_of("a", [[0]], 4), day_of("b", [[1, 2]], 4)]
    days[1]["take"] = [[2, "Wednesday, as Monday has jumps"]]
    phases = [phase(1, FIRST, 4, days)]
    given = {"behind": 0, "level": "x", "phases": phases, "done": []}
    for day, following in ((FIRST, 2), (FIRST + timedelta(days=2), 7), (FIRST + timedelta(days=7), 9)):
        found = ask("agenda", {**given, "day": ms(day)})
        assert found["next"]["on"] == ms(FIRST + timedelta(days=following))
    tuesday = ask("agenda", {**given, "day": ms(FIRST + timedelta(days=1))})
    assert [(one["id"], one["take"]) for one in tuesday["today"]] == [("b", days[1]["take"][0])]


def ms(day: date) -> int:
    return int(datetime.combine(day, time(), UTC).timestamp() * 1000)


Agenda = tuple[list[str], list[str], str]


def on(ask: Any, day: date, done: dict[date, str] | None = None) -> Agenda:
    """Done today, still to do today, and what is next with its date."""
    return told(day, ask("agenda", asked_of(day, done)))


def asked_of(day: date, done: dict[date, str] | None = None, behind: int = 0) -> dict[str, Any]:
    sessions = [{"id": name, "title": name.upper(), "day": ms(when)} for when, name in (done or {}).items()]
    return {"day": ms(day), "behind": behind, "level": "x", "phases": PHASES, "done": sessions}


def told(day: date, found: dict[str, Any]) -> Agenda:
    following = found["next"]
    words = f"{following['id']} {day + timedelta(days=following['off'])}" if following else ""
    if following:
        assert following["on"] == ms(day + timedelta(days=following["off"]))
    return found["done"], [f"{one['id']} week {one['week']}" for one in found["today"]], words


def at(week: int, weekday: str, start: date = FIRST) -> date:
    return start + timedelta(days=7 * (week - 1) + NAMES.index(weekday))


def test_a_week_of_sessions_and_of_days_between(ask: Any) -> None:
    assert on(ask, at(1, "mon")) == ([], ["a week 1"], f"b {at(1, 'tue')}")
    assert on(ask, at(1, "thu")) == ([], ["c week 1"], f"c {at(1, 'sat')}")
    assert on(ask, at(1, "fri")) == ([], [], f"c {at(1, 'sat')}")
    assert on(ask, at(1, "sun")) == ([], [], f"a {at(2, 'mon')}")


def test_a_choice_of_days_is_open_until_it_is_done(ask: Any) -> None:
    assert on(ask, at(1, "tue"))[1:] == (["b week 1"], f"c {at(1, 'thu')}")
    assert on(ask, at(1, "wed"))[1] == ["b week 1"]
    assert on(ask, at(1, "wed"), {at(1, "tue"): "b"})[1] == []
    assert on(ask, at(1, "tue"), {at(1, "mon"): "b"})[1] == [], (
        "done on another day of the week counts as well"
    )
    assert on(ask, at(2, "tue"), {at(1, "tue"): "b"})[1] == ["b week 2"], "that of last week does not"


def test_what_is_done_is_told_and_not_asked_for_again(ask: Any) -> None:
    done, today, following = on(ask, at(1, "mon"), {at(1, "mon"): "a"})
    assert (done, today, following) == (["A"], [], f"b {at(1, 'tue')}")
    assert on(ask, at(1, "mon"), {at(1, "mon"): "b"}) == (["B"], [], f"c {at(1, 'thu')}"), "one is enough"
    assert on(ask, at(1, "sat"), {at(1, "thu"): "c"})[1] == ["c week 1"], "the second of two is still there"
    assert on(ask, at(1, "sat"), {at(1, "thu"): "c", at(1, "fri"): "c"})[1] == []


def test_a_missed_session_is_not_made_up(ask: Any) -> None:
    assert on(ask, at(1, "fri")) == ([], [], f"c {at(1, 'sat')}")


def test_what_a_week_leaves_out_is_not_on(ask: Any) -> None:
    assert on(ask, at(3, "mon")) == ([], [], f"b {at(3, 'tue')}")
    assert on(ask, at(2, "sun"))[2] == f"b {at(3, 'tue')}"


def test_before_between_and_after_the_phases(ask: Any) -> None:
    def state(day: date, behind: int = 0) -> tuple[str, int]:
        found = ask("standing", ms(day - timedelta(weeks=behind)), PHASES)
        return found["state"], found["index"]

    assert state(FIRST - timedelta(days=1)) == ("before", 0)
    assert state(FIRST) == ("on", 0)
    assert state(at(4, "sun")) == ("on", 0)
    assert state(at(4, "sun") + timedelta(days=1)) == ("between", 0)
    assert state(SECOND - timedelta(days=1)) == ("between", 0)
    assert state(SECOND) == ("on", 1)
    assert state(SECOND + timedelta(days=14)) == ("over", 1)
    assert on(ask, date(2026, 12, 1))[2] == f"a {FIRST}"
    assert on(ask, at(4, "sat") + timedelta(days=5))[2] == f"a {SECOND}"
    assert on(ask, date(2031, 1, 1)) == ([], [], "")
    assert on(ask, date(1970, 1, 1)) == ([], [], ""), "a phone without a date finds nothing within a year"


@pytest.mark.parametrize("behind", [1, 2, 5])
def test_who_stands_behind_has_the_calendars_sessions_so_many_weeks_later(ask_each: Any, behind: int) -> None:
    days = [FIRST + timedelta(days=offset) for offset in range(-7, 70)]
    by_the_calendar = ask_each("agenda", [[asked_of(day)] for day in days])
    late = timedelta(weeks=behind)
    later = ask_each("agenda", [[asked_of(day + late, behind=behind)] for day in days])
    for day, theirs, ours in zip(days, by_the_calendar, later, strict=True):
        _, today, following = told(day, theirs)
        _, own, after = told(day + late, ours)
        assert own == today
        if following:
            name, when = following.split()
            assert after == f"{name} {date.fromisoformat(when) + late}"


def test_one_may_stand_in_every_earlier_week_and_in_no_later_one(ask: Any) -> None:
    def weeks(day: date) -> list[tuple[int, int, int]]:
        found = ask("earlier", ms(day), PHASES)
        return [(PHASES[one["index"]]["number"], one["week"], one["behind"]) for one in found]

    assert weeks(FIRST - timedelta(days=1)) == []
    assert weeks(at(3, "wed")) == [(1, 3, 0), (1, 2, 1), (1, 1, 2)]
    assert weeks(SECOND) == [(2, 1, 0), (1, 4, 3), (1, 3, 4), (1, 2, 5), (1, 1, 6)]
    for number, week, behind in weeks(SECOND + timedelta(days=10)):
        day = SECOND + timedelta(days=10) - timedelta(weeks=behind)
        assert (day - date.fromisoformat(PHASES[number - 1]["starts"])).days // 7 + 1 == week


@pytest.mark.parametrize(
    ("last", "answered", "asks"),
    [
        (None, None, False),
        (13, None, False),
        (14, None, True),
        (40, 13, False),
        (40, 14, True),
        (None, 14, True),
        (3, 40, False),
    ],
)
def test_the_page_asks_after_two_weeks_with_nothing(
    ask: Any, last: int | None, answered: int | None, asks: bool
) -> None:
    day = at(3, "mon")
    ago = [None if days is None else ms(day - timedelta(days=days)) for days in (last, answered)]
    assert ask("asksIfAway", ms(day), *ago) is asks


# ---- Pages ----


def go(page: Page, url: str, moment: datetime) -> None:
    page.clock.set_fixed_time(moment)
    page.goto(url)


def keep(page: Page, what: str, text: str) -> None:
    """The device has kept this for the programme."""
    page.evaluate("(one) => localStorage.setItem(...one)", [f"{what} {HOME}{PROGRAMME}", text])


def noon(day: date, zone: str = "UTC") -> datetime:
    return datetime.combine(day, time(12), ZoneInfo(zone))


def card(page: Page) -> Any:
    return page.get_by_role("region", name=f"Today: {TREE.programmes[PROGRAMME]['title']}")


def trained_on(day: Any) -> date:
    """The first day on which a session of the newest phase is planned."""
    return LAST.starts + timedelta(days=NAMES.index(day.plan["on"][0].split(" or ")[0]))


def test_a_first_visit_asks_for_the_level_and_then_two_taps_lead_to_a_session(
    emptied_page: OpenPage, site_url: str
) -> None:
    day = LAST.days[0]
    page = emptied_page(**PHONE, timezone_id="UTC")
    go(page, site_url, noon(trained_on(day)))
    expect(card(page).get_by_role("heading", name="Which level is yours?")).to_be_visible()
    card(page).get_by_role("button", name=LEVEL_NAME).tap()
    session = day.session(LEVEL, 1)
    words = f"Today: {day.title} about {session.minutes} min, up to {session.by_hand} without the timer"
    assert text_of(card(page).locator(".go a")) == words
    page.reload()
    assert page.get_by_text("Which level is yours?").count() == 0, "no other programme asks"
    card(page).locator(".go a").tap()
    expect(page).to_have_url(site_url + session.address)
    page.get_by_role("button", name="Start the session").tap()
    expect(page.locator("h2").first).to_be_visible()
    assert page.evaluate(
        "document.querySelector('main').hidden || document.querySelector('.guided') !== null"
    )


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Los_Angeles"])
def test_today_turns_at_the_devices_midnight(emptied_page: OpenPage, site_url: str, zone: str) -> None:
    page = emptied_page(**PHONE, timezone_id=zone)
    keep(page, "level", LEVEL)
    day = LAST.days[0]
    first = trained_on(day)
    go(page, f"{site_url}{PROGRAMME}/", datetime.combine(first, time(0, 1), ZoneInfo(zone)))
    expect(card(page).locator(".go")).to_contain_text(f"Today: {day.title}")
    page.clock.set_fixed_time(datetime.combine(first - timedelta(days=1), time(23, 59), ZoneInfo(zone)))
    page.reload()
    expect(card(page).get_by_role("link", name="Next: ")).to_contain_text(f"{day.title}, tomorrow")


@pytest.mark.parametrize(
    ("zone", "turn"), [("Europe/London", date(2027, 3, 28)), ("America/New_York", date(2027, 3, 14))]
)
def test_a_day_of_23_hours_moves_no_week(ask: Any, zone: str, turn: date) -> None:
    """Summer time (IANA time zone database): days are counted as dates, so that the oracle is Python's calendar."""
    start = turn - timedelta(days=6)
    phases = [phase(1, start, 4, [day_of("a", [[0]], 4)])]
    for offset in range(14):
        day = start + timedelta(days=offset)
        found = ask("agenda", {"day": ms(day), "behind": 0, "level": "x", "phases": phases, "done": []})
        assert found["week"] == offset // 7 + 1
        assert bool(found["today"]) == (day.weekday() == 0)


def log(page: Page, records: list[dict[str, Any]]) -> None:
    page.evaluate(
        "all => all.forEach((one) => localStorage.setItem(`log /club/site/ ${one.id}`, JSON.stringify(one)))",
        records,
    )
    page.reload()


def finished(day: Any, moment: datetime, **more: Any) -> dict[str, Any]:
    start = int(moment.timestamp() * 1000)
    return record(
        **{"id": "r1", "programme": PROGRAMME, "day": day.plan["id"], "title": day.title, "started": start,
           "ended": start + 60_000, "stations": [station()]} | more
    )  # fmt: skip


def test_a_finished_session_is_done_today_and_a_wrong_date_is_asked_about(
    emptied_page: OpenPage, site_url: str
) -> None:
    day = LAST.days[0]
    first = trained_on(day)
    page = emptied_page(**PHONE, timezone_id="UTC")
    keep(page, "level", LEVEL)
    go(page, f"{site_url}{PROGRAMME}/", noon(first))
    log(page, [finished(day, noon(first), ended=None)])
    expect(card(page).locator(".go")).to_have_count(1)
    log(page, [finished(day, noon(first))])
    expect(card(page)).to_contain_text(f"Done today: {day.title}")
    expect(card(page).locator(".go")).to_have_count(0)
    page.clock.set_fixed_time(noon(first - timedelta(days=400)))
    page.reload()
    expect(card(page)).to_contain_text("Is the date of this device right?")


def test_an_earlier_week_is_kept_and_shown_wherever_the_week_is(
    emptied_page: OpenPage, site_url: str
) -> None:
    day = LAST.days[0]
    third = trained_on(day) + timedelta(weeks=2)
    page = emptied_page(**PHONE, timezone_id="UTC")
    keep(page, "level", LEVEL)
    go(page, f"{site_url}{PROGRAMME}/", noon(third))
    press(page.get_by_text("New here, or away for a while?"))
    card(page).get_by_label("Week").select_option("2")
    expect(card(page)).to_contain_text("week 1 of 4: your own week, 2 weeks behind the calendar")
    expect(card(page).locator(".go a")).to_have_attribute("href", f"../{day.session(LEVEL, 1).address}")
    page.reload()
    expect(page.locator(".phase [data-week]:visible")).to_have_text("week 1 of 4, your own")
    page.goto(site_url + day.address)
    expect(page.get_by_label("Your own week")).to_have_value("1")
    page.clock.set_fixed_time(noon(third + timedelta(weeks=1)))
    page.reload()
    expect(page.get_by_label("Your own week")).to_have_value("2")
    page.goto(f"{site_url}{PROGRAMME}/")
    press(page.get_by_text("New here, or away for a while?"))
    card(page).get_by_label("Week").select_option("0")
    page.goto(site_url + day.address)
    expect(page.get_by_label("Week")).to_have_value("4")


def test_after_two_weeks_the_page_asks_and_changes_nothing_by_itself(
    emptied_page: OpenPage, site_url: str
) -> None:
    day = LAST.days[0]
    first = trained_on(day)
    page = emptied_page(**PHONE, timezone_id="UTC")
    keep(page, "level", LEVEL)
    go(page, f"{site_url}{PROGRAMME}/", noon(first + timedelta(days=15)))
    log(page, [finished(day, noon(first))])
    expect(card(page)).to_contain_text("Nothing in your log for 15 days")
    expect(card(page)).to_contain_text("week 3 of 4")
    press(card(page).get_by_role("button", name="Choose an earlier week"))
    expect(card(page).get_by_label("Week")).to_be_focused()
    press(card(page).get_by_role("button", name="Stay in this week"))
    page.reload()
    assert card(page).get_by_text("Nothing in your log").count() == 0


@pytest.mark.parametrize("kept", every(["-1", "1e9", "x", "", "99999", "521"], few=["-1", "x", "521"]))
def test_what_is_kept_is_believed_only_if_it_is_a_number_of_weeks(
    emptied_page: OpenPage, site_url: str, kept: str
) -> None:
    page = emptied_page(**PHONE, timezone_id="UTC")
    keep(page, "behind", kept)
    go(page, site_url + LAST.days[0].address, noon(LAST.starts))
    expect(page.get_by_label("Week")).to_have_value("1")
    expect(page.get_by_label("Your own week")).to_have_count(0)


def test_two_programmes_of_one_age_say_that_one_is_enough(kept_page: Page, site_url: str) -> None:
    kept_page.goto(site_url)
    ages = [one["audience"]["ages"] for one in TREE.programmes.values()]
    assert ages[0][0] <= ages[1][1]
    assert ages[1][0] <= ages[0][1]
    assert "One programme at a time is enough." in text_of(kept_page.locator("#main"))
