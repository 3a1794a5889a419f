"""What the guided session shows beside the sheet: of one level of a day, each exercise, its figure and words.

The sheet has names, doses and times already; this is fetched after it, once for all weeks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any

from ...computing.resolve import PlannedSession, PlannedStation
from ...drawing.compact import compact
from ...drawing.mannequin.sides import shown
from ...drawing.mannequin.stills import telling
from ...drawing.mannequin.tempo import schedule
from ...reading.catalogue.ladder import JUMPS
from ...reading.model import Exercise, Option
from .base import Site
from .terms import found_in

Json = dict[str, Any]


def guide(site: Site, sessions: Iterable[PlannedSession]) -> Json:
    """`{"exercises": {id: …}, "terms": {word: sentence}}` of some sessions.

    An exercise has what `Guided` of `js/types.d.ts` says. Those that are planned bring their figures,
    by tempo (none: ""); one that is only an easier way, or there instead of jumps, has the address of its
    figure.
    """
    stations = {station.exercise: station for one in sessions for station in one.stations}
    tempos: dict[str, dict[str, PlannedStation]] = {}
    for one in sessions:
        for station in one.stations:
            written_tempo = station.tempo.written if station.tempo else ""
            tempos.setdefault(station.exercise, {})[written_tempo] = station
    exercises: dict[str, Json] = {}
    for name in sorted(stations):
        exercise = site.catalogue.exercise(name)
        pictures = {tempo: _moving(site, name, station) for tempo, station in tempos[name].items()}
        exercises[name] = _exercise(exercise) | {"figures": {k: v for k, v in pictures.items() if v}}
    for name in sorted(set(_others(site, stations))):
        exercise = site.catalogue.exercise(name)
        view = site.figures.view(name, exercise.tempo, exercise.rep_seconds(None))
        address = (view.moves or view.strip).address if view else ""
        exercises[name] = _exercise(exercise) | {"figures": {}, "careful": list(exercise.cautions)}
        if address:
            exercises[name]["picture"] = address
    texts = [text for one in exercises.values() for text in (*one["setup"], *one["cues"])]
    return {"exercises": exercises, "terms": found_in(texts, site.language)}


def _others(site: Site, names: Iterable[str]) -> Iterator[str]:
    """Exercises that one may change to."""
    planned = set(names)
    for name in planned:
        exercise = site.catalogue.exercise(name)
        for option in (*exercise.easier, *_instead_of_jumps(exercise)):
            if option.exercise and option.exercise not in planned:
                yield option.exercise
                other = site.catalogue.exercise(option.exercise)
                yield from (
                    o.exercise for o in _instead_of_jumps(other) if o.exercise and o.exercise not in planned
                )


def _instead_of_jumps(exercise: Exercise) -> tuple[Option, ...]:
    return (exercise.instead[JUMPS],) if JUMPS in exercise.instead else ()


def _exercise(exercise: Exercise) -> Json:
    found: Json = {
        "name": exercise.name,
        "measure": exercise.measure,
        "sides": exercise.sides,
        "setup": list(exercise.setup),
        "cues": list(exercise.cues),
    }
    rep = exercise.rep_seconds(None)
    if rep is not None:
        found["rep"] = int(rep) if rep == int(rep) else float(rep)
    if exercise.tempo:
        found["tempo"] = exercise.tempo.written
    if exercise.begins_with == "lifting":
        found["begins"] = "lifting"
    if exercise.side_is:
        found["side"] = exercise.side_is
    if exercise.tempo_words:
        found["words"] = [exercise.tempo_words.lowering or "", exercise.tempo_words.lifting or ""]
    if exercise.loadable:
        found["loadable"] = True
    if exercise.figure and exercise.figure.side == "left":
        found["drawn"] = "left"
    if exercise.has_landings:
        found["lands"] = True
        for option in _instead_of_jumps(exercise):
            found["jumps"] = {"exercise": option.exercise, "how": option.how or ""}
    return found


def _moving(site: Site, name: str, station: PlannedStation) -> str:
    """The figure in the tempo of a station, without style and words; nothing without one."""
    view = site.figures.view(name, station.tempo, station.rep)
    if view is None:
        return ""
    text = site.figures.files[(view.moves or view.strip).address].decode()
    return _compact(text, _still(site.catalogue.exercise(name), station))


# The same figures stand in the guides of many levels, and in the next build of a preview.
_compact = lru_cache(maxsize=1024)(compact)


def _still(exercise: Exercise, station: PlannedStation) -> float:
    """The second of a time through at which the figure is where the exercise is known by it."""
    seen = shown(exercise)
    if seen is None or not seen.move.ways:
        return 0.0
    times = schedule(seen.move.figure, station.tempo, station.rep * seen.reps if station.rep else None)
    key = telling(seen.move)
    return sum(times.stays[:key]) + sum(times.moves[:key]) + times.stays[key] / 2
