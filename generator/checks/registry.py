"""How a check is written: a function of the facts of one version that yields what it raises."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from generator.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from generator.findings import Path, Severity, listed
from generator.load_recipe import Kit
from generator.resolve import PlannedSession
from generator.running_order import RunningOrder
from generator.volume import Figures


@dataclass(frozen=True, slots=True)
class SessionFacts:
    """One session of a version: its plan, running order and figures."""

    plan: PlannedSession
    order: RunningOrder
    figures: Figures


@dataclass(frozen=True)
class Facts:
    """What a check may look at: one version with all its sessions."""

    catalogue: Catalogue
    programme: ProgrammeEntry
    version: VersionEntry
    sessions: tuple[SessionFacts, ...]
    kit: Kit

    def day_path(self, day: str) -> Path:
        """Where the day stands in the version file."""
        ids = [d.id for d in self.version.model.days]
        return ("days", ids.index(day))

    def by_day_and_level(self) -> Iterator[tuple[str, str, list[SessionFacts]]]:
        """Day id, level id, and its sessions by week."""
        for (day, level), sessions in self._grouped.items():
            yield day, level, sessions

    @cached_property
    def _grouped(self) -> dict[tuple[str, str], list[SessionFacts]]:
        grouped: dict[tuple[str, str], list[SessionFacts]] = {}
        for session in self.sessions:
            grouped.setdefault((session.plan.day, session.plan.level), []).append(session)
        return grouped


@dataclass(frozen=True, slots=True)
class Raised:
    """What a check found. `day` is the day it belongs to, for `accept`; `where` names the session."""

    severity: Severity
    message: str
    path: Path
    source: str
    day: str | None = None
    where: str = ""
    hint: str = ""


Check = Callable[[Facts], Iterator[Raised]]
REGISTRY: dict[str, list[Check]] = {}


def check(name: str) -> Callable[[Check], Check]:
    """Register a check under its id; one id may have several functions."""

    def register(function: Check) -> Check:
        REGISTRY.setdefault(name, []).append(function)
        return function

    return register


def in_weeks(weeks: list[int]) -> str:
    """`week 3`, or `weeks 2 and 3`."""
    return f"{'week' if len(weeks) == 1 else 'weeks'} {listed([str(week) for week in weeks], 'and')}"
