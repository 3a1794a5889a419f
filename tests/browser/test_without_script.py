"""Without script, on a phone: everything can be reached, read and ticked."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenPage, Visit
from tests.browser.demo import Day, Session, Version, cells_named, demo, kinds
from tests.browser.looks import WITHOUT_SCRIPT, Looks
from tests.browser.reading_pages import read_day, read_sheet, text_of
from tests.samples import every

TREE = demo()


@pytest.fixture
def page(open_page: OpenPage) -> Page:
    return open_page(**PHONE, java_script_enabled=False)


def test_an_athlete_taps_from_the_first_page_to_an_exercise(page: Page, site_url: str) -> None:
    phase = TREE.phases(TREE.versions[-1].programme)[-1]
    day = phase.days[-1]
    session = day.sessions[len(day.cells) // 2]
    page.goto(site_url)
    page.get_by_role("link", name=TREE.programmes[phase.programme]["title"]).click()
    expect(page).to_have_url(f"{site_url}{phase.programme}/")
    page.get_by_role("link", name="About this phase").click()
    expect(page).to_have_url(f"{site_url}{phase.address}")
    page.get_by_role("listitem").get_by_role("link", name=day.title).click()
    expect(page).to_have_url(f"{site_url}{day.address}")
    page.get_by_role("link", name=f"Open the session {session.level_name}, week {session.week} ").click()
    expect(page).to_have_url(f"{site_url}{session.address}")
    row = session.rows[-1]
    page.get_by_role("link", name=row.name, exact=True).last.click()
    expect(page).to_have_url(f"{site_url}exercises/{row.exercise}/")
    expect(page.get_by_role("heading", level=1)).to_have_text(row.name)


def test_the_way_back_up_is_on_every_page(page: Page, site_url: str) -> None:
    session = TREE.sessions[-1]
    page.goto(site_url + session.address)
    trail = page.get_by_role("navigation", name="Where you are")
    trail.get_by_role("link", name=session.day.title).click()
    expect(page).to_have_url(f"{site_url}{session.day.address}")
    trail.get_by_role("link", name=session.version.phase).click()
    expect(page).to_have_url(f"{site_url}{session.version.address}")
    trail.get_by_role("link").nth(1).click()
    expect(page).to_have_url(f"{site_url}{session.version.programme}/")
    trail.get_by_role("link").first.click()
    expect(page).to_have_url(site_url)


@pytest.mark.parametrize("day", every(TREE.days, few=2), ids=repr)
def test_a_day_page_shows_all_levels_and_weeks(page: Page, site_url: str, day: Day) -> None:
    page.goto(site_url + day.address)
    shown = read_day(page)
    for session, (address, words) in zip(day.sessions, shown.sessions, strict=True):
        assert address == f"{session.level}/week-{session.week}/"
        assert words.startswith(f"Open the session {session.level_name}, week {session.week} · ")
        assert f"about {session.minutes} min, up to {session.by_hand} without the timer" in words
    levels = list(day.version.levels.values())
    doses = {
        (station.label, station.name, level, week): (dose.words, dose.note)
        for station in shown.stations
        for dose in station.doses
        for level, week in cells_named(dose.when or station.when, levels, day.version.weeks)
    }
    expected = {(r.label, r.name, s.level_name, s.week): r for s in day.sessions for r in s.rows}
    assert {key: words for key, (words, _) in doses.items()} == {key: r.dose for key, r in expected.items()}
    for key, row in expected.items():
        assert row.total in doses[key][1], key


@pytest.mark.parametrize("day", every(TREE.days, few=2), ids=repr)
def test_cautions_cues_and_the_way_to_start_need_no_script(page: Page, site_url: str, day: Day) -> None:
    page.goto(site_url + day.address)
    assert "Stop if something hurts" in text_of(page.locator("main"))
    exercise = TREE.files["exercises"][day.sessions[0].row("A1").exercise]
    row = page.locator(".stations > li").filter(has=page.locator(".seen")).first
    expect(row.get_by_text(exercise["setup"][0])).to_be_hidden()
    row.locator("summary").click()
    expect(row.get_by_text(exercise["setup"][0])).to_be_visible()
    read_day(page)
    seen = text_of(page.locator("main"))
    assert "Stop if something hurts" in seen
    assert "Ask your coach, physiotherapist or doctor" in seen
    for caution in TREE.club["cautions"]:
        assert caution in seen
    for session in day.sessions:
        for row in session.rows:
            assert row.cue in seen, row
            for caution in row.cautions:
                assert caution in seen, row


@pytest.mark.parametrize("version", every(TREE.versions, few=3), ids=repr)
def test_a_sheet_has_every_station_time_and_box(page: Page, site_url: str, version: Version) -> None:
    for session in (version.days[0].sessions[0], version.days[-1].sessions[-1]):
        page.goto(site_url + session.address)
        assert read_sheet(page) == [
            (row.label, row.name, row.dose, row.cue, list(row.times), len(row.times)) for row in session.rows
        ]
        seen = text_of(page.locator("main"))
        assert f"{session.level_name}, week {session.week}" in seen
        assert f"about {session.minutes} min" in seen
        assert f"version {version.name}" in seen
        assert "Stop if something hurts" in seen


def test_a_tap_on_a_time_ticks_its_box_and_no_other(page: Page, site_url: str) -> None:
    session = busiest()
    page.goto(site_url + session.address)
    boxes = page.get_by_role("checkbox")
    expect(boxes).to_have_count(sum(len(row.times) for row in session.rows))
    page.get_by_label(session.rows[-1].times[-1], exact=True).tap()
    page.locator("td label").first.tap()
    ticked = page.get_by_role("checkbox", checked=True)
    expect(ticked).to_have_count(2)
    expect(boxes.first).to_be_checked()
    expect(boxes.last).to_be_checked()
    boxes.first.tap()
    expect(boxes.first).not_to_be_checked()


def busiest() -> Session:
    return max(TREE.sessions, key=lambda session: sum(len(row.times) for row in session.rows))


def test_the_running_order_opens_at_a_tap_and_has_every_segment(page: Page, site_url: str) -> None:
    session = busiest()
    page.goto(site_url + session.address)
    lines = page.locator("[data-order] li")
    expect(lines.first).to_be_hidden()
    page.get_by_text("Running order, second by second").tap()
    expect(lines.first).to_be_visible()
    shown = lines.evaluate_all("all => all.map(li => [+li.dataset.s, +li.dataset.l, li.dataset.k])")
    assert shown == [[float(s["start"]), float(s["length"]), s["kind"]] for s in session.segments]


@pytest.mark.parametrize("programme", TREE.programmes)
def test_the_newest_phase_is_shown_and_the_others_are_one_tap_away(
    page: Page, site_url: str, programme: str
) -> None:
    newest = TREE.phases(programme)[-1]
    page.goto(f"{site_url}{programme}/")
    expect(page.get_by_role("heading", name=re.compile("^Phase"))).to_have_text([newest.heading])
    for day in newest.days:
        expect(page.get_by_role("link", name=day.title)).to_be_visible()
    for phase in TREE.phases(programme):
        expect(page.get_by_role("link", name=phase.heading)).to_be_visible()
    page.goto(site_url)
    card = page.get_by_role("link", name=TREE.programmes[programme]["title"])
    expect(card).to_contain_text(newest.heading)
    assert [p.heading for p in TREE.phases(programme) if p.heading in text_of(card)] == [newest.heading]


def one_of_each_age() -> list[Version]:
    """A version that is superseded, the newest of a phase that another follows, and that of the last phase."""
    ages = {(v.superseded, not v.superseded and v.next_starts is None): v for v in TREE.versions}
    return list(ages.values())


@pytest.mark.parametrize("version", every(TREE.versions, few=one_of_each_age()), ids=repr)
def test_older_versions_say_so_and_lead_to_the_current_one(
    page: Page, site_url: str, version: Version
) -> None:
    older = version.superseded or version.next_starts is not None
    for address in (version.address, version.days[0].address, version.days[0].sessions[0].address):
        page.goto(site_url + address)
        banner = page.get_by_role("link", name="Go to the current one")
        expect(banner).to_have_count(1 if older else 0)
        if older:
            expect(banner).to_be_visible()
    if older:
        banner.tap()
        current = TREE.phases(version.programme)
        replaced = next(p for p in current if p.phase == version.phase)
        target = replaced.address if version.superseded else f"{version.programme}/"
        expect(page).to_have_url(site_url + target)


@pytest.mark.parametrize("kind", kinds())
def test_nothing_is_offered_that_needs_script(look: Looks, kind: str) -> None:
    found = look(kind, WITHOUT_SCRIPT)
    assert found["heading"]
    assert found["offered"] == []


def test_every_exercise_is_listed(page: Page, site_url: str) -> None:
    page.goto(f"{site_url}exercises/")
    names = sorted(one["name"] for one in TREE.files["exercises"].values())
    assert sorted(page.locator("main .cards strong, #main .cards strong").all_inner_texts()) == names


def test_a_wrong_address_leads_to_the_first_page(page: Page, visit: Visit) -> None:
    visit(page, "missing")
    expect(page.get_by_role("heading", level=1)).to_have_text("There is no such page")
    page.get_by_role("link", name="Go to the first page").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text(TREE.club["club"])
