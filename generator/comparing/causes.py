"""Where a difference comes from: the version's own file, a routine, an exercise, the programme's levels."""

from __future__ import annotations

import re
from typing import Any

from ..reading.catalogue import Catalogue, Entry, VersionEntry, raw
from ..reading.findings import Path
from ..reading.model import Day, Exercise, Routine
from ..reading.source import Document
from .changes import Change

Cause = tuple[Document, Path, str]
"""The file, the path to what differs, and the end of a hint: where to put it back."""
_KEYS = {
    "reps each side": "reps",
    "hold each side": "hold",
    "work each side": "work",
    "rest between sets": "rest",
    "rest between rounds": "rest",
    "rest after the block": "rest after",
    "time to change stations": "changeover",
    "kind of block": "kind",
}
"""Keys of the YAML that a difference has another word for."""
_OF_AN_EXERCISE = ("tempo", "seconds per rep", "sides", "parts", "contacts", "landing")


def cause(
    before: Catalogue, was: VersionEntry, now: Catalogue, version: VersionEntry, change: Change
) -> Cause:
    """Where `change` of the version is to be mended, in the tree of now."""
    document = version.document
    if not change.day:
        own = change.what if change.what in ("starts", "weeks") else "levels"
        if own == "levels" and own not in raw.mapping(document.data):
            programme = now.programmes[version.programme]
            return programme.document, ("levels",), f" in {programme.id}/programme.yaml"
        return document, (own,), ""
    index = next((i for i, day in enumerate(version.model.days) if day.id == change.day), None)
    if index is None:
        return document, ("days",), ""
    if not change.week or _plan_of(was, change.day) != _plan_of(version, change.day):
        return document, ("days", index, *_in_day(change)), ""
    return _elsewhere(before, now, version.model.days[index], change) or (document, ("days", index), "")


def _plan_of(version: VersionEntry, day: str) -> tuple[Any, ...]:
    """What a version file itself says of a day's doses."""
    own = next((place.data for place in raw.days(version.document.data) if place.data.get("id") == day), {})
    return own.get("blocks"), own.get("warm-up"), own.get("cool-down")


def _in_day(change: Change) -> Path:
    if not change.week:
        return ("on",) if change.what == "on" else ("id",)
    label = re.fullmatch("([A-Z])([0-9]*)", change.place)
    if label is None:
        return ("cool-down",) if change.place.startswith("cool") else ("warm-up",)
    key = _KEYS.get(change.what, change.what)
    block: Path = ("blocks", ord(label[1]) - ord("A"))
    return (*block, "stations", int(label[2]) - 1, key) if label[2] else (*block, key)


def _elsewhere(before: Catalogue, now: Catalogue, day: Day, change: Change) -> Cause | None:
    """The exercise or the routine whose file says something else than it did."""
    exercise, was = now.exercises.get(change.exercise), before.exercises.get(change.exercise)
    key = _different_key(was, exercise) if exercise and was else None
    if exercise and key:
        return exercise.document, (key,), f" in exercises/{exercise.id}.yaml"
    name = day.cool_down if change.place.startswith("cool") else day.warm_up
    routine = now.routines.get(name or "")
    if routine and _differs(before.routines.get(routine.id), routine):
        return routine.document, ("blocks",), f" in routines/{routine.id}.yaml"
    return None


def _different_key(was: Entry[Exercise], now: Entry[Exercise]) -> str | None:
    old, new = raw.mapping(was.document.data), raw.mapping(now.document.data)
    return next((key for key in _OF_AN_EXERCISE if old.get(key) != new.get(key)), None)


def _differs(was: Entry[Routine] | None, now: Entry[Routine]) -> bool:
    return was is None or was.document.data != now.document.data
