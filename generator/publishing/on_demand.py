"""A preview's short way where the file of one version alone was saved: its pages are made when asked for.

So the coach who writes a plan sees the day or the session that is open at once, and not after every other
page. Pages in the theme's frame are made by a whole build, as are all pages of anything else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from ..reading.addresses import Address
from .files import FILES_OF
from .kinds import Scope
from .pages import PAGES_OF
from .redrawing import write_figures
from .scopes import OfVersion
from .site import Of, Page, Renderer, write

_PROGRAMME = "programme"
"""The name of the file beside those of versions."""


def only_version(tree: Path, paths: set[str]) -> tuple[str, str] | None:
    """Programme and name of the version whose file is all that has changed; None where anything else has."""
    if len(paths) != 1:
        return None
    path = Path(*paths)
    is_one = path.parent.parent == tree and path.suffix == ".yaml" and path.stem != _PROGRAMME
    return (path.parent.name, path.stem) if is_one else None


@dataclass(frozen=True, slots=True)
class SavedVersion:
    """A version that was saved since the whole site was built, and what makes its pages."""

    renderer: Renderer
    of: OfVersion

    @classmethod
    def found(cls, renderer: Renderer, programme: str, name: str) -> SavedVersion | None:
        """The version of this name in the renderer's tree, if there is one."""
        entry = renderer.catalogue.programmes.get(programme)
        versions = renderer.top.of_programme(entry).of_versions() if entry else iter(())
        of = next((one for one in versions if one.version.name == name), None)
        return cls(renderer, of) if of else None

    def make(self, site: Path, address: str) -> bool:
        """Write what the version has at an address, if that can be made alone; says whether it was."""
        page = self._page(address)
        if page is None:
            return False
        write(site / page.address / page.file, page.text.encode())
        write_figures(self.renderer, site)
        return True

    def _page(self, address: str) -> Page | None:
        for scope, of in self._parts(address):
            for kind in PAGES_OF[scope]:
                if not kind.themed and kind.address.at(**of.ids) == address:
                    return self.renderer.page(kind, of)
            for file in FILES_OF[scope]:
                if file.address.at(**of.ids) == address:
                    return self.renderer.file(file, of)
        return None

    def _parts(self, address: str) -> Iterator[tuple[Scope, Of]]:
        """What may have something at this address."""
        yield "version", self.of
        days = (day for day in self.of.of_days() if address.startswith(Address.DAY.at(**day.ids)))
        for day in days:
            yield "day", day
            yield from (("level", level) for level in day.of_levels())
            yield from (("session", session) for session in day.of_sessions())
