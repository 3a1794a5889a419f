"""The coach's numbers of one version: what is too long, too much, out of balance or stepping up too fast.

Everything is an estimate of the plan; whether a plan is right for a squad is the coach's judgement.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ...computing.facts import VersionFacts
from ...judging.limits import BALANCED
from ...judging.run import VersionResult
from ...reading.amounts import spoken, written
from ...reading.catalogue import ProgrammeEntry
from ...reading.findings import Finding
from . import session_plots, week_plots, words
from .base import Newer, version_address
from .plotted import Cell, OneLevel, Plot, Table, whole_minutes


@dataclass(frozen=True, slots=True)
class LevelNumbers:
    """The plots of one level."""

    id: str
    name: str
    plots: tuple[Plot, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingView:
    """A finding in words, with a way to mend it. `because` is the coach's reason where it is accepted."""

    severity: str
    check: str
    message: str
    hint: str
    because: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NumbersPage:
    """The numbers of one version, level by level, and what the checks found."""

    programme_title: str
    name: str
    phase: str
    number: int
    dates: str
    version_address: str
    plan: str
    glance: Table
    levels: tuple[LevelNumbers, ...]
    findings: tuple[FindingView, ...]
    accepted: tuple[FindingView, ...]
    newer: Newer | None


def numbers_page(
    programme: ProgrammeEntry, facts: VersionFacts, result: VersionResult, plan: str, newer: Newer | None
) -> NumbersPage:
    """`facts` and `result` are those of the version, `plan` its fingerprint, `newer` its banner."""
    version = facts.version
    model = version.model
    levels = [OneLevel(facts, level) for level in version.levels]
    findings = sorted(result.findings, key=lambda finding: finding.severity != "warning")
    return NumbersPage(
        programme_title=programme.model.title,
        name=version.name,
        phase=model.phase,
        number=version.phase,
        dates=f"{words.on_day(model.starts)} to {words.on_day(version.ends)}",
        version_address=version_address(version),
        plan=plan,
        glance=_glance(levels),
        levels=tuple(map(_numbers, levels)),
        findings=tuple(_finding_view(finding) for finding in findings),
        accepted=tuple(_finding_view(finding, because) for finding, because in result.accepted),
        newer=newer,
    )


def _finding_view(finding: Finding, because: str = "") -> FindingView:
    return FindingView(
        severity=finding.severity,
        check=finding.check,
        message=finding.message,
        hint=finding.hint,
        because=because,
    )


def _numbers(level: OneLevel) -> LevelNumbers:
    made = (
        session_plots.minutes(level),
        session_plots.landings(level),
        week_plots.steps(level),
        week_plots.balance(level),
        week_plots.sets(level),
    )
    return LevelNumbers(level.level.id, level.level.name, made)


def _glance(levels: Sequence[OneLevel]) -> Table:
    """The most of each measure, level beside level."""
    first = levels[0]
    limit = f", limit {spoken(first.longest)}" if first.longest else ""
    step = f", limit {written(first.step)} %" if first.step is not None else ""
    names = [
        f"minutes of a session{limit}",
        "landings in a session",
        "sets in a week",
        f"step up in a week{step}",
    ]
    names += [f"{one} : {other}" for one, _, other, _ in BALANCED]
    cells = zip(*map(_most, levels), strict=True)
    heads = ("at most", *(level.level.name for level in levels))
    return Table(heads, tuple((name, own) for name, own in zip(names, cells, strict=True)))


def _most(level: OneLevel) -> list[Cell]:
    seconds = max((one.order.seconds for one in level.sessions), default=0)
    contacts = max((one.totals.contacts for one in level.sessions), default=0)
    return [
        (whole_minutes(seconds), level.is_long(seconds)),
        (str(contacts), level.lands_much(contacts)),
        (str(max(totals.sets for totals in level.weeks)), False),
        week_plots.biggest_step(level),
        *(week_plots.furthest(level, these, those) for _, these, _, those in BALANCED),
    ]
