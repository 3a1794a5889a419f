"""Loads just inside and just outside what a kit comes to, by hand: with a recipe, and whether there is one."""

from decimal import Decimal

import pytest
from phasepress.computing.load_recipe import Kit, in_words
from phasepress.reading.model import Club


def kit(*masses: str, bag: str = "") -> Kit:
    """A kit of things called a, b, c … with these masses in kg, carried in a bag of that mass if there is one."""
    items = [{"item": chr(ord("a") + n), "mass": f"{mass} kg"} for n, mass in enumerate(masses)]
    bags = [{"item": "bag", "mass": f"{bag} kg", "carries": True}] if bag else []
    return Kit(Club.model_validate({"club": "Fenn", "kit": [*bags, *items]}))


@pytest.mark.parametrize(
    ("own", "kg", "recipe"),
    [
        # Within 0.25 kg of it, or 5 %, cut to whole grams; on either side.
        (kit("1"), "0.75", "1 × a"), (kit("1"), "0.749", None),
        (kit("1"), "1.25", "1 × a"), (kit("1"), "1.251", None),
        (kit("10"), "10.526", "1 × a"), (kit("10"), "10.527", None),
        (kit("10"), "9.524", "1 × a"), (kit("10"), "9.523", None),
        # Nothing is no recipe, however small the load.
        (kit("0.2"), "0", "1 × a"), (kit("0.3"), "0.2", "1 × a"), (kit("0.6"), "0.2", None),
        (kit("0.001"), "0.1", "1 × a"),
        # The bag counts once, and is enough where it is near; from its own mass on things are put in.
        (kit("0.1", bag="0.6"), "0.6", "1 × bag"), (kit("0.1", bag="0.6"), "0.601", "1 × bag + 1 × a"),
        (kit("5", bag="0.6"), "0.85", "1 × bag"), (kit("5", bag="0.6"), "0.851", None),
        (kit("5", bag="0.6"), "0.35", "1 × bag"), (kit("5", bag="0.6"), "0.349", None),
        (kit("0.001", bag="2"), "1.749", None), (kit("0.001", bag="2"), "1.751", "1 × bag"),
        (kit(bag="0.6"), "0.7", "1 × bag"), (kit(bag="0.6"), "4", None),
        (kit("2", "1", bag="0.6"), "3.6", "1 × bag + 1 × a + 1 × b"),
    ],
)  # fmt: skip
def test_a_load_is_reached_just_where_it_has_a_recipe(own: Kit, kg: str, recipe: str | None) -> None:
    found = own.recipe(Decimal(kg))
    assert (str(found) if found else None) == recipe
    assert own.reaches(Decimal(kg)) is (recipe is not None)


def test_a_recipe_knows_what_it_comes_to() -> None:
    found = kit("2", "1.5", bag="0.6").recipe(Decimal("4.1"))
    assert found is not None
    assert (str(found), found.kg) == ("1 × bag + 1 × a + 1 × b", Decimal("4.1"))
    assert in_words(Decimal("4.10"), found) == "4.1 kg: 1 × bag + 1 × a + 1 × b"
    assert in_words(4, None) == "4 kg"


def test_loads_may_be_asked_for_in_any_order() -> None:
    own = kit("0.7", "3")
    asked = ["7", "0.7", "0.2", "14", "3", "1.05", "30", "2"]
    assert [own.reaches(Decimal(kg)) for kg in asked] == [
        True, True, False, True, True, False, True, True,
    ]  # fmt: skip


def test_a_kit_of_things_that_weigh_nothing_makes_up_no_load() -> None:
    towels = Kit(Club.model_validate({"club": "Fenn", "kit": [{"item": "towel"}]}))
    assert towels.recipe(4) is None
    assert not towels.reaches(4)
    assert not towels.reaches(0)
