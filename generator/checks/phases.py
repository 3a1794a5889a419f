"""The facts of a programme's versions, each worked out once, and which phase comes before which."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field

from generator.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from generator.checks.registry import Facts, SessionFacts, Tree
from generator.resolve import session
from generator.running_order import TooManySegmentsError, running_order
from generator.volume import figures


def session_facts(catalogue: Catalogue, version: VersionEntry) -> Iterator[SessionFacts]:
    """Plan, running order and figures of every session. Raises TooManySegmentsError."""
    for day in version.model.days:
        for level in version.levels:
            for week in version.weeks:
                plan = session(catalogue, day, level.id, week)
                order = running_order(plan)
                yield SessionFacts(plan, order, figures(order))


@dataclass(slots=True)
class Phases:
    """One programme. Where a version of it cannot be read it is not `complete`, and nothing comes before."""

    tree: Tree
    programme: ProgrammeEntry
    complete: bool = True
    _newest: list[VersionEntry] = field(init=False)
    _kept: dict[str, Facts] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        """Find the newest editions once."""
        self._newest = self.programme.newest_editions()

    def facts(self, version: VersionEntry) -> Facts:
        """What checks may look at. Raises TooManySegmentsError.

        Only the newest editions are looked back at, so others are not kept.
        """
        if version.name in self._kept:
            return self._kept[version.name]
        sessions = tuple(session_facts(self.tree.catalogue, version))
        facts = Facts(
            self.tree, self.programme, version, sessions, lambda: self._before(version), self.complete
        )
        if any(version is newest for newest in self._newest):
            self._kept[version.name] = facts
        return facts

    def _before(self, version: VersionEntry) -> Facts | None:
        """The newest edition of the phase that starts last before this one."""
        if not self.complete:
            return None
        at = bisect_left(self._newest, version.model.starts, key=lambda other: other.model.starts)
        earlier = [other for other in self._newest[max(at - 2, 0) : at] if other.phase != version.phase]
        try:
            return self.facts(earlier[-1]) if earlier else None
        except TooManySegmentsError:
            # Told where that version is judged.
            return None
