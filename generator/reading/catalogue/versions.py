"""Version files against the rest of the tree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Any

from ..amounts import OTHER
from ..findings import Fault, listed, nearest, shown
from . import raw
from .doses import wrong_doses
from .shapes import Phase, wrong_shapes


def programme_levels(programme: object) -> list[str]:
    """Ids of a programme's levels, from plain data; of many more than may be, none is looked at further."""
    levels = [level.data.get("id") for level in islice(raw.entries(programme, "levels"), MOST_LOOKED_AT)]
    return list(dict.fromkeys(level for level in levels if isinstance(level, str)))


def phase_of(name: str, data: object, known: list[str]) -> Phase:
    """What the varying amounts of the version called `name` must fit."""
    weeks = raw.mapping(data).get("weeks")
    own = raw.mapping(data).get("levels")
    levels = [level for level in own if level in known] if isinstance(own, list) else known
    # With a level that nobody knows, a dose may name one that is meant: that is not told again there.
    guessed = isinstance(own, list) and len(levels) < len(own)
    weeks = weeks if type(weeks) is int and 0 < weeks <= 52 else None
    return Phase(weeks, levels, known, guessed, name)


def wrong_version(
    data: raw.Mapping, phase: Phase, edition: int, tree: Mapping[str, Mapping[str, Any]]
) -> Iterator[Fault]:
    """Every fault of one version file that needs other files or the phase's weeks and levels."""
    yield from _wrong_levels(data, phase)
    yield from wrong_shapes(data, phase)
    yield from wrong_doses(data, tree["exercises"], phase)
    yield from _wrong_routines(data, tree["routines"])
    yield from _wrong_days(data)
    if edition and "changes" not in data:
        message = f"missing key changes in edition {edition}"
        yield Fault("key", (), message, "add changes: what is new since the edition before, and why")


def _wrong_levels(data: raw.Mapping, phase: Phase) -> Iterator[Fault]:
    levels = data.get("levels")
    own = levels if isinstance(levels, list) else []
    seen: set[str] = set()
    for index, level in enumerate(own):
        if isinstance(level, str) and level not in phase.known and phase.known:
            message = f"unknown level {shown(level)}, allowed {listed(phase.known)}"
            hint = nearest(level, phase.known) or "take it out, or add the level to the programme"
            yield Fault("reference", ("levels", index), message, hint)
        elif isinstance(level, str) and level in seen:
            yield Fault("value", ("levels", index), f"the level {level} stands twice", "take one out")
        if isinstance(level, str):
            seen.add(level)


_OTHER_KIND = {"warm-up": "cool-down", "cool-down": "warm-up"}


def _wrong_routines(data: raw.Mapping, routines: Mapping[str, Any]) -> Iterator[Fault]:
    for day in raw.days(data):
        for kind in ("warm-up", "cool-down"):
            name = day.data.get(kind)
            if not isinstance(name, str):
                continue
            path = (*day.path, kind)
            if name not in routines:
                hint = nearest(name, routines) or f"write routines/{name}.yaml"
                yield Fault("reference", path, f"{kind}: unknown routine {shown(name)}", hint)
            elif routines[name].get("kind") == _OTHER_KIND[kind]:
                message = f"{kind}: found {name}, which is a {_OTHER_KIND[kind]}, allowed a {kind}"
                fitting = sorted(other for other in routines if routines[other].get("kind") == kind)
                hint = f"write {listed(fitting)}" if fitting else f"write a routine of kind: {kind}"
                yield Fault("reference", path, message, hint)


def _wrong_days(data: raw.Mapping) -> Iterator[Fault]:
    ids: dict[str, None] = {}
    for day in raw.days(data):
        own = day.data.get("id")
        if isinstance(own, str) and own in ids:
            path = (*day.path, "id")
            yield Fault("value", path, f"the day id {shown(own)} stands twice", "choose another id")
        elif isinstance(own, str):
            ids[own] = None
    for accepted in raw.entries(data, "accept"):
        at = accepted.data.get("at")
        if isinstance(at, str) and at not in ids:
            message = f"at: unknown day {shown(at)}, allowed {listed(ids)}"
            hint = nearest(at, ids) or "write the id of a day, or take at out to accept it for all days"
            yield Fault("reference", (*accepted.path, "at"), message, hint)


MOST_LOOKED_AT = 100
_NO_PHASE = Phase(None, [OTHER], [], True, "no phase", routine=True)


def wrong_routine(
    data: raw.Mapping, phases: list[Phase], tree: Mapping[str, Mapping[str, Any]]
) -> Iterator[Fault]:
    """Every fault of one routine file, for each of the phases that use it.

    The work does not grow with the phases: their levels are looked at together, and of lists, that fit phases
    of one length at most, those of the first two lengths.
    """
    by_weeks = {phase.weeks: phase for phase in reversed(phases)}
    levels = list(dict.fromkeys(level for phase in phases for level in phase.levels))
    lengths = [
        by_weeks[weeks] for weeks in dict.fromkeys(phase.weeks for phase in phases) if weeks is not None
    ]
    together = [phase._replace(levels=levels) for phase in (lengths or phases)[:2]]
    for phase in together:
        yield from wrong_shapes(data, phase)
    longest = max(lengths, key=lambda phase: phase.weeks or 0, default=_NO_PHASE)
    yield from wrong_doses(data, tree["exercises"], longest._replace(levels=levels))
