"""How much work one version is against another: minutes, sets, tension, landings and load-volume.

Versions differ in their weeks, so means are compared: a session's mean over the weeks in which it is trained,
and a week's, in which a day that is trained twice counts twice. All times are estimates.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from ..computing.facts import ComputedSession
from ..computing.totals import Totals
from ..reading.amounts import Number
from ..reading.catalogue import VersionEntry
from .matching import Pair

MEASURED: dict[str, Callable[[Totals], Number]] = {
    "seconds": lambda f: f.seconds,
    "sets": lambda f: f.work.sets,
    "tension_seconds": lambda f: f.work.tension,
    "contacts": lambda f: f.contacts,
    "load_volume_kg": lambda f: f.load_volume,
}
"""What is compared, by the names of the report; contacts are landings, of the warm-up too."""
Means = dict[str, Fraction]


class Difference(NamedTuple):
    """One figure before and now; None where there is nothing to compare."""

    before: Fraction | None
    now: Fraction | None

    @property
    def more(self) -> Fraction:
        """Now less before; less is negative."""
        return (self.now or Fraction(0)) - (self.before or Fraction(0))

    @property
    def percent(self) -> Fraction | None:
        """The difference in per cent of before; None where that was nothing."""
        return self.more / self.before * 100 if self.before and self.now is not None else None


class Row(NamedTuple):
    """Totals of one level in a mean session of a day; of a mean week where `day` is nothing.

    `was` is the day's id in the version before, where it had one. A level that does not train has none.
    """

    day: str
    was: str
    level: str
    totals: dict[str, Difference]


def rows(
    before: VersionEntry | None,
    old: Sequence[ComputedSession],
    now: VersionEntry | None,
    new: Sequence[ComputedSession],
    pairs: Sequence[Pair],
) -> Iterator[Row]:
    """The mean week of every level, then every day with its levels. Either side may be missing."""
    was_trained, trained = ([level.id for level in one.levels] if one else [] for one in (before, now))
    levels = list(dict.fromkeys([*trained, *was_trained]))
    for level in levels:
        yield Row("", "", level, _differences(_week(before, old, level), _week(now, new, level)))
    for was, day in pairs:
        for level in levels:
            totals = _differences(_session(old, was, level), _session(new, day, level))
            if totals:
                yield Row(day or was or "", was or "", level, totals)


def _differences(before: Means | None, now: Means | None) -> dict[str, Difference]:
    if before is None and now is None:
        return {}
    return {name: Difference((before or {}).get(name), (now or {}).get(name)) for name in MEASURED}


def _session(facts: Iterable[ComputedSession], day: str | None, level: str) -> Means | None:
    own = [one for one in facts if one.plan.day == day and one.plan.level == level and one.plan.is_trained]
    return _sums((one.totals for one in own), Fraction(1, len(own))) if own else None


def _week(version: VersionEntry | None, facts: Sequence[ComputedSession], level: str) -> Means | None:
    if version is None:
        return None
    times = {day.id: len(day.on) for day in version.model.days}
    own = [one for one in facts if one.plan.level == level and one.plan.is_trained]
    every = (one.totals for one in own for _ in range(times[one.plan.day]))
    return _sums(every, Fraction(1, version.model.weeks)) if own else None


def _sums(totals: Iterable[Totals], share: Fraction) -> Means:
    every = list(totals)
    return {name: Fraction(sum(map(of, every))) * share for name, of in MEASURED.items()}
