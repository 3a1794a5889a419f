"""One session of a log held against what was planned for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date

from .log import Bout, Session
from .plans import PlannedBouts

UNKNOWN_WAY = "an easier way, from paper"


@dataclass(frozen=True, slots=True)
class StationDone:
    """What became of one station in one session: bouts planned, done, of those easier by way, and skipped."""

    planned: int
    done: int
    skipped: int
    ways: Counter[str] = field(default_factory=Counter)

    @property
    def easier(self) -> int:
        """Bouts done an easier way."""
        return self.ways.total()


@dataclass(frozen=True, slots=True)
class HeldSession:
    """A session of an athlete and its plan. `date` is local; `stations` is None where paper gives a number alone."""

    athlete: str
    session: Session
    date: date
    plan: PlannedBouts
    sets: int
    is_done: bool
    stations: dict[str, StationDone] | None
    from_older_sheet: bool = False

    @property
    def above_meant(self) -> float | None:
        """How much harder it felt than it was meant to; None where one of both is not known."""
        if self.session.effort is None or self.plan.meant is None:
            return None
        return self.session.effort - self.plan.meant


def held(athlete: str, session: Session, plan: PlannedBouts, from_older_sheet: bool = False) -> HeldSession:
    """Hold a session against its plan.

    Finished stations × rounds of the log against bouts of the running order, by label and round, of the day's own
    blocks: warm-up and cool-down count for minutes alone. Done is with at least half of the planned sets.
    """
    paper = session.paper
    counted = None if paper and paper.sets is not None else _stations(session, plan)
    if counted is None:
        assert paper
        assert paper.sets is not None
        sets = finished = paper.sets
        if sets >= plan.sets and not paper.left_out:
            counted = _stations(session, plan)
    else:
        sets = sum([one.done for one in counted.values()])
        finished = sum([one.planned - one.skipped for one in counted.values()])
    is_done = 2 * finished >= plan.sets
    return HeldSession(athlete, session, session.date(), plan, sets, is_done, counted, from_older_sheet)


def _stations(session: Session, plan: PlannedBouts) -> dict[str, StationDone]:
    bouts = session.bouts if session.paper is None else _from_paper(session, plan)
    rounds: dict[str, dict[int, str]] = {label: {} for label in plan.bouts}
    for bout in bouts:
        own = rounds.get(bout.label)
        # A round more than was planned counts in timed rounds alone.
        if own is not None and (1 <= bout.round <= plan.bouts[bout.label] or _is_more(bout, plan)):
            own[bout.round] = bout.way
    return {label: _done(plan.bouts[label], own) for label, own in rounds.items()}


def _is_more(bout: Bout, plan: PlannedBouts) -> bool:
    return bout.label in plan.timed and bout.round > plan.bouts[bout.label]


def _done(planned: int, rounds: dict[int, str]) -> StationDone:
    in_plan = sum([number <= planned for number in rounds])
    ways = Counter([way for way in rounds.values() if way])
    return StationDone(planned, len(rounds), planned - in_plan, ways)


def _from_paper(session: Session, plan: PlannedBouts) -> Iterator[Bout]:
    """The bouts of a session from paper: all of those that are not left out."""
    assert session.paper
    for label, many in plan.bouts.items():
        if label not in session.paper.left_out:
            way = UNKNOWN_WAY if label in session.paper.easier else ""
            for number in range(1, many + 1):
                yield Bout(label, plan.exercises[label], "", number, "", None, way)


def mean(numbers: Iterable[float | None]) -> float | None:
    """The mean of those that are known; None where none is."""
    known = [one for one in numbers if one is not None]
    return sum(known) / len(known) if known else None
