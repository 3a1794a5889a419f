"""A planned session as a list of timed segments: the one place where seconds are made.

Every minute, sheet, timer and total comes from this list. Pure.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import chain, count, islice, repeat
from typing import Literal, NamedTuple

from generator.amounts import Number
from generator.resolve import PlannedBlock, PlannedSession, PlannedStation

SegmentKind = Literal["work", "side change", "changeover", "rest", "wait"]
SIDE_CHANGE = 5
"""Seconds from one side to the other within a station."""
MINUTE = 60
MOST_SEGMENTS = 5000
"""Bound on one session, far above any that can be trained."""


class TooManySegmentsError(ValueError):
    """A session of more than MOST_SEGMENTS segments; `day` is the id of its day."""

    def __init__(self, session: PlannedSession) -> None:
        who = f"for {session.level} in week {session.week}"
        super().__init__(f"{session.day}: more than {MOST_SEGMENTS:,} segments in one session, {who}")
        self.day = session.day


class Segment(NamedTuple):
    """One stretch of the session, in seconds from its start.

    `station`, `exercise` and `round` are those of the bout (set numbers count as rounds) and None where the
    segment lies between two; `reps` are those done within this segment, both sides for alternating.
    """

    start: Number
    length: Number
    kind: SegmentKind
    block: str
    station: str | None
    exercise: str | None
    round: int | None
    side: str | None
    reps: int | None


class Bout(NamedTuple):
    """One bout of a station, in seconds from the start of the session; also one that a time cap cuts.

    `work` are its seconds of work, less than `ends` - `starts` where a side change lies between.
    """

    station: PlannedStation
    starts: Number
    ends: Number
    work: Number


class _Piece(NamedTuple):
    """A segment without its start; `ends_bout` marks the last piece of a bout's work."""

    length: Number
    kind: SegmentKind
    station: PlannedStation | None = None
    round: int | None = None
    side: str | None = None
    reps: int | None = None
    ends_bout: bool = False


Bouts = tuple[tuple[PlannedStation, int], ...]
"""Stations, each with how many bouts of its work end in time."""


@dataclass(frozen=True)
class _Stretch:
    """A block, or the rest after one: its pieces, none of length 0, and what they come to."""

    block: str
    pieces: tuple[_Piece, ...]
    bouts: Bouts
    seconds: Number
    work_seconds: Number

    @cached_property
    def timed_bouts(self) -> tuple[Bout, ...]:
        """The bouts of the block, in seconds from its start."""
        return tuple(_timed_bouts(self.pieces))


@dataclass(frozen=True)
class RunningOrder:
    """The timetable of a session. `work_seconds` are those of warm-up and cool-down too."""

    stretches: tuple[_Stretch, ...]
    bouts: Bouts
    seconds: Number
    work_seconds: Number

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """The session from 0. Made when asked for: many figures need no more than the sums."""
        return tuple(_segments(self.stretches))

    @property
    def block_numbers(self) -> tuple[int, ...]:
        """For every segment the number of its block, from 0; a rest after a block belongs to it."""
        # Two blocks of a routine have one label, so the label does not tell them apart.
        numbered = enumerate(self.stretches)
        return tuple(chain.from_iterable(repeat(n // 2, len(stretch.pieces)) for n, stretch in numbered))

    def timed_bouts(self) -> Iterator[Bout]:
        """Every bout that is begun, in order; made from the blocks, without the segments."""
        now: Number = 0
        for stretch in self.stretches:
            for bout in stretch.timed_bouts:
                yield Bout(bout.station, now + bout.starts, now + bout.ends, bout.work)
            now += stretch.seconds

    def lasts(self, blocks: int) -> Number:
        """Seconds of the first so many blocks, with the rests between them and without the rest after."""
        return sum(stretch.seconds for stretch in self.stretches[: max(2 * blocks - 1, 0)])


def running_order(session: PlannedSession) -> RunningOrder:
    """The running order of a session. Raises TooManySegmentsError."""
    stretches: list[_Stretch] = []
    for index, block in enumerate(session.blocks):
        if index:
            stretches.append(_rest_after(session.blocks[index - 1]))
        stretches.append(_alone(block))
    if sum(len(stretch.pieces) for stretch in stretches) > MOST_SEGMENTS:
        raise TooManySegmentsError(session)
    bouts = tuple(chain.from_iterable(stretch.bouts for stretch in stretches))
    seconds = sum(stretch.seconds for stretch in stretches)
    return RunningOrder(tuple(stretches), bouts, seconds, sum(stretch.work_seconds for stretch in stretches))


@lru_cache(maxsize=256)
def _alone(block: PlannedBlock) -> _Stretch:
    """One block by itself. Kept, because most sessions share the blocks of their routines."""
    lasting = (piece for piece in _BLOCKS[block.kind](block) if piece.length)
    pieces = tuple(islice(lasting, MOST_SEGMENTS + 1))
    ended = Counter(piece.station.label for piece in pieces if piece.ends_bout and piece.station)
    bouts = tuple((station, ended[station.label]) for station in block.stations if station.label in ended)
    work = sum(piece.length for piece in pieces if piece.kind == "work")
    return _Stretch(block.label, pieces, bouts, sum(piece.length for piece in pieces), work)


def _rest_after(block: PlannedBlock) -> _Stretch:
    seconds = block.rest_after
    return _Stretch(block.label, (_Piece(seconds, "rest"),) if seconds else (), (), seconds, 0)


def _segments(stretches: Iterable[_Stretch]) -> Iterator[Segment]:
    now: Number = 0
    for stretch in stretches:
        for length, kind, station, round_, side, reps, _ in stretch.pieces:
            label, exercise = (station.label, station.exercise) if station else (None, None)
            yield Segment(now, length, kind, stretch.block, label, exercise, round_, side, reps)
            now += length


def _timed_bouts(pieces: Iterable[_Piece]) -> Iterator[Bout]:
    """A bout ends with its last piece, or where the pieces end."""
    now: Number = 0
    begun: Bout | None = None
    for piece in pieces:
        if piece.kind == "work" and piece.station is not None:
            begun = begun or Bout(piece.station, now, now, 0)
            begun = begun._replace(ends=now + piece.length, work=begun.work + piece.length)
            if piece.ends_bout:
                yield begun
                begun = None
        now += piece.length
    if begun:
        yield begun


def work_seconds(station: PlannedStation) -> Number:
    """One bout of a station, its side change included."""
    return sum(piece.length for piece in _bout(station, 1))


def _bout(station: PlannedStation, round_: int) -> Iterator[_Piece]:
    """Work of one bout. `each`: left, side change, right; a distance has no sides."""
    reps = int(station.amount) if station.measure == "reps" else None
    length = station.amount
    if reps is not None:
        if station.rep is None:
            raise LookupError(f"no tempo says how long a rep of {station.exercise} takes")
        if station.sides == "alternating":
            reps *= 2
        length = reps * station.rep
    if station.sides == "each" and station.measure != "distance":
        yield _Piece(length, "work", station, round_, "left", reps)
        yield _Piece(SIDE_CHANGE, "side change", station, round_)
        yield _Piece(length, "work", station, round_, "right", reps, ends_bout=True)
    else:
        yield _Piece(length, "work", station, round_, None, reps, ends_bout=True)


def _circuit(block: PlannedBlock) -> Iterator[_Piece]:
    """For each round the stations with a changeover between them; rest between rounds."""
    for round_ in range(1, int(block.times) + 1):
        if round_ > 1:
            yield _Piece(block.rest, "rest", round=round_ - 1)
        for index, station in enumerate(block.stations):
            if index:
                yield _Piece(block.changeover, "changeover", round=round_)
            yield from _bout(station, round_)


def _straight_sets(block: PlannedBlock) -> Iterator[_Piece]:
    """For each station its sets with rest between them; changeover between stations."""
    for index, station in enumerate(block.stations):
        if index:
            yield _Piece(block.changeover, "changeover")
        for set_ in range(1, station.sets + 1):
            if set_ > 1:
                yield _Piece(station.rest, "rest", station, set_ - 1)
            yield from _bout(station, set_)


def _every_minute(block: PlannedBlock) -> Iterator[_Piece]:
    """One station at each full minute, in turn; then wait for the next minute."""
    stations = block.stations
    for minute in range(int(block.times)):
        station, round_ = stations[minute % len(stations)], minute // len(stations) + 1
        left: Number = MINUTE
        for piece in _bout(station, round_):
            left -= piece.length
            yield piece
        yield _Piece(max(left, 0), "wait", station, round_)


def _time_cap(block: PlannedBlock) -> Iterator[_Piece]:
    """Stations in turn, a changeover between any two, cut at the cap."""
    left = block.times
    for piece in _endless(block):
        if piece.length >= left:
            whole = piece.length == left
            yield piece._replace(length=left, ends_bout=piece.ends_bout and whole)
            return
        left -= piece.length
        yield piece


def _endless(block: PlannedBlock) -> Iterator[_Piece]:
    for round_ in count(1):
        for station in block.stations:
            yield from _bout(station, round_)
            yield _Piece(block.changeover, "changeover", round=round_)


_BLOCKS = {
    "circuit": _circuit,
    "straight sets": _straight_sets,
    "every minute": _every_minute,
    "time cap": _time_cap,
}
