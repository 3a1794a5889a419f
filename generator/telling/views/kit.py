"""The kit card: what a home collects for a phase, and how to make loads from bottles and books."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ...computing.facts import ComputedSession, exercises_of, loads_of
from ...reading.amounts import Number, number, written
from ...reading.catalogue import ProgrammeEntry, VersionEntry
from .base import Link, Site
from .sheet import Heading, Notes, sheet_size
from .type_size import Grid, Words

USUAL_KG = tuple(map(number, ("2", "4", "6")))
"""Loads that every card has, so that next week's is no surprise. A convention; no published value."""
CAREFUL = (
    "Ask an adult before you take things, and show them the packed bag.",
    "Take a bag with whole seams and two strong handles. Plastic bottles only, no glass.",
    "Screw every lid tight, turn the bottle upside down over the sink, then dry it.",
    "Before each session lift the bag a hand's width for ten seconds: nothing may slip, tear or drip.",
    "What you lean on, step on or pull at must not move: dry floor, no wheels, pushed against a wall.",
)
_ADVICE = "Household things differ. Where your kitchen scales and this card differ, believe the scales."


class Thing(NamedTuple):
    """Something to collect, and the exercises that need it."""

    name: str
    uses: tuple[Link, ...]


class Load(NamedTuple):
    """A load: its kilograms, what goes into the bag, what that comes to where it differs, and whether the
    phase uses it."""

    kg: str
    recipe: str
    comes_to: str
    used: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class KitPage:
    """The card of a version. `weights` says what one of each household item adds."""

    things: tuple[Thing, ...]
    loads: tuple[Load, ...]
    weights: tuple[tuple[str, str], ...]
    careful: tuple[str, ...]
    advice: str
    growth: str
    size: str


def kit_page(
    site: Site,
    programme: ProgrammeEntry,
    version: VersionEntry,
    facts: Sequence[ComputedSession],
    notes: Notes,
) -> KitPage:
    """`facts` are all sessions of the version; `notes` say what else stands on the card."""
    used = loads_of(facts)
    things = tuple(_things(site, facts))
    loads = tuple(_loads(site, used)) if used else ()
    club = site.catalogue.club
    weights = (
        tuple((item.item, f"{written(item.kg)} kg") for item in club.model.kit if item.kg)
        if club and used
        else ()
    )
    run = (
        f"{site.club_name} · {programme.model.title} · phase {version.phase} {version.model.phase} · kit card"
    )
    head = Heading(run, f"What you need for {version.model.phase}", _ADVICE)
    size = sheet_size(site, head, notes, list(_grids(things, loads)))
    return KitPage(
        things=things,
        loads=loads,
        weights=weights,
        careful=CAREFUL,
        advice=_ADVICE,
        growth=notes.growth,
        size=size,
    )


def _things(site: Site, facts: Iterable[ComputedSession]) -> Iterator[Thing]:
    found: dict[str, list[str]] = {}
    for exercise in exercises_of(facts):
        for thing in site.catalogue.exercise(exercise).needs:
            found.setdefault(thing, []).append(exercise)
    for thing, exercises in found.items():
        yield Thing(thing, tuple(map(site.exercise_link, dict.fromkeys(exercises))))


def _loads(site: Site, used: Sequence[Number]) -> Iterator[Load]:
    for kg in sorted({*USUAL_KG, *used}):
        recipe = site.kit.recipe(kg)
        # A load that the club's things cannot make is told only where the phase asks for it.
        if recipe or kg in used:
            other = f"comes to {written(recipe.kg)} kg" if recipe and recipe.kg != kg else ""
            yield Load(f"{written(kg)} kg", str(recipe or ""), other, kg in used)


def _grids(things: Sequence[Thing], loads: Sequence[Load]) -> Iterator[Grid]:
    """The card as it is set on paper, for its size of type."""
    rows = [(thing.name, f"for {', '.join(use.words for use in thing.uses)}") for thing in things]
    yield _grid("Find at home", rows, columns=1)
    if loads:
        told = [(f"{load.kg} {load.recipe}", f"{load.comes_to} in this phase") for load in loads]
        yield _grid("Make a load", told)
    yield _grid("Check before every session", [("", line) for line in CAREFUL])


def _grid(title: str, rows: Iterable[tuple[str, str]], columns: int = 0) -> Grid:
    set_rows = tuple(
        (Words(large, large=True, bold=True), Words(small, large=False)) for large, small in rows
    )
    return Grid(title, columns, 0, set_rows)
