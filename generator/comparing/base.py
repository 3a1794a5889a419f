"""The tree that is compared with: what is published there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import PurePosixPath

from ..judging import check
from ..reading.catalogue import Catalogue, Loaded, load_from
from ..reading.findings import Finding
from ..reading.git_tree import Past

_VERSION = re.compile(r"(?P<tree>.+/|)(?P<programme>[^/]+)/(?P<version>[0-9]+\.[0-9]+)\.yaml")


@dataclass(frozen=True)
class Base:
    """The tree at another commit, which the coach calls `ref`. `exists`: whether that commit has the folder.

    `gone`, where the folder is not there: the versions of each other tree that are not here any more.
    """

    ref: str
    exists: bool
    loaded: Loaded = field(default_factory=lambda: Loaded(Catalogue(None), []))
    gone: tuple[tuple[str, tuple[str, ...]], ...] = ()

    @property
    def catalogue(self) -> Catalogue:
        """What of the tree could be read."""
        return self.loaded.catalogue

    @property
    def unreadable(self) -> tuple[tuple[str, str], ...]:
        """Programme and name of each version that is there and not in the catalogue."""
        versions = ((programme, name) for programme, name, _ in self.loaded.unreadable_versions)
        return (*versions, *self.loaded.unopened)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is found there; to compare plans needs none of it, and a large tree takes seconds to judge."""
        return tuple(check(self.loaded).findings)

    @property
    def first_error(self) -> Finding | None:
        """The first of what makes the tree unreadable, if anything does."""
        return next((finding for finding in self.findings if finding.severity == "error"), None)


def base_at(ref: str, past: Past) -> Base:
    """The base that a commit holds."""
    if past.tree is None:
        return Base(ref, False, gone=tuple(_gone(past)))
    return Base(ref, True, load_from(past.tree))


def _gone(past: Past) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every folder with a club file, and the versions in it that are gone."""
    trees: dict[str, list[str]] = {}
    for match in filter(None, map(_VERSION.fullmatch, sorted(past.gone))):
        if f"{match['tree']}club.yaml" in past.elsewhere:
            trees.setdefault(match["tree"], []).append(f"{match['programme']} {match['version']}")
    for tree, versions in trees.items():
        yield str(PurePosixPath(tree)), tuple(versions)
