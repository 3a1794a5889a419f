"""A version's resolved plan and running orders as open data; its form is PLAN_SCHEMA.

Segments stand as rows under columns that are named once: a version has thousands of them.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import lru_cache
from typing import Any

from ...computing.facts import ComputedSession, exercises_of
from ...computing.fingerprint import counts
from ...computing.resolve import PlannedBlock, PlannedStation
from ...reading.amounts import Number, RepRange
from ...reading.catalogue import ProgrammeEntry, VersionEntry
from ..views import safety
from ..views.base import Site
from .plan_schema import COLUMNS

Json = dict[str, Any]
NOTICE = "Times are estimates. A plan is no advice: see cautions."
_TIMES = {"circuit": "rounds", "every minute": "minutes", "timed rounds": "lasts_seconds"}
_AMOUNTS = {"reps": "reps", "hold": "hold_seconds", "time": "work_seconds", "distance": "takes_seconds"}


def plan_json(
    site: Site, programme: ProgrammeEntry, version: VersionEntry, facts: Sequence[ComputedSession], plan: str
) -> str:
    """The file of a version: what all sessions share, then a line for each session."""
    growth = safety.growth_line(one.plan for one in facts)
    hurt = [f"{safety.HURT} {site.if_hurt}"] if site.if_hurt else []
    about: Json = {
        "$schema": "../../plan.schema.json",
        "programme": programme.id,
        "title": programme.model.title,
        "version": version.name,
        "phase": version.model.phase,
        "plan": plan,
        "starts": version.model.starts.isoformat(),
        "weeks": version.model.weeks,
        "notice": NOTICE,
        "cautions": [*safety.LINES, *hurt, *site.cautions, *([growth] if growth else [])],
        "levels": [{"id": level.id, "name": level.name} for level in version.levels],
        "days": [{"id": day.id, "title": day.title, "on": list(day.on)} for day in version.model.days],
        "exercises": {name: site.catalogue.exercise(name).name for name in sorted(exercises_of(facts))},
        "columns": list(COLUMNS),
    }
    head = _text(about)[:-1]
    rows = ",\n".join(_sessions(facts))
    return f'{head},"sessions":[\n{rows}\n]}}\n'


def _sessions(facts: Sequence[ComputedSession]) -> Iterator[str]:
    for one in facts:
        plan = one.plan
        head = _text({"day": plan.day, "level": plan.level, "week": plan.week, "seconds": one.order.seconds})
        blocks = ",".join(map(_block, plan.blocks))
        yield f'{head[:-1]},"blocks":[{blocks}],"segments":{_text(one.order.segments)}}}'


@lru_cache(maxsize=256)
def _block(block: PlannedBlock) -> str:
    """Kept, because most sessions share the blocks of their routines."""
    data: Json = {"label": block.label, "section": block.section, "kind": block.kind}
    if block.kind in _TIMES:
        data[_TIMES[block.kind]] = block.times
    if block.kind == "circuit":
        data["rest_seconds"] = block.rest
    if block.kind != "every minute":
        data["changeover_seconds"] = block.changeover
    data["rest_after_seconds"] = block.rest_after
    data["stations"] = [_station(block, station) for station in block.stations]
    return _text(data)


def _station(block: PlannedBlock, station: PlannedStation) -> Json:
    data: Json = {"label": station.label, "exercise": station.exercise, "sides": station.sides}
    if station.measure == "distance":
        data["metres"] = station.metres
    data[_AMOUNTS[station.measure]] = station.amount
    if isinstance(station.amount, RepRange):
        data["reps_least"] = station.amount.least
    if station.setting:
        data["setting"] = station.setting
    if station.tempo:
        data["tempo"] = "-".join(counts(station.tempo))
    if block.kind == "straight sets":
        data |= {"sets": station.sets, "rest_seconds": station.rest}
    if station.load:
        data["load_kg"] = station.load
    if station.contacts:
        data |= {"contacts": station.contacts, "landing": station.landing}
    return data


def _text(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), default=_number)


def _number(value: object) -> Number | float:
    if isinstance(value, Decimal):
        return float(value)
    raise TypeError(f"{value!r} is no number")
