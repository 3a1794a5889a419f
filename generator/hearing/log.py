"""Sessions of a log as frozen values, and how two copies of one become one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from operator import itemgetter
from typing import Any, NamedTuple, TypeVar

from . import form

_EPOCH = datetime(1970, 1, 1)
T = TypeVar("T")


class Bout(NamedTuple):
    """A finished set of a station, as the log has it; `way` is the easier way, or empty."""

    label: str
    exercise: str
    name: str
    round: int
    dose: str
    reps: float | None
    way: str


class Stop(NamedTuple):
    """A stop that the coach has to hear of: `why` is `hurts` or `too hard`; `time` is in ms, or not known."""

    station: str
    where: str
    why: str
    note: str
    time: float | None


class Paper(NamedTuple):
    """What a row of the paper template says of the sets: how many, or all; labels left out or made easier."""

    sets: int | None
    left_out: frozenset[str]
    easier: frozenset[str]


@dataclass(frozen=True, slots=True)
class Session:
    """One session of a log. `started` and `ended` are ms from 1970, `seconds` may be unknown from paper alone."""

    id: str
    address: str
    programme: str
    version: str
    plan: str
    day: str
    level: str
    week: int
    started: float
    ended: float | None
    seconds: float | None
    effort: int | None
    note: str
    utc: int | None
    bouts: tuple[Bout, ...]
    stops: tuple[Stop, ...]
    paper: Paper | None = None

    @property
    def load(self) -> float | None:
        """Effort × minutes (Foster et al. 2001); None where one of them is not known, never 0 for that."""
        if self.effort is None or self.seconds is None:
            return None
        return self.effort * self.seconds / 60

    def local(self) -> datetime:
        """When it started, by the clock of the athlete; older records take the zone of this machine.

        Raises ValueError, OverflowError or OSError for what no calendar has.
        """
        return local_time(self.started, self.utc)

    def date(self) -> date:
        """The local date on which it started."""
        return self.local().date()


def local_time(milliseconds: float, utc: int | None) -> datetime:
    """A moment by a clock that is so many minutes from UTC, or by that of this machine."""
    if utc is None:
        return datetime.fromtimestamp(milliseconds / 1000)
    return _EPOCH + timedelta(milliseconds=milliseconds, minutes=utc)


_OF_STATION = itemgetter(*form.STATION)
_PLAIN = {int, float, type(None)}


class Reader:
    """Makes sessions of records. Sets that say the same are one object, as a season has very many of few."""

    def __init__(self) -> None:
        self._known: dict[tuple[object, ...], Bout] = {}
        self._texts: dict[str, str] = {}

    def read(self, record: Any) -> Session | str:
        """The session of a record, or what is wrong with it."""
        bouts = self._bouts(record)
        wrong = form.fault(record if bouts is None else {**record, "stations": []})
        if wrong:
            return wrong
        if len(record["stations"]) > form.MOST_STATIONS:
            most = f"allowed are {form.MOST_STATIONS}"
            return f"it has {len(record['stations'])} finished sets, {most}"
        assert bouts is not None
        whole = {**form.ADDED, **record}
        return Session(
            *[self._text(record[key]) for key in ("id", "address", "programme", "version", "plan", "day", "level")],
            int(record["week"]),
            record["started"],
            record["ended"],
            record["seconds"],
            None if record["effort"] is None else int(record["effort"]),
            record["note"],
            None if whole["utc"] is None else int(whole["utc"]),
            bouts,
            tuple([_stop(report) for report in whole["reports"]]),
        )

    def _text(self, text: str) -> str:
        return self._texts.setdefault(text, text)

    def _bouts(self, record: Any) -> tuple[Bout, ...] | None:
        """The finished sets, or None where one of them does not fit."""
        stations = record.get("stations") if isinstance(record, dict) else None
        if not isinstance(stations, list) or len(stations) > form.MOST_STATIONS:
            return () if isinstance(stations, list) else None
        try:
            return tuple([self._bout(station) for station in stations])
        except (_MisfitError, KeyError, TypeError):
            return None

    def _bout(self, station: Any) -> Bout:
        key = _OF_STATION(station)
        # Python takes True for 1: what is no plain number is never looked for among what is known.
        plain = type(key[3]) is int and type(key[5]) in _PLAIN
        known = self._known.get(key) if plain else None
        if known is None:
            if not isinstance(station, dict) or form.keys_fault(station, form.STATION):
                raise _MisfitError
            known = self._known[key] = Bout(*key[:3], int(key[3]), *key[4:])
        return known


class _MisfitError(Exception):
    """A station that does not have the form."""


def _stop(report: Mapping[str, Any]) -> Stop:
    values = {**form.UNSAID, **report}
    return Stop(*[values[key] for key in form.REPORT])


def merged(one: Session, other: Session) -> Session:
    """What two copies of a session know together, as a device does it.

    The copy that knows more says what only one can be right about; no finished set and no stop of either is lost.
    Of two that know equally much the second, which is of the later file, is believed.
    """
    ours, theirs = (one, other) if _knows(one) > _knows(other) else (other, one)
    return replace(
        ours,
        ended=theirs.ended if ours.ended is None else ours.ended,
        effort=theirs.effort if ours.effort is None else ours.effort,
        note=ours.note or theirs.note,
        utc=theirs.utc if ours.utc is None else ours.utc,
        seconds=max((s for s in (ours.seconds, theirs.seconds) if s is not None), default=None),
        bouts=_together(ours.bouts, theirs.bouts),
        stops=_together(ours.stops, theirs.stops),
    )


def _knows(session: Session) -> tuple[object, ...]:
    known = (session.ended is not None, session.effort is not None, bool(session.note))
    return (len(session.bouts), sum(known), session.seconds or 0, len(session.stops))


def _together(ours: Iterable[T], theirs: Iterable[T]) -> tuple[T, ...]:
    """Ours, and what theirs has more often: one that was done twice is there twice."""
    found = list(ours)
    times = Counter(found)
    seen: Counter[T] = Counter()
    for one in theirs:
        seen[one] += 1
        if seen[one] > times[one]:
            times[one] += 1
            found.append(one)
    return tuple(found)
