"""PDF files as the tests read them: words, pages and colours."""

import io
import re
import shutil
import subprocess
import unicodedata
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Page
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, StreamObject

FORMATS = {"A4": (595.3, 841.9), "Letter": (612.0, 792.0)}
"""Width and height in points (1/72 inch): ISO 216, and ANSI/ASME Y14.1 size A."""
_NOT_DRAWN = {"/Font", "/Parent", "/P", "/StructParent", "/Dest", "/A"}
_COLOUR = re.compile(rb"([-\d.]+)\s+([-\d.]+)\s+([-\d.]+)\s+(?:rg|RG|sc|SC|scn|SCN)\b")


def printed(page: Page, paper: str) -> PdfReader:
    """The page as the browser prints it on `paper`."""
    return read(page.pdf(format=paper, prefer_css_page_size=False))


def read(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


def lines(reader: PdfReader, number: int = 0) -> str:
    """The text of a page as it is broken into lines, ligatures undone."""
    return unicodedata.normalize("NFKC", reader.pages[number].extract_text())


def in_one_line(text: str) -> str:
    """The text with words that were broken at a hyphen whole again."""
    return " ".join(re.sub(r"-\s*\n\s*", "-", text).split())


def words(reader: PdfReader, number: int = 0) -> str:
    """The text of a page in one line."""
    return in_one_line(lines(reader, number))


def missing_in_order(text: str, parts: list[str]) -> str | None:
    """The first of the parts that does not follow the ones before it, or None."""
    place = 0
    for part in parts:
        found = text.find(part, place)
        if found < 0:
            return part
        place = found + len(part)
    return None


def clock_times(text: str) -> list[str]:
    """Every `m:ss`, as they come."""
    return re.findall(r"(?<![\d:])\d+:\d\d(?![\d:])", text)


def colours(reader: PdfReader) -> set[tuple[float, ...]]:
    """Every colour with unequal parts of red, green and blue that a drawing, pattern or shading sets."""
    return {
        colour for item in _objects(reader) for colour in _colours(item) if max(colour) - min(colour) > 0.004
    }


def _objects(reader: PdfReader) -> Iterator[object]:
    """All that pages are drawn with. Letters of a typeface have no colour of their own; tags are not drawn."""
    known: set[int] = set()
    todo: list[object] = [
        page.get(key) for page in reader.pages for key in ("/Contents", "/Resources", "/Annots")
    ]
    while todo:
        item = todo.pop()
        if isinstance(item, IndirectObject):
            if item.idnum in known:
                continue
            known.add(item.idnum)
            item = item.get_object()
        yield item
        if isinstance(item, DictionaryObject):
            todo += [value for key, value in item.items() if key not in _NOT_DRAWN]
        elif isinstance(item, ArrayObject):
            todo += list(item)


def _colours(item: object) -> Iterator[tuple[float, ...]]:
    if isinstance(item, DictionaryObject):
        for key in ("/C0", "/C1"):
            if isinstance(item.get(key), ArrayObject):
                yield tuple(float(part) for part in item[key])
    if isinstance(item, StreamObject) and item.get("/Subtype") == "/Image":
        yield from _dots_of_image(item)
    elif isinstance(item, StreamObject):
        for red, green, blue in _COLOUR.findall(item.get_data()):
            yield float(red), float(green), float(blue)


def _dots_of_image(item: StreamObject) -> Iterator[tuple[float, ...]]:
    if item["/ColorSpace"] == "/DeviceGray":
        return
    assert item["/ColorSpace"] == "/DeviceRGB", item["/ColorSpace"]
    assert item["/Filter"] == "/FlateDecode", item["/Filter"]
    data = item.get_data()
    yield from set(zip(data[0::3], data[1::3], data[2::3], strict=True))


def dots(pdf: bytes, folder: Path) -> list[bytes]:
    """Each page as rows of red, green and blue bytes at 60 dots an inch; nothing where poppler is missing."""
    if not shutil.which("pdftoppm"):
        return []
    file = folder / "page.pdf"
    file.write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", "60", str(file), str(folder / "page")], check=True)
    return [_without_header(one.read_bytes()) for one in sorted(folder.glob("page*.ppm"))]


def _without_header(picture: bytes) -> bytes:
    header = re.match(rb"P6\s+\d+\s+\d+\s+255\s", picture)
    assert header, picture[:20]
    return picture[header.end() :]
