"""How much work a session is: figures from a running order. Pure.

Warm-up and cool-down count for landings, time and density only.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from ..reading.amounts import Number
from .resolve import PlannedStation
from .running_order import RunningOrder

LANDINGS = ("low", "medium", "high")


@dataclass(slots=True)
class Work:
    """Sets, reps (both sides) and seconds under tension."""

    sets: int = 0
    reps: int = 0
    tension: Number = 0

    def add(self, sets: int, reps: int, tension: Number) -> None:
        """Count more work in."""
        self.sets += sets
        self.reps += reps
        self.tension += tension


@dataclass(slots=True)
class Totals:
    """Figures of one session. Times in seconds, `load_volume` in kg (external load × reps)."""

    seconds: Number
    work_seconds: Number
    work: Work = field(default_factory=Work)
    contacts: int = 0
    contacts_by_landing: dict[str, int] = field(default_factory=lambda: dict.fromkeys(LANDINGS, 0))
    load_volume: Number = 0
    patterns: dict[str, Work] = field(default_factory=dict)
    exercises: dict[str, Work] = field(default_factory=dict)

    @property
    def density(self) -> float:
        """Work seconds / session seconds; 0 for a session without segments."""
        return float(self.work_seconds) / float(self.seconds) if self.seconds else 0.0


def totals(order: RunningOrder) -> Totals:
    """The volume of a session: its bouts that ended in time, counted by the rules of each measure."""
    result = Totals(order.seconds, order.work_seconds)
    patterns: dict[str, str] = {}
    for station, sets in order.bouts:
        if station.contacts:
            landings = sets * bout_contacts(station)
            result.contacts += landings
            if station.landing in LANDINGS:
                result.contacts_by_landing[station.landing] += landings
        if station.section != "day":
            continue
        own = result.exercises.get(station.exercise)
        if own is None:
            own = result.exercises[station.exercise] = Work()
            patterns[station.exercise] = station.pattern
        reps = station.total_reps
        own.add(sets, sets * reps, sets * bout_tension(station))
        if station.load:
            result.load_volume += station.load * sets * reps
    for exercise, own in result.exercises.items():
        for work in (result.work, result.patterns.setdefault(patterns[exercise], Work())):
            work.add(own.sets, own.reps, own.tension)
    return result


def bout_tension(station: PlannedStation) -> Number:
    """Seconds under tension in one bout: all four counts of all reps; other doses in full, both sides."""
    if station.measure == "reps":
        assert station.rep is not None
        return station.total_reps * station.rep
    both = station.sides == "each" and station.measure != "distance"
    return station.amount * (2 if both else 1)


def bout_contacts(station: PlannedStation) -> int:
    """Landings in one bout; a time dose counts the whole reps that fit, on each side it is done on."""
    if not station.contacts:
        return 0
    reps = station.total_reps
    if station.measure == "time" and station.rep:
        reps = int(station.amount // station.rep) * (2 if station.sides == "each" else 1)
    return reps * station.contacts
