"""What a preview knows from one build to the next: what was found last, and the site that it shows."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from ..judging import Checked
from ..judging import check as run_checks
from ..reading.catalogue import load
from ..reading.escaping import printable
from ..reading.tree import last_saved
from .assets import Assets
from .findings_pages import FindingsPages
from .overlay import App, Told, over
from .redrawing import Stamps, caught_up, changed, is_of_an_exercise, only_exercise, redrawn, stamps
from .site import Page, Renderer

LOG = logging.getLogger("mkdocs.plugins.phasepress")
_MADE = ("/", ".html", "/guide.json")


@dataclass(slots=True)
class _Built:
    """The site that a preview shows: where it is and what it was made of.

    `pages` are those of exercises, by their address. `alone` is the address of the only one that was made
    since, if any: all others are behind it.
    """

    site: Path
    own: Assets
    site_url: str
    stamps: Stamps
    pages: dict[str, Page] = field(default_factory=dict)
    alone: str = ""

    def is_behind(self, path: str) -> bool:
        """Whether what a browser asks for was to be made again. Styles, scripts and pictures never are."""
        return bool(self.alone) and path.endswith(_MADE) and not path.endswith(f"/{self.alone}")


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

    def has(self, page: Page) -> None:
        """Note a page of the site that is made."""
        if self._last and is_of_an_exercise(page):
            self._last.pages[page.address] = page

    def saved(self, build: Callable[[], bool]) -> None:
        """Files were saved: make what shows them anew. `build` makes the whole site, and says if it could."""
        with self._one_at_a_time:
            if not self._redraws_one(stamps(self.watched)):
                self._builds(build)

    def serves(self, app: App, build: Callable[[], bool]) -> App:
        """The preview's server: what is behind is made when it is asked for; what is found lies over it."""

        def catch_up(path: str) -> bool:
            with self._one_at_a_time:
                behind = self._last is not None and self._last.is_behind(path)
                if behind:
                    self._builds(build)
                return behind

        return over(caught_up(app, catch_up), lambda: self.told)

    def _builds(self, build: Callable[[], bool]) -> None:
        if not build() and self._last:
            # What is behind is a part of the last good site now.
            self._last.alone = ""

    def _redraws_one(self, now: Stamps) -> bool:
        """Make the page of one exercise anew, where its file is all that was saved and nothing is wrong.

        Whether that was enough. So it is where a file is as it was when its page was made: of one that is
        written in two steps the system tells twice.
        """
        last = self._last
        if last is None:
            return False
        paths = changed(last.stamps, now)
        if not paths:
            return not any(finding.severity == "error" for finding in self.told.findings)
        exercise = only_exercise(self.tree, paths)
        if not exercise:
            return False
        checked = run_checks(load(self.tree))
        if checked.count("error"):
            return False
        renderer = Renderer(checked.catalogue, last.own, last.site_url, True, checked.versions)
        page = redrawn(renderer, last.site, exercise, last.pages)
        if page is None:
            return False
        self.tells(checked, self.told.base)
        self.write_findings(last.site)
        last.stamps, last.alone = now, page.address
        last.pages[page.address] = page
        LOG.info("Drew %s again", page.address)
        return True
