"""The review's page as a coach opens it: a file from a mail, on a laptop and a phone, dark and on paper; no request."""

import io
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from phasepress.publishing.review_page import review_page
from phasepress.reading.catalogue import load
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from tests import samples
from tests.browser.axe import CONTRAST, thin_out, violations
from tests.browser.conftest import DESKTOP, as_at_first
from tests.conftest import ROOT
from tests.fixtures import invented_logs
from tests.hearing import squads
from tests.samples import every, size

ATHLETES = 20
FEWER = size(ATHLETES, few=4)


Write = Callable[[int], Path]


@pytest.fixture(scope="module")
def write(tmp_path_factory: pytest.TempPathFactory) -> Write:
    """`write(athletes)`: a review of the invented logs of so many, as a file."""
    catalogue = load(ROOT / "programmes").catalogue

    def write_(athletes: int) -> Path:
        room = tmp_path_factory.mktemp("review")
        invented_logs.write(room / "logs", invented_logs.logs(catalogue, date(2026, 11, 27), athletes))
        now = datetime(2026, 11, 28, 18, tzinfo=UTC)
        found = squads.found(ROOT / "programmes", room / "logs", now)
        (room / "review.html").write_text(review_page(found, catalogue), encoding="utf-8")
        return room / "review.html"

    return write_


@pytest.fixture(scope="module")
def file(write: Write) -> Path:
    return write(ATHLETES)


@pytest.fixture(scope="module")
def shorter(write: Write) -> Path:
    """A review with fewer athletes, of whom each has all that the others have."""
    return write(FEWER)


@pytest.fixture(scope="module")
def kept(browser: Browser) -> Iterator[Page]:
    """One page for all that only look at the file."""
    page = browser.new_page(**DESKTOP)
    yield page
    page.close()


@pytest.fixture
def page(kept: Page) -> Page:
    as_at_first(kept, DESKTOP)
    return kept


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


def test_twenty_athletes_are_on_one_screen_of_1280(page: Page, file: Path) -> None:
    page.goto(file.as_uri())
    box = page.locator("table.squad").bounding_box()
    assert box
    assert page.locator("table.squad tbody tr").count() == ATHLETES
    assert box["height"] <= 800
    wide = "document.querySelector('table.squad').parentElement"
    assert page.evaluate(f"{wide}.scrollWidth <= {wide}.clientWidth"), "nothing of it has to be scrolled to"


@pytest.mark.parametrize("width", every([320, 360, 768, 1280], few=2))
def test_the_page_is_no_wider_than_its_screen(page: Page, file: Path, width: int) -> None:
    page.goto(file.as_uri())
    page.set_viewport_size({"width": width, "height": 740})
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_breaks_no_rule_of_accessibility(page: Page, shorter: Path, scheme: str) -> None:
    page.goto(shorter.as_uri())
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    if not samples.ALL:
        thin_out(page, most=2)
    # Of all rules, the scheme matters to one.
    assert violations(page, only=() if scheme == "light" else [CONTRAST]) == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_on_paper_nothing_is_cut_and_each_athlete_begins_a_page(
    page: Page, shorter: Path, paper: str
) -> None:
    page.goto(shorter.as_uri())
    content = page.pdf(format=paper)
    pages = [one.extract_text() for one in PdfReader(io.BytesIO(content)).pages]
    assert len(pages) > FEWER
    for number in range(FEWER):
        name = page.locator(f"#a{number + 1}").inner_text()
        assert any(text.lstrip().startswith(name) for text in pages), name
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 688, "height": 1000})
    wide = "[...document.querySelectorAll('.wide')].filter((one) => one.scrollWidth > one.clientWidth + 1).map((one) => one.ariaLabel + one.scrollWidth)"
    assert page.evaluate(wide) == [], "A4 less its margins is 688 px wide (CSS 2.2: 96 px an inch)"
