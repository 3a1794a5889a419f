"""What an exercise needs and is loaded with, and whether a home has it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

from ..computing.facts import VersionFacts, exercises_of
from ..reading.amounts import Number, written
from ..reading.catalogue import Catalogue
from ..reading.findings import listed, shown
from .registry import Issue, check
from .sources import FORMAT


@check("kit")
def loads_without_a_recipe(facts: VersionFacts) -> Iterator[Issue]:
    """A load that nothing in the club's kit makes up."""
    if facts.tree.catalogue.club is None:
        # What the kit holds is not known, and the club's own file says why.
        return
    missing: dict[str, set[Number]] = {}
    reaches = cache(facts.tree.kit.reaches)
    for session in facts.sessions:
        for station in session.plan.stations:
            if station.load and not reaches(station.load):
                missing.setdefault(session.plan.day, set()).add(station.load)
    for day, loads in missing.items():
        words = sorted(f"{written(load)} kg" for load in loads)
        message = f"{day}: no recipe of the club's kit comes to {listed(words, 'or')}"
        hint = "choose another load, or add an item to kit: in club.yaml"
        yield Issue("warning", message, facts.day_path(day), FORMAT, day, day, hint)


@check("kit")
def words_that_look_like_slips(facts: VersionFacts) -> Iterator[Issue]:
    """A thing that a single exercise needs, and whose word is one slip from that of another exercise.

    Told once, in the file of the exercise, for all versions that use it.
    """
    slips = facts.tree.once(_slips)
    used = exercises_of(facts.trained) if slips else ()
    for exercise in sorted(used):
        for index, word, like, other in slips.get(exercise, ()):
            message = f"{exercise} alone needs {shown(word)}, which is one slip from {shown(like)} of {other}"
            hint = f"write {like}, if it is the same thing"
            document = facts.tree.catalogue.exercises[exercise].document
            yield Issue("note", message, ("needs", index), FORMAT, None, exercise, hint, document)


_THE_KIT = "the club's kit"


def _slips(catalogue: Catalogue) -> dict[str, list[tuple[int, str, str, str]]]:
    """By exercise: which of its needs, the word, a word like it, and an exercise that needs that one."""
    needs: dict[str, list[tuple[str, int]]] = {}
    for name, entry in catalogue.exercises.items():
        for index, word in enumerate(entry.model.needs):
            needs.setdefault(word, []).append((name, index))
    for item in catalogue.club.model.kit if catalogue.club else ():
        needs.setdefault(item.item, []).append((_THE_KIT, 0))
    like = _first_like(sorted(needs))
    found: dict[str, list[tuple[int, str, str, str]]] = {}
    for word, ((exercise, index), *more) in needs.items():
        if word in like and not more and exercise != _THE_KIT:
            other = next((name for name, _ in needs[like[word]] if name != exercise), None)
            if other:
                found.setdefault(exercise, []).append((index, word, like[word], other))
    return found


def _first_like(words: Sequence[str]) -> dict[str, str]:
    """For each of the words, in order, the first that is one slip from it.

    The work grows with the letters of all words, and not with their pairs: a word that lacks a letter is
    looked up, and so is one in which two letters have changed places; words that are the same but for one
    letter meet where that is left out.
    """
    known = frozenset(words)
    found: dict[str, str] = {}
    meeting: dict[int, str] = {}

    def meet(one: str, other: str) -> None:
        if one != other and one_slip(one, other):
            for word, like in ((one, other), (other, one)):
                found[word] = min(found.get(word, like), like)

    for word in words:
        for at in range(len(word)):
            less = word[:at] + word[at + 1 :]
            if less in known:
                meet(word, less)
            swapped = word[:at] + word[at : at + 2][::-1] + word[at + 2 :]
            if swapped in known:
                meet(word, swapped)
            # All who meet here are alike, so the first of them is the first like each of the others.
            first = meeting.setdefault(hash((at, less)), word)
            meet(first, word)
    return found


def one_slip(one: str, other: str) -> bool:
    """Whether one letter added, left out, changed or swapped with its neighbour makes one word the other."""
    short, long = sorted((one, other), key=len)
    same = next((at for at, (a, b) in enumerate(zip(short, long, strict=False)) if a != b), len(short))
    a, b = short[same:], long[same:]
    if len(a) < len(b):
        return a == b[1:]
    return a != b and (a[1:] == b[1:] or (a[:2] == b[1::-1] and a[2:] == b[2:]))
