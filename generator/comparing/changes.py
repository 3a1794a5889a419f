"""Every difference between two plans of one phase: day, level, week, station, what, from what to what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..computing.fingerprint import counts
from ..computing.resolve import PlannedBlock, PlannedSession, PlannedStation
from ..reading.amounts import spoken, written
from ..reading.catalogue import VersionEntry
from . import matching

NOTHING = "none"
COUNTED = frozenset({"rounds", "minutes", "sets", "reps", "reps each side"})
"""What is said after its number: `3 → 4 rounds`; the rest is said before it: `tempo 3-0-1-0 → 3-1-1-0`."""
STATION, BLOCK, GONE, COME = "exercise", "kind of block", "left out", "put in"


class Change(NamedTuple):
    """One difference in one session, or in the whole version (no day), or in a day (no level, week 0).

    `place` is the station's or block's label now (before, where it is gone), `exercise` what is trained
    there, nothing for a whole block.
    """

    day: str
    level: str
    week: int
    place: str
    exercise: str
    what: str
    before: str
    after: str


Sessions = Sequence[PlannedSession]


def changes(before: VersionEntry, old: Sessions, now: VersionEntry, new: Sessions) -> list[Change]:
    """All differences in the order of the version now; none where the plans are equal."""
    pairs = matching.days(old, new)
    found = [*_of_version(before, now), *_of_days(before, now, pairs)]
    were, are = matching.by_day(old), matching.by_day(new)
    labels: list[Change] = []
    for was, day in pairs:
        if was is not None and day is not None:
            for change in _of_day(were[was], are[day]):
                (labels if change.what == "label" else found).append(change)
    # A label that moved because of something else needs no words of its own.
    return found or labels


def _of_version(before: VersionEntry, now: VersionEntry) -> Iterator[Change]:
    old, new = before.model, now.model
    for what, was, is_ in (
        ("starts", old.starts.isoformat(), new.starts.isoformat()),
        ("weeks", str(old.weeks), str(new.weeks)),
    ):
        if was != is_:
            yield Change("", "", 0, "", "", what, was, is_)
    was_trained, is_trained = ([level.id for level in one.levels] for one in (before, now))
    for level in is_trained:
        if level not in was_trained:
            yield Change("", level, 0, "", "", "level", NOTHING, level)
    for level in was_trained:
        if level not in is_trained:
            yield Change("", level, 0, "", "", "level", level, NOTHING)


def _of_days(before: VersionEntry, now: VersionEntry, pairs: Sequence[matching.Pair]) -> Iterator[Change]:
    old = {day.id: _weekdays(day.on) for day in before.model.days}
    new = {day.id: _weekdays(day.on) for day in now.model.days}
    for was, day in pairs:
        if was is None or day is None:
            yield Change(day or was or "", "", 0, "", "", "day", was or NOTHING, day or NOTHING)
            continue
        if was != day:
            yield Change(day, "", 0, "", "", "day", was, day)
        if old[was] != new[day]:
            yield Change(day, "", 0, "", "", "on", old[was], new[day])


def _weekdays(choices: Sequence[Sequence[str]]) -> str:
    return ", ".join(" or ".join(choice) for choice in choices)


def _of_day(old: Sessions, new: Sessions) -> Iterator[Change]:
    """Differences of the sessions that both have: the same level and week of one day."""
    earlier = {(session.level, session.week): session for session in old}
    both = [(earlier[s.level, s.week], s) for s in new if (s.level, s.week) in earlier]
    if all(before.blocks == now.blocks for before, now in both):
        return
    pairs = matching.stations(old, new)
    for before, now in both:
        if before.blocks != now.blocks:
            for place, exercise, what, was, is_ in _of_session(before, now, pairs):
                yield Change(now.day, now.level, now.week, place, exercise, what, was, is_)


_Told = tuple[str, str, str, str, str]


def _of_session(
    before: PlannedSession, now: PlannedSession, pairs: Sequence[matching.Pair]
) -> Iterator[_Told]:
    old, new = _by_label(before), _by_label(now)
    yield from _of_blocks(old, new, pairs)
    for was, label in pairs:
        one, other = old.get(was or ""), new.get(label or "")
        if one and other:
            yield from _of_station(one[1], other[1])
        elif other:
            yield other[1].label, other[1].exercise, COME, NOTHING, in_full(other[1])
        elif one:
            yield one[1].label, one[1].exercise, GONE, in_full(one[1]), NOTHING


def _by_label(session: PlannedSession) -> dict[str, tuple[PlannedBlock, PlannedStation]]:
    return {station.label: (block, station) for block in session.blocks for station in block.stations}


def _of_blocks(
    old: dict[str, tuple[PlannedBlock, PlannedStation]],
    new: dict[str, tuple[PlannedBlock, PlannedStation]],
    pairs: Sequence[matching.Pair],
) -> Iterator[_Told]:
    """Each block now with the one from which most of its stations come."""
    come = Counter(
        (id(old[was][0]), id(new[label][0])) for was, label in pairs if was in old and label in new
    )
    blocks = {id(block): block for each in (old, new) for block, _ in each.values()}
    told: set[int] = set()
    for (was, is_), _ in come.most_common():
        if is_ not in told:
            told.add(is_)
            yield from _of_block(blocks[was], blocks[is_])


def _of_block(old: PlannedBlock, new: PlannedBlock) -> Iterator[_Told]:
    if old == new:
        return
    alone = new.stations[0].exercise if len(new.stations) == 1 else ""
    for what, was, is_ in _differences(_block_words(old), _block_words(new)):
        yield new.label, alone, what, was, is_


TO_THE_TOP = "seconds of a rep before the pause high"
_OF_A_TEMPO = ("seconds a rep", TO_THE_TOP)
_TIMES = {"circuit": "rounds", "every minute": "minutes", "timed rounds": "lasts", "straight sets": ""}


def _block_words(block: PlannedBlock) -> dict[str, str]:
    words = {
        "label": block.label,
        BLOCK: block.kind,
        "rest between rounds": spoken(block.rest),
        "time to change stations": spoken(block.changeover),
        "rest after the block": spoken(block.rest_after),
    }
    times = _TIMES[block.kind]
    if times:
        words[times] = spoken(block.times) if times == "lasts" else str(block.times)
    return words


def _of_station(old: PlannedStation, new: PlannedStation) -> Iterator[_Told]:
    if old == new:
        return
    if old.exercise != new.exercise:
        yield new.label, new.exercise, STATION, in_full(old), in_full(new)
    same = old.exercise == new.exercise
    unit, other = unit_of(old), unit_of(new)
    dose = unit if unit == other else "dose"
    was, is_ = ({dose: dosed(one) if dose == "dose" else amount(one)} for one in (old, new))
    was.update(_station_words(old))
    is_.update(_station_words(new))
    for what, before, now in _differences(was, is_):
        # The time of a rep follows from its tempo, and what another exercise is like, from the exercise.
        follows = what in _OF_A_TEMPO and was["tempo"] != is_["tempo"]
        follows = follows or (what == TO_THE_TOP and was["seconds a rep"] != is_["seconds a rep"])
        if not follows and (same or what in ("load", "sets", "rest between sets", "tempo", "label")):
            yield new.label, new.exercise, what, before, now


def _station_words(station: PlannedStation) -> dict[str, str]:
    return {
        "label": station.label,
        "sides": {"both": "both at once", "each": "one, then the other"}.get(station.sides, station.sides),
        "sets": str(station.sets),
        "takes": spoken(station.amount) if station.measure == "distance" else NOTHING,
        "tempo": "-".join(counts(station.tempo)) if station.tempo else NOTHING,
        "seconds a rep": NOTHING if station.rep is None else written(station.rep),
        TO_THE_TOP: NOTHING
        if station.rep_before_pause_high is None
        else f"{written(station.rep_before_pause_high)} s",
        "load": f"{written(station.load)} kg" if station.load else NOTHING,
        "rest between sets": spoken(station.rest) if station.rest else NOTHING,
        "setting": station.setting or NOTHING,
        "landings a rep": str(station.contacts),
        "landing": station.landing,
    }


def _differences(old: dict[str, str], new: dict[str, str]) -> Iterator[tuple[str, str, str]]:
    for what in {**new, **old}:
        was, is_ = old.get(what, NOTHING), new.get(what, NOTHING)
        if was != is_:
            yield what, was, is_


def unit_of(station: PlannedStation) -> str:
    """What the amount of a station counts."""
    if station.measure == "reps":
        return "reps each side" if station.one_sided else "reps"
    if station.measure == "distance":
        return "distance"
    word = "hold" if station.measure == "hold" else "work"
    return f"{word} each side" if station.sides == "each" else word


def amount(station: PlannedStation) -> str:
    """The amount of one bout, without what it counts."""
    if station.measure == "reps":
        return str(station.amount)
    return f"{written(station.metres)} m" if station.measure == "distance" else spoken(station.amount)


def in_full(station: PlannedStation) -> str:
    """The exercise's id and its dose: `split-squat, 8 reps each side`."""
    return f"{station.exercise}, {dosed(station)}"


def dosed(station: PlannedStation) -> str:
    """The amount with what it counts: `8 reps each side`, `hold 20 s`."""
    return with_unit(amount(station), unit_of(station))


def with_unit(value: str, what: str) -> str:
    """`3 rounds`, `tempo 3-0-1-0`, `hold 20 s each side`."""
    if what in COUNTED:
        return f"{value} {what}"
    name = what.removesuffix(" each side")
    return f"{name} {value}{what[len(name) :]}"
