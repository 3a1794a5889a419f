"""The review's page as a coach opens it: a file from a mail, on a laptop and a phone, dark and on paper; no request."""

import io
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from phasepress.publishing.review_page import review_page
from phasepress.reading.catalogue import load
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from tests.browser.test_accessibility import violations
from tests.conftest import ROOT
from tests.fixtures import invented_logs
from tests.hearing import squads

ATHLETES = 20


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A review of invented logs, as a file."""
    room = tmp_path_factory.mktemp("review")
    catalogue = load(ROOT / "programmes").catalogue
    invented_logs.write(room / "logs", invented_logs.logs(catalogue, date(2026, 11, 27), ATHLETES))
    now = datetime(2026, 11, 28, 18, tzinfo=UTC)
    path = room / "review.html"
    path.write_text(
        review_page(squads.found(ROOT / "programmes", room / "logs", now), catalogue), encoding="utf-8"
    )
    return path


@pytest.fixture
def page(browser: Browser, file: Path) -> Iterator[Page]:
    page = browser.new_page(viewport={"width": 1280, "height": 800})
    page.goto(file.as_uri())
    yield page
    page.close()


def test_it_asks_for_nothing_and_its_policy_stops_nothing_of_its_own(browser: Browser, file: Path) -> None:
    page = browser.new_page()
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.goto(file.as_uri())
    assert (asked, said) == ([file.as_uri()], [])
    assert page.evaluate("getComputedStyle(document.querySelector('.squad')).borderCollapse") == "collapse"
    page.close()


def test_twenty_athletes_are_on_one_screen_of_1280(page: Page) -> None:
    box = page.locator("table.squad").bounding_box()
    assert box
    assert page.locator("table.squad tbody tr").count() == ATHLETES
    assert box["height"] <= 800
    wide = "document.querySelector('table.squad').parentElement"
    assert page.evaluate(f"{wide}.scrollWidth <= {wide}.clientWidth"), "nothing of it has to be scrolled to"


@pytest.mark.parametrize("width", [320, 360, 768, 1280])
def test_the_page_is_no_wider_than_its_screen(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 740})
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_breaks_no_rule_of_accessibility(page: Page, scheme: str) -> None:
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    assert violations(page) == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_on_paper_nothing_is_cut_and_each_athlete_begins_a_page(page: Page, paper: str) -> None:
    content = page.pdf(format=paper)
    pages = [one.extract_text() for one in PdfReader(io.BytesIO(content)).pages]
    assert len(pages) > ATHLETES
    for number in range(ATHLETES):
        name = page.locator(f"#a{number + 1}").inner_text()
        assert any(text.lstrip().startswith(name) for text in pages), name
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 688, "height": 1000})
    wide = "[...document.querySelectorAll('.wide')].filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => one.ariaLabel + one.scrollWidth)"
    assert page.evaluate(wide) == [], "A4 less its margins is 688 px wide (CSS 2.2: 96 px an inch)"
