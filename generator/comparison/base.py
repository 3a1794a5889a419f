"""The tree that is compared with: what is published there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from generator.catalogue import Catalogue, load
from generator.checks import check
from generator.findings import Finding
from generator.source import Document


@dataclass(frozen=True, slots=True)
class Base:
    """The tree at another commit, which the coach calls `ref`. `exists`: whether that commit has the folder.

    Names of files in `findings` are those that the files have here.
    """

    ref: str
    exists: bool
    catalogue: Catalogue
    findings: tuple[Finding, ...] = ()
    unreadable: tuple[tuple[str, str, Document], ...] = ()

    @property
    def first_error(self) -> Finding | None:
        """The first of what makes the tree unreadable, if anything does."""
        return next((finding for finding in self.findings if finding.severity == "error"), None)


def base_at(ref: str, folder: Path | None, root: Path) -> Base:
    """The base whose files lie in `folder` (None: it has none) for now, and belong to the tree `root`."""
    if folder is None:
        return Base(ref, False, Catalogue(None))
    loaded = load(folder)
    checked = check(loaded)
    findings = tuple(_renamed(checked.findings, str(folder), str(root)))
    return Base(ref, True, checked.catalogue, findings, loaded.unreadable_versions)


def _renamed(findings: Iterable[Finding], folder: str, root: str) -> Iterable[Finding]:
    return (replace(one, file=root + one.file.removeprefix(folder)) for one in findings)
