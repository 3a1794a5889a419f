"""The document of a pack: which parts it has, in which order, and the outline that leads to them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import NamedTuple

from ...computing.facts import ComputedSession
from ...computing.phases import Phases
from ...reading.addresses import Address
from ...reading.catalogue import Catalogue, VersionEntry
from ...reading.shipped import THEME
from ...telling.views.base import day_address, exercise_address, session_address
from ...telling.views.faces import PACK
from ...telling.views.pack_cards import cards
from ...telling.views.pack_choice import Choice
from ...telling.views.pack_cover import cover
from ...telling.views.pack_doses import dose_sheet
from ...telling.views.papers import PAPERS, SHEET, room
from ...telling.views.type_size import Setting
from .. import pages, typeface
from ..assets import Assets, style
from ..look import CREST, LARGE_CREST
from ..scopes import OfVersion
from ..site import Renderer
from .lettering import lettered
from .styles import as_parts, isolated, page_styles

INSIDE = "#"
"""Links of the site lead to parts of the pack: their ids are the addresses of these pages."""
_CARDS = 4
"""Of a page."""


class Bookmark(NamedTuple):
    """A line of the outline, with those below it; `part` is the id of what it leads to."""

    title: str
    part: str
    below: tuple[Bookmark, ...] = ()


class Part(NamedTuple):
    """What begins on a page of its own. A sheet has its title on each of its pages by itself."""

    id: str
    title: str
    kind: str
    view: object

    @property
    def head(self) -> str:
        """What is to stand above each of its pages."""
        return "" if self.kind == "sheet" else self.title


class NothingPlannedError(Exception):
    """A choice of levels and weeks in which no session is left."""


@dataclass(frozen=True, slots=True)
class Pack:
    """A document that is printed in one go. `files` are those that it asks for, by address.

    `sheets` has the titles of the session sheets by their ids. `starts` is the first day of the phase, which
    stands for the date of the document as it does in calendars and feeds. `expected` are the numbers of the
    pages on which parts and cards begin if no part takes more than one, as in most packs.
    """

    title: str
    starts: str
    bookmarks: tuple[Bookmark, ...]
    sheets: Mapping[str, str]
    files: Mapping[str, bytes]
    expected: Mapping[str, int]
    _renderer: Renderer
    _parts: tuple[Part, ...]

    def text(self, pages: Mapping[str, int]) -> str:
        """The document. `pages` are the numbers of the pages on which its parts begin, as far as known."""
        text = self._renderer.templates.text(
            "pack/pack.html", "", title=self.title, parts_of_pack=self._parts, pages=pages
        )
        return self._renderer.mark(text)


def pack(
    catalogue: Catalogue,
    assets: Assets,
    site_url: str,
    version: VersionEntry,
    choice: Choice,
    paper: str,
) -> Pack:
    """The pack of a version on `paper`, a name of PAPERS. Raises NothingPlannedError, NoTypefaceError."""
    setting = Setting(PACK, (room(PAPERS[paper], SHEET),))
    renderer = Renderer(catalogue, assets, site_url, frame="pack/part.html", root=INSIDE, setting=setting)
    of = renderer.top.of_programme(catalogue.programmes[version.programme])
    facts = Phases(renderer.top.tree, of.programme).facts(version)
    making = _Making(renderer, of.of_version(facts), choice)
    if not making.trained:
        raise NothingPlannedError
    parts = tuple(making.parts())
    files = {
        "sheet.css": as_parts(assets.files["css/sheet.css"][1]),
        "paper.css": as_parts(assets.files["css/paper.css"][1]),
        "stills.svg": renderer.site.figures.stills(making.exercises).encode(),
        "pack.css": style(THEME, "css/pack.css").encode(),
        "pages.css": page_styles([part.head for part in parts], making.foot, paper).encode(),
    }
    files |= dict(assets.files[name] for name in (CREST, LARGE_CREST) if name in assets.files)
    files |= typeface.files()
    files |= {address: lettered(content) for address, content in renderer.site.figures.files.items()}
    return Pack(
        making.title,
        version.model.starts.isoformat(),
        tuple(making.bookmarks()),
        {part.id: part.title for part in parts if part.kind == "sheet"},
        files,
        making.expected(parts),
        renderer,
        parts,
    )


class _Making:
    """One pack that is made. `trained` are the chosen sessions of which something is left."""

    def __init__(self, renderer: Renderer, of: OfVersion, choice: Choice) -> None:
        self._renderer, self._of, self._version, self._choice = renderer, of, of.version, choice
        self._chosen = choice.facts(of.sessions)
        self.trained = [one for one in self._chosen if one.plan.is_trained]
        self._cards = cards(renderer.site, self.trained)
        self.title = of.title
        self.foot = f"{isolated(of.within.title)} · version {of.version.name} · plan {of.page.plan}"

    @property
    def exercises(self) -> list[str]:
        """The ids of those that its sheets have."""
        return [station.exercise for one in self.trained for station in one.plan.stations]

    def parts(self) -> Iterator[Part]:
        """Every part, in order."""
        site, version = self._renderer.site, self._version
        first = cover(site, self._of.within.programme, version, self._of.page, self._chosen, self._choice)
        yield Part("cover", site.club_name, "cover", first)
        yield Part("contents", "In this pack", "contents", (first, self._cards))
        for day in version.model.days:
            own = [one for one in self._chosen if one.plan.day == day.id]
            view = dose_sheet(site, version, day, self._day_address(day.id), own, first.part)
            yield Part(view.address, day.title, "doses", view)
        wanted = {self._address(one) for one in self.trained}
        for sheet in (one for of_day in self._of.of_days() for one in of_day.of_sessions()):
            if Address.SESSION.at(**sheet.ids) in wanted:
                made = self._renderer.page(pages.session, sheet)
                yield Part(made.address, made.title, "sheet", made.text)
        fours = [self._cards[first : first + _CARDS] for first in range(0, len(self._cards), _CARDS)]
        yield Part("cards", "Exercise cards", "cards", fours)

    def expected(self, parts: Sequence[Part]) -> dict[str, int]:
        """Where they and the cards, which are the last, begin if each part but that is one page."""
        numbers = {part.id: number for number, part in enumerate(parts, 1)}
        cards = {
            exercise_address(card.id): len(parts) + place // _CARDS for place, card in enumerate(self._cards)
        }
        return numbers | cards

    def bookmarks(self) -> Iterator[Bookmark]:
        """The outline: every part and every card."""
        days = {day.id: day.title for day in self._version.model.days}
        levels = {level.id: level.name for level in self._version.levels}
        yield Bookmark("Cover", "cover")
        yield Bookmark("In this pack", "contents")
        below = tuple(Bookmark(title, self._day_address(day)) for day, title in days.items())
        yield Bookmark("Days", below[0].part, below)
        sheets = []
        for day, own in groupby(self.trained, key=lambda one: one.plan.day):
            of_day = tuple(
                Bookmark(f"{levels[one.plan.level]}, week {one.plan.week}", self._address(one)) for one in own
            )
            sheets.append(Bookmark(days[day], of_day[0].part, of_day))
        yield Bookmark("Session sheets", sheets[0].part, tuple(sheets))
        below = tuple(Bookmark(card.name, exercise_address(card.id)) for card in self._cards)
        yield Bookmark("Exercise cards", below[0].part, below)

    def _day_address(self, day: str) -> str:
        return day_address(self._version, day)

    def _address(self, one: ComputedSession) -> str:
        return session_address(self._version, one.plan)
