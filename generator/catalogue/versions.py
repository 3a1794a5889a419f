"""Version files against the rest of the tree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.amounts import OTHER
from generator.catalogue import walk
from generator.catalogue.doses import wrong_doses
from generator.catalogue.shapes import Phase, wrong_shapes
from generator.findings import Fault, listed, nearest, shown


def programme_levels(programme: object) -> list[str]:
    """Ids of a programme's levels, from plain data."""
    levels = [level.data.get("id") for level in walk.entries(programme, "levels")]
    return [level for level in levels if isinstance(level, str)]


def phase_of(name: str, data: object, known: list[str], *, shared: bool = False) -> Phase:
    """What the varying amounts of the version called `name` must fit."""
    weeks = walk.mapping(data).get("weeks")
    own = walk.mapping(data).get("levels")
    levels = [level for level in own if level in known] if isinstance(own, list) else known
    return Phase(weeks if type(weeks) is int and 0 < weeks <= 52 else None, levels, known, shared, name)


def wrong_version(
    data: walk.Mapping, phase: Phase, edition: int, tree: Mapping[str, Mapping[str, Any]]
) -> Iterator[Fault]:
    """Every fault of one version file that needs other files or the phase's weeks and levels."""
    yield from _wrong_levels(data, phase)
    yield from wrong_shapes(data, phase)
    yield from wrong_doses(data, tree["exercises"], phase)
    yield from _wrong_routines(data, tree["routines"])
    yield from _wrong_days(data)
    if edition and "changes" not in data:
        message = f"missing key changes in edition {edition}"
        yield Fault("key", (), message, "add changes: with what changed since the edition before, and why")


def _wrong_levels(data: walk.Mapping, phase: Phase) -> Iterator[Fault]:
    levels = data.get("levels")
    own = levels if isinstance(levels, list) else []
    for index, level in enumerate(own):
        if isinstance(level, str) and level not in phase.known and phase.known:
            message = f"unknown level {shown(level)}, allowed {listed(phase.known)}"
            yield Fault("reference", ("levels", index), message, nearest(level, phase.known))
        elif isinstance(level, str) and level in own[:index]:
            yield Fault("value", ("levels", index), f"the level {level} stands twice", "take one out")


def _wrong_routines(data: walk.Mapping, routines: Mapping[str, Any]) -> Iterator[Fault]:
    for day in walk.days(data):
        for kind in ("warm-up", "cool-down"):
            name = day.data.get(kind)
            if not isinstance(name, str):
                continue
            path = (*day.path, kind)
            if name not in routines:
                hint = nearest(name, routines) or f"write routines/{name}.yaml"
                yield Fault("reference", path, f"unknown routine {shown(name)}", hint)
            elif routines[name].get("kind") not in (kind, None):
                message = f"{name} is a {shown(routines[name]['kind'])}, allowed a {kind}"
                yield Fault("reference", path, message, f"name a routine of the kind {kind}")


def _wrong_days(data: walk.Mapping) -> Iterator[Fault]:
    ids: list[object] = []
    for day in walk.days(data):
        own = day.data.get("id")
        if own is not None and own in ids:
            path = (*day.path, "id")
            yield Fault("value", path, f"the day id {shown(own)} stands twice", "choose another id")
        ids.append(own)
    for accepted in walk.entries(data, "accept"):
        at = accepted.data.get("at")
        if isinstance(at, str) and at not in ids:
            known = [day for day in ids if isinstance(day, str)]
            message = f"unknown day {shown(at)}, allowed {listed(known)}"
            yield Fault("reference", (*accepted.path, "at"), message, nearest(at, known))


def wrong_routine(
    data: walk.Mapping, phases: list[Phase], tree: Mapping[str, Mapping[str, Any]]
) -> Iterator[Fault]:
    """Every fault of one routine file, for each of the phases that use it."""
    for phase in phases or [Phase(None, [OTHER], [], True, "the phase")]:
        if phases:
            yield from wrong_shapes(data, phase)
        yield from wrong_doses(data, tree["exercises"], phase)
