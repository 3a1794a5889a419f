"""The log page's reader and writer of tables against the examples of RFC 4180, section 2 (from memory)."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.log_records import call
from tests.hearing.test_published_cells import TABLES


@pytest.fixture
def page(open_page: OpenPage, site_url: str) -> Page:
    """A page whose functions are called."""
    page = open_page(**PHONE)
    page.goto(f"{site_url}about/")
    return page


def test_a_page_reads_every_example_as_the_standard_says(page: Page, built_site: Path) -> None:
    for rule, (text, expected) in TABLES.items():
        assert (
            call(page, built_site, "csv", "return m.read(given).map((row) => row.cells)", text) == expected
        ), rule


def test_a_page_writes_fields_with_quotes_and_line_breaks_as_the_examples_are(
    page: Page, built_site: Path
) -> None:
    """6 and 7: quoted, and quotes doubled; 1: every record ends in CR LF."""
    written = call(
        page, built_site, "csv", "return m.write(given)", [["aaa", 'b"bb', "ccc"], ["zzz", "y\r\nyy", "x,x"]]
    )
    assert written == 'aaa,"b""bb",ccc\r\nzzz,"y\r\nyy","x,x"\r\n'


def test_a_page_refuses_a_quote_that_is_not_doubled(page: Page, built_site: Path) -> None:
    """7: what the reader on the coach's side calls damage too."""
    body = "try { m.read(given); return ''; } catch (error) { return error.message; }"
    assert "line 1" in call(page, built_site, "csv", body, '"aaa","b"bb","ccc"')
