"""A sheet of paper: one page in A4 and in Letter, black and white, with all that a session needs."""

import re
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page

from tests.browser.conftest import OnPaper, OpenContext, OpenPage
from tests.browser.demo import Day, Session, demo, near, recipe_kg
from tests.browser.paper import (
    FORMATS,
    clock_times,
    colours,
    dots,
    in_one_line,
    lines,
    missing_in_order,
    printed,
    read,
    words,
)
from tests.browser.pdfs import Pdf
from tests.browser.reading_pages import read_day
from tests.samples import every

TREE = demo()
# The smallest box that is ticked with a pen at ease, and how far a phone's 96 px are an inch of paper.
LEAST_BOX_MM = 3.0
MM = 96 / 25.4
STOP = (
    "Stop if something hurts, if you feel dizzy or unwell, or if you can no longer do the movement right. "
    "Tell an adult."
)
ASK = "Ask your coach, physiotherapist or doctor before you go on."


@pytest.fixture
def page(open_page: OpenPage) -> Page:
    return open_page(color_scheme="dark")


def parts(session: Session) -> list[str]:
    """What stands on a sheet from its head to its last row, in this order."""
    version = session.version
    head = [version.phase, session.day.title, f"{session.level_name}, week {session.week}", STOP]
    rows = []
    for row in session.rows:
        load = f"{float(row.load):g} kg: " if row.load else ""
        tempo = f"tempo {row.tempo}" if row.tempo else ""
        named = f"{row.label.split()[-1]} {row.name} {row.dose}"
        rows += [part for part in (named, row.total, tempo, load, row.cue, *row.times) if part]
    return [*head, *TREE.club["cautions"], ASK, *rows]


# The same days as those of `full_sheets` below, so that each of their sheets is printed once.
@pytest.mark.parametrize("day", every(TREE.days, few=5), ids=repr)
def test_every_sheet_is_one_page_and_complete(
    on_paper: OnPaper, day: Day, plans: dict[tuple[str, str], str]
) -> None:
    version = day.version
    sessions = day.sessions
    for session in every(sessions, few=[fullest(sessions)]):
        sheets = {paper: read(on_paper(session.address, paper)) for paper in FORMATS}
        for paper, sheet in sheets.items():
            assert len(sheet.pages) == 1, f"{session} on {paper}"
            box = sheet.pages[0].mediabox
            assert (float(box.width), float(box.height)) == pytest.approx(FORMATS[paper], abs=1)
        broken = lines(sheets["A4"])
        assert not re.search(r"\d-\s*\n\s*[\dX]", broken), "a tempo in two halves reads wrong"
        text = in_one_line(broken)
        assert missing_in_order(text, parts(session)) is None, session
        expected = [time for row in session.rows for time in row.times]
        assert clock_times(text) == ["0:00", *expected], session
        assert f"version {version.name}, plan {plans[version.programme, version.name]}" in text
        for row in session.rows:
            assert not row.load or row.load == weighed(text, row.load), row


def weighed(text: str, kg: Fraction) -> Fraction | None:
    """`kg` where the text has a recipe for it that comes near enough by the club's kit, else nothing."""
    found = re.search(rf"(?<![\d.]){float(kg):g} kg: (.{{1,120}})", text)
    if not found:
        return None
    names = [thing["item"] for thing in TREE.club["kit"]]
    recipes = [found[1][:end] for end in range(121) if found[1][:end].endswith(tuple(names))]
    return kg if any(near(recipe_kg(TREE.club, recipe), kg) for recipe in recipes) else None


def fullest(sessions: list[Session]) -> Session:
    """The sheet with the most times."""
    return max(sessions, key=lambda one: sum(len(row.times) for row in one.rows))


@cache
def full_sheets() -> list[Session]:
    """The fullest of each day."""
    return [fullest(day.sessions) for day in TREE.days]


@pytest.mark.parametrize("session", every(full_sheets(), few=5), ids=repr)
def test_a_sheet_is_black_and_white(on_paper: OnPaper, session: Session) -> None:
    assert colours(read(on_paper(session.address, "A4"))) == set()


def test_a_colour_would_be_noticed(page: Page) -> None:
    page.goto("about:blank")
    page.set_content("<p style='color:#102a83'>blue</p>")
    assert len(colours(printed(page, "A4"))) == 1


def test_a_rendered_sheet_is_grey_and_dark_on_white(on_paper: OnPaper, tmp_path: Path) -> None:
    for picture in dots(on_paper(full_sheets()[-1].address, "A4"), tmp_path):
        assert picture[0::3] == picture[1::3] == picture[2::3]
        grey = picture[0::3]
        assert grey.count(255) > 0.7 * len(grey), "a dark page eats ink"
        assert min(grey) < 40, "pale print is hard to read on a wall"


@pytest.mark.parametrize("session", every(full_sheets(), few=5), ids=repr)
def test_every_time_has_its_box_to_tick(page: Page, site_url: str, session: Session) -> None:
    page.goto(site_url + session.address)
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round(188 * MM), "height": 1000})
    boxes = page.locator("td input").evaluate_all("""all => all.map((one) => {
        const box = one.getBoundingClientRect(), style = getComputedStyle(one);
        return [box.width, box.height, parseFloat(style.borderTopWidth), style.borderTopColor];
    })""")
    assert len(boxes) == sum(len(row.times) for row in session.rows)
    for width, height, border, colour in boxes:
        assert min(width, height) >= LEAST_BOX_MM * MM
        assert border >= 0.5
        assert colour == "rgb(0, 0, 0)"


def test_what_is_for_the_screen_alone_stays_off_the_paper(on_paper: OnPaper) -> None:
    text = words(read(on_paper(full_sheets()[0].address, "A4")))
    for gone in (
        "Print this sheet",
        "second by second",
        "Nothing on this site",
        "Skip to",
        "Go to the current",
    ):
        assert gone not in text
    for kept in ("Date", "Effort 0–10", "Note", "kitchen clock"):
        assert kept in text


def test_the_print_button_prints(open_context: OpenContext, site_url: str) -> None:
    context: BrowserContext = open_context()
    context.add_init_script("window.asked = 0; window.print = () => { window.asked += 1; }")
    page = context.new_page()
    page.goto(site_url + full_sheets()[0].address)
    page.get_by_role("button", name="Print this sheet").click()
    assert page.evaluate("asked") == 1


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
def test_a_day_page_prints_dark_on_white_with_its_cautions(
    open_page: OpenPage, site_url: str, script: bool
) -> None:
    day = TREE.versions[-1].days[0]
    page = open_page(color_scheme="dark", java_script_enabled=script)
    page.goto(site_url + day.address)
    sheets = page.pdf(format="A4")
    text = " ".join(Pdf(sheets).texts)
    assert colours(read(sheets)) == set()
    first = day.sessions[0]
    for row in first.rows:
        assert missing_in_order(text, [row.name, row.dose, row.cue]) is None
        for caution in row.cautions:
            assert caution in text
    assert STOP in text
    assert "If it hurts, and before" not in text, "nobody can tap on paper"
    assert not re.search(r"\d of \d", text), "nor choose a week"
    page.emulate_media(media="print")
    dark = page.evaluate("""() => [...document.body.querySelectorAll("*")].filter((one) => {
        const [red, green, blue, alpha] = getComputedStyle(one).backgroundColor.match(/[\\d.]+/g).map(Number);
        return one.checkVisibility() && alpha !== 0 && red + green + blue < 600 && !one.closest(".key");
    }).map((one) => one.outerHTML.slice(0, 80))""")
    assert dark == []


FIGURES = """() => [...document.querySelectorAll(".fig img")].filter((one) => one.checkVisibility())
    .map((one) => [one.className, one.complete && one.naturalWidth > 0])"""
ASKED = (
    "performance.getEntriesByType('resource').map((one) => one.name).filter((name) => name.endsWith('.svg'))"
)


# Printing itself would open a window: this only notes whether the strips were there when it was asked for.
INKED = "window.print = () => { const { classList, dataset } = document.body; dataset.printed = classList.contains('inked'); }"


def through(page: Page) -> None:
    """Scroll to the end, so that all that comes lazily is asked for."""
    page.evaluate("""async () => {
        for (let top = 0; top < document.body.scrollHeight; top += 400) {
            scrollTo(0, top);
            await new Promise(requestAnimationFrame);
        }
    }""")
    page.wait_for_load_state("networkidle")


def test_a_screen_never_asks_for_the_strips_that_paper_shows(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.goto(site_url + TREE.versions[-1].days[0].address)
    read_day(page)
    through(page)
    shown = page.evaluate(FIGURES)
    strips = {name.rpartition("/")[2] for name in page.evaluate(ASKED) if "-strip." in name}
    held = page.evaluate(
        '[...document.querySelectorAll(".fig .held")].map((one) => one.src.split("/").pop())'
    )
    assert {"moves", "held"} == {name for name, here in shown if here}
    assert strips <= set(held), "a hold has its strip alone"


FIGURES_PAGE = "exercises/figures/"


def test_the_print_button_waits_for_the_strips_of_the_figures(
    open_context: OpenContext, site_url: str
) -> None:
    context = open_context(color_scheme="dark")
    context.add_init_script(INKED)
    page = context.new_page()
    page.goto(site_url + FIGURES_PAGE)
    page.get_by_role("button", name="Print this page").click()
    page.wait_for_selector("body[data-printed=true]")
    sheets = printed(page, "A4")
    assert colours(sheets) == set()
    page.emulate_media(media="print")
    shown = page.evaluate(FIGURES)
    assert len(shown) > 8
    assert {tuple(one) for one in shown} == {("held", True)}


def test_the_keys_for_printing_wait_for_the_strips_too(open_context: OpenContext, site_url: str) -> None:
    context = open_context()
    context.add_init_script(INKED)
    page = context.new_page()
    page.goto(site_url + FIGURES_PAGE)
    page.wait_for_load_state("networkidle")
    page.keyboard.press("Control+p")
    page.wait_for_selector("body[data-printed=true]")


@pytest.mark.parametrize("sign", ["beforeprint", "media"])
def test_strips_that_come_while_it_is_being_printed_wait_until_that_is_done(
    open_context: OpenContext, site_url: str, sign: str
) -> None:
    """The pages are counted by then: with more to print the last of them would be lost."""
    page = open_context().new_page()
    page.goto(site_url + FIGURES_PAGE)
    page.wait_for_load_state("networkidle")
    if sign == "media":
        page.emulate_media(media="print")
    else:
        page.evaluate("dispatchEvent(new Event('beforeprint'))")
    here = """() => [...document.querySelectorAll(".fig img:not(.moves)")]
        .every((one) => one.complete && one.naturalWidth > 0)"""
    page.wait_for_function(here)
    # As many turns of the page's queue as the script could need once the last strip is there.
    page.evaluate(
        "async () => { for (let turn = 0; turn < 20; turn += 1) await new Promise(requestAnimationFrame); }"
    )
    assert "inked" not in (page.locator("body").get_attribute("class") or "").split()
    if sign == "media":
        page.emulate_media(media="null")
    else:
        page.evaluate("dispatchEvent(new Event('afterprint'))")
    page.wait_for_selector("body.inked")


def test_figures_that_never_came_leave_no_hole_on_paper(open_page: OpenPage, site_url: str) -> None:
    page = open_page(java_script_enabled=False)
    page.goto(site_url + TREE.versions[-1].days[0].address)
    page.emulate_media(media="print")
    assert page.locator(".fig").count() > 8
    assert page.locator(".fig:visible").count() == 0


def test_with_reduced_motion_the_strips_stand_where_figures_move(open_page: OpenPage, site_url: str) -> None:
    page = open_page(reduced_motion="reduce")
    page.goto(site_url + TREE.versions[-1].days[0].address)
    read_day(page)
    through(page)
    assert {name for name, _ in page.evaluate(FIGURES)} == {"strip", "held"}
    still = [name for name in page.evaluate(ASKED) if "/figures/" in name]
    assert still
    assert all("-strip." in name or "-right-and-not-so." in name for name in still), still


def test_the_sheet_of_figures_prints_with_every_figure_however_it_is_printed(
    open_page: OpenPage, site_url: str
) -> None:
    page = open_page(java_script_enabled=False)
    page.goto(site_url + "exercises/figures/")
    page.emulate_media(media="print")
    figures = page.locator(".sheet .fig img")
    assert figures.count() > 30
    assert page.locator(".sheet .fig img:visible").count() == figures.count()
    assert all(figures.evaluate_all("all => all.map((one) => one.complete && one.naturalWidth > 0)"))
