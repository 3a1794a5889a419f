"""Every check over a whole tree, and what the coach has accepted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from generator.catalogue import Catalogue, Loaded, VersionEntry, walk
from generator.catalogue.versions import programme_levels
from generator.checks.computed import long_minutes, long_minutes_despite_faults
from generator.checks.figures import figure_findings
from generator.checks.limits import ACCEPTABLE
from generator.checks.phases import Phases, session_facts
from generator.checks.registry import REGISTRY, Facts, Raised, Tree
from generator.findings import Fault, Finding, in_order, nearest, shown
from generator.load_recipe import Kit
from generator.running_order import TooManySegmentsError

__all__ = ["Checked", "Weighed", "check", "session_facts"]

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Weighed:
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
    versions: Mapping[tuple[str, str], Weighed] = field(default_factory=dict)

    def count(self, severity: str) -> int:
        """How many findings are of this severity."""
        return sum(finding.severity == severity for finding in self.findings)


def check(loaded: Loaded, progress: Progress = lambda done, of: None) -> Checked:
    """Run every check on every version that can be read."""
    catalogue = loaded.catalogue
    findings, accepted = [*loaded.findings, *figure_findings(catalogue)], []
    tree = Tree(catalogue, Kit(catalogue.club.model if catalogue.club else None))
    unreadable = {programme for programme, *_ in (*loaded.unreadable_versions, *loaded.unopened)}
    many = sum(len(programme.versions) for programme in catalogue.programmes.values())
    weighed: dict[tuple[str, str], Weighed] = {}
    for programme in catalogue.programmes.values():
        phases = Phases(tree, programme, complete=programme.id not in unreadable)
        for version in programme.versions:
            progress(len(weighed), many)
            judged = _Judging(phases, version)
            found = judged.findings()
            weighed[programme.id, version.name] = Weighed(tuple(in_order(found)), tuple(judged.accepted))
            findings += found
            accepted += judged.accepted
    for programme_id, _, document in loaded.unreadable_versions:
        entry = catalogue.programmes.get(programme_id)
        known = programme_levels(walk.mapping(entry.document.data)) if entry else []
        for owner, fault in long_minutes_despite_faults(catalogue, document, known):
            findings.append(owner.finding(fault))
    return Checked(catalogue, in_order(findings), accepted, weighed)


class _Judging:
    """One version: what its checks raise, less what its `accept` names."""

    def __init__(self, phases: Phases, version: VersionEntry) -> None:
        self.phases, self.version = phases, version
        self.accepted: list[tuple[Finding, str]] = []

    def findings(self) -> list[Finding]:
        return list(self._findings())

    def _findings(self) -> Iterator[Finding]:
        for document, fault in long_minutes(self.phases.tree.catalogue, self.version):
            yield document.finding(fault)
        yield from self._unknown_checks()
        try:
            facts = self.phases.facts(self.version)
        except TooManySegmentsError as error:
            index = [day.id for day in self.version.model.days].index(error.day)
            fault = Fault("value", ("days", index), str(error), "write fewer rounds, or a shorter cap")
            yield self.version.document.finding(fault)
            return
        yield from self._judged(facts)

    def _judged(self, facts: Facts) -> Iterator[Finding]:
        matched: set[int] = set()
        for name, functions in REGISTRY.items():
            for function in functions:
                yield from self._weighed(name, function(facts), matched)
        for index, acceptance in enumerate(self.version.model.accept):
            if index not in matched and acceptance.check in ACCEPTABLE:
                at = f" at {acceptance.at}" if acceptance.at else ""
                message = f"{acceptance.check} is accepted{at}, but there is no such finding"
                fault = Fault("accept", ("accept", index), message, "take the entry out")
                yield self.version.document.finding(fault, "warning", self._where(""))

    def _weighed(self, name: str, raised: Iterable[Raised], matched: set[int]) -> Iterator[Finding]:
        for one in raised:
            fault = Fault(name, one.path, one.message, one.hint)
            at = self._where(one.where)
            owner = one.document or self.version.document
            finding = owner.finding(fault, one.severity, one.where if one.document else at, one.source)
            reasons = []
            for index, acceptance in enumerate(self.version.model.accept):
                if acceptance.check == name and acceptance.at in (None, one.day):
                    matched.add(index)
                    reasons.append(acceptance.because)
            if reasons:
                self.accepted.append((finding, reasons[0]))
            else:
                yield finding

    def _unknown_checks(self) -> Iterator[Finding]:
        for index, acceptance in enumerate(self.version.model.accept):
            if acceptance.check not in ACCEPTABLE:
                message = f"check: found {shown(acceptance.check)}, allowed the id of a warning or note"
                path = ("accept", index, "check")
                hint = nearest(acceptance.check, ACCEPTABLE) or "an error cannot be accepted: mend it"
                fault = Fault("value", path, message, hint)
                yield self.version.document.finding(fault)

    def _where(self, session: str) -> str:
        return f"{self.version.programme} {self.version.name} {session}".rstrip()
