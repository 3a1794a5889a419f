"""A first phase from what the tree has: two days a week that pass, to be rewritten by the coach."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from ..computing.resolve import routine_alone
from ..computing.running_order import running_order
from ..reading.amounts import OTHER, Number
from ..reading.catalogue import Catalogue, Entry, ProgrammeEntry, raw
from ..reading.model import Exercise, Routine

_PATTERNS = (("squat", "lunge"), ("push",), ("brace",)), (("hinge",), ("pull",), ("brace", "rotate"))
"""What is looked for on the first and on the second day, one exercise each."""
_SCHEMA = "# yaml-language-server: $schema=../.schema/{}.schema.json\n"
_STARTER = "starter"


class NothingToTrainError(Exception):
    """The tree has no warm-up, or no exercise, that a first phase could begin with."""


def new_programme(catalogue: Catalogue, title: str, starts: date) -> dict[str, str]:
    """Files by name of a programme with one level and one phase. Raises NothingToTrainError."""
    text = f"""\
{_SCHEMA.format("programme")}title: {quoted(title)}
summary: Two short sessions a week.
# audience: {{ages: [13, 15]}}
levels:
  - id: {_STARTER}
    name: Starter
    experience: beginner
    who: Your first season of strength work. Start here if you are not sure.
limits: {{session: 45 min, sessions per week: 3, week step: 25 %}}
"""
    return {"programme.yaml": text, "1.0.yaml": _phase(catalogue, [_STARTER], starts)}


def first_phase(catalogue: Catalogue, programme: ProgrammeEntry, starts: date) -> tuple[str, str]:
    """Name and text of the first version of a programme that has none yet. Raises NothingToTrainError."""
    return "1.0.yaml", _phase(catalogue, [level.id for level in programme.model.levels], starts)


def _phase(catalogue: Catalogue, levels: Sequence[str], starts: date) -> str:
    warm_up = _routine(catalogue, "warm-up", levels)
    cool_down = _routine(catalogue, "cool-down", levels)
    days = [_chosen(catalogue, patterns) for patterns in _PATTERNS]
    if warm_up is None:
        raise NothingToTrainError("there is no warm-up for all levels in routines/, which every day needs")
    if not any(days):
        raise NothingToTrainError("there is no exercise in exercises/ to begin with")
    text = f"""\
{_SCHEMA.format("version")}phase: Beginning
aim: Learn the positions before anything gets harder.
starts: {starts.isoformat()}
weeks: 4
levels: [{", ".join(levels)}]
days:
"""
    for (name, weekday), exercises in zip((("first", "mon"), ("second", "thu")), days, strict=True):
        if exercises:
            text += _day(name, weekday, warm_up.id, cool_down.id if cool_down else None, exercises)
    return text


def _day(
    name: str, weekday: str, warm_up: str, cool_down: str | None, exercises: Iterable[Entry[Exercise]]
) -> str:
    text = f"""\
  - id: {name}-day
    title: {name.capitalize()} day
    on: [{weekday}]
    warm-up: {warm_up}
"""
    if cool_down:
        text += f"    cool-down: {cool_down}\n"
    text += """\
    blocks:
      - kind: circuit
        rounds: [2, 2, 2, 1]
        rest: 75 s
        changeover: 20 s
        stations:
"""
    for exercise in exercises:
        dose = "reps: 8" if exercise.model.measure == "reps" else "hold: 20 s"
        text += f"          - {{exercise: {exercise.id}, {dose}}}\n"
    return text


def _routine(catalogue: Catalogue, kind: str, levels: Sequence[str]) -> Entry[Routine] | None:
    """The first routine of a kind that fits these levels and any number of weeks; the longest cool-down."""
    fits = [
        routine
        for routine in catalogue.routines.values()
        if routine.model.kind == kind
        and all(_for_all(value, levels) for _, value in raw.varying(routine.document.data))
    ]
    if kind == "cool-down":
        return max(fits, key=lambda routine: _lasts(catalogue, routine, levels[0]), default=None)
    return fits[0] if fits else None


def _lasts(catalogue: Catalogue, routine: Entry[Routine], level: str) -> Number:
    return running_order(routine_alone(catalogue, routine.id, routine.model.kind, level)).seconds


def _for_all(amount: object, levels: Sequence[str]) -> bool:
    """Whether an amount has an entry for each level, and none that differs from week to week."""
    if isinstance(amount, dict):
        named = OTHER in amount or amount.keys() >= set(levels)
        return named and not any(isinstance(row, list) for row in amount.values())
    return not isinstance(amount, list)


def _chosen(catalogue: Catalogue, patterns: Iterable[tuple[str, ...]]) -> list[Entry[Exercise]]:
    """The easiest exercise of each pattern that lands nowhere and is done in reps or held."""
    found: list[Entry[Exercise]] = []
    for names in patterns:
        own = [e for e in catalogue.exercises.values() if e.model.pattern in names and _fits(e.model)]
        own.sort(key=lambda entry: _hardness(catalogue, entry))
        found += [entry for entry in own[:1] if entry not in found]
    return found


def _fits(exercise: Exercise) -> bool:
    held = exercise.measure == "hold" and exercise.sides != "alternating"
    return (held or exercise.measure == "reps") and not exercise.contacts


def _hardness(catalogue: Catalogue, entry: Entry[Exercise]) -> tuple[bool, int, int, str]:
    """Without an easier option last; then by rungs of the ladder below, by things that are needed, by id."""
    rungs, here = 0, entry
    seen = {entry.id}
    while True:
        below = [option.exercise for option in here.model.easier if option.exercise in catalogue.exercises]
        if not below or below[0] is None or below[0] in seen:
            return not entry.model.easier, rungs, len(entry.model.needs), entry.id
        here = catalogue.exercises[below[0]]
        seen.add(here.id)
        rungs += 1


def quoted(text: str) -> str:
    """Text as a YAML value, whatever is in it."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
