"""What a kind of page or file is, and what one page says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Literal

from ..reading.addresses import Address
from ..telling.views.base import Link

Words = dict[str, object]
"""What a template is given."""
Scope = Literal["site", "programme", "version", "day", "level", "session", "exercise"]
SCOPES: dict[frozenset[str], Scope] = {
    frozenset(): "site",
    frozenset({"exercise"}): "exercise",
    frozenset({"programme"}): "programme",
    frozenset({"programme", "version"}): "version",
    frozenset({"programme", "version", "day"}): "day",
    frozenset({"programme", "version", "day", "level"}): "level",
    frozenset({"programme", "version", "day", "level", "week"}): "session",
}
SHEET = ("css/sheet.css",)
DAY = (*SHEET, "css/day.css")
PAPER = (*SHEET, "css/paper.css")
HANDOUT = (*PAPER, "css/handout.css")
IN_THE_THEME = (*DAY, "css/page.css")
NUMBERS = (*IN_THE_THEME, "css/numbers.css")
"""Styles of a page, in the order in which it loads them."""
TODAY = ("js/today/today.js",)


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What one page says. `trail` leads back to the first page, `feed` to what tells of changes."""

    title: str
    description: str = ""
    trail: tuple[Link, ...] = ()
    feed: str = ""
    words: Words = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kind:
    address: Address

    @property
    def scope(self) -> Scope:
        """What one of them is of: this follows from what its address names."""
        return SCOPES[self.address.names]

    @property
    def name(self) -> str:
        """Its name in tests and messages."""
        return self.address.name.lower()


@dataclass(frozen=True, slots=True, kw_only=True)
class PageKind(_Kind):
    """A kind of page; `content` makes what it says from what it is of.

    `themed` pages stand in the theme's frame, others are whole files. `styles` are loaded in this order,
    `scripts` before the page is shown, besides that of all pages.
    `precached` says when a device keeps it: "always", "linked" from a page that it keeps, or "never"; a page
    of a version only with its phase. `listed` says whether search engines are told, unless the version is
    replaced; `prescribes` whether it tells somebody what to do, so that cautions and stop rule are on it.
    """

    template: str
    content: Callable[[Any], Content]
    themed: bool = True
    styles: tuple[str, ...] = IN_THE_THEME
    scripts: tuple[str, ...] = ()
    precached: Literal["always", "linked", "never"] = "always"
    listed: bool = True
    prescribes: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class FileKind(_Kind):
    """A file that programs read; `text` makes it from what it is of.

    One that is `public` names whole addresses: it is there only where the public address is known, and for a
    programme of which something is published.
    """

    text: Callable[[Any], str]
    public: bool = False
