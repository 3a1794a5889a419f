"""Exercise files among themselves: options that exist, and a ladder that never leads back to its start."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..findings import Fault, Path, listed, nearest, shown
from . import raw

Exercises = Mapping[str, raw.Mapping]
_Edges = dict[str, dict[str, tuple[str, Path]]]
"""exercise → easier exercise → the file and the path that say so."""
_A_SLIP = 0.9
"""How close an exercise of another pattern has to be, to be meant."""


def wrong_options(name: str, exercises: Exercises) -> Iterator[Fault]:
    """`reference` and `key` faults of the file of an exercise."""
    data = exercises[name]
    for path, target in _targets(data):
        if target not in exercises:
            hint = _meant(name, target, exercises) or f"write exercises/{target}.yaml, or give how: alone"
            yield Fault("reference", path, f"{path[0]}: unknown exercise {shown(target)}", hint)
    needs = dict.fromkeys(word for word in _list(data.get("needs")) if isinstance(word, str))
    lands = _lands(data)
    for word in raw.mapping(data.get("instead")):
        if word == JUMPS and not lands:
            message = "instead of jumps, but the exercise has no landings"
            hint = "say contacts: and landing:, or take it out"
            yield Fault("reference", ("instead", word), message, hint, at_key=True)
        elif word not in needs and word != JUMPS:
            message = f"instead of {shown(word)}, which is not among the needs: {listed(needs)}"
            hint = nearest(word, needs) or f"add {shown(word)} to needs, or take it out"
            yield Fault("reference", ("instead", word), message, hint, at_key=True)
    yield from _instead_of_jumps(data, exercises)
    yield from _no_time_for_a_rep(data)
    yield from _tempo_words_without_tempo(data)


def _meant(name: str, target: str, exercises: Exercises) -> str:
    """Which exercise the file of `name` may mean; all are asked, so only where one is unknown."""
    others = [one for one in exercises if one != name]
    pattern = exercises[name].get("pattern")
    like = [one for one in others if exercises[one].get("pattern") == pattern]
    return nearest(target, like) or nearest(target, others, _A_SLIP)


JUMPS = "jumps"
"""What `instead` calls landings: what to do on a day without them."""


def _lands(data: raw.Mapping) -> bool:
    """Whether an exercise has landings, as far as its file can be read."""
    contacts = data.get("contacts")
    return (
        (isinstance(contacts, int) and contacts > 0)
        or data.get("landing", "none") != "none"
        or data.get("pattern") == "jump"
    )


def _instead_of_jumps(data: raw.Mapping, exercises: Exercises) -> Iterator[Fault]:
    for path, target in _targets(data):
        if path[:2] == ("instead", JUMPS) and _lands(exercises.get(target, {})):
            message = f"instead of jumps: {shown(target)}, which has landings itself"
            yield Fault("reference", path, message, "name an exercise without landings, or give how: alone")


def _tempo_words_without_tempo(data: raw.Mapping) -> Iterator[Fault]:
    if "tempo words" in data and "tempo" not in data:
        message = "tempo words, but no tempo that they would be said in"
        yield Fault("key", ("tempo words",), message, "add a tempo, or take the words out", at_key=True)


def _no_time_for_a_rep(data: raw.Mapping) -> Iterator[Fault]:
    given = [key for key in ("tempo", "seconds per rep") if key in data]
    if len(given) == 2:
        message = "both tempo and seconds per rep, so the time of a rep is not clear"
        yield Fault("key", (given[1],), message, "keep one of them", at_key=True)
    elif not given and data.get("measure") == "reps":
        message = "missing key tempo or seconds per rep, which an exercise measured in reps needs"
        yield Fault("key", (), message, "add tempo: 2-0-1-0, or seconds per rep: 2")


def _targets(data: raw.Mapping) -> Iterator[tuple[Path, str]]:
    for way in ("easier", "harder"):
        for option in raw.entries(data, way):
            if isinstance(option.data.get("exercise"), str):
                yield (*option.path, "exercise"), option.data["exercise"]
    for word, option_or_id in raw.mapping(data.get("instead")).items():
        if isinstance(option_or_id, str):
            yield ("instead", word), option_or_id
        elif isinstance(raw.mapping(option_or_id).get("exercise"), str):
            yield ("instead", word, "exercise"), option_or_id["exercise"]


def cycles(exercises: Exercises) -> Iterator[tuple[str, Fault]]:
    """Exercise id of the file, and the fault, of each ladder that comes back to where it began."""
    edges = _easier_than(exercises)
    done: set[str] = set()
    for start in sorted(edges):
        trail = _trail_back(start, edges, done)
        if trail:
            file, path = edges[trail[-2]][trail[-1]]
            steps = " → ".join(trail)
            message = f"the ladder from hard to easy comes back to its start: {steps}"
            yield file, Fault("reference", path, message, "take one of these steps out")


def _easier_than(exercises: Exercises) -> _Edges:
    edges: _Edges = {}
    for name, data in exercises.items():
        for path, target in _targets(data):
            if path[0] == "easier":
                edges.setdefault(name, {}).setdefault(target, (name, path))
            elif path[0] == "harder":
                edges.setdefault(target, {}).setdefault(name, (name, path))
    return edges


def _trail_back(start: str, edges: _Edges, done: set[str]) -> list[str]:
    """The first cycle that can be reached from `start`, as ids with the first again at the end."""
    trail: dict[str, None] = {}
    waiting = [iter([start])]
    while waiting:
        step = next(waiting[-1], None)
        if step is None:
            waiting.pop()
            if trail:
                done.add(trail.popitem()[0])
        elif step in trail:
            steps = list(trail)
            done.update(steps)
            return [*steps[steps.index(step) :], step]
        elif step not in done:
            trail[step] = None
            waiting.append(iter(sorted(edges.get(step, {}))))
    return []


def _list(value: object) -> list[object]:
    return value if isinstance(value, list) else []
