"""One version against another: the one comparison behind reports, pages, the archive and the feed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..computing.facts import ComputedSession
from ..reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from . import changes, matching, phases, sentences, totals
from .phases import Steps
from .sentences import DayChanges, Words
from .totals import Row


@dataclass(frozen=True, slots=True)
class Side:
    """A version with all its sessions, and the names of the exercises of its tree."""

    version: VersionEntry
    facts: Sequence[ComputedSession]
    exercises: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Comparison:
    """What `now` has that `before` had not. Within a phase `told` has every dose that changed; from one phase
    to the next `steps` has what its exercises come to."""

    before: VersionEntry
    now: VersionEntry
    told: tuple[DayChanges, ...]
    steps: Steps | None
    rows: tuple[Row, ...]

    @property
    def equal(self) -> bool:
        """Whether not one dose or time differs; words may."""
        return not self.told and self.steps is None


def side(catalogue: Catalogue, version: VersionEntry, facts: Sequence[ComputedSession]) -> Side:
    """A version of a tree as it is compared."""
    return Side(version, facts, {name: entry.model.name for name, entry in catalogue.exercises.items()})


def previous(programme: ProgrammeEntry, version: VersionEntry) -> VersionEntry | None:
    """The edition before, or for a first edition the newest one of the phase with the number before."""
    earlier = [
        one for one in programme.versions if (one.phase, one.edition) < (version.phase, version.edition)
    ]
    return earlier[-1] if earlier else None


def compare(before: Side, now: Side) -> Comparison:
    """Everything that differs, in words and in figures."""
    old, new = ([one.plan for one in side.facts] for side in (before, now))
    names = {**before.exercises, **now.exercises}
    levels = {level.id: level.name for one in (before, now) for level in one.version.levels}
    words = Words(names, levels, now.version.model.weeks)
    told: list[DayChanges] = []
    steps = None
    if before.version.phase == now.version.phase:
        told = sentences.sentences(changes.changes(before.version, old, now.version, new), words)
    else:
        steps = phases.steps(before.facts, now.facts, words)
    pairs = matching.days(old, new)
    rows = totals.rows(before.version, before.facts, now.version, now.facts, pairs)
    return Comparison(before.version, now.version, tuple(told), steps, tuple(rows))
