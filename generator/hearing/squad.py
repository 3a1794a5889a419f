"""Athletes: the sessions of their files, each once, and what a week or all weeks of them come to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from .held import HeldSession, mean
from .log import Session
from .plans import Plans
from .weeks import DAYS, Week, load_of, minutes_of, monday_of, week_of

SILENT = timedelta(days=14)
"""After so long without a session the squad's table says that nothing was sent."""


@dataclass(frozen=True, slots=True)
class StopOf:
    """A stop that the coach has to hear of, whatever else is known of its session."""

    athlete: str
    date: date
    programme: str
    version: str
    day: str
    station: str
    where: str
    why: str
    note: str
    moment: float


@dataclass(frozen=True, slots=True)
class Athlete:
    """One athlete. `sessions` are in time; `weeks` go from the first session's to the last session's."""

    name: str
    sessions: tuple[HeldSession, ...]
    weeks: tuple[Week, ...]
    last: date | None
    """The date of the last session that was sent, whatever period is looked at."""

    @property
    def done(self) -> int:
        """Sessions with at least half of the planned sets finished."""
        return sum(one.is_done for one in self.sessions)

    @property
    def begun(self) -> int:
        """The other sessions."""
        return len(self.sessions) - self.done

    @property
    def planned(self) -> int | None:
        """Sessions planned in these weeks, so far as that is known."""
        known = [week.planned for week in self.weeks if week.planned is not None]
        return sum(known) if known else None

    @property
    def minutes(self) -> float:
        """Minutes of all sessions."""
        return minutes_of(self.sessions)

    @property
    def load(self) -> float | None:
        """The loads that are known, added up."""
        return load_of([one.session.load for one in self.sessions])

    @property
    def effort(self) -> float | None:
        """The mean of the efforts that are known."""
        return mean(one.session.effort for one in self.sessions)

    def is_silent(self, today: date) -> bool:
        """Whether nothing was sent of the last two weeks; that is not to have done nothing."""
        return self.last is None or today - self.last > SILENT


def athlete(name: str, every: Sequence[HeldSession], chosen: Sequence[HeldSession], plans: Plans) -> Athlete:
    """An athlete with the `chosen` ones of `every` session that is known."""
    return Athlete(
        name, tuple(chosen), tuple(_weeks(every, chosen, plans)), max((one.date for one in every), default=None)
    )


def _weeks(every: Sequence[HeldSession], chosen: Sequence[HeldSession], plans: Plans) -> Iterator[Week]:
    if not chosen:
        return
    by_monday = {
        monday: list(own) for monday, own in groupby(chosen, key=lambda one: monday_of(one.date))
    }
    monday, last = min(by_monday), max(by_monday)
    at = 0
    while monday <= last:
        ends = monday + timedelta(days=DAYS - 1)
        while at < len(every) and every[at].date <= ends:
            at += 1
        newest = every[at - 1].plan
        planned = plans.of_week(newest.version.programme, newest.level, monday)
        yield week_of(monday, by_monday.get(monday, []), planned)
        monday += timedelta(days=DAYS)


def stops_of(athlete: str, session: Session, day: date) -> Iterable[StopOf]:
    """The stops of a session, with what they belong to."""
    for stop in session.stops:
        moment = session.started if stop.time is None else stop.time
        yield StopOf(
            athlete, day, session.programme, session.version, session.day, stop.station, stop.where, stop.why,
            stop.note, moment,
        )  # fmt: skip
