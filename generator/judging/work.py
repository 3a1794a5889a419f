"""How much work a tree is, and the bounds on it: counted from the files, before any session is worked out.

Honest trees stay far below: a thousand versions are 3 megabytes and have some 16,000 sessions, 250,000
stations in them and 1,300,000 segments. The bounds are habit, no source: `check` has to end within seconds
whatever a file says. Some grow with the files, as reading a tree of many megabytes takes its time anyhow.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from operator import itemgetter
from typing import Any, NamedTuple

from ..computing.facts import ComputedSession, VersionFacts
from ..computing.running_order import segments_by_block
from ..reading.catalogue import Catalogue, Entry, VersionEntry
from ..reading.findings import Fault, Path
from ..reading.model import Day

MOST_SEGMENTS = 3_000_000
MOST_SESSIONS = 20_000
MOST_STATIONS = 250_000
"""Of a whole tree, equal sessions counted each time; of sessions and stations so many for each megabyte of
files. A station counts in every session, also where a 0 leaves it out, and in warm-up and cool-down too."""
MOST_STATIONS_OF_A_VERSION = 100_000


class _Part(NamedTuple):
    """A day's warm-up, one of its blocks or its cool-down: where it stands, its name, how many stations."""

    path: Path
    name: str
    stations: int


def too_much(catalogue: Catalogue) -> Iterator[tuple[VersionEntry, Fault]]:
    """Versions of too many stations, and the first place at which a whole tree has too many."""
    size = megabytes(catalogue)
    tree = _Counting("the whole tree", int(MOST_STATIONS * size), int(MOST_SESSIONS * size))
    for programme in catalogue.programmes.values():
        for version in programme.versions:
            own = _Counting("this version", MOST_STATIONS_OF_A_VERSION, tree.most_sessions)
            times = len(version.levels) * version.model.weeks
            for index, day in enumerate(version.model.days):
                parts = list(_parts(catalogue, day, index))
                at: Path = ("days", index)
                fault = own.over(day, at, times, parts) or tree.over(day, at, times, parts)
                if fault:
                    yield version, fault
                    break
            if tree.told:
                return


def megabytes(catalogue: Catalogue) -> float:
    """How large the files are that can be read; 1 at least."""
    entries: list[Entry[Any]] = [*catalogue.exercises.values(), *catalogue.routines.values()]
    documents = [entry.document for entry in entries]
    for programme in catalogue.programmes.values():
        documents += [programme.document, *(version.document for version in programme.versions)]
    return max(1.0, sum(len(document.text) for document in documents) / 1_000_000)


@dataclass(slots=True)
class _Counting:
    """What has been counted up to a day, in `where`."""

    where: str
    most_stations: int
    most_sessions: int
    stations: int = 0
    sessions: int = 0
    told: bool = False

    def over(self, day: Day, at: Path, times: int, parts: list[_Part]) -> Fault | None:
        """The fault at the day, or at the part of it, that takes the count over a bound."""
        self.sessions += times
        if self.sessions > self.most_sessions:
            hint = f"take days, weeks, levels or versions out; this day alone has {times:,}"
            return self._told(at, day.id, f"{self.most_sessions:,} sessions", hint)
        for part in parts:
            own = part.stations * times
            self.stations += own
            if self.stations > self.most_stations:
                hint = f"take stations, blocks, weeks, levels or versions out; {part.name} alone has {own:,}"
                many = f"{self.most_stations:,} stations in sessions"
                return self._told(part.path, f"{day.id}, {part.name}", many, hint)
        return None

    def _told(self, path: Path, what: str, many: str, hint: str) -> Fault:
        self.told = True
        message = f"{what}: with it {self.where} has more than {many}, every level and week counted"
        return Fault("value", path, message, hint)


def _parts(catalogue: Catalogue, day: Day, index: int) -> Iterator[_Part]:
    path: Path = ("days", index)
    yield _Part((*path, "warm-up"), "warm-up", _of_routine(catalogue, day.warm_up))
    for number, block in enumerate(day.blocks):
        yield _Part((*path, "blocks", number), f"block {_label(number)}", len(block.stations))
    if day.cool_down is not None:
        yield _Part((*path, "cool-down"), "cool-down", _of_routine(catalogue, day.cool_down))


def _label(number: int) -> str:
    return chr(ord("A") + number)


def _of_routine(catalogue: Catalogue, name: str) -> int:
    return sum(len(block.stations) for block in catalogue.routine(name).blocks)


@dataclass(slots=True)
class Segments:
    """The segments of all sessions that have been counted."""

    total: int = 0
    by_version: dict[str, int] = field(default_factory=dict)

    def over(self, facts: VersionFacts) -> Fault | None:
        """Count a version's sessions. Gives the fault at the block that takes the tree over its bound."""
        name = f"{facts.version.programme} {facts.version.name}"
        self.by_version[name] = 0
        for one in facts.sessions:
            if self.total + one.order.many > MOST_SEGMENTS:
                return self._told(facts, one)
            self.total += one.order.many
            self.by_version[name] += one.order.many
        return None

    def _told(self, facts: VersionFacts, one: ComputedSession) -> Fault:
        path, name = self._place(facts, one)
        plan = one.plan
        message = (
            f"{plan.day}, {name}: with it the whole tree has more than {MOST_SEGMENTS:,} segments, "
            f"every level and week counted (up to {plan.level} in week {plan.week})"
        )
        version, many = max(self.by_version.items(), key=itemgetter(1))
        hint = f"take rounds, sets or minutes out, weeks or levels; {version} has the most so far, {many:,}"
        return Fault("value", path, message, hint)

    def _place(self, facts: VersionFacts, one: ComputedSession) -> tuple[Path, str]:
        """Where the block stands, or the routine is named, with which the session passes the bound."""
        day, total = facts.day_path(one.plan.day), self.total
        for block, many in zip(one.plan.blocks, segments_by_block(one.plan), strict=True):
            total += many
            if total > MOST_SEGMENTS:
                if block.section != "day":
                    return (*day, block.section), block.section
                return (*day, "blocks", ord(block.label) - ord("A")), f"block {block.label}"
        raise AssertionError("the segments of a session are those of its blocks")
