"""Which pages a tree has: every page and file of the registry, made one after another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from ..judging.run import VersionResult
from ..reading.catalogue import Catalogue, ProgrammeEntry
from ..telling.tongues import Mark, ours
from ..telling.views.base import Link, Site
from ..telling.views.type_size import ANYWHERE, Setting
from .assets import Assets
from .files import FILES, FILES_OF
from .kinds import Content, FileKind, PageKind, Scope
from .look import CREST
from .pages import PAGES, PAGES_OF
from .scopes import OfDay, OfExercise, OfLevel, OfProgramme, OfSession, OfSite, OfVersion
from .templates import Templates, policy


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page of the site. A themed page's `text` is its content; another's is the whole file.

    `programme` is the id of the one that it belongs to, if any; `file` is another name for what programs
    read; `listed` says whether search engines are told of it, `feed` which address tells of its changes, and
    `styles` and
    `scripts` which files of the theme folder it loads.
    """

    address: str
    text: str
    title: str = ""
    description: str = ""
    themed: bool = False
    trail: tuple[Link, ...] = ()
    programme: str = ""
    file: str = "index.html"
    listed: bool = False
    feed: str = ""
    styles: tuple[str, ...] = ()
    scripts: tuple[str, ...] = ()


def write(path: Path, content: bytes) -> None:
    """Write a file of a site, in folders that are made for it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)


@dataclass(slots=True)
class Renderer:
    """Renders a tree. `site_url` is the public address, for canonical links, or empty.

    `results` has what the checks found, by programme id and version name. `frame` is the template around a
    sheet, `root` what links begin with instead of the way to the top of the site, `setting` what sheets are
    printed with.
    """

    catalogue: Catalogue
    assets: Assets
    site_url: str = ""
    preview: bool = False
    results: Mapping[tuple[str, str], VersionResult] = field(default_factory=dict)
    frame: str = "light.html"
    root: str | None = None
    setting: Setting = ANYWHERE
    top: OfSite = field(init=False)
    templates: Templates = field(init=False)

    def __post_init__(self) -> None:
        """Prepare the templates with what every page says."""
        self.top = self._of_site()
        self.templates = Templates(
            root=self.root,
            ours=ours(self.catalogue),
            site=self.top.site,
            asset=self.assets.addresses,
            crest=CREST in self.assets.addresses,
            images="" if self.root == "#" else None,
            policy=policy(preview=self.preview),
            preview=self.preview,
            site_url=self.site_url,
            frame_of_sheet=self.frame,
        )

    def _of_site(self) -> OfSite:
        return OfSite(
            catalogue=self.catalogue,
            site_url=self.site_url,
            preview=self.preview,
            results=self.results,
            setting=self.setting,
        )

    @property
    def site(self) -> Site:
        """What every view may use."""
        return self.top.site

    @property
    def mark(self) -> Mark:
        """Says the language of every text of a page; the plugin does it for those in the theme's frame."""
        return self.top.mark

    def count(self) -> int:
        """How many pages and files there will be."""
        kinds: tuple[PageKind | FileKind, ...] = (*PAGES, *FILES)
        return sum(map(self._how_many, kinds))

    def _how_many(self, kind: PageKind | FileKind) -> int:
        """Of one kind; this looks at the plans alone, and makes nothing."""
        programmes = list(self.catalogue.programmes.values())
        if isinstance(kind, FileKind) and kind.public:
            programmes = [one for one in programmes if self._may_be_public(one)]
        versions = [version for programme in programmes for version in programme.versions]
        many: dict[Scope, int] = {
            "site": int(isinstance(kind, PageKind) or not kind.public or bool(self.site_url)),
            "exercise": len(self.catalogue.exercises),
            "programme": len(programmes),
            "version": len(versions),
            "day": sum(len(one.model.days) for one in versions),
            "level": sum(len(one.model.days) * len(one.levels) for one in versions),
            "session": sum(len(one.model.days) * len(one.levels) * one.model.weeks for one in versions),
        }
        return many[kind.scope]

    def _may_be_public(self, programme: ProgrammeEntry | None) -> bool:
        return bool(self.site_url) and (programme is None or bool(programme.versions))

    def pages(self) -> Iterator[Page]:
        """Every page, one after another, so that none is held longer than it takes to write it."""
        self.top.programmes.clear()
        self.top.listed.clear()
        for programme in self.top.of_programmes():
            for version in programme.of_versions():
                yield from self._of_version(version)
            yield from self.made("programme", programme, programme.programme)
            self.top.programmes.append(programme.page)
        for exercise in self.top.of_exercises():
            yield from self.made("exercise", exercise)
        yield from self.made("site", self.top)

    def _of_version(self, version: OfVersion) -> Iterator[Page]:
        yield from self.made("version", version)
        for day in version.of_days():
            yield from self.made("day", day)
            for level in day.of_levels():
                yield from self.made("level", level)
            for session in day.of_sessions():
                yield from self.made("session", session)

    def made(self, scope: Scope, of: Of, programme: ProgrammeEntry | None = None) -> Iterator[Page]:
        """The pages and files of one scope."""
        for kind in PAGES_OF[scope]:
            page = self.page(kind, of)
            if page.listed:
                self.top.listed.append(page.address)
            yield page
        for file in FILES_OF[scope]:
            if not file.public or self._may_be_public(programme):
                yield self.file(file, of)

    def file(self, kind: FileKind, of: Of) -> Page:
        """One file of a kind, of what its scope says."""
        folder, _, name = kind.address.at(**of.ids).rpartition("/")
        return Page(address=f"{folder}/" if folder else "", file=name, text=kind.text(of))

    def page(self, kind: PageKind, of: Of) -> Page:
        """One page of a kind, of what its scope says."""
        address, content = kind.address.at(**of.ids), kind.content(of)
        # The theme's frame has these from the page that is given to it.
        head = {} if kind.themed else _head(kind, content)
        text = self.templates.text(kind.template, address, **head, **content.words)
        return Page(
            address=address,
            text=text if kind.themed else self.mark(text),
            title=content.title,
            description=content.description,
            themed=kind.themed,
            trail=content.trail,
            programme=str(of.ids.get("programme", "")),
            listed=kind.listed and not _is_replaced(of),
            feed=content.feed,
            styles=kind.styles,
            scripts=kind.scripts,
        )


Of = OfSite | OfProgramme | OfVersion | OfDay | OfLevel | OfSession | OfExercise


def _is_replaced(of: Of) -> bool:
    """Whether it is of a version that has a newer edition."""
    if isinstance(of, OfDay | OfLevel | OfSession):
        return _is_replaced(of.within)
    return isinstance(of, OfVersion) and of.is_replaced


def _head(kind: PageKind, content: Content) -> dict[str, object]:
    """What the head of a page is made of."""
    return {
        "title": content.title,
        "description": content.description,
        "trail": content.trail,
        "styles": kind.styles,
        "scripts": kind.scripts,
    }
