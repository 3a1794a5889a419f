"""What stands in a tree twice, or in vain."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from ..computing.facts import VersionFacts
from ..reading.catalogue import Catalogue
from ..reading.findings import Fault, Finding, shown
from ..reading.model import Day, Station
from ..reading.shipped import library
from .registry import Issue, check
from .sources import FORMAT


def leftover_findings(catalogue: Catalogue) -> Iterator[Finding]:
    """Routines and exercises that nothing uses, and exercises of one name, each told in its own file."""
    used = _routines_used(catalogue)
    for name, routine in catalogue.routines.items():
        if name not in used and not _is_the_librarys(f"routines/{name}.yaml", routine.document.text):
            message = f"no day uses the routine {name}, and it is not word for word the library's own"
            fault = Fault("unused", ("name",), message, "name it in a day, or take the file out")
            yield routine.document.finding(fault, "note", name, FORMAT)
    named = _exercises_named(catalogue)
    first: dict[str, str] = {}
    for name, exercise in catalogue.exercises.items():
        if name not in named and not _is_the_librarys(f"exercises/{name}.yaml", exercise.document.text):
            message = f"nothing names the exercise {name}, and it is not word for word the library's own"
            fault = Fault(
                "unused", ("name",), message, "name it in a station or an option, or take the file out"
            )
            yield exercise.document.finding(fault, "note", name, FORMAT)
        title = " ".join(exercise.model.name.casefold().split())
        if title in first:
            message = f"{name} has the name {shown(exercise.model.name)}, and so has {first[title]}"
            fault = Fault("twice", ("name",), message, "take one of the files out, or give one another name")
            yield exercise.document.finding(fault, "note", name, FORMAT)
        first.setdefault(title, name)


def _routines_used(catalogue: Catalogue) -> set[str | None]:
    days = (
        day
        for programme in catalogue.programmes.values()
        for version in programme.versions
        for day in version.model.days
    )
    return {name for day in days for name in (day.warm_up, day.cool_down)}


def _exercises_named(catalogue: Catalogue) -> set[str | None]:
    """Those of every station, and those that another exercise names as an option."""
    versions = (version for programme in catalogue.programmes.values() for version in programme.versions)
    blocks = [block for version in versions for day in version.model.days for block in day.blocks]
    blocks += [block for routine in catalogue.routines.values() for block in routine.model.blocks]
    named: set[str | None] = {
        one for block in blocks for station in block.stations for one in station.exercise.values()
    }
    for name, entry in catalogue.exercises.items():
        options = (*entry.model.easier, *entry.model.harder, *entry.model.instead.values())
        named.update(option.exercise for option in options if option.exercise != name)
    return named


def _is_the_librarys(place: str, text: bytes) -> bool:
    return text == _librarys(place)


@cache
def _librarys(place: str) -> bytes:
    path = library().get(place)
    return path.read_bytes() if path else b""


@check("twice")
def stations_pasted_twice(facts: VersionFacts) -> Iterator[Issue]:
    """A station that stands in a block twice, with the same dose."""
    for day in facts.version.model.days:
        for index, first, again in _pasted(day):
            letter = chr(ord("A") + index)
            one, other = f"{letter}{first + 1}", f"{letter}{again + 1}"
            message = f"{day.id}: {other} is {one} once more, with the same dose"
            path = (*facts.day_path(day.id), "blocks", index, "stations", again)
            hint = "take one of them out, or accept it with the reason"
            yield Issue("note", message, path, FORMAT, day.id, f"{day.id} {other}", hint)


def _pasted(day: Day) -> Iterator[tuple[int, int, int]]:
    """Number of the block, of the first such station and of the one that repeats it, from 0."""
    for index, block in enumerate(day.blocks):
        first: dict[str, int] = {}
        for number, station in enumerate(block.stations):
            before = first.setdefault(_told(station), number)
            if before != number:
                yield index, before, number


def _told(station: Station) -> str:
    return repr(station)
