"""A printed PDF file as another engine than ours reads it: PDFium by way of pypdfium2."""

import ctypes
import unicodedata
from collections import defaultdict
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

import pypdfium2
import pypdfium2.raw as pdfium

from tests.browser.paper import in_one_line

POINT = 25.4 / 72
"""Millimetres."""
_COLUMN = 4.0
"""Millimetres: a little more than most letters are wide, so that few have to be compared with each other."""


class Box(NamedTuple):
    """A sign, in mm from the top left corner of its page."""

    sign: str
    left: float
    top: float
    right: float
    bottom: float


class Bookmark(NamedTuple):
    """A line of the outline; pages count from 1."""

    level: int
    title: str
    page: int


class Pdf:
    """A file on disk, or its bytes."""

    def __init__(self, file: Path | bytes) -> None:
        self._document = pypdfium2.PdfDocument(file)

    def __len__(self) -> int:
        return len(self._document)

    @cached_property
    def texts(self) -> list[str]:
        """The text of each page in one line, ligatures undone and marks of direction left out."""
        pages = (page.get_textpage().get_text_bounded() for page in self._document)
        return [in_one_line(_plain(text.replace("\r", ""))) for text in pages]

    @property
    def sizes(self) -> list[tuple[float, float]]:
        """Width and height of each page in mm."""
        return [
            (wide * POINT, high * POINT) for wide, high in map(self._document.get_page_size, range(len(self)))
        ]

    @property
    def bookmarks(self) -> list[Bookmark]:
        return [
            Bookmark(one.level, one.get_title(), one.get_dest().get_index() + 1)
            for one in self._document.get_toc()
        ]

    @property
    def title(self) -> str:
        return self._document.get_metadata_value("Title")

    @property
    def language(self) -> str:
        found = ctypes.create_unicode_buffer(99)
        raw = ctypes.cast(found, ctypes.POINTER(pdfium.FPDF_WCHAR))
        size = pdfium.FPDFCatalog_GetLanguage(self._document.raw, raw, ctypes.sizeof(found))
        return bytes(found)[: size - 2].decode("utf-16-le")

    @property
    def tagged(self) -> bool:
        return bool(pdfium.FPDFCatalog_IsTagged(self._document.raw))

    def tags(self, page: int) -> list[str]:
        """The types of all structure elements that have something on the page (from 1), in reading order."""
        # Kept by its name: PDFium does not hold a page for its tree.
        one = self._document[page - 1]
        tree = pdfium.FPDF_StructTree_GetForPage(one.raw)
        try:
            many = pdfium.FPDF_StructTree_CountChildren(tree)
            children = (pdfium.FPDF_StructTree_GetChildAtIndex(tree, index) for index in range(many))
            return [tag for child in children for tag in _tags(child)]
        finally:
            pdfium.FPDF_StructTree_Close(tree)

    def boxes(self, page: int) -> list[Box]:
        """Where the signs of a page (from 1) are, as far as they have ink."""
        one = self._document[page - 1]
        text = one.get_textpage()
        high = self._document.get_page_size(page - 1)[1]
        found = []
        for index in range(text.count_chars()):
            sign = chr(pdfium.FPDFText_GetUnicode(text.raw, index))
            left, bottom, right, top = text.get_charbox(index)
            if not sign.isspace() and right > left and top > bottom:
                found.append(Box(sign, *(POINT * x for x in (left, high - top, right, high - bottom))))
        return found

    def greys(self, page: int, dots: int = 60) -> bytes:
        """The page (from 1) in `dots` an inch, a byte from 0 (black) to 255 a dot."""
        picture = self._document[page - 1].render(scale=dots / 72, grayscale=True)
        return picture.to_pil().tobytes()


def overlaps(boxes: list[Box], slack: float = 0.35) -> Iterator[tuple[Box, Box]]:
    """Pairs that lie on one another by more than `slack` mm both ways.

    Signs that a typeface moves together (kerning) or draws as one (a ligature) are not told. Text on text has many
    more pairs than these.
    """
    for number, column in _columns(boxes).items():
        for index, (place, one) in enumerate(column):
            for other_place, other in column[index + 1 :]:
                if other.top > one.bottom - slack:
                    break
                left = max(one.left, other.left)
                across = min(one.right, other.right) - left
                # Signs that share two columns are told of once.
                if (
                    across <= slack
                    or min(one.bottom, other.bottom) - other.top <= slack
                    or left // _COLUMN != number
                ):
                    continue
                pair = (one, other) if place < other_place else (other, one)
                if not _set_together(*pair, abs(place - other_place)):
                    yield one, other


def _columns(boxes: list[Box]) -> dict[float, list[tuple[int, Box]]]:
    """Boxes with their places, from above, by the number of each column of the page that they reach into."""
    columns: dict[float, list[tuple[int, Box]]] = defaultdict(list)
    for place, box in sorted(enumerate(boxes), key=lambda item: item[1].top):
        for number in range(int(box.left // _COLUMN), int(box.right // _COLUMN) + 1):
            columns[number].append((place, box))
    return columns


def _set_together(first: Box, second: Box, apart: int) -> bool:
    """Whether the second of two signs, so many after the first, is kerned to it or in one ligature with it."""
    kerned = apart == 1 and first.left < second.left and first.right < second.right
    return kerned or (apart <= 2 and first[1:] == second[1:])


def _plain(text: str) -> str:
    normal = unicodedata.normalize("NFKC", text)
    return "".join(sign for sign in normal if sign in "\n " or unicodedata.category(sign) not in ("Cf", "Cc"))


def _tags(element: pdfium.FPDF_STRUCTELEMENT) -> Iterator[str]:
    found = ctypes.create_string_buffer(200)
    size = pdfium.FPDF_StructElement_GetType(element, found, 200)
    if size > 2:
        yield found.raw[: size - 2].decode("utf-16-le")
    for index in range(max(pdfium.FPDF_StructElement_CountChildren(element), 0)):
        child = pdfium.FPDF_StructElement_GetChildAtIndex(element, index)
        if child:
            yield from _tags(child)
