"""The registry of pages and files: what the site has at each address, one entry each.

A new kind of page is a line in `reading/addresses`, which also takes its ids from authors, an entry here with
what it says, and its template. All else follows from the entry: how many there are, what search engines and
devices are told, and what the tests look at.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Literal

from ..drawing.qr import POSTER_MM, SHEET_MM
from ..judging import RULES, SOURCES
from ..judging.run import VersionResult
from ..reading.addresses import Address
from ..telling.feeds import PLAN_SCHEMA, calendar, changes, plan_json, sitemap
from ..telling.views.base import Link
from ..telling.views.kit import kit_page
from ..telling.views.numbers import numbers_page
from ..telling.views.poster import poster_page
from ..telling.views.session import session_page
from ..telling.views.sheet import Notes
from .scopes import OfDay, OfExercise, OfProgramme, OfSession, OfSite, OfVersion

Scope = Literal["site", "programme", "version", "day", "session", "exercise"]
Words = dict[str, object]
"""What a template is given."""
_SCOPES: dict[frozenset[str], Scope] = {
    frozenset(): "site",
    frozenset({"exercise"}): "exercise",
    frozenset({"programme"}): "programme",
    frozenset({"programme", "version"}): "version",
    frozenset({"programme", "version", "day"}): "day",
    frozenset({"programme", "version", "day", "level", "week"}): "session",
}
SHEET = ("css/sheet.css",)
DAY = (*SHEET, "css/day.css")
HANDOUT = (*SHEET, "css/handout.css")
IN_THE_THEME = (*DAY, "css/page.css")
NUMBERS = (*IN_THE_THEME, "css/numbers.css")
"""Styles of a page, in the order in which it loads them."""
_SHOWN = 155
"""Letters of a description that search pages show."""
_THIS_PAGE = "QR code with the address of this page"


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What one page says. `trail` leads back to the first page; `feed` is the address that tells of changes."""

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
        return _SCOPES[self.address.names]

    @property
    def name(self) -> str:
        """Its name in tests and messages."""
        return self.address.name.lower()


@dataclass(frozen=True, slots=True, kw_only=True)
class PageKind(_Kind):
    """A kind of page; `content` makes what it says from what it is of.

    `themed` pages stand in the theme's frame, others are whole files. `precached` says when a device keeps it:
    "always", "linked" from a page that it keeps, or "never"; a page of a version only with its phase. `listed`
    says whether search engines are told, unless the version is replaced; `prescribes` whether it tells somebody
    what to do, so that cautions and stop rule have to be on it.
    """

    template: str
    content: Callable[[Any], Content]
    themed: bool = True
    styles: tuple[str, ...] = IN_THE_THEME
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


def kind_of(address: str) -> PageKind | None:
    """The kind of the page at an address from the top of the site."""
    return next((kind for kind in _NARROWEST_FIRST if kind.address.is_form_of(address)), None)


def _home(of: OfSite) -> Content:
    club = of.catalogue.club
    words: Words = {"programmes": of.programmes, "club": club.model if club else None}
    return Content(title=of.site.club_name, words=words)


def _about(of: OfSite) -> Content:
    club = of.catalogue.club
    words: Words = {"rules": RULES, "sources": SOURCES, "contact": club.model.contact if club else None}
    return Content(title="About, privacy and sources", words=words)


def _log(of: OfSite) -> Content:
    return Content(title="Your log", description="Your sessions, kept on this device only.")


def _exercises(of: OfSite) -> Content:
    return Content(title="Exercises", words={"index": of.exercise_views.index()})


def _figures(of: OfSite) -> Content:
    words: Words = {"entries": of.exercise_views.figures()}
    return Content(title="All figures", trail=_to_exercises(), words=words)


def _exercise(of: OfExercise) -> Content:
    page = of.top.exercise_views.page(of.exercise)
    return Content(title=page.name, description=_short(page.cues[0]), trail=_to_exercises(), words={"page": page})


def _to_exercises() -> tuple[Link, ...]:
    return (Link("Exercises", Address.EXERCISES.at()),)


def _programme(of: OfProgramme) -> Content:
    page = of.page
    feed = Address.CHANGES.at(**of.ids) if page.feeds else ""
    return Content(title=page.title, description=_short(page.summary), feed=feed, words={"page": page})


def _archive(of: OfProgramme) -> Content:
    rows = [row for _, _, row in reversed(of.dated)]
    words: Words = {"rows": rows, "programme": of.programme}
    return Content(title=f"{of.title}: all versions", trail=_to_programme(of), words=words)


def _poster(of: OfProgramme) -> Content:
    top, page = of.top, of.page
    address = Address.PROGRAMME.at(**of.ids)
    words: Words = {
        "page": poster_page(top.site, page, "" if top.preview else top.site_url),
        "code": top.code(address, "QR code with the address of this programme", POSTER_MM).svg,
        "programme": page.title,
        "programme_id": page.id,
        "newer": None,
    }
    about = f"Poster for the changing room: {of.title}, at {top.site.club_name}."
    return Content(title="Poster", description=about, trail=_to_programme(of), words=words)


def _to_programme(of: OfProgramme) -> tuple[Link, ...]:
    return (Link(of.title, Address.PROGRAMME.at(**of.ids)),)


def _version(of: OfVersion) -> Content:
    page = of.page
    trail = _to_programme(of.of)
    return Content(title=of.title, description=_short(page.aim), trail=trail, words={"page": page})


def _numbers(of: OfVersion) -> Content:
    version = of.version
    result = of.top.results.get((version.programme, version.name), VersionResult())
    page = numbers_page(of.of.programme, of.facts, result, of.page.plan, of.newer)
    trail = (*_to_programme(of.of), Link(f"Phase {version.phase}", of.page.address))
    return Content(title=f"Numbers: {of.title}", trail=trail, words={"page": page})


def _kit(of: OfVersion) -> Content:
    code = of.top.code(Address.KIT.at(**of.ids), _THIS_PAGE, SHEET_MM)
    notes = Notes(of.page.growth, of.banner, code.side)
    page = kit_page(of.top.site, of.of.programme, of.version, of.sessions, notes)
    return _in_version(of, "Kit card", {"page": page, "code": code.svg})


def _day(of: OfDay) -> Content:
    return _in_version(of.of, of.day.title, {"page": of.page})


def _session(of: OfSession) -> Content:
    day, version = of.of, of.of.of
    code = version.top.code(Address.SESSION.at(**of.ids), _THIS_PAGE, SHEET_MM)
    notes = Notes(day.growth, version.banner, code.side)
    page = session_page(version.top.sheet_words, version.version, day.day, of.session, of.ribbon, notes)
    words: Words = {
        "page": page,
        "growth": day.growth,
        "code": code.svg,
    }
    title = f"{page.title}, {page.level}, week {page.week}"
    return _in_version(version, title, words, Link(page.title, Address.DAY.at(**of.ids)))


def _in_version(of: OfVersion, title: str, own: Words, *below: Link) -> Content:
    """A page of a version without the theme, with what all of these have around what is their `own`."""
    version, phase = of.version, of.version.model.phase
    around = {
        "programme": of.of.title,
        "programme_id": of.of.programme.id,
        "version": version,
        "newer": of.newer,
        "plan": of.page.plan,
    }
    about = f"{title}: {of.of.title}, phase {version.phase}, {phase}, at {of.top.site.club_name}."
    trail = (*_to_programme(of.of), Link(f"Phase {version.phase}", of.page.address, phase), *below)
    return Content(title=title, description=about, trail=trail, words={**around, **own})


def _short(text: str) -> str:
    """A description of a length that search pages show."""
    text = " ".join(text.split())
    return text if len(text) <= _SHOWN else text[: _SHOWN - 3].rsplit(" ", 1)[0] + " ..."


def _calendar(of: OfProgramme) -> str:
    name, address = f"{of.title}, {of.top.site.club_name}", Address.CALENDAR.at(**of.ids)
    return calendar(name, of.planned, of.top.site_url, address).decode()


def _changes(of: OfProgramme) -> str:
    site, top = of.top.site, Address.PROGRAMME.at(**of.ids)
    title = f"{of.title}, {site.club_name}"
    return changes(title, site.club_name, site.language, of.dated, of.top.site_url, top).decode()


def _plan(of: OfVersion) -> str:
    return plan_json(of.top.site, of.of.programme, of.version, of.sessions, of.page.plan)


def _sitemap(of: OfSite) -> str:
    return sitemap(of.listed, of.site_url).decode()


def _plan_schema(of: OfSite) -> str:
    return f"{json.dumps(PLAN_SCHEMA, indent=1)}\n"


# A sheet is found from its day; there are too many of them to list.
SESSION = PageKind(
    address=Address.SESSION, template="session.html", content=_session, themed=False, styles=SHEET, listed=False
)
"""The kind that packs take too."""

PAGES = (
    PageKind(address=Address.HOME, template="home.html", content=_home),
    PageKind(address=Address.ABOUT, template="about.html", content=_about),
    PageKind(address=Address.LOG, template="log.html", content=_log, prescribes=False),
    PageKind(address=Address.EXERCISES, template="exercises.html", content=_exercises, prescribes=False),
    PageKind(address=Address.FIGURES, template="figures.html", content=_figures, precached="never"),
    PageKind(address=Address.EXERCISE, template="exercise.html", content=_exercise, precached="linked"),
    PageKind(address=Address.PROGRAMME, template="programme.html", content=_programme),
    PageKind(address=Address.ARCHIVE, template="versions.html", content=_archive, prescribes=False),
    PageKind(address=Address.POSTER, template="poster.html", content=_poster, themed=False, styles=HANDOUT),
    PageKind(address=Address.VERSION, template="version.html", content=_version),
    PageKind(address=Address.NUMBERS, template="numbers.html", content=_numbers, styles=NUMBERS, prescribes=False),
    PageKind(address=Address.KIT, template="kit.html", content=_kit, themed=False, styles=HANDOUT),
    PageKind(address=Address.DAY, template="day.html", content=_day, themed=False, styles=DAY),
    SESSION,
)
"""Every kind of page. Those of one scope are made in this order."""

FILES = (
    FileKind(address=Address.PLAN, text=_plan),
    FileKind(address=Address.CALENDAR, text=_calendar, public=True),
    FileKind(address=Address.CHANGES, text=_changes, public=True),
    FileKind(address=Address.SITEMAP, text=_sitemap, public=True),
    FileKind(address=Address.PLAN_SCHEMA, text=_plan_schema),
)
"""Files that programs read; each is made after the pages of its scope."""


PAGES_OF = {scope: tuple(kind for kind in PAGES if kind.scope == scope) for scope in _SCOPES.values()}
FILES_OF = {scope: tuple(kind for kind in FILES if kind.scope == scope) for scope in _SCOPES.values()}
"""The same by what they are of."""


def _width(kind: PageKind) -> tuple[int, list[bool]]:
    """How many names an address has to fill in, and where: what stands as it is comes first."""
    return len(kind.address.names), ["{" in part for part in kind.address.value.split("/")]


_NARROWEST_FIRST = sorted(PAGES, key=_width)
