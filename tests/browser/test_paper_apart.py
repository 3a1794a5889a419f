"""What paper alone shows holds nothing up, and is there for who prints as soon as the page has come."""

from functools import cache

import pytest
from phasepress.telling.views import type_size
from playwright.sync_api import Page, Route

from tests.browser.conftest import OnPaper, OpenContext, OpenPage
from tests.browser.demo import Session, demo
from tests.browser.paper import FORMATS
from tests.browser.pdfs import Pdf
from tests.samples import every, in_turn

TREE = demo()
MM = 96 / 25.4
LEAST_CUE = 9
"""Points, as the design of the project has it."""
USED = 0.91
"""The share of the page's height that a full sheet uses at least; the next size up would not fit."""


STILLS = """() => [...document.querySelectorAll(".block .still")].map((one) => ({
    here: one.complete && one.naturalWidth > 0,
    aside: one.closest(".aside") !== null,
    seen: one.checkVisibility({visibilityProperty: true, opacityProperty: true}),
    height: one.getBoundingClientRect().height,
}))"""


@cache
def full_sheets() -> list[Session]:
    """The sheet with the most times of each day."""
    return [max(day.sessions, key=lambda one: sum(len(row.times) for row in one.rows)) for day in TREE.days]


def laid_out(page: Page, number: int) -> None:
    paper = type_size.ANYWHERE.rooms[number]
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round(paper.width * MM), "height": round(paper.height * MM)})


def test_a_session_is_read_and_started_while_what_is_for_paper_has_not_come(
    open_context: OpenContext, site_url: str
) -> None:
    page = open_context().new_page()
    held: list[Route] = []
    for pattern in ("**/paper.*.css", "**/stills.svg*"):
        page.route(pattern, lambda route: held.append(route))
    page.goto(site_url + full_sheets()[0].address, wait_until="domcontentloaded")
    page.get_by_role("button", name="Start the session").click()
    page.locator(".guided").wait_for()
    assert len({route.request.url.partition("#")[0] for route in held}) == 2
    for route in held:
        route.continue_()
    page.wait_for_load_state()


@pytest.mark.parametrize("script", [True, False], ids=["with script", "without script"])
@pytest.mark.parametrize("session", every(full_sheets(), few=3), ids=repr)
def test_the_stills_of_a_sheet_are_there_when_it_is_printed_at_once(
    open_page: OpenPage, site_url: str, session: Session, script: bool
) -> None:
    page = open_page(java_script_enabled=script)
    page.goto(site_url + session.address)
    stills = page.evaluate(STILLS)
    assert len(stills) > 8
    assert all(one["here"] for one in stills)
    assert not any(one["seen"] for one in stills), "not on a screen"
    laid_out(page, 0)
    shown = [one for one in page.evaluate(STILLS) if not one["aside"] and one["seen"]]
    assert len(shown) > 4
    # Seven millimetres, rounded to the pixels of the layout.
    assert all(one["height"] >= 6.9 * MM for one in shown)


def test_a_still_is_drawn_and_is_that_of_its_own_exercise(open_page: OpenPage, site_url: str) -> None:
    page = open_page()
    page.goto(site_url + full_sheets()[0].address)
    rows = page.evaluate("""() => [...document.querySelectorAll(".block tr:has(.still)")].map(
        (row) => [row.querySelector(".still").src, row.querySelector("th a").getAttribute("href")]
    )""")
    for source, link in rows:
        assert f"/exercises/{source.partition('#')[2]}/" in link
    inked = page.locator(".block .still").evaluate_all("""async all => {
        const found = [];
        for (const one of all) {
            const canvas = Object.assign(document.createElement("canvas"), {width: 100, height: 80});
            const pen = canvas.getContext("2d");
            pen.drawImage(one, 0, 0, 100, 80);
            const dots = pen.getImageData(0, 0, 100, 80).data;
            let dark = 0;
            for (let at = 3; at < dots.length; at += 4) dark += dots[at] > 128;
            found.push([one.src, dark, canvas.toDataURL()]);
        }
        return found;
    }""")
    assert min(dark for _, dark, _ in inked) > 100
    by_picture = {picture: source for source, _, picture in inked}
    assert len(by_picture) == len({source for source, _, _ in inked}), "each shows another one"


@pytest.mark.parametrize("session", every(full_sheets(), few=5), ids=repr)
def test_a_full_sheet_has_cues_of_nine_points_and_uses_its_page(
    open_page: OpenPage, site_url: str, session: Session
) -> None:
    page = open_page()
    page.goto(site_url + session.address)
    for number, paper in enumerate(FORMATS):
        laid_out(page, number)
        cues, height = page.evaluate("""() => [
            [...document.querySelectorAll(".block em")].map((one) => parseFloat(getComputedStyle(one).fontSize) * 72 / 96),
            document.querySelector("main").getBoundingClientRect().height,
        ]""")
        assert min(cues) >= LEAST_CUE - 0.01, paper
        room = type_size.ANYWHERE.rooms[number].height
        assert USED * room < height / MM <= room, paper


@pytest.mark.parametrize("paper", FORMATS)
def test_every_station_of_the_day_has_its_easier_way_on_paper(on_paper: OnPaper, paper: str) -> None:
    for session in in_turn(every(full_sheets(), few=6), list(FORMATS).index(paper), few=3):
        [text] = Pdf(on_paper(session.address, paper)).texts
        for row in session.rows:
            easier = TREE.files["exercises"][row.exercise].get("easier", [])
            if easier and row.label[0].isupper():
                first = easier[0]
                name = (
                    TREE.files["exercises"][first["exercise"]]["name"]
                    if "exercise" in first
                    else first["how"]
                )
                assert f"Easier: {name}" in text, (session, row.label)


def test_what_the_coach_says_stands_on_the_sheet_of_its_week_alone(
    open_page: OpenPage, site_url: str
) -> None:
    day = next(
        day for day in TREE.days if repr(day).endswith("push-pull-carry") and day.version.name == "3.1"
    )
    page = open_page()
    said = {}
    for session in day.sessions[:4]:
        page.goto(site_url + session.address, wait_until="domcontentloaded")
        said[session.week] = page.locator("p.coach").all_inner_texts()
    assert said[3] == ["Your coach says: Film one set of rows for me."]
    assert said[2] == []
