"""Kilograms to bottles and books: what of the club's kit makes up a load. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cache, reduce
from operator import or_

from ..reading.amounts import Number, number, written
from ..reading.model import Club

NEAR_KG = Decimal("0.25")
NEAR_SHARE = Decimal("0.05")
"""A recipe is near enough within either of these. A convention of this format; no published value."""
MOST_ITEMS = 24
_GRAMS = 1000


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
    return max(NEAR_KG, share)


class Kit:
    """The household kit of a club, with the recipes found so far."""

    def __init__(self, club: Club | None) -> None:
        """An empty kit where there is no club."""
        weighed = [
            (item.item, int(item.kg * _GRAMS), item.carries) for item in (club.kit if club else ()) if item.kg
        ]
        self._carrier, self._carried = next(
            ((name, grams) for name, grams, carries in weighed if carries), ("", 0)
        )
        self._names = [name for name, _, carries in weighed if not carries]
        self._grams = [grams for _, grams, carries in weighed if not carries]
        self._found: dict[Number, Recipe | None] = {}
        self._reach = 0, 0
        """Up to how many grams it is known what the kit comes to, and these totals as bits."""

    def recipe(self, kg: Number) -> Recipe | None:
        """The fewest items near enough to `kg`: the nearest first, then fewer kinds, then the kit's order."""
        if kg not in self._found:
            self._found[kg] = self._with_the_carrier(int(kg * _GRAMS), int(near_enough(kg) * _GRAMS))
        return self._found[kg]

    def _with_the_carrier(self, target: int, near: int) -> Recipe | None:
        """What loads are carried in counts once, and may be load enough by itself."""
        if not self._carrier:
            return self._search(target, near)
        bag = ((self._carrier, 1),)
        mass = number(Decimal(self._carried) / _GRAMS)
        found = self._search(target - self._carried, near) if target > self._carried else None
        if found:
            return Recipe(bag + found.items, found.kg + mass)
        return Recipe(bag, mass) if abs(target - self._carried) <= near else None

    def reaches(self, kg: Number) -> bool:
        """Whether there is a recipe, without looking for the best."""
        grams, near = int(kg * _GRAMS), int(near_enough(kg) * _GRAMS)
        target = grams - self._carried
        if self._carrier and abs(target) <= near:
            return True
        if grams < self._carried:
            return False
        least = max(target - near, 0)
        if self._reach[0] < target + near:
            # Twice as much as is asked for, so that loads that grow do not each ask anew.
            most = 2 * (target + near)
            self._reach = most, reduce(or_, _totals(self._grams, most)[0][1:])
        return bool(self._reach[1] >> least & (1 << (target + near - least + 1)) - 1)

    def _search(self, target: int, near: int) -> Recipe | None:
        shelf = _Shelf(self._grams, target + near)
        for items in range(1, MOST_ITEMS + 1):
            ways = shelf.nearest(items, target, near)
            if ways:
                # Of two equally near totals: fewer kinds, then more of what stands earlier in the kit.
                total, counts = min(ways, key=lambda way: (_kinds(way[1]), [-many for many in way[1]]))
                named = zip(self._names, counts, strict=True)
                chosen = tuple((name, many) for name, many in named if many)
                return Recipe(chosen, number(Decimal(total) / _GRAMS))
        return None


_Counts = tuple[int, ...]


def _totals(masses: list[int], most: int) -> list[list[int]]:
    """[first][items]: what the masses from `first` on come to with exactly so many items, up to `most`."""
    within = (1 << (most + 1)) - 1
    found = [[1] + [0] * MOST_ITEMS]
    for mass in reversed(masses):
        row = [1]
        for items in range(1, MOST_ITEMS + 1):
            row.append(found[0][items] | (row[items - 1] << mass) & within)
        found.insert(0, row)
    return found


class _Shelf:
    """Which totals a number of items comes to, in grams. A set of totals is a number with their bits."""

    def __init__(self, masses: list[int], most: int) -> None:
        self._masses = masses
        self._totals = _totals(masses, most)
        self._best = cache(self._search)

    def nearest(self, items: int, target: int, near: int) -> list[tuple[int, _Counts]]:
        """Of the totals within `near`, the closest to the target: at most two, each with its best way."""
        if not self._totals[0][items] >> max(target - near, 0):
            return []
        for off in range(near + 1):
            totals = [total for total in sorted({target - off, target + off}) if self._has(0, items, total)]
            if totals:
                return [(total, self._best(0, items, total)) for total in totals]
        return []

    def _has(self, first: int, items: int, total: int) -> bool:
        return total >= 0 and bool(self._totals[first][items] >> total & 1)

    def _search(self, first: int, items: int, total: int) -> _Counts:
        """How many of each mass from `first` on: the fewest kinds, then more of the earlier ones."""
        if first == len(self._masses):
            return ()
        mass = self._masses[first]
        ways = [
            (many, *self._best(first + 1, items - many, total - many * mass))
            for many in range(items, -1, -1)
            if self._has(first + 1, items - many, total - many * mass)
        ]
        return min(ways, key=_kinds)


def _kinds(counts: _Counts) -> int:
    return sum(many > 0 for many in counts)


def in_words(kg: Number, recipe: Recipe | None) -> str:
    """`4 kg: 2 × large bottle`."""
    return f"{written(kg)} kg: {recipe}" if recipe else f"{written(kg)} kg"
