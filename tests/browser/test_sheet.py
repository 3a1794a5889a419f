"""A sheet on the fridge: read from afar, whole on its page, and where it cannot be, clear about what goes on."""

import json
from functools import cache
from pathlib import Path

import pytest
from phasepress.telling.views import type_size
from phasepress.telling.views import words as our_words
from phasepress.telling.views.papers import Paper
from PIL import Image, ImageStat
from playwright.sync_api import Page

from tests.browser.conftest import OnPaper, OpenPage
from tests.browser.crowded import CROWDED
from tests.browser.demo import Session, Tree, demo, kinds
from tests.browser.geometry import faults, overlaps
from tests.browser.long_cases import LONG, NAMES
from tests.browser.paper import FORMATS, clock_times, in_one_line, lines, printed
from tests.qr_reading import pictures
from tests.samples import every, in_turn

TREE = demo()
MM = 96 / 25.4
POINT = 25.4 / 72
# A letter that covers 5 minutes of arc is the line of normal sight (ISO 8596, from memory): 2.9 mm from 2 m.
LEAST_LETTER_MM = 2.9
# Capitals and digits of Arial are 0.716 of its size, those of DejaVu Sans 0.729 (their font files).
CAPITAL = 0.716
# How much of a page may be ink, so that a poor printer copes with it. A page of text is about 0.05 (the test page of
# ISO/IEC 19752, from memory), one in the large type of a sheet about 0.11; this bound is chosen.
MOST_INK = 0.125


# What a sheet has in a size of type: points, pixels, and whether easier ways are shown beside the session.
SIZES = """mark => {
    const main = document.querySelector("main");
    main.className = mark;
    const all = (selector, one) => [...main.querySelectorAll(selector)].map(one);
    const points = (one) => parseFloat(getComputedStyle(one).fontSize) * 72 / 96;
    return {
        names: all("tbody th a, tbody th strong, td label", points),
        cues: all("tbody th em", points),
        ways: all("tbody th .way", points),
        stills: all(".block:not(.aside) .still", (one) => one.clientHeight),
        "stills aside": all(".aside .still", (one) => one.clientHeight),
        "ways aside are seen": all(".aside .way", (one) => one.checkVisibility({visibilityProperty: true})).slice(0, 1),
    };
}"""


@pytest.fixture
def page(open_page: OpenPage) -> Page:
    return open_page(color_scheme="dark")


@pytest.fixture(scope="module")
def long_tree(extra_tree: object) -> Tree:
    return Tree(extra_tree)  # type: ignore[arg-type]


@cache
def one_sheet_a_day() -> list[Session]:
    """The sheet with the most times of each day."""
    return [max(day.sessions, key=lambda one: sum(len(row.times) for row in one.rows)) for day in TREE.days]


def long_sessions(tree: Tree) -> list[Session]:
    return [session for day in tree.version(LONG, "1.0").days for session in day.sessions]


def laid_out(page: Page, paper: Paper) -> None:
    """Shows the page as it is laid out on paper, as one long page."""
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round(paper.width * MM), "height": round(paper.height * MM)})


def points(page: Page, selector: str) -> list[float]:
    """The size of the type of every such element."""
    sizes: list[float] = page.locator(selector).evaluate_all(
        "all => all.map((one) => parseFloat(getComputedStyle(one).fontSize) * 72 / 96)"
    )
    return sizes


@pytest.mark.parametrize("session", every(one_sheet_a_day(), few=5), ids=repr)
def test_names_and_times_are_read_from_two_metres(page: Page, site_url: str, session: Session) -> None:
    page.goto(site_url + session.address)
    laid_out(page, type_size.ANYWHERE.rooms[0])
    for selector in ("tbody th a", "tbody th strong", "td label"):
        sizes = points(page, selector)
        assert sizes
        assert min(sizes) * POINT * CAPITAL >= LEAST_LETTER_MM, selector


def test_the_fewer_stations_the_larger_the_type(page: Page, extra_url: str, long_tree: Tree) -> None:
    full, _, short = (day.sessions[0] for day in long_tree.version(LONG, "1.0").days)
    found = []
    for session in (full, short):
        page.goto(extra_url + session.address)
        laid_out(page, type_size.ANYWHERE.rooms[0])
        found.append(points(page, "td label")[0])
    assert found[1] > 1.9 * found[0]


def test_the_sizes_of_the_styles_are_those_that_the_build_counts_on(page: Page, site_url: str) -> None:
    page.goto(site_url + one_sheet_a_day()[0].address)
    laid_out(page, type_size.ANYWHERE.rooms[0])
    for kind in type_size.SIZES:
        found = page.evaluate(SIZES, f"t{kind.mark}")
        for what, size in (("names", kind.names), ("cues", kind.cues), ("ways", kind.ways)):
            assert max(abs(one - size) for one in found[what]) < 0.01, what
        for what, high in (("stills", kind.still), ("stills aside", kind.aside)):
            assert max(abs(one - high * MM) for one in found[what]) <= 1, what
        assert found["ways aside are seen"] in ([], [kind.all_ways])


@pytest.mark.parametrize("paper", range(len(type_size.ANYWHERE.rooms)), ids=["A4", "Letter"])
def test_a_row_is_as_high_as_the_build_thinks(page: Page, site_url: str, paper: int) -> None:
    """At the sizes of full sheets; the estimate may be a little too high, which only leaves room."""
    page.goto(site_url + one_sheet_a_day()[-1].address)
    marks = {one[1:] for one in (page.locator("main").get_attribute("class") or "").split()}
    assert marks <= {kind.mark for kind in type_size.SIZES if kind.names <= 12.5}
    laid_out(page, type_size.ANYWHERE.rooms[paper])
    height = page.locator("main").evaluate("one => one.getBoundingClientRect().height") / MM
    assert 0.92 * type_size.ANYWHERE.rooms[paper].height < height <= type_size.ANYWHERE.rooms[paper].height


@pytest.mark.parametrize("paper", FORMATS)
def test_a_long_case_is_one_page_with_all_its_words(
    page: Page, extra_url: str, long_tree: Tree, paper: str
) -> None:
    sessions = long_sessions(long_tree)
    # Of the day with the most rounds, and of the one with the most blocks.
    for session in every(sessions, few=[sessions[0], sessions[4]]):
        page.goto(extra_url + session.address)
        sheet = printed(page, paper)
        assert len(sheet.pages) == 1, f"{session} on {paper}"
        text = in_one_line(lines(sheet))
        expected = ["0:00", *(time for row in session.rows for time in row.times)]
        assert clock_times(text) == expected, session
        # Words from right to left come out of a PDF file in an order of its own, so one is looked for at a time.
        for row in session.rows:
            assert all(word in text for word in row.name.split() if word.isascii()), row.name
            assert row.dose in text


def test_the_long_cases_are_as_long_as_they_are_meant_to_be(long_tree: Tree) -> None:
    five, four, _ = (day.sessions for day in long_tree.version(LONG, "1.0").days)
    assert len(five) == len(four) == 3
    assert [len(rows) for label, rows in five[0].blocks if label == "A"] == [len(NAMES)]
    assert {len(row.times) for label, rows in five[0].blocks if label == "A" for row in rows} == {5}
    assert [label for label, _ in four[0].blocks if len(label) == 1] == ["A", "B", "C", "D"]


def test_on_paper_nothing_is_cut_and_nothing_lies_on_anything(
    page: Page, extra_url: str, site_url: str, long_tree: Tree
) -> None:
    """On each paper; `make test` has them in turn, and of the long cases each day and each level once."""
    crowded = [day.sessions[0] for day in long_tree.version(CROWDED, "1.0").days]
    addresses = [
        extra_url + session.address for session in (*every(long_sessions(long_tree)[::2], few=3), *crowded)
    ]
    addresses += [site_url + session.address for session in every(one_sheet_a_day(), few=2)]
    addresses += [
        f"{extra_url}{LONG}/1.0/kit/",
        f"{extra_url}{LONG}/poster/",
        f"{extra_url}{CROWDED}/1.0/kit/",
    ]
    for turn, address in enumerate(addresses):
        page.emulate_media(media="null")
        page.goto(address)
        for paper in in_turn(type_size.ANYWHERE.rooms, turn, few=1):
            laid_out(page, paper)
            assert faults(page, unfolded="() => {}") == [], address


def test_in_no_size_anything_lies_on_anything(page: Page, extra_url: str, long_tree: Tree) -> None:
    page.goto(extra_url + long_tree.version(LONG, "1.0").days[1].sessions[0].address)
    laid_out(page, type_size.ANYWHERE.rooms[0])
    for kind in every(type_size.SIZES, few=9):
        page.evaluate("mark => { document.querySelector('main').className = mark; }", f"t{kind.mark}")
        assert overlaps(page) == [], f"t{kind.mark}"


def test_what_goes_on_to_a_second_page_is_still_read_from_afar(
    page: Page, extra_url: str, long_tree: Tree
) -> None:
    page.goto(extra_url + long_tree.version(CROWDED, "1.0").days[0].sessions[0].address)
    laid_out(page, type_size.ANYWHERE.rooms[0])
    assert min(points(page, "td label")) * POINT * CAPITAL >= LEAST_LETTER_MM


def test_effort_is_a_scale_to_ring_with_the_words_of_the_log(
    page: Page, site_url: str, built_site: Path
) -> None:
    page.goto(site_url + one_sheet_a_day()[0].address)
    [file] = (built_site / "assets/js/log").glob("effort.*.js")
    scale = page.evaluate(f"import('{site_url}assets/js/log/{file.name}').then((m) => m.EFFORT)")
    assert scale == [[number, word] for number, word in enumerate(our_words.EFFORT)]
    assert len(scale) == 11
    laid_out(page, type_size.ANYWHERE.rooms[0])
    boxes = page.locator(".done li").evaluate_all(
        "all => all.map((one) => [one.innerText, one.getBoundingClientRect().width, one.getBoundingClientRect().height])"
    )
    assert [" ".join(text.split()) for text, _, _ in boxes] == [f"{n} {word}".strip() for n, word in scale]
    # A ring drawn with a pen needs the width of a finger (common practice, no source).
    assert all(min(width, height) >= 7 * MM for _, width, height in boxes)


def test_there_is_room_for_a_note(page: Page, site_url: str) -> None:
    page.goto(site_url + one_sheet_a_day()[0].address)
    laid_out(page, type_size.ANYWHERE.rooms[0])
    line = page.locator(".done p", has_text="Note").locator("i").bounding_box()
    assert line
    assert line["width"] > 150 * MM


def ink(picture: Image.Image) -> float:
    """The share of a page that is covered; grey counts as far as it is dark."""
    return 1 - ImageStat.Stat(picture).mean[0] / 255


def has_a_dark_field(picture: Image.Image, dots: int) -> bool:
    """Whether there is a square of 15 mm or more that is dark all over: it holds four dark tiles of 5 mm."""
    wide, high = (round(side / dots * 25.4 / 5) for side in picture.size)
    tiles = picture.resize((wide, high), Image.Resampling.BOX).point(lambda value: value < 50)
    pairs = [(x, y) for y in range(high - 1) for x in range(wide - 1)]
    return any(all(tiles.getpixel((x + a, y + b)) for a in (0, 1) for b in (0, 1)) for x, y in pairs)


@pytest.mark.parametrize("kind", sorted(kinds().keys() - {"missing"}))
def test_no_page_prints_dark(on_paper: OnPaper, kind: str) -> None:
    for number, picture in enumerate(pictures(on_paper(kinds()[kind], "A4"), 100), 1):
        assert ink(picture) <= MOST_INK, f"page {number}: {ink(picture):.1%}"
        assert not has_a_dark_field(picture, 100), f"page {number}"


def test_a_dark_page_would_be_noticed(page: Page) -> None:
    page.goto("about:blank")
    page.set_content("<div style='height:5cm;background:#000;print-color-adjust:exact'></div>")
    (picture,) = pictures(page.pdf(format="A4"), 100)
    assert ink(picture) > MOST_INK
    page.set_content("<div style='height:16mm;width:16mm;background:#000;print-color-adjust:exact'></div>")
    (picture,) = pictures(page.pdf(format="A4"), 100)
    assert has_a_dark_field(picture, 100)


def test_on_the_screen_nothing_of_this_is_seen(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.goto(site_url + one_sheet_a_day()[0].address)
    shown = page.evaluate(
        "() => [...document.querySelectorAll('.qr, .done, .run')].map((one) => one.checkVisibility())"
    )
    assert json.dumps(shown) == "[false, false, false]"
