"""What the date decides: the week of a day page, the current phase, the banner of an older phase."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.demo import Version, demo
from tests.browser.reading_pages import read_day, text_of
from tests.samples import every, in_turn

TREE = demo()
# Ahead of UTC by up to 13 h, behind it by up to 8 h, and by a half hour: "today" differs between them.
ZONES = ["Pacific/Auckland", "America/Los_Angeles", "Asia/Kolkata", "UTC"]
PHASE = max(TREE.versions, key=lambda version: version.weeks)
LONGEST_PROGRAMME = max(TREE.programmes, key=lambda name: len(TREE.phases(name)))
NOON, LATE, EARLY = time(12), time(23, 30), time(0, 30)


def set_clock(page: Page, zone: str, day: date, at: time = NOON) -> None:
    """The device's clock shows this local date and time."""
    page.clock.set_fixed_time(datetime.combine(day, at, ZoneInfo(zone)))


def in_phase(week: int, weekday: int) -> date:
    """A day of the phase; Monday is 0."""
    return PHASE.starts + timedelta(days=7 * (week - 1) + weekday)


MOMENTS = [
    ("weeks before the phase", PHASE.starts - timedelta(days=20), NOON, 1),
    ("half an hour before the first Monday", PHASE.starts - timedelta(days=1), LATE, 1),
    ("early on the first Monday", in_phase(1, 0), EARLY, 1),
    ("late on the first Sunday", in_phase(1, 6), LATE, 1),
    ("early on the second Monday", in_phase(2, 0), EARLY, 2),
    ("at noon in the middle", in_phase(3, 2), NOON, 3),
    ("late on the last Sunday but one", in_phase(PHASE.weeks - 1, 6), LATE, PHASE.weeks - 1),
    ("early on the last Monday", in_phase(PHASE.weeks, 0), EARLY, PHASE.weeks),
    ("late on the last Sunday", PHASE.ends, LATE, PHASE.weeks),
    ("early after the phase", PHASE.ends + timedelta(days=1), EARLY, PHASE.weeks),
    ("a year after the phase", PHASE.ends + timedelta(days=365), NOON, PHASE.weeks),
]


def on_another_date_in_utc(zone: str) -> list[tuple[str, date, time, int]]:
    """The moments that ask the most where clocks are far from UTC: the date there is another one."""
    local = [(one, datetime.combine(one[1], one[2], ZoneInfo(zone))) for one in MOMENTS]
    return [one for one, moment in local if moment.astimezone(UTC).date() != moment.date()]


@pytest.mark.parametrize("zone", every(ZONES, few=["Pacific/Auckland", "America/Los_Angeles"]))
def test_a_day_page_opens_in_the_week_of_the_local_date(
    emptied_page: OpenPage, site_url: str, zone: str
) -> None:
    page = emptied_page(**PHONE, timezone_id=zone)
    day = PHASE.days[0]
    level = next(iter(PHASE.levels.values()))
    shown, expected = {}, {}
    for words, today, at, week in every(MOMENTS, few=on_another_date_in_utc(zone)):
        set_clock(page, zone, today, at)
        page.goto(site_url + day.address)
        shown[words] = (
            page.get_by_label("Week").input_value(),
            [text.split(" · ")[0] for _, text in read_day(page).sessions],
        )
        expected[words] = (str(week), [f"Open the session {level}, week {week}"])
    assert shown == expected


def phase_moments(programme: str) -> list[tuple[date, Version, str]]:
    """(day, the phase that is current then, what its page says of the date)."""
    phases = TREE.phases(programme)
    first = phases[0]
    moments = [
        (first.starts - timedelta(days=100), first, "starts: "),
        (first.starts - timedelta(days=1), first, "starts: "),
    ]
    for phase in phases:
        moments += [
            (phase.starts, phase, f"week 1 of {phase.weeks}"),
            (phase.starts + timedelta(days=7), phase, f"week 2 of {phase.weeks}"),
            (phase.ends, phase, f"week {phase.weeks} of {phase.weeks}"),
        ]
        after = phase.ends + timedelta(days=1)
        if phase.next_starts != after:
            moments.append((after, phase, "finished"))
    moments.append((phases[-1].ends + timedelta(days=300), phases[-1], "finished"))
    return moments


@pytest.mark.parametrize(
    ("programme", "zone"),
    every(
        [(name, zone) for name in TREE.programmes for zone in ("Pacific/Auckland", "America/Los_Angeles")],
        few=2,
    ),
)
def test_programme_and_home_page_show_the_current_phase(
    emptied_page: OpenPage, site_url: str, programme: str, zone: str
) -> None:
    page = emptied_page(**PHONE, timezone_id=zone)
    for turn, (today, phase, words) in enumerate(every(phase_moments(programme), few=8)):
        set_clock(page, zone, today, EARLY)
        for shows in in_turn([programme_shows, home_shows], turn, few=1):
            shows(page, site_url, programme, phase, words)


def programme_shows(page: Page, site_url: str, programme: str, phase: Version, words: str) -> None:
    page.goto(f"{site_url}{programme}/")
    section = page.locator("section").filter(has=page.get_by_role("heading", name="Phase"))
    text = text_of(section)
    assert phase.heading in text, words
    assert words in text.lower()
    for day in phase.days:
        expect(section.get_by_role("link", name=day.title)).to_be_visible()


def home_shows(page: Page, site_url: str, programme: str, phase: Version, words: str) -> None:
    page.goto(site_url)
    card = text_of(page.get_by_role("link", name=TREE.programmes[programme]["title"]))
    assert f"{phase.heading}, {words}" in card
    assert card.count("Phase ") == 1


def test_a_demo_programme_has_a_gap_between_phases() -> None:
    """Or the tests above say nothing of it."""
    phases = TREE.phases(LONGEST_PROGRAMME)
    assert any(phase.next_starts and phase.next_starts > phase.ends + timedelta(days=1) for phase in phases)


def with_a_banner(version: Version) -> list[str]:
    """The address of a page of each kind."""
    return [version.address, version.days[0].address, version.days[0].sessions[0].address]


@pytest.mark.parametrize(("ahead", "zone"), [(0, "Pacific/Auckland"), (1, "America/Los_Angeles")])
def test_the_banner_of_a_phase_waits_for_the_next_one(
    emptied_page: OpenPage, site_url: str, ahead: int, zone: str
) -> None:
    page = emptied_page(**PHONE, timezone_id=zone)
    current = [phase for programme in TREE.programmes for phase in TREE.phases(programme)]
    followed = [version for version in current if version.next_starts]
    assert followed
    for turn, version in enumerate(followed):
        assert version.next_starts
        for address in in_turn(with_a_banner(version), turn + ahead, few=1):
            banner = page.get_by_text("follows this one")
            set_clock(page, zone, version.next_starts - timedelta(days=1), LATE)
            page.goto(site_url + address)
            expect(banner).to_be_hidden()
            set_clock(page, zone, version.next_starts, EARLY)
            page.goto(site_url + address)
            expect(banner).to_be_visible()


def test_the_banner_of_a_superseded_edition_always_shows(emptied_page: OpenPage, site_url: str) -> None:
    page = emptied_page(**PHONE)
    superseded = [version for version in TREE.versions if version.superseded]
    assert superseded
    for first, version in enumerate(every(superseded, few=2)):
        days = (version.starts - timedelta(days=30), version.starts, version.ends + timedelta(days=400))
        for turn, today in enumerate(days):
            set_clock(page, "UTC", today)
            for address in in_turn(with_a_banner(version), first + turn, few=1):
                page.goto(site_url + address)
                expect(page.get_by_text(f"This is edition {version.name}. It was replaced")).to_be_visible()


def test_a_clock_that_is_far_off_breaks_nothing(emptied_page: OpenPage, site_url: str) -> None:
    """A phone whose battery was flat may think that it is 1970."""
    page = emptied_page(**PHONE)
    for today, week in ((date(1970, 1, 1), 1), (date(2099, 12, 31), PHASE.weeks)):
        set_clock(page, "UTC", today)
        page.goto(site_url + PHASE.days[0].address)
        expect(page.get_by_label("Week")).to_have_value(str(week))
        assert len(read_day(page).sessions) == 1
