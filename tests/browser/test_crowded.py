"""Sessions far fuller than any that should be trained: the paper breaks between blocks, the phone still fits."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.crowded import CROWDED, ROUNDS, STATIONS
from tests.browser.demo import Row, Session, Tree
from tests.browser.geometry import cut_off, overlaps, targets, too_wide
from tests.browser.paper import FORMATS, clock_times, missing_in_order, printed, words
from tests.browser.reading_pages import read_day
from tests.samples import every


@pytest.fixture
def page(kept_page: Page) -> Page:
    return kept_page


@pytest.fixture(scope="session")
def tree(extra_tree: Path) -> Tree:
    return Tree(extra_tree)


@pytest.fixture
def long_session(tree: Tree) -> Session:
    return tree.version(CROWDED, "1.0").days[0].sessions[0]


@pytest.fixture
def many_rounds(tree: Tree) -> Session:
    return tree.version(CROWDED, "1.0").days[1].sessions[0]


def row_parts(row: Row) -> list[str]:
    return [f"{row.label.split()[-1]} {row.name} {row.dose}", row.cue, *row.times]


def pages_with(texts: list[str], row: Row) -> list[int]:
    """The pages on which the whole row stands."""
    return [number for number, text in enumerate(texts) if missing_in_order(text, row_parts(row)) is None]


def test_the_session_is_as_crowded_as_it_is_meant_to_be(long_session: Session) -> None:
    blocks = [rows for label, rows in long_session.blocks if len(label) == 1]
    assert [len(rows) for rows in blocks] == [STATIONS] * 3
    assert all(len(row.times) == ROUNDS for rows in blocks for row in rows)


@pytest.fixture(scope="module")
def known_texts() -> dict[str, list[str]]:
    """What stands on the pages of the long session, by the paper on which a test has had them printed."""
    return {}


@pytest.fixture(params=FORMATS)
def texts(
    open_page: OpenPage,
    extra_url: str,
    long_session: Session,
    known_texts: dict[str, list[str]],
    request: pytest.FixtureRequest,
) -> list[str]:
    """The words of each page of the long session."""
    if request.param not in known_texts:
        page = open_page(color_scheme="dark")
        page.goto(extra_url + long_session.address)
        sheets = printed(page, request.param)
        known_texts[request.param] = [words(sheets, number) for number in range(len(sheets.pages))]
    return known_texts[request.param]


def test_every_further_page_says_what_it_belongs_to(texts: list[str], long_session: Session) -> None:
    assert len(texts) > 1
    for number, text in enumerate(texts, 1):
        week = f"{long_session.level_name}, week {long_session.week}"
        heading = [long_session.version.phase, long_session.day.title, week]
        assert missing_in_order(text[:400], heading) is None, f"page {number}: {text[:200]}"


def test_paper_breaks_between_blocks_and_through_no_row(texts: list[str], long_session: Session) -> None:
    assert 1 < len(texts) <= 5
    pages = [{tuple(pages_with(texts, row)) for row in rows} for _, rows in long_session.blocks]
    assert all(len(of_block) == 1 and len(min(of_block)) == 1 for of_block in pages), pages
    order = [min(of_block) for of_block in pages]
    assert order == sorted(order)
    times = [time for text in texts for time in clock_times(text)]
    assert times == ["0:00", *(time for row in long_session.rows for time in row.times)]


@pytest.mark.parametrize("paper", FORMATS)
def test_rounds_beyond_the_columns_go_on_below(
    page: Page, extra_url: str, many_rounds: Session, paper: str
) -> None:
    page.goto(extra_url + many_rounds.address)
    sheets = printed(page, paper)
    assert len(sheets.pages) <= 2
    text = " ".join(words(sheets, number) for number in range(len(sheets.pages)))
    for row in many_rounds.rows:
        assert missing_in_order(text, list(row.times)) is None
    assert clock_times(text).count(many_rounds.rows[-1].times[0]) == 1
    assert "round 14" in text


SIZES = every([(width, size) for width in (320, 360, 768) for size in (200, 100)], few=3)
"""Widths of the screen in CSS pixels and sizes of type in per cent."""


@pytest.mark.parametrize("which", ["long session", "many rounds", "day"])
def test_a_crowded_page_fits_the_screen(
    page: Page, extra_url: str, long_session: Session, many_rounds: Session, which: str
) -> None:
    pages = {"long session": long_session, "many rounds": many_rounds, "day": long_session.day}
    page.goto(extra_url + pages[which].address)
    if which != "day":
        expect(page.locator("[data-start]")).to_be_visible()
    # What is told once stands over the end of the screen until the page is scrolled to its end.
    page.evaluate("document.querySelector('main > .quiet')?.remove()")
    for width, size in SIZES:
        page.set_viewport_size({"width": width, "height": 740})
        page.evaluate(f"document.documentElement.style.fontSize = '{size}%'")
        assert too_wide(page) == [], (width, size)
        assert cut_off(page) == [], (width, size)
        assert overlaps(page) == [], (width, size)
        assert [one for one in targets(page, "td label") if min(one["width"], one["height"]) < 44] == []


def test_no_tempo_is_broken_into_two_lines(page: Page, extra_url: str, long_session: Session) -> None:
    """`3-1-` at the end of a line reads like a tempo of its own."""
    page.goto(extra_url + long_session.address)
    tempos = page.get_by_role("rowheader").get_by_text("tempo 3-1-1-0", exact=True)
    for width in (320, 360, 768):
        page.set_viewport_size({"width": width, "height": 740})
        in_lines = tempos.evaluate_all("all => all.map((one) => one.getClientRects().length)")
        assert len(in_lines) == 3 * STATIONS
        assert set(in_lines) == {1}, width


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_a_week_without_a_session_says_so(
    open_page: OpenPage, extra_url: str, many_rounds: Session, script: bool
) -> None:
    """An amount of 0 leaves everything out in the last week of the last level."""
    day = many_rounds.day
    level, week = list(day.version.levels)[-1], day.version.weeks
    page = open_page(**PHONE, java_script_enabled=script)
    page.goto(extra_url + day.address)
    if script:
        page.get_by_label("Level").select_option(level)
        page.get_by_label("Week").select_option(str(week))
    sessions = read_day(page).sessions
    assert ("", f"No session for {day.version.levels[level]} in week {week}") in sessions
    assert len(sessions) == (1 if script else len(day.cells))
    page.goto(f"{extra_url}{day.address}{level}/week-{week}/")
    expect(page.get_by_role("heading", level=1)).to_have_text(day.title)
    expect(
        page.get_by_text(f"Nothing is planned for {day.version.levels[level]} in this week.")
    ).to_be_visible()
