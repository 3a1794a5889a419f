"""What the log's scripts read, write and sum, against published examples: RFC 4180, section 2, and FNV-1a (from memory)."""

import json
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.log_records import call, record
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


# The first and the last of the test vectors of its authors (Fowler, Noll, Vo) for 32 bits, and one between.
FNV_1A = {"": 0x811C9DC5, "a": 0xE40C292C, "foobar": 0xBF9CF968}


def fnv_1a(text: str) -> int:
    """32 bits: the offset basis; for each octet exclusive or, then times the prime 2^24 + 2^8 + 0x93."""
    found = 2_166_136_261
    for octet in text.encode():
        found = (found ^ octet) * 16_777_619 % 2**32
    return found


def test_the_sum_by_which_a_changed_record_is_seen_is_the_published_one(page: Page, built_site: Path) -> None:
    """Of the record as JSON without spaces; of ASCII alone, as the script goes by characters and not by octets."""
    assert {text: fnv_1a(text) for text in FNV_1A} == FNV_1A
    given = record(title="Legs")
    text = json.dumps(given, separators=(",", ":"))
    assert text.isascii()
    assert call(page, built_site, "send", "return m.sum(given)", given) == fnv_1a(text)
