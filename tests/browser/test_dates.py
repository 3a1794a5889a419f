"""What the date decides: the week of a day page, the current phase, the banner of an older phase."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import PHONE, OpenContext
from tests.browser.demo import Version, demo
from tests.browser.reading_pages import read_day, text_of
from tests.samples import every

TREE = demo()
# Ahead of UTC by up to 13 h, behind it by up to 8 h, and by a half hour: "today" differs between them.
ZONES = ["Pacific/Auckland", "America/Los_Angeles", "Asia/Kolkata", "UTC"]
PHASE = max(TREE.versions, key=lambda version: version.weeks)
LONGEST_PROGRAMME = max(TREE.programmes, key=lambda name: len(TREE.phases(name)))
NOON, LATE, EARLY = time(12), time(23, 30), time(0, 30)


def set_clock(context: BrowserContext, zone: str, day: date, at: time = NOON) -> None:
    """The device's clock shows this local date and time."""
    context.clock.set_fixed_time(datetime.combine(day, at, ZoneInfo(zone)))


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


@pytest.mark.parametrize("zone", every(ZONES, few=["Pacific/Auckland", "America/Los_Angeles"]))
def test_a_day_page_opens_in_the_week_of_the_local_date(
    open_context: OpenContext, site_url: str, zone: str
) -> None:
    context = open_context(**PHONE, timezone_id=zone)
    page = context.new_page()
    day = PHASE.days[0]
    level = next(iter(PHASE.levels.values()))
    shown, expected = {}, {}
    for words, today, at, week in MOMENTS:
        set_clock(context, zone, today, at)
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
    open_context: OpenContext, site_url: str, programme: str, zone: str
) -> None:
    context = open_context(**PHONE, timezone_id=zone)
    page = context.new_page()
    for today, phase, words in phase_moments(programme):
        set_clock(context, zone, today, EARLY)
        page.goto(f"{site_url}{programme}/")
        section = page.locator("section").filter(has=page.get_by_role("heading", name="Phase"))
        assert phase.heading in text_of(section), today
        assert words in text_of(section).lower(), today
        for day in phase.days:
            expect(section.get_by_role("link", name=day.title)).to_be_visible()
        page.goto(site_url)
        card = text_of(page.get_by_role("link", name=TREE.programmes[programme]["title"]))
        assert f"{phase.heading}, {words}" in card, today
        assert card.count("Phase ") == 1, today


def test_a_demo_programme_has_a_gap_between_phases() -> None:
    """Or the tests above say nothing of it."""
    phases = TREE.phases(LONGEST_PROGRAMME)
    assert any(phase.next_starts and phase.next_starts > phase.ends + timedelta(days=1) for phase in phases)


@pytest.mark.parametrize("zone", ["Pacific/Auckland", "America/Los_Angeles"])
def test_the_banner_of_a_phase_waits_for_the_next_one(
    open_context: OpenContext, site_url: str, zone: str
) -> None:
    context = open_context(**PHONE, timezone_id=zone)
    page = context.new_page()
    current = [phase for programme in TREE.programmes for phase in TREE.phases(programme)]
    followed = [version for version in current if version.next_starts]
    assert followed
    for version in followed:
        assert version.next_starts
        for address in (version.address, version.days[0].address, version.days[0].sessions[0].address):
            banner = page.get_by_text("follows this one")
            set_clock(context, zone, version.next_starts - timedelta(days=1), LATE)
            page.goto(site_url + address)
            expect(banner).to_be_hidden()
            set_clock(context, zone, version.next_starts, EARLY)
            page.goto(site_url + address)
            expect(banner).to_be_visible()


def test_the_banner_of_a_superseded_edition_always_shows(open_context: OpenContext, site_url: str) -> None:
    context = open_context(**PHONE)
    page = context.new_page()
    superseded = [version for version in TREE.versions if version.superseded]
    assert superseded
    for version in every(superseded, few=2):
        for today in (
            version.starts - timedelta(days=30),
            version.starts,
            version.ends + timedelta(days=400),
        ):
            set_clock(context, "UTC", today)
            for address in (version.address, version.days[0].address, version.days[0].sessions[0].address):
                page.goto(site_url + address)
                expect(page.get_by_text(f"This is edition {version.name}. It was replaced")).to_be_visible()


def test_a_clock_that_is_far_off_breaks_nothing(open_context: OpenContext, site_url: str) -> None:
    """A phone whose battery was flat may think that it is 1970."""
    context = open_context(**PHONE)
    page: Page = context.new_page()
    for today, week in ((date(1970, 1, 1), 1), (date(2099, 12, 31), PHASE.weeks)):
        set_clock(context, "UTC", today)
        page.goto(site_url + PHASE.days[0].address)
        expect(page.get_by_label("Week")).to_have_value(str(week))
        assert len(read_day(page).sessions) == 1
