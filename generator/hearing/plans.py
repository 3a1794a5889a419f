"""What the tree planned: a session with its bouts, and a week of an athlete."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from ..computing.fingerprint import fingerprint, resolved
from ..computing.resolve import DayPlans, PlannedSession, sessions
from ..computing.running_order import TooManySegmentsError, running_order
from ..reading.amounts import Number
from ..reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from ..reading.escaping import printable
from ..reading.findings import listed
from ..reading.model import Day
from .log import Session
from .paper import PaperRow

_TIMED = "timed rounds"


@dataclass(frozen=True)
class PlannedBouts:
    """One session of the tree: its bouts by station label, without warm-up and cool-down.

    A bout that the end of timed rounds cuts is none. `timed` are the labels in timed rounds, where more
    rounds than planned count. `seconds` are those of the whole running order; `meant` is how hard it is
    meant to feel, or None.
    """

    version: VersionEntry
    day: Day
    level: str
    week: int
    bouts: dict[str, int]
    exercises: dict[str, str]
    timed: frozenset[str]
    seconds: Number
    meant: float | None

    @property
    def sets(self) -> int:
        """All bouts together."""
        return sum(self.bouts.values())

    @property
    def key(self) -> tuple[str, str, str, str]:
        """Programme, version, day and level."""
        return self.version.programme, self.version.name, self.day.id, self.level


class UnplannedError(Exception):
    """A session that the tree does not know; in words."""


class Plans:
    """Sessions and weeks of the tree, each worked out once."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self._sessions: dict[tuple[str, str, str, str, int], PlannedBouts] = {}
        self._days: dict[tuple[str, str, str], DayPlans] = {}
        self._fingerprints: dict[tuple[str, str], str] = {}
        self._weeks: dict[tuple[str, str, date], int | None] = {}

    def versions(self, programme: str) -> Iterable[str]:
        """The names of a programme's versions."""
        entry = self.catalogue.programmes.get(programme)
        return [version.name for version in entry.versions] if entry else []

    def of(self, session: Session) -> PlannedBouts:
        """What was planned for a session of a log. Raises UnplannedError."""
        programme = self.catalogue.programmes.get(session.programme)
        if programme is None:
            raise UnplannedError(f"programme {_named(session.programme)} is not in the tree")
        version = programme.version(session.version)
        if version is None:
            raise UnplannedError(f"{programme.id} has no version {_named(session.version)} in the tree")
        day = next((one for one in version.model.days if one.id == session.day), None)
        if day is None:
            raise UnplannedError(f"{programme.id} {version.name} has no day {_named(session.day)}")
        level = level_of(session, version)
        if level is None:
            known = listed([one.id for one in version.levels])
            raise UnplannedError(
                f"{programme.id} {version.name} has no level {_named(session.level)}, only {known}"
            )
        if session.week not in version.weeks:
            raise UnplannedError(f"{programme.id} {version.name} has no week {session.week}")
        return self.planned(version, day, level, session.week)

    def planned(self, version: VersionEntry, day: Day, level: str, week: int) -> PlannedBouts:
        """One session of a version. Raises UnplannedError where it is longer than any that can be trained."""
        key = (version.programme, version.name, day.id, level, week)
        if key not in self._sessions:
            self._sessions[key] = self._computed(version, day, level, week)
        return self._sessions[key]

    def _computed(self, version: VersionEntry, day: Day, level: str, week: int) -> PlannedBouts:
        plan = PlannedSession(day.id, level, week, self._day_plans(version, day).blocks(level, week))
        try:
            order = running_order(plan)
        except TooManySegmentsError as error:
            raise UnplannedError(str(error)) from None
        exercises = {station.label: station.exercise for station in plan.day_stations}
        bouts = dict.fromkeys(exercises, 0)
        for station, many in order.bouts:
            if station.section == "day":
                bouts[station.label] += many
        timed = frozenset(
            [station.label for block in plan.blocks if block.kind == _TIMED for station in block.stations]
        )
        meant = day.effort.at(level, week) if day.effort is not None else None
        return PlannedBouts(version, day, level, week, bouts, exercises, timed, order.seconds, meant)

    def _day_plans(self, version: VersionEntry, day: Day) -> DayPlans:
        key = (version.programme, version.name, day.id)
        if key not in self._days:
            self._days[key] = DayPlans(self.catalogue, day)
        return self._days[key]

    def is_another(self, session: Session, version: VersionEntry) -> bool:
        """Whether a session was trained from a sheet with other doses or dates than the tree has now."""
        return bool(session.plan) and session.plan != self.fingerprint(version)

    def fingerprint(self, version: VersionEntry) -> str:
        """Of the plan of a version."""
        key = (version.programme, version.name)
        if key not in self._fingerprints:
            self._fingerprints[key] = fingerprint(resolved(version, sessions(self.catalogue, version)))
        return self._fingerprints[key]

    def of_week(self, programme: str, level: str, monday: date) -> int | None:
        """How many sessions are planned in a week of the calendar, one for each entry of `on:`.

        None where the programme is not in the tree; 0 in a week in which no phase is on, or in which the
        level has no phase.
        """
        key = (programme, level, monday)
        if key not in self._weeks:
            entry = self.catalogue.programmes.get(programme)
            self._weeks[key] = None if entry is None else self._of_week(entry, level, monday)
        return self._weeks[key]

    def _of_week(self, programme: ProgrammeEntry, level: str, monday: date) -> int:
        for version in programme.newest_editions():
            week = week_on(version, monday)
            if week is not None and any(one.id == level for one in version.levels):
                return sum(
                    len(day.on) for day in version.model.days if self._is_trained(version, day, level, week)
                )
        return 0

    def _is_trained(self, version: VersionEntry, day: Day, level: str, week: int) -> bool:
        return any(block.section == "day" for block in self._day_plans(version, day).blocks(level, week))

    def template(self, version: VersionEntry) -> Iterable[PaperRow]:
        """Every session of a version, as often as it is trained in a week."""
        for level in version.levels:
            for week in version.weeks:
                for day in version.model.days:
                    if self._is_trained(version, day, level.id, week):
                        one = self.planned(version, day, level.id, week)
                        row = PaperRow(
                            version.programme, version.name, self.fingerprint(version), day.id, day.title,
                            level.id, week, one.seconds, one.sets,
                        )  # fmt: skip
                        yield from [row] * len(day.on)


def week_on(version: VersionEntry, monday: date) -> int | None:
    """The week of a phase that a week of the calendar is, from 1; None where the phase is not on."""
    week = (monday - version.model.starts).days // 7 + 1
    return week if week in version.weeks else None


def level_of(session: Session, version: VersionEntry) -> str | None:
    """The id of the level: as the address of the session's page has it, else by its name, which may be
    mended."""
    ids = [one.id for one in version.levels]
    parts = session.address.split("/")
    if len(parts) > 3 and parts[:3] == [session.programme, session.version, session.day] and parts[3] in ids:
        return parts[3]
    said = session.level.strip().casefold()
    for one in version.levels:
        if said in (one.id, one.name.casefold()):
            return one.id
    return None


def _named(text: str) -> str:
    return f'"{printable(text[:40])}"'
