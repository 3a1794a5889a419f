"""What a merge changes: versions that are new, changed or gone, and findings that come and go."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Literal

from ..computing.facts import ComputedSession
from ..computing.phases import computed_sessions
from ..judging import Checked
from ..reading.catalogue import Catalogue, Loaded, VersionEntry
from ..reading.findings import Finding, in_order
from .base import Base
from .in_short import InShort, in_short
from .published import published
from .versions import Comparison, Side, compare, previous, side

State = Literal["new", "changed", "words mended", "gone"]
_PICTURE = "picture"


@dataclass(frozen=True, slots=True)
class Merged:
    """A version that is not what it is at the base. `comparison` is with the base's own one where the plan
    changed, with the version before where it is new; None where there is none, or nothing to compare.
    `short` says the same in three sentences, where a plan is new or another."""

    version: VersionEntry
    state: State
    facts: Sequence[ComputedSession]
    comparison: Comparison | None
    short: InShort | None = None


@dataclass(frozen=True)
class Merge:
    """A tree against the one that it is to be merged into. `root` is its folder, `files` are its files."""

    base: Base
    here: Checked
    files: Loaded
    root: Path

    @cached_property
    def not_allowed(self) -> tuple[Finding, ...]:
        """What was published at the base and has another plan here, or is gone."""
        found = in_order(published(self.base, self.files, self.root))
        return tuple(finding for finding in found if finding.severity == "error")

    @cached_property
    def versions(self) -> tuple[Merged, ...]:
        """Every version that differs, by programme; those that are gone come last."""
        return tuple([*self._here(), *self._gone()])

    @cached_property
    def new_findings(self) -> tuple[Finding, ...]:
        """Findings that the base has not."""
        known = {_same(finding) for finding in self.base.findings}
        return tuple(one for one in _comparable(self.here.findings) if _same(one) not in known)

    @cached_property
    def resolved_findings(self) -> tuple[Finding, ...]:
        """Findings of the base that are no more; accepted ones too."""
        known = {_same(finding) for finding in self.here.findings}
        return tuple(one for one in _comparable(self.base.findings) if _same(one) not in known)

    @property
    def accepted(self) -> dict[tuple[str, ...], str]:
        """Reasons by finding, for those that are resolved by being accepted."""
        return {_same(finding): reason for finding, reason in self.here.accepted}

    def reason(self, finding: Finding) -> str:
        """Why a resolved finding is accepted; nothing where it is truly gone."""
        return self.accepted.get(_same(finding), "")

    def _here(self) -> Iterator[Merged]:
        for programme in self.here.catalogue.programmes.values():
            entry = self.base.catalogue.programmes.get(programme.id)
            for version in programme.versions:
                was = entry.version(version.name) if entry else None
                if was is not None:
                    yield from self._changed(was, version)
                    continue
                earlier = previous(programme, version)
                now = _side(self.here.catalogue, version)
                before = _side(self.here.catalogue, earlier) if earlier else None
                compared = compare(before, now) if before else None
                yield Merged(version, "new", now.facts, compared, in_short(before, now))

    def _changed(self, was: VersionEntry, version: VersionEntry) -> Iterator[Merged]:
        before, now = _side(self.base.catalogue, was), _side(self.here.catalogue, version)
        compared = compare(before, now)
        if not compared.equal:
            yield Merged(version, "changed", now.facts, compared, in_short(before, now))
        elif was.document.text != version.document.text:
            yield Merged(version, "words mended", now.facts, None)

    def _gone(self) -> Iterator[Merged]:
        for programme in self.base.catalogue.programmes.values():
            entry = self.here.catalogue.programmes.get(programme.id)
            for version in programme.versions:
                if entry is None or entry.version(version.name) is None:
                    yield Merged(version, "gone", (), None)


def _side(catalogue: Catalogue, version: VersionEntry) -> Side:
    return side(catalogue, version, tuple(computed_sessions(catalogue, version)))


def _comparable(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Those of both trees that may be held against each other: pictures are not read from a commit."""
    return (finding for finding in findings if finding.check != _PICTURE)


def _same(finding: Finding) -> tuple[str, ...]:
    """A finding without its line and column, which move with every line that is put in above."""
    return finding.check, finding.severity, finding.file, finding.at, finding.message
