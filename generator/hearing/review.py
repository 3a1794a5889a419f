"""A review: files of logs, held against the tree. Pure but for the time zone of this machine."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from operator import attrgetter

from .files import Fault, LogFile
from .held import HeldSession, held
from .log import Session, local_time, merged
from .plans import Plans, UnplannedError
from .questions import Question, questions
from .squad import Athlete, StopOf, athlete, stops_of
from .stations import DaySum, StationSum, day_sums, station_sums

FIRST = date(2020, 1, 1)
"""No log is older: a date before that is of a clock that was wrong."""
LONGEST = 24 * 3600
"""Seconds: a session of more than a day is of a clock that was wrong."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What is looked at: one programme or all, sessions from one local date to another, with names or without."""

    programme: str | None = None
    since: date | None = None
    until: date | None = None
    anonymous: bool = False

    def has(self, one: HeldSession) -> bool:
        """Whether a session is looked at."""
        return self.is_of(one.session.programme, one.date)

    def is_of(self, programme: str, day: date) -> bool:
        """Whether what belongs to a programme and a date is looked at."""
        return (
            self.programme in (None, programme)
            and (self.since is None or day >= self.since)
            and (self.until is None or day <= self.until)
        )


@dataclass(frozen=True, slots=True)
class FileSum:
    """One file: how many sessions it has, how many were new, and what was wrong."""

    name: str
    athlete: str
    sessions: int
    new: int
    faults: tuple[Fault, ...]
    more: int


@dataclass(frozen=True, slots=True)
class Review:
    """What comes out. `used` is how many sessions could be held against the tree, whatever was chosen of them."""

    today: date
    choice: Choice
    files: tuple[FileSum, ...]
    stops: tuple[StopOf, ...]
    athletes: tuple[Athlete, ...]
    stations: tuple[StationSum, ...]
    days: tuple[DaySum, ...]
    questions: tuple[Question, ...]
    used: int


class _Found:
    """A session with where it stood first."""

    __slots__ = ("counts", "file", "record", "session")

    def __init__(self, file: LogFile, record: int, session: Session) -> None:
        self.file, self.record, self.session = file, record, session
        self.counts = True

    def tell(self, message: str) -> None:
        """A fault of it."""
        self.file.tell(self.record, message)


def review(plans: Plans, files: Sequence[LogFile], choice: Choice, now: float) -> Review:
    """The review of these files at the moment `now`, in milliseconds from 1970. Their faults are added to."""
    names = _names(files, choice)
    found, new = _each_once(files)
    sessions: dict[str, list[HeldSession]] = {name: [] for name in names.values()}
    stops: list[StopOf] = []
    for one in found:
        day = _day_of(one, now)
        name = names[one.file.athlete]
        if day is not None and choice.is_of(one.session.programme, day):
            stops += stops_of(name, one.session, day)
        session = _held(one, name, day, plans)
        if session:
            sessions[name].append(session)
    for own in sessions.values():
        own.sort(key=lambda one: (one.date, one.session.started, one.session.id))
    if choice.programme is not None:
        sessions = {
            name: [one for one in own if one.session.programme == choice.programme]
            for name, own in sessions.items()
        }
    chosen = {name: [one for one in own if choice.has(one)] for name, own in sessions.items()}
    every = [one for own in chosen.values() for one in own]
    sums = station_sums(every)
    stops = sorted(stops, key=attrgetter("moment", "athlete"), reverse=True)
    if choice.anonymous:
        stops = [replace(stop, note="") for stop in stops]
    return Review(
        today=local_time(now, None).date(),
        choice=choice,
        files=tuple(_file_sum(file, names, new[id(file)], choice) for file in files),
        stops=tuple(stops),
        athletes=tuple(athlete(name, sessions[name], own, plans) for name, own in chosen.items()),
        stations=tuple(sums),
        days=tuple(day_sums(every)),
        questions=tuple(questions(sums, every, stops, plans.catalogue)),
        used=sum(map(len, sessions.values())),
    )


def _names(files: Iterable[LogFile], choice: Choice) -> dict[str, str]:
    """What every athlete is called, in the order of the names."""
    known = sorted({file.athlete for file in files}, key=lambda name: (name.casefold(), name))
    if not choice.anonymous:
        return {name: name for name in known}
    return {name: f"A{number}" for number, name in enumerate(known, 1)}


def _each_once(files: Iterable[LogFile]) -> tuple[list[_Found], Counter[int]]:
    """Every session once by its id, and how many of each file were new."""
    found: dict[str, _Found] = {}
    new: Counter[int] = Counter()
    for file in files:
        others: Counter[str] = Counter()
        for record, session in file.sessions:
            before = found.get(session.id)
            if before is None:
                found[session.id] = _Found(file, record, session)
                new[id(file)] += 1
            elif before.session is not session:
                before.session = merged(before.session, session)
                others[before.file.athlete] += before.file.athlete != file.athlete
        if others.total():
            file.tell(None, f"{others.total()} of its sessions are in the file of another athlete, and count there")
    return list(found.values()), new


def _day_of(one: _Found, now: float) -> date | None:
    """The local date, or None where no calendar has it. One that cannot be is told."""
    utc = one.session.utc
    try:
        day = one.session.date()
        today = local_time(now, utc).date()
    except (ValueError, OverflowError, OSError):
        one.tell("its date is one that no calendar has: the clock of the device was wrong. It is not counted")
        return None
    if day < FIRST or day > today:
        to_come = ", which is to come" if day > today else ""
        one.tell(f"its date is {day}{to_come}: the clock of the device was wrong. It is not counted")
        one.counts = False
    return day


def _held(one: _Found, name: str, day: date | None, plans: Plans) -> HeldSession | None:
    """The session held against its plan, or None where it cannot be; that is told."""
    session = one.session
    if day is None or not one.counts:
        return None
    if session.seconds is not None and session.seconds > LONGEST:
        one.tell("it lasted more than a day: the clock of the device was wrong. It is not counted")
        return None
    try:
        plan = plans.of(session)
    except UnplannedError as error:
        one.tell(f"{error}. It is not counted")
        return None
    another = plans.is_another(session, plan.version)
    if another:
        one.tell(
            f"trained from an older sheet: its plan is not that of {plan.version.programme} {plan.version.name}"
            " in the tree. It counts"
        )
    return held(name, session, plan, another)


def _file_sum(file: LogFile, names: dict[str, str], new: int, choice: Choice) -> FileSum:
    name = names[file.athlete]
    shown = name if choice.anonymous else file.name
    return FileSum(shown, name, len(file.sessions), new, tuple(file.faults), file.more)
