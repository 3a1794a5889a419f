"""The resolved plan of a version and its fingerprint: what never changes once it is published.

The plan is everything that decides a dose or a time, exercise defaults included: sessions, weekdays and the
first day. Words (names, cues, titles) are not in it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from dataclasses import fields
from operator import attrgetter
from typing import Any

from ..reading.amounts import RepRange, Tempo, written
from ..reading.catalogue import VersionEntry
from .resolve import PlannedBlock, PlannedSession, PlannedStation

_STATION = [name for name in PlannedStation._fields if name not in ("section", "pattern", "setting")]
_BLOCK = [field.name for field in fields(PlannedBlock) if field.name != "stations"]


def resolved(version: VersionEntry, sessions: Iterable[PlannedSession]) -> dict[str, Any]:
    """The plan as plain data: numbers as they were written, without a unit lost.

    Sessions stand by the ids of day, level and week: in which order the files name them changes no dose.
    """
    return {
        "starts": version.model.starts.isoformat(),
        "weeks": version.model.weeks,
        "on": {day.id: [list(choice) for choice in day.on] for day in version.model.days},
        "sessions": [
            {"day": s.day, "level": s.level, "week": s.week, "blocks": [_block(block) for block in s.blocks]}
            for s in sorted(sessions, key=attrgetter("day", "level", "week"))
        ],
    }


def fingerprint(plan: dict[str, Any]) -> str:
    """Twelve hexadecimal digits in groups of four; equal for equal plans."""
    text = json.dumps(plan, sort_keys=True, separators=(",", ":"))
    digest = hashlib.sha256(text.encode()).hexdigest()
    return "-".join((digest[:4], digest[4:8], digest[8:12]))


_KINDS = {"timed rounds": "time cap"}
"""Kinds of blocks by the words that they had when plans were first published: a word is no part of a plan."""


def _block(block: PlannedBlock) -> list[object]:
    values: list[object] = [_plain(getattr(block, name)) for name in _BLOCK]
    values[_BLOCK.index("kind")] = _KINDS.get(block.kind, block.kind)
    return [*values, [_station(station) for station in block.stations]]


def _station(station: PlannedStation) -> list[object]:
    """A setting comes last and only where there is one: a plan without one keeps its fingerprint."""
    values = [_plain(getattr(station, name)) for name in _STATION]
    return [*values, station.setting] if station.setting else values


def _plain(value: object) -> object:
    """Numbers without a trailing zero, tempos as their four counts; X is another count than its seconds."""
    if isinstance(value, Tempo):
        return counts(value)
    if isinstance(value, RepRange):
        return str(value)
    if isinstance(value, int | str) or value is None:
        return value
    return written(value)  # type: ignore[arg-type]


def counts(tempo: Tempo) -> list[str]:
    """The four counts of a tempo as they are compared: X is none of the numbers, 3.0 is 3."""
    words = zip(tempo.written.split("-"), tempo.counts, strict=True)
    return ["X" if word == "X" else written(seconds) for word, seconds in words]
