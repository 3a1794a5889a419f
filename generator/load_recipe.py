"""Kilograms to bottles and books: what of the club's kit makes up a load. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from generator.amounts import Number, written
from generator.model import Club

NEAR_KG = Decimal("0.25")
NEAR_SHARE = Decimal("0.05")
"""A recipe is near enough within either of these. A convention of this format; no published value."""
MOST_ITEMS = 24


@dataclass(frozen=True, slots=True)
class Recipe:
    """Items and how many of each, in the kit's order; `kg` is what they come to."""

    items: tuple[tuple[str, int], ...]
    kg: Number

    def __str__(self) -> str:
        """`2 × large bottle + 1 × ream of A4 paper`."""
        return " + ".join(f"{many} × {item}" for item, many in self.items)


def near_enough(kg: Number) -> Number:
    """The largest difference allowed at a target of `kg`."""
    share: Number = kg * NEAR_SHARE
    return NEAR_KG if NEAR_KG > share else share


class Kit:
    """The household kit of a club, with the recipes found so far."""

    def __init__(self, club: Club | None) -> None:
        """An empty kit where there is no club."""
        items = club.kit if club else ()
        self._names = [item.item for item in items]
        self._masses = [item.kg for item in items]
        self._found: dict[Number, Recipe | None] = {}

    def recipe(self, kg: Number) -> Recipe | None:
        """The fewest items near enough to `kg`: the nearest first, then fewer kinds, then the kit's order."""
        if kg not in self._found:
            self._found[kg] = self._search(kg)
        return self._found[kg]

    def _search(self, kg: Number) -> Recipe | None:
        near = near_enough(kg)
        for items in range(1, MOST_ITEMS + 1):
            made = _made_of(self._masses, items, kg + near)
            fitting = [
                (off, kinds, [-many for many in counts], total)
                for total, (kinds, counts) in made.items()
                if (off := total - kg if total > kg else kg - total) <= near
            ]
            if fitting:
                _, _, counts, total = min(fitting)
                named = zip(self._names, counts, strict=True)
                return Recipe(tuple((name, -many) for name, many in named if many), total)
        return None


_Ways = dict[tuple[int, Number], tuple[int, tuple[int, ...]]]


def _made_of(masses: Sequence[Number], items: int, most: Number) -> dict[Number, tuple[int, tuple[int, ...]]]:
    """Totals up to `most` of exactly `items` items: the fewest kinds for each, and how many of each kind."""
    ways: _Ways = {(0, 0): (0, ())}
    for mass in masses:
        longer: _Ways = {}
        for (used, total), (kinds, counts) in ways.items():
            for many in range(items - used + 1):
                key = used + many, total + many * mass
                if key[1] > most:
                    break
                way = kinds + bool(many), (*counts, many)
                if key not in longer or _better(way, longer[key]):
                    longer[key] = way
        ways = longer
    return {total: way for (used, total), way in ways.items() if used == items}


def _better(way: tuple[int, tuple[int, ...]], than: tuple[int, tuple[int, ...]]) -> bool:
    """Fewer kinds; then more of what stands earlier in the kit."""
    return (way[0], [-many for many in way[1]]) < (than[0], [-many for many in than[1]])


def in_words(kg: Number, recipe: Recipe | None) -> str:
    """`4 kg: 2 × large bottle`."""
    return f"{written(kg)} kg: {recipe}" if recipe else f"{written(kg)} kg"
