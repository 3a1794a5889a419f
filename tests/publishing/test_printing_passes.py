"""A pack is printed until the numbers in its contents are right and no page of it is empty."""

import io
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from types import SimpleNamespace
from typing import Any

import pytest
from phasepress.publishing import pdf
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DecodedStreamObject, NameObject


def document(*pages: str) -> PdfReader:
    """A document whose pages have a tagged paragraph or are "empty"; the contents are on its last page."""
    writer = PdfWriter()
    for words in pages:
        page = writer.add_blank_page(595, 842)
        stream = DecodedStreamObject()
        # Margins are drawn outside of what is tagged (ISO 32000-1, 14.8.2.2, "artifacts").
        stream.set_data(b"BT ET" if words == "empty" else b"/P <</MCID 0>> BDC BT ET EMC")
        page[NameObject("/Contents")] = writer._add_object(stream)
    writer.add_named_destination("contents", len(pages) - 1)
    content = io.BytesIO()
    writer.write(content)
    return PdfReader(content)


@pytest.fixture
def passes(monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    """What the browser prints, pass by pass; `numbers` are those that it was given for the contents."""
    play: dict[str, Any] = {"documents": [], "numbers": []}

    class Pages:
        def __init__(self, browser: object, pack: object) -> None:
            pass

        def printed(self, numbers: Mapping[str, int]) -> PdfReader:
            play["numbers"].append(dict(numbers))
            made: PdfReader = play["documents"].pop(0)
            return made

    @contextmanager
    def no_browser(env: object) -> Iterator[None]:
        yield None

    monkeypatch.setattr(pdf, "_Pages", Pages)
    monkeypatch.setattr(pdf, "_browser", no_browser)
    return play


PACK: Any = SimpleNamespace(title="Plan", starts="2026-09-07", bookmarks=(), sheets={}, expected={})
EXPECTING: Any = SimpleNamespace(**vars(PACK) | {"expected": {"cover": 1, "contents": 2}})


def test_one_pass_will_do_where_parts_begin_where_they_are_expected(passes: dict[str, Any]) -> None:
    passes["documents"] = [document("cover", "contents")]
    assert pdf.printed(EXPECTING, {}).pages == 2
    assert passes["numbers"] == [{"cover": 1, "contents": 2}]


def test_another_corrects_what_was_expected(passes: dict[str, Any]) -> None:
    passes["documents"] = [document("cover", "more", "contents"), document("cover", "more", "contents")]
    assert pdf.printed(EXPECTING, {}).pages == 3
    assert passes["numbers"] == [{"cover": 1, "contents": 2}, {"contents": 3}]


def test_two_passes_will_do_where_all_pages_have_something(passes: dict[str, Any]) -> None:
    passes["documents"] = [document("cover", "contents"), document("cover", "contents")]
    assert pdf.printed(PACK, {}).pages == 2
    assert passes["numbers"] == [{}, {"contents": 2}]


@pytest.mark.parametrize("at", [0, 1, 2])
def test_one_with_an_empty_page_is_printed_again(passes: dict[str, Any], at: int) -> None:
    whole = [document("cover", "contents") for _ in range(3)]
    passes["documents"] = [*whole[:at], document("empty", "cover", "contents"), *whole[at:]]
    assert pdf.printed(PACK, {}).pages == 2
    assert {"contents": 3} not in passes["numbers"], "no number is taken from it"


def test_an_empty_page_in_the_middle_is_none_either(passes: dict[str, Any]) -> None:
    good = ("cover", "sheet", "contents")
    passes["documents"] = [document("cover", "empty", "contents"), document(*good), document(*good)]
    assert pdf.printed(PACK, {}).pages == 3
    assert not passes["documents"]


def test_a_browser_that_never_prints_a_whole_one_is_not_asked_for_ever(passes: dict[str, Any]) -> None:
    passes["documents"] = [document("empty", "cover") for _ in range(20)]
    with pytest.raises(pdf.NotPrintedError, match="an empty page"):
        pdf.printed(PACK, {})
    assert len(passes["numbers"]) < 20
