"""Positions of figures for those who write them: as in the file, as solved, and what is wrong."""

from __future__ import annotations

from typing import NamedTuple

from ...drawing.mannequin.breaks import breaks
from ...drawing.mannequin.captions import captions
from ...drawing.mannequin.motion import Key, Movement, movement
from ...drawing.mannequin.stills import thumbnail
from ...reading.catalogue import Catalogue
from ...reading.model import Exercise
from ...reading.model.figure import Figure
from .base import exercise_address

_JOINTS = ("hip", "knee", "ankle", "shoulder", "elbow")


class PositionView(NamedTuple):
    """One key position: its words, its picture as SVG, what to write for it, its joints as solved."""

    says: str
    still: str
    written: str
    solved: str


class Positions(NamedTuple):
    """An exercise with its positions, and what is wrong with its figure."""

    name: str
    address: str
    positions: tuple[PositionView, ...]
    findings: tuple[str, ...]


def positions_of(exercise_id: str, exercise: Exercise) -> Positions | None:
    """The positions of an exercise's figure; None without one."""
    if exercise.figure is None:
        return None
    key = f"{exercise_id} {exercise.model_dump_json()}"
    if len(_KEPT) >= _MOST_KEPT and key not in _KEPT:
        _KEPT.clear()
    if key not in _KEPT:
        _KEPT[key] = _positions(exercise_id, exercise, exercise.figure)
    return _KEPT[key]


_MOST_KEPT = 500
_KEPT: dict[str, Positions] = {}
"""Those that a preview need not work out again."""


def _positions(exercise_id: str, exercise: Exercise, figure: Figure) -> Positions:
    move = movement(figure)
    found = tuple(_view(move, index, key) for index, key in enumerate(move.keys))
    wrong = (*breaks(figure), *captions(exercise))
    return Positions(
        exercise.name,
        exercise_address(exercise_id),
        found,
        tuple(f"{one.what} ({one.hint})" for one in wrong),
    )


def library(catalogue: Catalogue) -> list[Positions]:
    """Every exercise that has a figure, by name."""
    entries = sorted(catalogue.exercises.values(), key=lambda entry: entry.model.name.lower())
    found = (positions_of(entry.id, entry.model) for entry in entries)
    return [one for one in found if one is not None]


def _view(move: Movement, index: int, key: Key) -> PositionView:
    return PositionView(key.position.says, thumbnail(move, index=index), _written(move, key), _solved(key))


def _written(move: Movement, key: Key) -> str:
    """What stands in the file for this position, the figure's own keys filled in, on two lines of YAML."""
    figure, position = move.figure, key.position
    planted = figure.planted if position.planted is None else position.planted
    lines = [f"joints: {_flow({**figure.joints, **position.joints})}", f"planted: {_flow(planted)}"]
    if figure.holds:
        lines.append(f"holds: {_flow(figure.holds)}")
    return "\n".join(lines)


def _flow(values: object) -> str:
    assert isinstance(values, dict)
    return "{" + ", ".join(f"{name}: {_plain(value)}" for name, value in values.items()) + "}"


def _plain(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _solved(key: Key) -> str:
    """Each joint's bend in degrees as it is drawn, right and left."""
    told = []
    for joint in _JOINTS:
        right, left = (round(key.pose.bend(side, joint)) for side in ("right", "left"))
        told.append(f"{joint} {right}°" if right == left else f"{joint} {right}° right, {left}° left")
    return ", ".join(told).replace("-", "−")
