"""Doses: one measure a station, fitting its exercise."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from ..findings import Fault, listed, nearest, shown
from ..model import MEASURES
from . import raw
from .raw import Place
from .shapes import Phase

_FITS = {
    "reps": ("reps", "time"),
    "time": ("time", "reps"),
    "hold": ("hold",),
    "distance": ("distance",),
}
_NOTHING = re.compile(r"0+(\.0+)? ?kg\Z")
Exercises = Mapping[str, raw.Mapping]


def wrong_doses(data: object, exercises: Exercises, phase: Phase) -> Iterator[Fault]:
    """`dose` faults, and `reference` faults of unknown exercises, of every station in the file."""
    for station in raw.stations(data):
        yield from _unknown_exercises(station, exercises)
        yield from _one_measure(station)
        yield from _tempo_and_takes(station)
        yield from _unlike_the_exercise(station, exercises)
        yield from _load_on_what_takes_none(station, exercises, phase)


def _unknown_exercises(station: Place, exercises: Exercises) -> Iterator[Fault]:
    for path, exercise in raw.leaves(station.data.get("exercise"), (*station.path, "exercise")):
        if isinstance(exercise, str) and exercise not in exercises:
            hint = nearest(exercise, exercises) or f"write exercises/{exercise}.yaml"
            yield Fault("reference", path, f"exercise: unknown exercise {shown(exercise)}", hint)


def _one_measure(station: Place) -> Iterator[Fault]:
    given = [key for key in MEASURES if key in station.data]
    if len(given) == 1:
        return
    found = listed(given, "and") if given else "no dose"
    hint = "keep one of them" if given else "add reps: 8, or hold: 30 s"
    message = f"found {found} at a station, allowed exactly one of {listed(MEASURES)}"
    yield Fault("dose", (*station.path, given[1]) if given else station.path, message, hint, bool(given))


def _tempo_and_takes(station: Place) -> Iterator[Fault]:
    path, data = station
    for still in ("hold", "distance"):
        if still in data and "tempo" in data:
            message = f"a tempo on a {still}, which has no repetitions"
            yield Fault("dose", (*path, "tempo"), message, "take tempo out", at_key=True)
    if "distance" in data and "takes" not in data:
        message = "a distance without the time it takes"
        yield Fault("dose", (*path, "distance"), message, "add takes: 12 s", at_key=True)
    if "takes" in data and "distance" not in data:
        message = "takes without a distance"
        yield Fault("dose", (*path, "takes"), message, "add distance: 10 m, or take it out", at_key=True)


def _unlike_the_exercise(station: Place, exercises: Exercises) -> Iterator[Fault]:
    path, data = station
    if sum(key in data for key in MEASURES) > 1:
        return
    names = {value for _, value in raw.leaves(data.get("exercise")) if isinstance(value, str)}
    for name in sorted(names & exercises.keys()):
        exercise = exercises[name]
        own = exercise.get("measure")
        for key, measure in MEASURES.items():
            if key in data and own in MEASURES.values() and own not in _FITS[measure]:
                message = f"a dose in {key} for {name}, which is measured in {own}"
                right = next(k for k, m in MEASURES.items() if m == own)
                yield Fault("dose", (*path, key), message, f"give it {right}:", at_key=True)
        if "hold" in data and own == "hold" and exercise.get("sides") == "alternating":
            message = f"a hold on {name}, which is done on alternating sides"
            yield Fault("dose", (*path, "hold"), message, "use an exercise with sides: each", at_key=True)
        timed = "tempo" in exercise or "seconds per rep" in exercise or "tempo" in data
        if "reps" in data and own == "time" and not timed:
            message = f"reps of {name}, for which no tempo says how long a rep takes"
            yield Fault("dose", (*path, "reps"), message, "add tempo: 2-0-1-0 here", at_key=True)


def _load_on_what_takes_none(station: Place, exercises: Exercises, phase: Phase) -> Iterator[Fault]:
    load = station.data.get("load")
    if load is None or phase.weeks is None:
        return
    for name, kg in raw.cells((station.data.get("exercise"), load), phase.levels, phase.weeks):
        known = exercises.get(name) if isinstance(name, str) else None
        weighs = isinstance(kg, str) and not _NOTHING.match(kg)
        # An exercise that cannot be read is empty here, and has faults of its own.
        if known and weighs and known.get("loadable", False) is False:
            message = f"a load on {name}, which takes none"
            hint = "take load out, or say loadable: true in the exercise"
            yield Fault("dose", (*station.path, "load"), message, hint, at_key=True)
            return
