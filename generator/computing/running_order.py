"""A planned session as a list of timed segments: the one place where seconds are made.

Every minute, sheet, timer and total comes from this list. Pure.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import chain, repeat
from typing import Literal, NamedTuple

from ..reading.amounts import Number
from .resolve import PlannedBlock, PlannedSession, PlannedStation

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


class _Lap(NamedTuple):
    """Pieces that come `times` times, one lap right after the other.

    A piece's round is that of the first lap, and one more in each lap after it. No bout goes on from one
    lap into the next.
    """

    pieces: tuple[_Piece, ...]
    times: int

    @property
    def seconds(self) -> Number:
        """Of one lap."""
        return sum([piece.length for piece in self.pieces])


Bouts = tuple[tuple[PlannedStation, int], ...]
"""Stations, each with how many bouts of its work end in time."""


class Laps(NamedTuple):
    """Bouts that come `times` times, a lap of `seconds` after the other; those of the first lap are given.

    So far as bouts go, a session is a few of these: what is asked of all bouts need not be asked of each.
    """

    bouts: tuple[Bout, ...]
    seconds: Number
    times: int

    def bouts_of(self, lap: int) -> Iterator[Bout]:
        """The bouts of a lap, from 0."""
        later = lap * self.seconds
        for bout in self.bouts:
            yield Bout(bout.station, bout.starts + later, bout.ends + later, bout.work)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A block, or the rest after one: what its segments come to, which themselves are made when asked for."""

    planned: PlannedBlock
    is_rest: bool
    many: int
    bouts: Bouts
    seconds: Number
    work_seconds: Number

    def laps(self) -> tuple[_Lap, ...]:
        """The pieces, none of length 0."""
        if self.is_rest:
            return (_Lap((_Piece(self.seconds, "rest"),), 1),) if self.seconds else ()
        return _laps(self.planned)


@dataclass(frozen=True)
class RunningOrder:
    """The timetable of a session: `many` segments. `work_seconds` are those of warm-up and cool-down too."""

    stretches: tuple[_Stretch, ...]
    many: int
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
        return tuple(chain.from_iterable(repeat(n // 2, stretch.many) for n, stretch in numbered))

    def laps(self) -> Iterator[Laps]:
        """Every bout that is begun, in order; made from the blocks, without the segments."""
        now: Number = 0
        for stretch in self.stretches:
            for bouts, seconds, times in () if stretch.is_rest else _bouts_of(stretch.planned):
                here = [b._replace(starts=now + b.starts, ends=now + b.ends) for b in bouts]
                yield Laps(tuple(here), seconds, times)
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
    many = sum([stretch.many for stretch in stretches])
    if many > MOST_SEGMENTS:
        raise TooManySegmentsError(session)
    return RunningOrder(
        tuple(stretches),
        many,
        tuple(chain.from_iterable([stretch.bouts for stretch in stretches])),
        sum([stretch.seconds for stretch in stretches]),
        sum([stretch.work_seconds for stretch in stretches]),
    )


def segments_by_block(session: PlannedSession) -> Iterator[int]:
    """How many segments each block of a session has, with the rest after it; none of them is made."""
    for index, block in enumerate(session.blocks, 1):
        yield _alone(block).many + (index < len(session.blocks) and block.rest_after != 0)


@lru_cache(maxsize=512)
def _alone(block: PlannedBlock) -> _Stretch:
    """One block by itself. Kept, because most sessions share the blocks of their routines."""
    ended: Counter[str] = Counter()
    many = 0
    seconds: Number = 0
    work: Number = 0
    for pieces, times in _laps(block):
        many += len(pieces) * times
        for length, kind, station, _, _, _, ends_bout in pieces:
            seconds += length * times
            if kind == "work":
                work += length * times
                if ends_bout and station:
                    ended[station.label] += times
    bouts = tuple([(station, ended[station.label]) for station in block.stations if station.label in ended])
    return _Stretch(block, False, many, bouts, seconds, work)


def _rest_after(block: PlannedBlock) -> _Stretch:
    seconds = block.rest_after
    return _Stretch(block, True, 1 if seconds else 0, (), seconds, 0)


@lru_cache(maxsize=512)
def _laps(block: PlannedBlock) -> tuple[_Lap, ...]:
    """The pieces of a block, none of length 0."""
    found = []
    for pieces, times in _BLOCKS[block.kind](block):
        lasting = tuple([piece for piece in pieces if piece.length])
        if lasting and times:
            found.append(_Lap(lasting, times))
    return tuple(found)


@lru_cache(maxsize=512)
def _bouts_of(block: PlannedBlock) -> tuple[Laps, ...]:
    """The bouts of a block by its laps, in seconds from the start of the block."""
    now: Number = 0
    found = []
    for lap in _laps(block):
        found.append(Laps(tuple(_timed_bouts(lap.pieces, now)), lap.seconds, lap.times))
        now += lap.seconds * lap.times
    return tuple(found)


def _segments(stretches: Iterable[_Stretch]) -> Iterator[Segment]:
    now: Number = 0
    for stretch in stretches:
        block = stretch.planned.label
        for pieces, times in stretch.laps():
            for lap in range(times):
                for length, kind, station, round_, side, reps, _ in pieces:
                    label, exercise = (station.label, station.exercise) if station else (None, None)
                    number = None if round_ is None else round_ + lap
                    yield Segment(now, length, kind, block, label, exercise, number, side, reps)
                    now += length


def _timed_bouts(pieces: Iterable[_Piece], now: Number) -> Iterator[Bout]:
    """A bout ends with its last piece, or where the pieces end."""
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


def _circuit(block: PlannedBlock) -> Iterator[_Lap]:
    """For each round the stations with a changeover between them; rest between rounds."""
    rounds = int(block.times)
    yield _Lap(tuple(_round(block, 1)), 1)
    if rounds > 1:
        yield _Lap((_Piece(block.rest, "rest", round=1), *_round(block, 2)), rounds - 1)


def _round(block: PlannedBlock, round_: int) -> Iterator[_Piece]:
    for index, station in enumerate(block.stations):
        if index:
            yield _Piece(block.changeover, "changeover", round=round_)
        yield from _bout(station, round_)


def _straight_sets(block: PlannedBlock) -> Iterator[_Lap]:
    """For each station its sets with rest between them; changeover between stations."""
    for index, station in enumerate(block.stations):
        between = (_Piece(block.changeover, "changeover"),) if index else ()
        yield _Lap((*between, *_bout(station, 1)), 1)
        if station.sets > 1:
            yield _Lap((_Piece(station.rest, "rest", station, 1), *_bout(station, 2)), station.sets - 1)


def _every_minute(block: PlannedBlock) -> Iterator[_Lap]:
    """One station at each full minute, in turn; then wait for the next minute."""
    stations = block.stations
    times, more = divmod(int(block.times), len(stations))
    yield _Lap(tuple(chain.from_iterable([_minute(station, 1) for station in stations])), times)
    yield _Lap(tuple(chain.from_iterable([_minute(station, times + 1) for station in stations[:more]])), 1)


def _minute(station: PlannedStation, round_: int) -> Iterator[_Piece]:
    left: Number = MINUTE
    for piece in _bout(station, round_):
        left -= piece.length
        yield piece
    yield _Piece(max(left, 0), "wait", station, round_)


def _time_cap(block: PlannedBlock) -> Iterator[_Lap]:
    """Stations in turn, a changeover between any two, cut at the cap."""
    lap = _Lap(tuple(_endless(block, 1)), 0)
    times = int(block.times // lap.seconds)
    yield lap._replace(times=times)
    yield _Lap(tuple(_cut(_endless(block, times + 1), block.times - times * lap.seconds)), 1)


def _endless(block: PlannedBlock, round_: int) -> Iterator[_Piece]:
    """One round of those that are repeated."""
    for station in block.stations:
        yield from _bout(station, round_)
        yield _Piece(block.changeover, "changeover", round=round_)


def _cut(pieces: Iterable[_Piece], left: Number) -> Iterator[_Piece]:
    """As many of the pieces as fit into what is `left`, the last one cut where it does not."""
    for piece in pieces:
        if piece.length >= left:
            if left:
                whole = piece.length == left
                yield piece._replace(length=left, ends_bout=piece.ends_bout and whole)
            return
        left -= piece.length
        yield piece


_BLOCKS = {
    "circuit": _circuit,
    "straight sets": _straight_sets,
    "every minute": _every_minute,
    "time cap": _time_cap,
}
