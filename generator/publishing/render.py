"""Page data to text: one template a page kind, author text always escaped."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import lru_cache
from itertools import chain
from typing import Any

from jinja2 import BytecodeCache, Environment, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket

from ..comparing import Side, compare
from ..computing.facts import ComputedSession, Tree
from ..computing.phases import Phases
from ..drawing.qr import POSTER_MM, SHEET_MM, Code, symbol
from ..drawing.ribbon import HATCH
from ..judging import RULES, SOURCES
from ..judging.run import VersionResult
from ..reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from ..reading.theme import OVERRIDES
from ..telling.feeds import PLAN_SCHEMA, Training, calendar, changes, plan_json, sitemap, trainings
from ..telling.views import safety
from ..telling.views.base import Link, Site, banners, session_address
from ..telling.views.day import DayViews
from ..telling.views.exercises import ExerciseViews
from ..telling.views.kit import kit_address, kit_page
from ..telling.views.numbers import numbers_page
from ..telling.views.poster import poster_page
from ..telling.views.session import SheetWords, session_page, session_ribbon
from ..telling.views.sheet import Notes
from ..telling.views.type_size import ANYWHERE, Setting
from ..telling.views.versions import (
    MOST_PHASES,
    ArchiveRow,
    PhaseView,
    ProgrammePage,
    VersionPage,
    archive_row,
    phase_view,
    programme_page,
    version_page,
)
from ..telling.views.words import EFFORT
from .assets import Assets

_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'{inline}; img-src 'self' data:; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"
)
_KEPT = {
    "stop": "stop",
    "how": "how",
    "footer": "footer",
    "opening_sheet": "sheet",
    "opening_order": "order",
    "ways": "ways",
}
"""Macros of parts.html by the names under which templates find them with their texts kept: for what stands
word for word on many pages."""


class _Compiled(BytecodeCache):
    """Compiled templates, kept from one build of a preview to the next; one that has changed is not used."""

    def __init__(self) -> None:
        self._kept: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key in self._kept:
            bucket.bytecode_from_string(self._kept[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._kept[bucket.key] = bucket.bytecode_to_string()


COMPILED = _Compiled()


@dataclass(frozen=True, slots=True)
class Page:
    """One page of the site. A themed page's `text` is its content; another's is the whole file.

    `programme` is the id of the one that it belongs to, if any;
    `file` is another name for what programs read; `listed` says whether search engines are told of it, and
    `feed` which address tells of its changes.
    """

    address: str
    text: str
    title: str
    description: str
    themed: bool
    trail: tuple[Link, ...] = ()
    programme: str = ""
    file: str = "index.html"
    listed: bool = True
    feed: str = ""


def policy(*, preview: bool) -> str:
    """The content security policy; a preview also lets the preview's own reload script run."""
    return _POLICY.format(inline=" 'unsafe-inline'" if preview else "")


@dataclass(slots=True)
class Renderer:
    """Renders a tree. `site_url` is the public address, for canonical links, or empty.

    `weighed` has what the checks found, by programme id and version name. `frame` is the template around a
    sheet, `root` what links begin with instead of the way to the top of the site, `setting` what sheets are
    printed with.
    """

    catalogue: Catalogue
    assets: Assets
    site_url: str = ""
    preview: bool = False
    weighed: Mapping[tuple[str, str], VersionResult] = field(default_factory=dict)
    frame: str = "light.html"
    root: str | None = None
    setting: Setting = ANYWHERE
    site: Site = field(init=False)
    _day_views: DayViews = field(init=False)
    _sheet_words: SheetWords = field(init=False)
    _templates: dict[str, Any] = field(init=False, default_factory=dict)
    _environment: Environment = field(init=False)

    def __post_init__(self) -> None:
        """Prepare the templates with what every page says."""
        self.site = Site(self.catalogue)
        self._day_views = DayViews(self.site)
        self._sheet_words = SheetWords(self.site, self.setting)
        self._environment = Environment(
            loader=FileSystemLoader(OVERRIDES / "templates"),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
            bytecode_cache=COMPILED,
        )
        self._environment.globals.update(
            site=self.site,
            asset=self.assets.addresses,
            policy=policy(preview=self.preview),
            preview=self.preview,
            safety=safety,
            effort=EFFORT,
            hatch=HATCH,
            site_url=self.site_url,
            frame=self.frame,
        )
        parts: Any = self._environment.get_template("parts.html").module
        self._environment.globals.update(parts=parts)
        for name, macro in _KEPT.items():
            self._environment.globals[name] = lru_cache(maxsize=1024)(getattr(parts, macro))

    def count(self) -> int:
        """How many pages there will be."""
        versions = [v for programme in self.catalogue.programmes.values() for v in programme.versions]
        days = sum(len(v.model.days) * (1 + len(v.levels) * v.model.weeks) for v in versions)
        programmes, exercises = len(self.catalogue.programmes), len(self.catalogue.exercises)
        return days + 4 * len(versions) + 5 * programmes + exercises + 7

    def pages(self) -> Iterator[Page]:
        """Every page, one after another, so that none is held longer than it takes to write it."""
        addresses = []
        for page in self._pages():
            yield page
            if page.listed:
                addresses.append(page.address)
        if self.site_url:
            yield _file("", "sitemap.xml", sitemap(addresses, self.site_url).decode())
        yield _file("", "plan.schema.json", f"{json.dumps(PLAN_SCHEMA, indent=1)}\n")

    def _pages(self) -> Iterator[Page]:
        programmes = []
        for programme in self.catalogue.programmes.values():
            phases: list[PhaseView] = []
            yield from self._programme(programme, phases)
            page = programme_page(programme, phases, self.site_url)
            programmes.append(page)
            themed = self._themed("programme.html", f"{programme.id}/", page.title, page.summary, page=page)
            yield replace(themed, feed=f"{programme.id}/changes.atom") if page.feeds else themed
            yield self._poster(page)
        yield from self._exercises()
        yield self._log()
        yield self._about()
        yield self._home(programmes)

    def _programme(self, programme: ProgrammeEntry, phases: list[PhaseView]) -> Iterator[Page]:
        newest = programme.newest_editions()
        shown = newest[-MOST_PHASES:]
        rows: list[ArchiveRow] = []
        dated: list[tuple[date, int, ArchiveRow]] = []
        planned: list[Training] = []
        before: Side | None = None
        names = {name: entry.model.name for name, entry in self.catalogue.exercises.items()}
        newer = banners(programme)
        known = Phases(Tree(self.catalogue, self.site.kit), programme)
        for version in programme.versions:
            about = known.facts(version)
            facts = about.sessions
            now = Side(version, facts, names)
            compared = compare(before, now) if before else None
            view = version_page(self.site, programme, version, facts, newer[version.name], compared)
            rows.append(archive_row(view))
            before = now
            trail = (Link(programme.model.title, f"{programme.id}/"),)
            title = f"{programme.model.title}, phase {version.phase}: {view.phase}"
            replaced = version not in newest
            own = [self._themed("version.html", view.address, title, view.aim, trail, page=view)]
            found = self.weighed.get((programme.id, version.name), VersionResult())
            numbers = numbers_page(programme, about, found, view.plan, view.newer)
            below = (*trail, Link(f"Phase {version.phase}", view.address))
            top, named = f"{view.address}numbers/", f"Numbers: {title}"
            own.append(self._themed("numbers.html", top, named, "", below, page=numbers))
            own.append(self._kit(programme, version, facts, view))
            for page in chain(own, self.days(programme, version, facts, view)):
                yield replace(page, listed=False) if replaced else page
            text = plan_json(self.site, programme, version, facts, view.plan)
            yield _file(view.address, "plan.json", text)
            dated.append((version.model.starts, version.edition, rows[-1]))
            if not replaced:
                planned.extend(trainings(version, facts))
            if version in shown:
                phases.append(phase_view(version, facts, newest=version is shown[-1]))
        phases.sort(key=lambda phase: phase.starts)
        archive = f"{programme.id}/versions/"
        title = f"{programme.model.title}: all versions"
        trail = (Link(programme.model.title, f"{programme.id}/"),)
        yield self._themed("versions.html", archive, title, "", trail, rows=rows[::-1], programme=programme)
        if rows and self.site_url:
            yield from self._feeds(programme, dated, planned)

    def _feeds(
        self,
        programme: ProgrammeEntry,
        dated: Sequence[tuple[date, int, ArchiveRow]],
        planned: Sequence[Training],
    ) -> Iterator[Page]:
        """What people subscribe to. It has to name whole addresses, so it needs the public one."""
        top, title, club = f"{programme.id}/", programme.model.title, self.site.club_name
        days = calendar(f"{title}, {club}", planned, self.site_url, f"{top}calendar.ics")
        yield _file(top, "calendar.ics", days.decode())
        feed = changes(f"{title}, {club}", club, self.site.language, dated, self.site_url, top)
        yield _file(top, "changes.atom", feed.decode())

    def days(
        self,
        programme: ProgrammeEntry,
        version: VersionEntry,
        facts: Sequence[ComputedSession],
        about: VersionPage,
    ) -> Iterator[Page]:
        """The pages of the days of a version, each with those of its sessions after it."""
        context = _context(programme, version, about)
        for day in version.model.days:
            own = [one for one in facts if one.plan.day == day.id]
            address = f"{about.address}{day.id}/"
            # Sessions with one running order look the same.
            looks = {id(one.order): one for one in own}
            by_order = {order: session_ribbon(one) for order, one in looks.items()}
            ribbons = [by_order[id(one.order)] for one in own]
            view = self._day_views.page(version, day, own, ribbons)
            yield self._light("day.html", address, day.title, page=view, **context)
            growth = view.growth
            banner = about.newer.words if about.newer else ""
            for one, drawn in zip(own, ribbons, strict=True):
                below = session_address(address, one.plan)
                code = self._code(below, "QR code with the address of this page", SHEET_MM)
                notes = Notes(growth, banner, code.side)
                page = session_page(self._sheet_words, version, day, one, drawn, notes)
                title = f"{page.title}, {page.level}, week {page.week}"
                yield self._light(
                    "session.html",
                    below,
                    title,
                    page=page,
                    day_address=address,
                    growth=growth,
                    code=code.svg,
                    **context,
                )

    def _kit(
        self,
        programme: ProgrammeEntry,
        version: VersionEntry,
        facts: Sequence[ComputedSession],
        about: VersionPage,
    ) -> Page:
        address = kit_address(version)
        code = self._code(address, "QR code with the address of this page", SHEET_MM)
        notes = Notes(about.growth, about.newer.words if about.newer else "", code.side)
        page = kit_page(self.site, programme, version, facts, notes)
        context = _context(programme, version, about)
        return self._light("kit.html", address, "Kit card", page=page, code=code.svg, **context)

    def _poster(self, page: ProgrammePage) -> Page:
        return self._light(
            "poster.html",
            f"{page.id}/poster/",
            "Poster",
            page=poster_page(self.site, page, "" if self.preview else self.site_url),
            code=self._code(f"{page.id}/", "QR code with the address of this programme", POSTER_MM).svg,
            programme=page.title,
            programme_id=page.id,
            newer=None,
        )

    def _code(self, address: str, label: str, module_mm: float) -> Code:
        """The QR code of a page. What a preview prints is not yet at the public address: it has none."""
        if not self.site_url or self.preview:
            return Code()
        return symbol(f"{self.site_url}{address}", label=label, module_mm=module_mm)

    def _exercises(self) -> Iterator[Page]:
        views = ExerciseViews(self.site)
        trail = (Link("Exercises", "exercises/"),)
        for exercise_id in self.catalogue.exercises:
            page = views.page(exercise_id)
            yield self._themed(
                "exercise.html", f"exercises/{exercise_id}/", page.name, page.cues[0], trail, page=page
            )
        yield self._themed("exercises.html", "exercises/", "Exercises", "", index=views.index())
        yield self._themed(
            "figures.html", "exercises/figures/", "All figures", "", trail, entries=views.figures()
        )

    def _about(self) -> Page:
        club = self.catalogue.club
        return self._themed(
            "about.html",
            "about/",
            "About, privacy and sources",
            "",
            rules=RULES,
            sources=SOURCES,
            contact=club.model.contact if club else None,
        )

    def _log(self) -> Page:
        return self._themed("log.html", "log/", "Your log", "Your sessions, kept on this device only.")

    def _home(self, programmes: Sequence[ProgrammePage]) -> Page:
        club = self.catalogue.club
        return self._themed(
            "home.html", "", self.site.club_name, "", programmes=programmes, club=club.model if club else None
        )

    def _themed(
        self,
        template: str,
        address: str,
        title: str,
        description: str,
        trail: tuple[Link, ...] = (),
        **context: object,
    ) -> Page:
        text = self.text(template, address, **context)
        top = address.partition("/")[0]
        programme = top if top in self.catalogue.programmes else ""
        return Page(address, text, title, _short(description), True, trail, programme)

    def _light(self, template: str, address: str, title: str, **context: object) -> Page:
        text = self.text(template, address, title=title, **context)
        # A sheet is found from its day; there are too many of them to list.
        return Page(address, text, title, "", themed=False, listed=template != "session.html")

    def text(self, template: str, address: str, **context: object) -> str:
        """A template filled in, for a page at `address`."""
        if template not in self._templates:
            self._templates[template] = self._environment.get_template(template)
        root = self.root if self.root is not None else "../" * address.count("/") or "./"
        text: str = self._templates[template].render(root=root, address=address, **context)
        return text


def _context(programme: ProgrammeEntry, version: VersionEntry, about: VersionPage) -> dict[str, object]:
    """What every page of a version without the theme has around it."""
    return {
        "programme": programme.model.title,
        "programme_id": programme.id,
        "version": version,
        "version_address": about.address,
        "newer": about.newer,
        "plan": about.plan,
    }


def _file(address: str, name: str, text: str) -> Page:
    """A file that programs read; no page, and not for search engines."""
    return Page(address, text, "", "", themed=False, file=name, listed=False)


def _short(text: str) -> str:
    """A description of a length that search pages show."""
    text = " ".join(text.split())
    return text if len(text) <= 155 else text[:152].rsplit(" ", 1)[0] + " ..."
