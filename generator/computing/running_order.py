"""A planned session as a list of timed segments: the one place where seconds are made.

Every minute, sheet, timer and total comes from this list. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, lru_cache
from itertools import chain, repeat
from typing import Literal, NamedTuple

from ..reading.amounts import Number
from ..reading.amounts.numbers import number
from .resolve import PlannedBlock, PlannedSession, PlannedStation

SegmentKind = Literal["work", "side change", "changeover", "rest", "wait"]
SIDE_CHANGE = 5
"""Seconds from one side to the other within a station."""
MINUTE = 60
QUARTERS_MORE: dict[SegmentKind, int] = {"changeover": 4, "rest": 1}
"""How many quarters longer each kind may take without the timer: a changeover twice as long, a rest a quarter
more. An assumption of this project, no source."""
FIXED = ("every minute", "time cap", "timed rounds")
"""Kinds of blocks that last as long as they say, however slowly stations are changed."""
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


Bout = tuple[PlannedStation, Number, Number, Number]
"""One bout of a station, also one that a time cap cuts: the station, when it starts and when it ends, in
seconds from a start, and its seconds of work, which are fewer where a side change lies between."""
_Piece = tuple[Number, SegmentKind, PlannedStation | None, int | None, str | None, int | None, bool]
"""A segment without its start: length, kind, station, round, side, reps, and whether a bout's work ends with
it. The round is given from that of its lap: 0 is the same, -1 the one before. A plain tuple, as there are
very many."""


class _Lap(NamedTuple):
    """Pieces that come `times` times, one lap right after the other, each lap a round later than the last.

    `before` comes before the pieces of each lap; `first` is the round of the first. No bout goes on from one
    lap into the next.
    """

    pieces: tuple[_Piece, ...]
    times: int
    first: int = 1
    before: tuple[_Piece, ...] = ()


Bouts = tuple[tuple[PlannedStation, int], ...]
"""Stations, each with how many bouts of its work end in time."""


class Laps(NamedTuple):
    """Bouts that come `times` times, a lap every so many `seconds`.

    `starts` is when the first lap does, in seconds from the start of the session; those of `bouts` are from
    there. So far as bouts go, a session is a few of these: what is asked of all need not be asked of each.
    """

    starts: Number
    bouts: tuple[Bout, ...]
    seconds: Number
    times: int


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A block, or the rest after one: what its segments come to, which themselves are made when asked for."""

    planned: PlannedBlock
    is_rest: bool
    many: int
    laps: tuple[Laps, ...]
    bouts: Bouts
    seconds: Number
    work_seconds: Number
    quarters_more: Number


@dataclass(frozen=True)
class RunningOrder:
    """The timetable of a session: `many` segments. `work_seconds` are those of warm-up and cool-down too.

    `by_hand` is what it takes at most without the timer, in seconds: every changeover doubled and every rest
    a quarter longer. A block that lasts so many minutes lasts no longer.
    """

    stretches: tuple[_Stretch, ...]
    many: int
    bouts: Bouts
    seconds: Number
    work_seconds: Number
    by_hand: Number

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
            for starts, bouts, seconds, times in stretch.laps:
                yield Laps(now + starts, bouts, seconds, times)
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
        _by_hand(stretches),
    )


def _by_hand(stretches: Iterable[_Stretch]) -> Number:
    quarters = sum([4 * stretch.seconds + stretch.quarters_more for stretch in stretches])
    return number(Decimal(quarters) / 4)


def segments_by_block(session: PlannedSession) -> Iterator[int]:
    """How many segments each block of a session has, with the rest after it; none of them is made."""
    for index, block in enumerate(session.blocks, 1):
        yield _alone(block).many + (index < len(session.blocks) and block.rest_after != 0)


@lru_cache(maxsize=512)
def _alone(block: PlannedBlock) -> _Stretch:
    """One block by itself. Kept, because most sessions share the blocks of their routines."""
    many = 0
    now: Number = 0
    all_work: Number = 0
    more: Number = 0
    ended: dict[str, int] = {}
    found: list[Laps] = []
    last: tuple[_Piece, ...] = ()
    for pieces, times, _, before in _BLOCKS[block.kind](block):
        if pieces is not last:
            last, (bouts, seconds, work, ends) = pieces, _summed(pieces)
        lead = sum([piece[0] for piece in before])
        found.append(Laps(now + lead, bouts, lead + seconds, times))
        many += (len(before) + len(pieces)) * times
        now += (lead + seconds) * times
        all_work += work * times
        more += (_quarters_more(before) + _quarters_more(pieces)) * times
        for label in ends:
            ended[label] = ended.get(label, 0) + times
    whole = tuple([(station, ended[station.label]) for station in block.stations if station.label in ended])
    more = 0 if block.kind in FIXED else more
    return _Stretch(block, False, many, tuple(found), whole, now, all_work, more)


def _quarters_more(pieces: Iterable[_Piece]) -> Number:
    return sum([piece[0] * QUARTERS_MORE.get(piece[1], 0) for piece in pieces])


def _summed(pieces: Iterable[_Piece]) -> tuple[tuple[Bout, ...], Number, Number, list[str]]:
    """Bouts from the start of the pieces, seconds, those of work, and the stations whose bouts end in time.

    A bout ends with its last piece, or where the pieces end.
    """
    bouts: list[Bout] = []
    ends: list[str] = []
    now: Number = 0
    work: Number = 0
    begun: Bout | None = None
    for length, kind, station, _, _, _, ends_bout in pieces:
        if kind == "work" and station is not None:
            work += length
            starts, done = (now, 0) if begun is None else (begun[1], begun[3])
            begun = station, starts, now + length, done + length
            if ends_bout:
                bouts.append(begun)
                ends.append(station.label)
                begun = None
        now += length
    if begun is not None:
        bouts.append(begun)
    return tuple(bouts), now, work, ends


def _rest_after(block: PlannedBlock) -> _Stretch:
    seconds = block.rest_after
    return _Stretch(block, True, 1 if seconds else 0, (), (), seconds, 0, seconds * QUARTERS_MORE["rest"])


def _segments(stretches: Iterable[_Stretch]) -> Iterator[Segment]:
    now: Number = 0
    for stretch in stretches:
        block = stretch.planned.label
        if stretch.is_rest:
            if stretch.seconds:
                yield Segment(now, stretch.seconds, "rest", block, None, None, None, None, None)
            now += stretch.seconds
            continue
        for pieces, times, first, before in _BLOCKS[stretch.planned.kind](stretch.planned):
            for lap in range(first, first + times):
                for length, kind, station, round_, side, reps, _ in (*before, *pieces):
                    label, exercise = (station.label, station.exercise) if station else (None, None)
                    number = None if round_ is None else lap + round_
                    yield Segment(now, length, kind, block, label, exercise, number, side, reps)
                    now += length


def work_seconds(station: PlannedStation) -> Number:
    """One bout of a station, its side change included."""
    return sum([piece[0] for piece in _bout(station)])


def _bout(station: PlannedStation) -> tuple[_Piece, ...]:
    """Work of one bout. `each`: left, side change, right; a distance has no sides."""
    reps: int | None = None
    length, sides = station.amount, station.sides
    if station.measure == "reps":
        if station.rep is None:
            raise LookupError(f"no tempo says how long a rep of {station.exercise} takes")
        reps = int(station.amount)
        if sides == "alternating":
            reps *= 2
        length = reps * station.rep
    if sides == "each" and station.measure != "distance":
        return (
            (length, "work", station, 0, "left", reps, False),
            (SIDE_CHANGE, "side change", station, 0, None, None, False),
            (length, "work", station, 0, "right", reps, True),
        )
    return ((length, "work", station, 0, None, reps, True),)


def _between(
    length: Number, kind: SegmentKind, station: PlannedStation | None = None, round_: int | None = None
) -> tuple[_Piece, ...]:
    """What lies between two bouts: a piece, or nothing where it takes no time."""
    return ((length, kind, station, round_, None, None, False),) if length else ()


def _circuit(block: PlannedBlock) -> Iterator[_Lap]:
    """For each round the stations with a changeover between them; rest between rounds."""
    changeover = _between(block.changeover, "changeover", None, 0)
    pieces: list[_Piece] = []
    for station in block.stations:
        if pieces:
            pieces += changeover
        pieces += _bout(station)
    a_round, rounds = tuple(pieces), int(block.times)
    yield _Lap(a_round, 1)
    if rounds > 1:
        yield _Lap(a_round, rounds - 1, 2, _between(block.rest, "rest", None, -1))


def _straight_sets(block: PlannedBlock) -> Iterator[_Lap]:
    """For each station its sets with rest between them; changeover between stations."""
    changeover: tuple[_Piece, ...] = ()
    for station in block.stations:
        bout = _bout(station)
        yield _Lap(bout, 1, 1, changeover)
        if station.sets > 1:
            yield _Lap(bout, station.sets - 1, 2, _between(station.rest, "rest", station, -1))
        changeover = _between(block.changeover, "changeover")


def _every_minute(block: PlannedBlock) -> Iterator[_Lap]:
    """One station at each full minute, in turn; then wait for the next minute."""
    stations = block.stations
    times, more = divmod(int(block.times), len(stations))
    if times:
        yield _Lap(tuple(chain.from_iterable([_minute(station) for station in stations])), times)
    if more:
        yield _Lap(
            tuple(chain.from_iterable([_minute(station) for station in stations[:more]])), 1, times + 1
        )


def _minute(station: PlannedStation) -> tuple[_Piece, ...]:
    bout = _bout(station)
    left = MINUTE - sum([piece[0] for piece in bout])
    return (*bout, *_between(max(left, 0), "wait", station, 0))


def _time_cap(block: PlannedBlock) -> Iterator[_Lap]:
    """Stations in turn, a changeover between any two, cut at the cap."""
    changeover = _between(block.changeover, "changeover", None, 0)
    a_round = tuple(chain.from_iterable([(*_bout(station), *changeover) for station in block.stations]))
    seconds = sum([piece[0] for piece in a_round])
    times = int(block.times // seconds)
    if times:
        yield _Lap(a_round, times)
    left = block.times - times * seconds
    if left:
        yield _Lap(tuple(_cut(a_round, left)), 1, times + 1)


def _cut(pieces: Iterable[_Piece], left: Number) -> Iterator[_Piece]:
    """As many of the pieces as fit into what is `left`, the last one cut where it does not."""
    for piece in pieces:
        length, *about, ends_bout = piece
        if length >= left:
            yield (left, *about, ends_bout and length == left)  # type: ignore[misc]
            return
        left -= length
        yield piece


_BLOCKS = {
    "circuit": _circuit,
    "straight sets": _straight_sets,
    "every minute": _every_minute,
    "time cap": _time_cap,
}
