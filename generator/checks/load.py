"""What an exercise needs and is loaded with, and whether a home has it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.amounts import written
from generator.catalogue import Catalogue
from generator.checks.registry import Facts, Raised, check
from generator.checks.sources import FORMAT
from generator.findings import listed, shown


@check("kit")
def loads_without_a_recipe(facts: Facts) -> Iterator[Raised]:
    """A load that nothing in the club's kit makes up."""
    if facts.tree.catalogue.club is None:
        # What the kit holds is not known, and the club's own file says why.
        return
    missing: dict[str, set[str]] = {}
    for session in facts.sessions:
        for block in session.plan.blocks:
            for station in block.stations:
                if station.load and facts.tree.kit.recipe(station.load) is None:
                    missing.setdefault(session.plan.day, set()).add(f"{written(station.load)} kg")
    for day, loads in missing.items():
        message = f"{day}: no recipe of the club's kit comes to {listed(sorted(loads), 'or')}"
        hint = "choose another load, or add an item to kit: in club.yaml"
        yield Raised("warning", message, facts.day_path(day), FORMAT, day, day, hint)


@check("kit")
def words_that_look_like_slips(facts: Facts) -> Iterator[Raised]:
    """A thing that a single exercise needs, and whose word is one slip from that of another exercise.

    Told once, in the file of the exercise, for all versions that use it.
    """
    slips = facts.tree.once(_slips)
    used = {s.exercise for one in facts.trained for b in one.plan.blocks for s in b.stations} if slips else ()
    for exercise in sorted(used):
        for index, word, like, other in slips.get(exercise, ()):
            message = f"{exercise} alone needs {shown(word)}, which is one slip from {shown(like)} of {other}"
            hint = f"write {like}, if it is the same thing"
            document = facts.tree.catalogue.exercises[exercise].document
            yield Raised("note", message, ("needs", index), FORMAT, None, exercise, hint, document)


def _slips(catalogue: Catalogue) -> dict[str, list[tuple[int, str, str, str]]]:
    """By exercise: which of its needs, the word, a word like it, and an exercise that needs that one."""
    needs: dict[str, list[str]] = {}
    for name, entry in catalogue.exercises.items():
        for word in entry.model.needs:
            needs.setdefault(word, []).append(name)
    found: dict[str, list[tuple[int, str, str, str]]] = {}
    for word, (exercise, *more) in needs.items():
        like = next((other for other in sorted(needs) if one_slip(word, other)), None)
        others = [name for name in needs[like] if name != exercise] if like else []
        if like and others and not more:
            index = catalogue.exercise(exercise).needs.index(word)
            found.setdefault(exercise, []).append((index, word, like, others[0]))
    return found


def one_slip(one: str, other: str) -> bool:
    """Whether one letter added, left out, changed or swapped with its neighbour makes one word the other."""
    short, long = sorted((one, other), key=len)
    same = next((at for at, (a, b) in enumerate(zip(short, long, strict=False)) if a != b), len(short))
    a, b = short[same:], long[same:]
    if len(a) < len(b):
        return a == b[1:]
    return a != b and (a[1:] == b[1:] or (a[:2] == b[1::-1] and a[2:] == b[2:]))
