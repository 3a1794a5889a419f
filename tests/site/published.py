"""What the demo club has published, by the names and texts of its files and not by the product's own reading."""

from typing import NamedTuple

import yaml

from .conftest import DEMO
from .pages import Page, Site


class Version(NamedTuple):
    """One version file; `starts` is its first day."""

    phase: int
    edition: int
    starts: str
    changes: str
    programme: str

    @property
    def address(self) -> str:
        return f"{self.programme}/{self.phase}.{self.edition}/"


def published() -> dict[str, list[Version]]:
    """The versions of each programme, oldest first."""
    found: dict[str, list[Version]] = {}
    for path in DEMO.glob("*/[0-9]*.yaml"):
        phase, edition = map(int, path.stem.split("."))
        data = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
        own = found.setdefault(path.parent.name, [])
        own.append(Version(phase, edition, data["starts"], data.get("changes", ""), path.parent.name))
    return {programme: sorted(found[programme]) for programme in sorted(found)}


def newest_editions(versions: list[Version]) -> list[Version]:
    """One version of each phase, by its first day."""
    newest = {version.phase: version for version in versions}
    return sorted(newest.values(), key=lambda version: version.starts)


def replaced(versions: list[Version]) -> list[tuple[Version, Version]]:
    """Each older edition with the one that replaced it."""
    newest = {version.phase: version for version in versions}
    return [(old, newest[old.phase]) for old in versions if newest[old.phase] != old]


def pages_of(demo: Site, version: Version) -> list[Page]:
    """The page of a version and those of its days and sessions."""
    found = demo.of_kind("version", "day", "session")
    return [page for page in found if page.address.startswith(version.address)]
