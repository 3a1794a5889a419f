"""The facts of a programme's versions, each worked out once, and which phase comes before which."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from ..reading.amounts import Number
from ..reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from .facts import ComputedSession, Earlier, Tree, VersionFacts
from .resolve import PlannedBlock, PlannedSession, sessions
from .running_order import RunningOrder, TooManySegmentsError, running_order
from .totals import Totals, totals


def computed_sessions(catalogue: Catalogue, version: VersionEntry) -> Iterator[ComputedSession]:
    """Plan, running order and totals of every session. Raises TooManySegmentsError.

    Sessions of a day with equal plans have one running order and one set of totals.
    """
    return facts_of(sessions(catalogue, version))


def facts_of(plans: Iterable[PlannedSession]) -> Iterator[ComputedSession]:
    """The same, of sessions that are planned already."""
    known: dict[tuple[PlannedBlock, ...], tuple[RunningOrder, Totals]] = {}
    for plan in plans:
        found = known.get(plan.blocks)
        if found is None:
            order = running_order(plan)
            found = known[plan.blocks] = order, totals(order)
        yield ComputedSession(plan, *found)


@dataclass(slots=True)
class Phases:
    """One programme. Where a version of it cannot be read it is not `complete`: nothing comes before.

    The facts of a version are kept until those of the next newest edition are made.
    """

    tree: Tree
    programme: ProgrammeEntry
    complete: bool = True
    _newest: list[VersionEntry] = field(init=False)
    _newest_names: frozenset[str] = field(init=False)
    _last: VersionFacts | None = field(init=False, default=None)
    _earlier: list[Earlier] = field(init=False, default_factory=list)

    def __post_init__(self) -> None:
        """Find the newest editions once, by the day they start."""
        self._newest = self.programme.newest_editions()
        self._newest_names = frozenset(version.name for version in self._newest)

    def facts(self, version: VersionEntry) -> VersionFacts:
        """What checks may look at. Raises TooManySegmentsError."""
        if self._last and self._last.version is version:
            return self._last
        sessions = tuple(computed_sessions(self.tree.catalogue, version))
        facts = VersionFacts(
            self.tree, self.programme, version, sessions, lambda: self._before(version), self.complete
        )
        if version.name in self._newest_names:
            self._look_back_at_last()
            self._last = facts
        return facts

    def _look_back_at_last(self) -> None:
        """Before its facts go, if it is the next that is not looked back at yet."""
        known = len(self._earlier)
        if self._last and known < len(self._newest) and self._newest[known] is self._last.version:
            self._earlier.append(_looked_back_at(self._last, self._earlier[-1] if known else None))

    def _before(self, version: VersionEntry) -> Earlier | None:
        """The newest edition of the phase that starts last before this one."""
        at = bisect_left(self._newest, version.model.starts, key=lambda other: other.model.starts)
        if at and self._newest[at - 1].phase == version.phase:
            # The newest edition of the same phase, which starts sooner than this one.
            at -= 1
        if not at or not self.complete:
            return None
        try:
            for other in self._newest[len(self._earlier) : at]:
                self.facts(other)
                self._look_back_at_last()
        except TooManySegmentsError:
            # Told where that version is judged.
            return None
        return self._earlier[at - 1]


def _looked_back_at(facts: VersionFacts, before: Earlier | None) -> Earlier:
    heaviest: dict[tuple[str, str], Number] = {}
    for one in facts.trained:
        for station in one.plan.day_stations:
            key = (one.plan.level, station.exercise)
            heaviest[key] = max(heaviest.get(key, 0), station.load)
    version = facts.version
    landed, lands = (before.landed, before.lands) if before else (frozenset(), frozenset())
    lands |= {one.plan.level for one in facts.trained if one.totals.contacts}
    return Earlier(version.name, version.ends, facts.weeks, heaviest, landed | _landing(facts), lands)


def _landing(facts: VersionFacts) -> frozenset[str]:
    """Levels that train a land exercise in this phase; a level that is not in it follows any other."""
    stations = ((one.plan.level, s) for one in facts.trained for s in one.plan.stations)
    own = {level for level, station in stations if station.pattern == "land"}
    here = {level.id for level in facts.version.levels}
    new = {level.id for level in facts.programme.model.levels} - here
    return frozenset(own | new if own else own)
