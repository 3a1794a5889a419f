"""What a preview knows from one build to the next: what was found last, and the site that it shows."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from ..judging import Checked
from ..judging import check as run_checks
from ..reading.addresses import Address
from ..reading.catalogue import load
from ..reading.escaping import printable
from ..reading.tree import last_saved
from .assets import Assets
from .findings_pages import FOLDER, FindingsPages
from .on_demand import SavedVersion, only_version
from .overlay import App, Told, over
from .redrawing import Stamps, caught_up, changed, is_of_an_exercise, only_exercise, redrawn, stamps
from .site import Page, Renderer

LOG = logging.getLogger("mkdocs.plugins.phasepress")
_MADE = ("/", ".html", ".json", ".svg")
_NEVER_BEHIND = (Address.ASSETS, FOLDER)
_INDEX = "index.html"


def _may_be_behind(address: str) -> bool:
    """Styles, pictures and findings never are."""
    return not address or (address.endswith(_MADE) and not address.startswith(_NEVER_BEHIND))


@dataclass(slots=True)
class _Built:
    """The site that a preview shows: where it is and what it was made of.

    `pages` are those of exercises, by their address. `is_behind`: files were saved since all of it was made;
    only the pages and files of `fresh` are made of those, and what `saved` can make.
    """

    site: Path
    own: Assets
    site_url: str
    stamps: Stamps
    pages: dict[str, Page] = field(default_factory=dict)
    is_behind: bool = False
    fresh: set[str] = field(default_factory=set)
    saved: SavedVersion | None = None

    def falls_behind(self, now: Stamps, *fresh: str, saved: SavedVersion | None = None) -> None:
        """Other files were saved: all but these addresses have to be made of them."""
        self.stamps, self.is_behind, self.fresh, self.saved = now, True, set(fresh), saved

    def lacks(self, address: str) -> bool:
        """Whether what a browser asks for has to be made again."""
        return self.is_behind and address not in self.fresh

    def makes(self, address: str) -> bool:
        """Make what stands at an address, if that can be made alone."""
        if self.saved is None or not self.saved.make(self.site, address):
            return False
        self.fresh.add(address)
        return True


class Preview:
    """A preview of `tree`, for all its builds. `watched` are the files and folders that it is made of."""

    def __init__(self, tree: Path, watched: Sequence[Path]) -> None:
        """Nothing has been built yet."""
        self.tree, self.watched = tree, watched
        self.told = Told(alone=True)
        self._pages = FindingsPages()
        self._stamps: Stamps = {}
        self._last: _Built | None = None
        self._one_at_a_time = threading.Lock()
        self._changes = 0
        """How many times pages were made, or fell behind."""

    def looks(self) -> None:
        """Note how the files are, before they are read for a build."""
        self._stamps = stamps(self.watched)

    def tells(self, checked: Checked, base: str) -> None:
        """Take what is found now. `base` is the path at which the site begins, with a slash at its end."""
        edited = printable(str(last_saved(self.tree) or ""))
        alone = self.told.alone and bool(checked.count("error"))
        self.told = Told(tuple(checked.findings), edited, base, alone)

    def write_findings(self, site: Path) -> None:
        """Write the pages of what is found into the site."""
        self._pages.write(site, self.told.base, self.told.findings, alone=self.told.alone)

    def begins(self, site: Path, own: Assets, site_url: str) -> None:
        """A whole site is made now from what was looked at."""
        self._last = _Built(site, own, site_url, self._stamps)
        self._changes += 1

    def has(self, page: Page) -> None:
        """Note a page of the site that is made."""
        if self._last and is_of_an_exercise(page):
            self._last.pages[page.address] = page

    def saved(self, build: Callable[[], bool]) -> None:
        """Files were saved: make what shows them anew. `build` makes the whole site, and says if it could."""
        with self._one_at_a_time:
            if not self._takes_short_way(stamps(self.watched)):
                self._builds(build)

    def serves(self, app: App, build: Callable[[], bool]) -> App:
        """The preview's server: what is behind is made when it is asked for; what is found lies over it."""

        def catch_up(path: str) -> int:
            with self._one_at_a_time:
                last, address = self._last, path.removeprefix(self.told.base).removesuffix(_INDEX)
                if last is None or not path.startswith(self.told.base) or not _may_be_behind(address):
                    return 0
                if last.lacks(address):
                    if last.makes(address):
                        self._changes += 1
                    else:
                        self._builds(build)
                return self._changes

        return over(caught_up(app, catch_up), lambda: self.told)

    def _builds(self, build: Callable[[], bool]) -> None:
        if not build() and self._last:
            # What is behind is a part of the last good site now.
            self._last.is_behind = False

    def _takes_short_way(self, now: Stamps) -> bool:
        """Where the file of one exercise or version is all that was saved and nothing is wrong, no other page
        is made at once. Says whether that was enough.

        So it is where a file is as it was when its page was made: of one that is written in two steps the
        system tells twice.
        """
        last = self._last
        if last is None:
            return False
        paths = changed(last.stamps, now)
        if not paths:
            return not any(finding.severity == "error" for finding in self.told.findings)
        exercise = only_exercise(self.tree, paths)
        version = None if exercise else only_version(self.tree, paths)
        if not exercise and not version:
            return False
        checked = run_checks(load(self.tree))
        if checked.count("error"):
            return False
        renderer = Renderer(checked.catalogue, last.own, last.site_url, True, checked.versions)
        if version:
            done = self._makes_on_demand(last, now, renderer, *version)
        else:
            done = self._redraws(last, now, renderer, exercise)
        if done:
            self._changes += 1
            self.tells(checked, self.told.base)
            self.write_findings(last.site)
        return done

    def _redraws(self, last: _Built, now: Stamps, renderer: Renderer, exercise: str) -> bool:
        page = redrawn(renderer, last.site, exercise, last.pages)
        if page is None:
            return False
        last.falls_behind(now, page.address)
        last.pages[page.address] = page
        LOG.info("Drew %s again", page.address)
        return True

    def _makes_on_demand(
        self, last: _Built, now: Stamps, renderer: Renderer, programme: str, name: str
    ) -> bool:
        saved = SavedVersion.found(renderer, programme, name)
        if saved is None:
            return False
        last.falls_behind(now, saved=saved)
        LOG.info("Read %s %s again; its pages are made when they are asked for", programme, name)
        return True
