"""What the browser needs to say what is on today: the sessions of each phase by weekday, level and week.

`js/today/` works the day out, by the date, the level and the log of the device.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from math import ceil
from typing import Any

from ...computing.facts import ComputedSession
from ...reading.catalogue import ProgrammeEntry, VersionEntry
from ...reading.model import WEEKDAYS, Day
from .base import Site, version_address
from .weekdays import because


def phase_plan(site: Site, version: VersionEntry, facts: Sequence[ComputedSession]) -> dict[str, Any]:
    """A phase as plain data; see `PlannedPhase` in `js/types.d.ts`."""
    return {
        "number": version.phase,
        "phase": version.model.phase,
        "starts": version.model.starts.isoformat(),
        "weeks": version.model.weeks,
        "address": version_address(version),
        "levels": [level.id for level in version.levels],
        "days": [_day(site, day, version, facts) for day in version.model.days],
    }


def _day(site: Site, day: Day, version: VersionEntry, facts: Sequence[ComputedSession]) -> dict[str, Any]:
    takes: dict[str, list[tuple[int, int]]] = {level.id: [] for level in version.levels}
    for one in facts:
        if one.plan.day == day.id:
            takes[one.plan.level].append(_minutes(one) if one.plan.is_trained else (0, 0))
    on = [[WEEKDAYS.index(word) for word in choice] for choice in day.on]
    told = {"id": day.id, "title": day.title, "on": on, "takes": takes}
    advice = [
        (WEEKDAYS.index(one.take), because(one)) if one else None
        for one in site.weekdays.advice(version, day)
    ]
    return told | ({"take": advice} if any(advice) else {})


def _minutes(one: ComputedSession) -> tuple[int, int]:
    return ceil(one.order.seconds / 60), ceil(one.order.by_hand / 60)


def programme_plan(programme: ProgrammeEntry, phases: Sequence[Mapping[str, Any]]) -> str:
    """A programme as JSON; `phases` stand in the order of their dates."""
    levels = [{"id": one.id, "name": one.name, "who": one.who or ""} for one in programme.model.levels]
    return json.dumps(
        {"id": programme.id, "levels": levels, "phases": phases}, ensure_ascii=False, separators=(",", ":")
    )


def shared_ages(programmes: Sequence[tuple[str, Sequence[int]]]) -> tuple[str, ...]:
    """The titles of programmes of which another suits the same age; nothing where none does."""
    found = [
        title
        for title, ages in programmes
        for other, others in programmes
        if title != other and ages and others and ages[0] <= others[1] and others[0] <= ages[1]
    ]
    return tuple(dict.fromkeys(found))
