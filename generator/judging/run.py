"""Every check over a whole tree, and what the coach has accepted."""

from __future__ import annotations

import gc
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import chain

from ..computing.facts import Tree, VersionFacts
from ..computing.load_recipe import Kit
from ..computing.phases import Phases, computed_sessions
from ..computing.running_order import TooManySegmentsError
from ..reading.catalogue import Catalogue, Loaded, ProgrammeEntry, VersionEntry, raw
from ..reading.catalogue.versions import programme_levels
from ..reading.findings import Fault, Finding, bounded, in_order, nearest, shown
from ..reading.model import Acceptance
from ..reading.source import Document
from .figures import figure_findings
from .leftovers import leftover_findings
from .limits import ACCEPTABLE, OF_NO_VERSION
from .minutes import long_minutes, long_minutes_despite_faults, work_despite_faults
from .registry import REGISTRY, Issue
from .sides import side_findings
from .work import Segments, megabytes, too_much

__all__ = ["Checked", "VersionResult", "check", "computed_sessions"]

_COLLECT_AFTER = 100_000
"""New objects after which Python looks for those that refer to each other and to nothing else."""
Progress = Callable[[int, int], None]
MOST_FINDINGS = 5_000
"""Bound on what is told of a tree, for each megabyte of its files; a thousand honest versions have 4,000."""
MOST_STATIONS_DESPITE_FAULTS = 50_000
"""Stations in sessions of versions with faults, so far as they are looked at."""


@dataclass(frozen=True, slots=True)
class VersionResult:
    """What was found in one version, and what its coach has accepted with the reason."""

    findings: tuple[Finding, ...] = ()
    accepted: tuple[tuple[Finding, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Checked:
    """The tree with all its findings, and those that the coach has accepted with the reason.

    `versions` has the same by programme id and version name.
    """

    catalogue: Catalogue
    findings: list[Finding]
    accepted: list[tuple[Finding, str]]
    versions: Mapping[tuple[str, str], VersionResult] = field(default_factory=dict)

    def count(self, severity: str) -> int:
        """How many findings are of this severity."""
        return sum(finding.severity == severity for finding in self.findings)


def check(loaded: Loaded, progress: Progress = lambda done, of: None) -> Checked:
    """Run every check on every version that can be read; on none where the tree is too much work."""
    with _seldom_collected():
        return _check(loaded, progress)


@contextmanager
def _seldom_collected() -> Iterator[None]:
    """Little of what is made here refers to itself: to look for that often takes long and finds nothing."""
    usual = gc.get_threshold()
    gc.set_threshold(_COLLECT_AFTER, *usual[1:])
    try:
        yield
    finally:
        gc.set_threshold(*usual)


def _check(loaded: Loaded, progress: Progress) -> Checked:
    catalogue = loaded.catalogue
    found = (figure_findings(catalogue), side_findings(catalogue), _leftovers(loaded))
    run = _Run(catalogue, dict.fromkeys([*loaded.findings, *chain.from_iterable(found)]))
    too_large = list(too_much(catalogue))
    for version, fault in too_large:
        run.findings[version.document.finding(fault)] = None
    if not too_large:
        unreadable = {programme for programme, _, _ in loaded.unreadable_versions}
        unreadable |= {programme for programme, _ in loaded.unopened}
        run.judge(unreadable, progress)
    for document, fault in _long_minutes_despite_faults(loaded):
        run.findings[document.finding(fault)] = None
    return Checked(catalogue, in_order(run.findings), run.accepted, run.weighed)


def _leftovers(loaded: Loaded) -> Iterator[Finding]:
    """What stands in vain, where every file can be read: one that cannot may use it."""
    if not any(finding.severity == "error" for finding in loaded.findings):
        yield from leftover_findings(loaded.catalogue)


@dataclass(slots=True)
class _Run:
    """What has been found in the versions of a tree."""

    catalogue: Catalogue
    findings: dict[Finding, None]
    accepted: list[tuple[Finding, str]] = field(default_factory=list)
    weighed: dict[tuple[str, str], VersionResult] = field(default_factory=dict)
    most: int = 0

    def judge(self, unreadable: Container[str], progress: Progress) -> None:
        """Run every check on every version; of an `unreadable` programme not all versions are known."""
        tree = Tree(self.catalogue, Kit(self.catalogue.club.model if self.catalogue.club else None))
        segments = Segments()
        self.most = int(MOST_FINDINGS * megabytes(self.catalogue))
        many = sum(len(programme.versions) for programme in self.catalogue.programmes.values())
        for programme in self.catalogue.programmes.values():
            complete = programme.id not in unreadable
            phases = Phases(tree, programme, complete=complete)
            matched: set[_Accepts] = set()
            for version in programme.versions:
                progress(len(self.weighed), many)
                judging = _Judging(phases, version, segments)
                if not self._judged(judging) or judging.stopped:
                    return
                matched |= judging.matched
            self._accepted_in_vain(programme, matched if complete else None)

    def _accepted_in_vain(self, programme: ProgrammeEntry, matched: set[_Accepts] | None) -> None:
        """Entries of the programme's file that name no check or, if all versions are known, no finding."""
        accept, document = programme.model.accept, programme.document
        for fault in bounded(_unknown_checks(accept)):
            self.findings[document.finding(fault)] = None
        for fault in bounded(_unmatched(accept, matched)) if matched is not None else ():
            self.findings[document.finding(fault, "warning", programme.id)] = None

    def _judged(self, judging: _Judging) -> bool:
        """Whether there is room for what is found in a version; where not, the last finding says so."""
        version, own = judging.version, []
        for finding in judging.findings():
            own.append(finding)
            self.findings[finding] = None
            if len(self.findings) + len(self.accepted) + len(judging.accepted) > self.most:
                message = f"up to here, more findings in the whole tree than the {self.most:,} told"
                fault = Fault(
                    "value", (), message, "mend these, or accept them with the reason, and see the rest"
                )
                self.findings[version.document.finding(fault)] = None
                return False
        self.weighed[version.programme, version.name] = VersionResult(
            tuple(in_order(own)), tuple(judging.accepted)
        )
        self.accepted += judging.accepted
        return True


def _long_minutes_despite_faults(loaded: Loaded) -> Iterator[tuple[Document, Fault]]:
    """Those of versions with other faults, so far as that is little work: they are told again when mended."""
    room = MOST_STATIONS_DESPITE_FAULTS
    for programme_id, _, document in loaded.unreadable_versions:
        entry = loaded.catalogue.programmes.get(programme_id)
        known = programme_levels(raw.mapping(entry.document.data)) if entry else []
        room -= work_despite_faults(document, known)
        if room < 0:
            return
        yield from long_minutes_despite_faults(loaded.catalogue, document, known)


_Accepts = tuple[str, str | None]
"""What an acceptance is of: a check, and a day or the whole version."""


class _Judging:
    """One version: what its checks raise, less what its `accept` names."""

    def __init__(self, phases: Phases, version: VersionEntry, segments: Segments) -> None:
        self.phases, self.version, self.segments = phases, version, segments
        self.accepted: list[tuple[Finding, str]] = []
        self.stopped = False
        """Whether the tree has turned out to be too much work."""
        self._reasons: dict[_Accepts, tuple[int, str]] = {}
        for index, one in enumerate([*version.model.accept, *phases.programme.model.accept]):
            self._reasons.setdefault((one.check, one.at), (index, one.because))
        self.matched: set[_Accepts] = set()

    def findings(self) -> Iterator[Finding]:
        """What is found; `accepted` is complete when all of it has been taken."""
        for document, fault in long_minutes(self.phases.tree.catalogue, self.version):
            yield document.finding(fault)
        for fault in bounded(_unknown_checks(self.version.model.accept)):
            yield self.version.document.finding(fault)
        try:
            facts = self.phases.facts(self.version)
        except TooManySegmentsError as error:
            index = [day.id for day in self.version.model.days].index(error.day)
            fault = Fault("value", ("days", index), str(error), "write fewer rounds, or a shorter time")
            yield self.version.document.finding(fault)
            return
        over = self.segments.over(facts)
        if over:
            self.stopped = True
            yield self.version.document.finding(over)
            return
        yield from self._judged(facts)

    def _judged(self, facts: VersionFacts) -> Iterator[Finding]:
        for name, functions in REGISTRY.items():
            for function in functions:
                yield from self._weighed(name, function(facts))
        for fault in _unmatched(self.version.model.accept, self.matched):
            yield self.version.document.finding(fault, "warning", self._where(""))

    def _weighed(self, name: str, raised: Iterable[Issue]) -> Iterator[Finding]:
        for one in raised:
            fault = Fault(name, one.path, one.message, one.hint)
            where = self._where(one.where)
            owner = one.document or self.version.document
            finding = owner.finding(fault, one.severity, one.where if one.document else where, one.source)
            named = [key for key in ((name, None), (name, one.day)) if key in self._reasons]
            self.matched.update(named)
            if named:
                self.accepted.append((finding, min([self._reasons[key] for key in named])[1]))
            else:
                yield finding

    def _where(self, session: str) -> str:
        return f"{self.version.programme} {self.version.name} {session}".rstrip()


def _unknown_checks(accept: Sequence[Acceptance]) -> Iterator[Fault]:
    """Entries that name no check which may be accepted."""
    for index, acceptance in enumerate(accept):
        if acceptance.check not in ACCEPTABLE:
            message = f"check: found {shown(acceptance.check)}, allowed the id of a warning or note"
            why = OF_NO_VERSION.get(acceptance.check) or nearest(acceptance.check, ACCEPTABLE)
            hint = why or "an error cannot be accepted: mend it"
            yield Fault("value", ("accept", index, "check"), message, hint)


def _unmatched(accept: Sequence[Acceptance], matched: Container[_Accepts]) -> Iterator[Fault]:
    """Entries of which nothing was found."""
    for index, acceptance in enumerate(accept):
        if (acceptance.check, acceptance.at) not in matched and acceptance.check in ACCEPTABLE:
            at = f" at {acceptance.at}" if acceptance.at else ""
            message = f"{acceptance.check} is accepted{at}, but there is no such finding"
            yield Fault("accept", ("accept", index), message, "take the entry out")
