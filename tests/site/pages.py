"""A built site as the tests read it: every page parsed once, found by its address and by its kind."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import groupby
from pathlib import Path
from urllib.parse import urljoin
from xml.etree.ElementTree import Element

import html5lib
from phasepress.publishing import pages

from tests.samples import in_turn

_TOP = "https://club.example/"
SVG = "{http://www.w3.org/2000/svg}"
PRESCRIBING = tuple(kind.name for kind in pages.PAGES if kind.prescribes)
"""Kinds of pages that tell somebody what to do."""


def kind_of(address: str) -> str:
    if address == "404.html":
        return "missing"
    kind = pages.kind_of(address)
    return kind.name if kind else "other"


@dataclass(eq=False)
class Page:
    """One HTML file; `address` is from the top of the site, with a slash at the end."""

    address: str
    markup: str
    errors: list[str] = field(default_factory=list)

    @property
    def kind(self) -> str:
        return kind_of(self.address)

    @cached_property
    def root(self) -> Element:
        """The parsed page; `errors` are filled with what a strict parser would stop at."""
        parser = html5lib.HTMLParser(html5lib.getTreeBuilder("etree"), namespaceHTMLElements=False)
        root = parser.parse(self.markup)
        for (line, column), code, data in parser.errors:
            self.errors.append(f"line {line}, column {column}: {html5lib.constants.E[code] % data}")
        return root

    def all(self, tag: str = "*", mark: str = "", within: Element | None = None) -> list[Element]:
        """Elements of a tag, with a class or (in brackets) an attribute, in the order of the page."""
        top = self.root if within is None else within
        return [one for one in top.iter() if _is(one, tag) and _marked(one, mark)]

    def one(self, tag: str = "*", mark: str = "", within: Element | None = None) -> Element:
        """The only element of a tag and mark; anything else is a failure that says how many there are."""
        found = self.all(tag, mark, within)
        assert len(found) == 1, f"{self.address}: {len(found)} of {tag} {mark}, not one"
        return found[0]

    def leads_to(self, link: Element) -> str:
        """The address, from the top of the site, that a link of this page leads to."""
        return urljoin(_TOP + self.address, link.attrib["href"]).removeprefix(_TOP)

    @cached_property
    def words(self) -> str:
        """All that can be read on the page, spaces collapsed."""
        return words(self.one("body"))


def _is(element: Element, tag: str) -> bool:
    return isinstance(element.tag, str) and (tag == "*" or element.tag.removeprefix(SVG) == tag)


def _marked(element: Element, mark: str) -> bool:
    if mark.startswith("["):
        return mark.strip("[]") in element.attrib
    return not mark or mark in element.get("class", "").split()


def words(element: Element) -> str:
    """The text of an element, spaces collapsed."""
    return " ".join("".join(_texts(element)).split())


# Two paragraphs or cells that touch in the markup are no single word.
_INLINE = {"a", "b", "em", "i", "small", "span", "strong", "label"}


def _texts(element: Element) -> Iterator[str]:
    yield element.text or ""
    for child in element:
        if isinstance(child.tag, str) and child.tag not in ("script", "style"):
            yield from _texts(child)
        yield ("" if child.tag in _INLINE else " ") + (child.tail or "")


class Site:
    """A built folder. `pages` are its HTML files by address, `files` all its files by path.

    `read` are those of the pages that tests of every page go through. With `sessions`, `make test` has so many session
    pages of each day among them, of other levels and weeks at each: to parse hundreds that are alike takes long.
    """

    def __init__(self, folder: Path, *, sessions: int | None = None) -> None:
        self.folder = folder
        self.files = {
            path.relative_to(folder).as_posix(): path for path in sorted(folder.rglob("*")) if path.is_file()
        }
        self.pages = {
            address: Page(address, path.read_text(encoding="utf-8"))
            for name, path in self.files.items()
            if name.endswith(".html")
            for address in [re.sub(r"(^|(?<=/))index\.html$", "", name)]
        }

        left = set() if sessions is None else self._sessions_beyond(sessions)
        self.read = {address: page for address, page in self.pages.items() if page not in left}

    def _sessions_beyond(self, few: int) -> set[Page]:
        own = [page for page in self.pages.values() if page.kind == "session"]
        days = [[*of_day] for _, of_day in groupby(own, key=lambda page: page.address.split("/")[:3])]
        return {*own}.difference(*(in_turn(day, turn, few=few) for turn, day in enumerate(days)))

    def __getitem__(self, address: str) -> Page:
        assert address in self.pages, f"there is no page {address}; there are {', '.join(self.pages)}"
        return self.pages[address]

    def of_kind(self, *kinds: str) -> list[Page]:
        """The pages of these kinds that are read; a site without any is a failure, lest a test look at nothing."""
        found = [page for page in self.read.values() if page.kind in kinds]
        assert found, f"there is no page of the kind {' or '.join(kinds)}"
        return found


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its bytes; an empty folder is listed too."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() if path.is_file() else b"a folder"
        for path in sorted(folder.rglob("*"))
    }
