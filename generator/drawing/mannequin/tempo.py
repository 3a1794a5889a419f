"""When a figure is in which position: by the counts of a dose, or by the times of its positions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ...reading.amounts import Number, Tempo
from ...reading.model.figure import Figure, Position

SNAP = 0.25
"""Seconds in which a move is drawn that a tempo counts as 0, so that it can be seen."""


class Schedule(NamedTuple):
    """Seconds at each key position, and on the way from each to the next; the last leads to the first."""

    stays: tuple[float, ...]
    moves: tuple[float, ...]

    @property
    def seconds(self) -> float:
        """One time through."""
        return sum(self.stays) + sum(self.moves)


def schedule(figure: Figure, tempo: Tempo | None, rep: Number | None) -> Schedule:
    """Times for a dose with this tempo, or with reps of so many seconds, or with neither.

    The counts of a tempo go to the positions marked high and low; a way through positions that are neither
    shares the count equally. Without marks the figure has its own times, and `rep` stretches its stays: a
    flight lasts as long as it lasts. Where nothing stays, all is stretched.
    """
    positions = figure.positions
    if len(positions) == 1:
        return Schedule((0.0,), ())
    if tempo is not None and {"high", "low"} <= {position.at for position in positions}:
        return _counted(positions, tempo)
    stays = tuple(float(position.stays or 0) for position in positions)
    after = [*positions[1:], positions[0]]
    moves = tuple(1.0 if position.moves is None else float(position.moves) for position in after)
    own = Schedule(stays, moves)
    if rep is None:
        return own
    spare = float(rep) - sum(moves)
    if sum(stays) and spare > 0:
        return Schedule(tuple(stay * spare / sum(stays) for stay in stays), moves)
    wide = float(rep) / own.seconds
    return Schedule(tuple(stay * wide for stay in stays), tuple(way * wide for way in moves))


def _counted(positions: Sequence[Position], tempo: Tempo) -> Schedule:
    stays = tuple(
        float({"high": tempo.high, "low": tempo.low}.get(position.at or "", 0)) for position in positions
    )
    return Schedule(stays, tuple(_move(positions, index, tempo) for index in range(len(positions))))


def _move(positions: Sequence[Position], index: int, tempo: Tempo) -> float:
    """Seconds from a position to the next: its part of the lowering or lifting that it belongs to."""
    count = len(positions)
    first = index
    while positions[first % count].at is None:
        first -= 1
    last = index + 1
    while positions[last % count].at is None:
        last += 1
    toward = positions[last % count].at
    seconds = float(tempo.lowering if toward == "low" else tempo.lifting)
    return max(seconds, SNAP) / (last - first)
