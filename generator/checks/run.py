"""Every check over a whole tree, and what the coach has accepted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from generator.catalogue import Catalogue, Loaded, ProgrammeEntry, VersionEntry, walk
from generator.catalogue.versions import programme_levels
from generator.checks.computed import long_minutes, long_minutes_despite_faults
from generator.checks.limits import ACCEPTABLE
from generator.checks.registry import REGISTRY, Facts, Raised, SessionFacts
from generator.findings import Fault, Finding, in_order, nearest, shown
from generator.load_recipe import Kit
from generator.resolve import session
from generator.running_order import TooManySegmentsError, running_order
from generator.volume import figures

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Checked:
    """The tree with all its findings, and those that the coach has accepted with the reason."""

    catalogue: Catalogue
    findings: list[Finding]
    accepted: list[tuple[Finding, str]]

    def count(self, severity: str) -> int:
        """How many findings are of this severity."""
        return sum(finding.severity == severity for finding in self.findings)


def check(loaded: Loaded, progress: Progress = lambda done, of: None) -> Checked:
    """Run every check on every version that can be read."""
    catalogue = loaded.catalogue
    findings, accepted = list(loaded.findings), []
    kit = Kit(catalogue.club.model if catalogue.club else None)
    versions = [(p, v) for p in catalogue.programmes.values() for v in p.versions]
    for done, (programme, version) in enumerate(versions):
        progress(done, len(versions))
        judged = _Judging(catalogue, programme, version, kit)
        findings += judged.findings()
        accepted += judged.accepted
    for programme_id, _, document in loaded.unreadable_versions:
        entry = catalogue.programmes.get(programme_id)
        known = programme_levels(walk.mapping(entry.document.data)) if entry else []
        for owner, fault in long_minutes_despite_faults(catalogue, document, known):
            findings.append(owner.finding(fault))
    return Checked(catalogue, in_order(findings), accepted)


def session_facts(catalogue: Catalogue, version: VersionEntry) -> Iterator[SessionFacts]:
    """Plan, running order and figures of every session. Raises TooManySegmentsError."""
    for day in version.model.days:
        for level in version.levels:
            for week in version.weeks:
                plan = session(catalogue, day, level.id, week)
                order = running_order(plan)
                yield SessionFacts(plan, order, figures(order))


class _Judging:
    """One version: what its checks raise, less what its `accept` names."""

    def __init__(
        self, catalogue: Catalogue, programme: ProgrammeEntry, version: VersionEntry, kit: Kit
    ) -> None:
        self.catalogue, self.programme, self.version, self.kit = catalogue, programme, version, kit
        self.accepted: list[tuple[Finding, str]] = []

    def findings(self) -> Iterator[Finding]:
        for document, fault in long_minutes(self.catalogue, self.version):
            yield document.finding(fault)
        yield from self._unknown_checks()
        try:
            sessions = tuple(session_facts(self.catalogue, self.version))
        except TooManySegmentsError as error:
            index = [day.id for day in self.version.model.days].index(error.day)
            fault = Fault("value", ("days", index), str(error), "write fewer rounds, or a shorter cap")
            yield self.version.document.finding(fault)
            return
        facts = Facts(self.catalogue, self.programme, self.version, sessions, self.kit)
        yield from self._judged(facts)

    def _judged(self, facts: Facts) -> Iterator[Finding]:
        matched: set[int] = set()
        for name, functions in REGISTRY.items():
            for function in functions:
                yield from self._weighed(name, function(facts), matched)
        for index, acceptance in enumerate(self.version.model.accept):
            if index not in matched and acceptance.check in REGISTRY:
                at = f" at {acceptance.at}" if acceptance.at else ""
                message = f"{acceptance.check} is accepted{at}, but there is no such finding"
                fault = Fault("accept", ("accept", index), message, "take the entry out")
                yield self.version.document.finding(fault, "warning", self._where(""))

    def _weighed(self, name: str, raised: Iterable[Raised], matched: set[int]) -> Iterator[Finding]:
        for one in raised:
            fault = Fault(name, one.path, one.message, one.hint)
            at = self._where(one.where)
            finding = self.version.document.finding(fault, one.severity, at, one.source)
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
