"""How a check is written: a function of the facts of one version that yields what it raises."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ..computing.facts import VersionFacts
from ..reading.findings import Path, Severity
from ..reading.source import Document


@dataclass(frozen=True, slots=True)
class Issue:
    """What a check found. `day` is the day it belongs to, for `accept`; `where` names the session.

    `path` is one of the version's file, or of `document`. What stands in another file is told once for all
    versions that it concerns, so `where` names none of them.
    """

    severity: Severity
    message: str
    path: Path
    source: str
    day: str | None = None
    where: str = ""
    hint: str = ""
    document: Document | None = None


Check = Callable[[VersionFacts], Iterator[Issue]]

REGISTRY: dict[str, list[Check]] = {}


def check(name: str) -> Callable[[Check], Check]:
    """Register a check under its id; one id may have several functions."""

    def register(function: Check) -> Check:
        REGISTRY.setdefault(name, []).append(function)
        return function

    return register
