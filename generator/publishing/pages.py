"""The registry of pages: an entry for each kind, with what it says.

A new kind of page is a line in `reading/addresses`, which also takes its ids from authors, an entry here, and
its template. All else follows from these: how many there are, what search engines and devices are told, and
what the tests look at.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ..computing.resolve import REST_AFTER
from ..computing.running_order import SIDE_CHANGE
from ..drawing.qr import POSTER_MM, SHEET_MM
from ..judging import RULES, SOURCES
from ..judging.run import VersionResult
from ..reading.addresses import Address
from ..telling.views import parents as parents_words
from ..telling.views.base import Link
from ..telling.views.kit import kit_page
from ..telling.views.numbers import numbers_page
from ..telling.views.parents import parents_page
from ..telling.views.positions import library, positions_of
from ..telling.views.poster import poster_page
from ..telling.views.session import session_page
from ..telling.views.sheet import Notes
from ..telling.views.today import shared_ages
from .kinds import DAY, HANDOUT, NUMBERS, PAPER, SCOPES, TODAY, Content, PageKind, Words
from .scopes import OfDay, OfExercise, OfProgramme, OfSession, OfSite, OfVersion

_SHOWN = 155
"""Letters of a description that search pages show."""
_THIS_PAGE = "QR code with the address of this page"


PAGES: list[PageKind] = []
"""Every kind of page. Those of one scope are made in this order."""


def _page(address: Address, template: str, **more: Any) -> Callable[[Callable[[Any], Content]], PageKind]:
    """Enters what a function says, with `more` of PageKind, into the registry, and gives the kind."""

    def enter(content: Callable[[Any], Content]) -> PageKind:
        PAGES.append(PageKind(address=address, template=template, content=content, **more))
        return PAGES[-1]

    return enter


@_page(Address.HOME, "home.html", scripts=TODAY)
def home(of: OfSite) -> Content:
    """The first page: every programme with its current phase."""
    club = of.catalogue.club
    shared = shared_ages([(one.title, one.ages) for one in of.programmes])
    words: Words = {"programmes": of.programmes, "club": club.model if club else None, "shared": shared}
    return Content(title=of.site.club_name, words=words)


@_page(Address.ABOUT, "about.html")
def about(of: OfSite) -> Content:
    """Privacy, how times are worked out, what plans are checked against."""
    club = of.catalogue.club
    words: Words = {"rules": RULES, "sources": SOURCES, "contact": club.model.contact if club else None}
    words |= {"side_change": SIDE_CHANGE, "rest_after": REST_AFTER}
    return Content(title="About, privacy and sources", words=words)


@_page(Address.LOG, "log.html", prescribes=False)
def log(of: OfSite) -> Content:
    """What was trained; the script fills it on the device."""
    return Content(title="Your log", description="Your sessions, kept on this device only.")


@_page(Address.EXERCISES, "exercises.html", scripts=("js/find.js",), prescribes=False)
def exercises(of: OfSite) -> Content:
    """The library by pattern."""
    return Content(title="Exercises", words={"index": of.exercise_views.index()})


@_page(Address.FIGURES, "figures.html", precached="never")
def figures(of: OfSite) -> Content:
    """All figures on one page."""
    words: Words = {"entries": of.exercise_views.figures()}
    return Content(title="All figures", trail=_to_exercises(), words=words)


@_page(Address.POSITIONS, "positions.html", precached="never")
def positions(of: OfSite) -> Content:
    """Every position of every figure, to copy from."""
    return Content(title="All positions", trail=_to_exercises(), words={"entries": library(of.catalogue)})


@_page(Address.EXERCISE, "exercise.html", precached="linked")
def exercise(of: OfExercise) -> Content:
    """One exercise."""
    page = of.top.exercise_views.page(of.exercise)
    model = of.top.catalogue.exercise(of.exercise)
    # Who writes a figure sees beside it what is drawn, and what is wrong with it.
    written = positions_of(of.exercise, model) if of.top.preview else None
    words: Words = {"page": page, "written": written}
    return Content(title=page.name, description=_short(page.cues[0]), trail=_to_exercises(), words=words)


def _to_exercises() -> tuple[Link, ...]:
    return (Link("Exercises", Address.EXERCISES.at()),)


@_page(Address.PROGRAMME, "programme.html", scripts=TODAY)
def programme(of: OfProgramme) -> Content:
    """The page that is bookmarked: the current phase and its days."""
    page = of.page
    feed = Address.CHANGES.at(**of.ids) if page.feeds else ""
    return Content(title=page.title, description=_short(page.summary), feed=feed, words={"page": page})


@_page(Address.ARCHIVE, "versions.html", prescribes=False)
def archive(of: OfProgramme) -> Content:
    """Every version that was published."""
    rows = [row for _, _, row in reversed(of.dated)]
    words: Words = {"rows": rows, "programme": of.programme}
    return Content(title=f"{of.title}: all versions", trail=_to_programme(of), words=words)


@_page(Address.POSTER, "poster.html", themed=False, styles=HANDOUT)
def poster(of: OfProgramme) -> Content:
    """The poster for the changing room."""
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


@_page(Address.PARENTS, "parents.html", scripts=("js/folds.js",))
def parents(of: OfProgramme) -> Content:
    """The page for parents."""
    page = parents_page(of.top.site, of.programme, of.page)
    words: Words = {"page": page, "parents": parents_words}
    about = f"For parents: what {of.title} is, who answers for it, and what to do when something hurts."
    return Content(
        title=f"For parents: {of.title}", description=_short(about), trail=_to_programme(of), words=words
    )


def _to_programme(of: OfProgramme) -> tuple[Link, ...]:
    return (Link(of.title, Address.PROGRAMME.at(**of.ids)),)


@_page(Address.VERSION, "version.html")
def version(of: OfVersion) -> Content:
    """One version."""
    page = of.page
    trail = _to_programme(of.within)
    return Content(title=of.title, description=_short(page.aim), trail=trail, words={"page": page})


@_page(Address.NUMBERS, "numbers.html", styles=NUMBERS, prescribes=False)
def numbers(of: OfVersion) -> Content:
    """The coach's numbers of a version."""
    version = of.version
    result = of.top.results.get((version.programme, version.name), VersionResult())
    page = numbers_page(of.within.programme, of.facts, result, of.page.plan, of.newer)
    trail = (*_to_programme(of.within), Link(f"Phase {version.phase}", of.page.address))
    return Content(title=f"Numbers: {of.title}", trail=trail, words={"page": page})


@_page(Address.KIT, "kit.html", themed=False, styles=HANDOUT)
def kit(of: OfVersion) -> Content:
    """The kit card of a version."""
    code = of.top.code(Address.KIT.at(**of.ids), _THIS_PAGE, SHEET_MM)
    notes = Notes(of.page.growth, of.banner, code.side, of.top.has_crest)
    page = kit_page(of.top.site, of.within.programme, of.version, of.sessions, notes)
    return _in_version(of, "Kit card", {"page": page, "code": code.svg})


@_page(Address.DAY, "day.html", themed=False, styles=DAY, scripts=("js/day.js",))
def day(of: OfDay) -> Content:
    """One day, with all of its sessions."""
    return _in_version(of.within, of.day.title, {"page": of.page})


@_page(Address.SESSION, "session.html", themed=False, styles=PAPER, listed=False)
def session(of: OfSession) -> Content:
    """One session: the sheet, which the guided session reads. There are too many to list them."""
    day, version = of.within, of.within.within
    code = version.top.code(Address.SESSION.at(**of.ids), _THIS_PAGE, SHEET_MM)
    notes = Notes(day.growth, version.banner, code.side, version.top.has_crest)
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
        "programme": of.within.title,
        "programme_id": of.within.programme.id,
        "version": version,
        "newer": of.newer,
        "plan": of.page.plan,
    }
    about = f"{title}: {of.within.title}, phase {version.phase}, {phase}, at {of.top.site.club_name}."
    trail = (*_to_programme(of.within), Link(f"Phase {version.phase}", of.page.address, phase), *below)
    return Content(title=title, description=about, trail=trail, words={**around, **own})


def _short(text: str) -> str:
    """A description of a length that search pages show."""
    text = " ".join(text.split())
    return text if len(text) <= _SHOWN else text[: _SHOWN - 3].rsplit(" ", 1)[0] + " ..."


PAGES_OF = {scope: tuple(kind for kind in PAGES if kind.scope == scope) for scope in SCOPES.values()}


def _width(kind: PageKind) -> tuple[int, list[bool]]:
    """How many names an address has to fill in, and where: what stands as it is comes first."""
    return len(kind.address.names), ["{" in part for part in kind.address.value.split("/")]


_NARROWEST_FIRST = sorted(PAGES, key=_width)


def kind_of(address: str) -> PageKind | None:
    """The kind of the page at an address from the top of the site."""
    return next((kind for kind in _NARROWEST_FIRST if kind.address.is_form_of(address)), None)
