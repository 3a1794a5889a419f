"""Who trains: how old they are, and whether beginners have a way to do less."""

from __future__ import annotations

from collections.abc import Iterator

from ..computing.facts import VersionFacts
from ..reading.catalogue import Catalogue
from .limits import AGE, YOUNGEST
from .registry import Issue, check
from .sources import COMMON_PRACTICE


@check("age")
def younger_than_published(facts: VersionFacts) -> Iterator[Issue]:
    """An audience that begins below the published age; told once, in the programme's file."""
    audience = facts.programme.model.audience
    if audience and audience.ages[0] < YOUNGEST:
        message = f"an audience from {audience.ages[0]} years; {AGE.outside}"
        hint = "raise audience: ages, or accept it with the reason"
        document = facts.programme.document
        yield Issue(
            "warning", message, ("audience", "ages"), AGE.cited, None, facts.programme.id, hint, document
        )


@check("ladder")
def nothing_easier_for_beginners(facts: VersionFacts) -> Iterator[Issue]:
    """An exercise of a beginner level, its warm-up included, for which no easier way is written anywhere.

    Told once, in the file of the exercise, for all versions that use it; each day is weighed for itself.
    """
    beginners = {level.id for level in facts.version.levels if level.experience == "beginner"}
    easier = facts.tree.once(_with_an_easier_way)
    used = {
        (one.plan.day, station.exercise): None
        for one in facts.trained
        if one.plan.level in beginners
        for station in one.plan.stations
        if station.exercise not in easier
    }
    for day, exercise in used:
        without = f"{exercise} is used at a beginner level and has no easier option"
        message = f"{without}; to have one is {COMMON_PRACTICE}"
        hint = "write one below easier: such as - how: half as deep"
        document = facts.tree.catalogue.exercises[exercise].document
        yield Issue("note", message, ("easier",), COMMON_PRACTICE, day, exercise, hint, document)


def _with_an_easier_way(catalogue: Catalogue) -> frozenset[str]:
    """Exercises whose own file has an easier option, or which another file names as its harder one."""
    own = {name for name, entry in catalogue.exercises.items() if entry.model.easier}
    harder = {option.exercise for entry in catalogue.exercises.values() for option in entry.model.harder}
    return frozenset(own | {name for name in harder if name})
