"""What loads are carried in counts once in every recipe; things of the house that are no load are in none."""

from pathlib import Path

import pytest
from phasepress.computing.load_recipe import Kit, near_enough
from phasepress.reading.amounts import number
from phasepress.reading.model import Club

from tests.fixtures import trees

BAG = {"item": "rucksack", "mass": "0.6 kg", "carries": True}
BOTTLE = {"item": "bottle", "holds": "0.5 l"}
TOWEL = {"item": "bath towel"}


def kit(*items: dict[str, object]) -> Kit:
    return Kit(Club.model_validate({"club": "Fenn", "kit": list(items)}))


@pytest.mark.parametrize(
    ("kg", "recipe"),
    [
        (2, "1 × rucksack + 3 × bottle"),  # 0.6 + 1.5 = 2.1
        (4, "1 × rucksack + 7 × bottle"),  # 0.6 + 3.5 = 4.1
        (0.5, "1 × rucksack"),
        (0.6, "1 × rucksack"),
    ],
)
def test_the_bag_counts_once(kg: float, recipe: str) -> None:
    assert str(kit(BAG, BOTTLE, TOWEL).recipe(number(kg))) == recipe


def test_less_than_the_bag_cannot_be_carried_in_it() -> None:
    assert kit(BAG, BOTTLE).recipe(0) is None or near_enough(0) >= 0.6
    assert not kit({**BAG, "mass": "2 kg"}, BOTTLE).reaches(1)


def test_what_is_reached_is_what_has_a_recipe() -> None:
    for bag in (BAG, {**BAG, "mass": "1.7 kg"}):
        own = kit(bag, BOTTLE, {"item": "ream", "mass": "2.5 kg"}, TOWEL)
        for tenths in range(1, 90):
            assert own.reaches(number(tenths / 10)) == (own.recipe(number(tenths / 10)) is not None), tenths


def test_a_need_one_slip_from_a_thing_of_the_kit_is_told(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"club.yaml": ("kit:\n", "kit:\n  - {item: bath towel}\n")})
    trees.change(tree / "exercises/bag-row.yaml", "needs: [bag, chair]", "needs: [bag, chair, bathtowel]")
    (told,) = trees.checked(tree).findings
    assert 'needs "bathtowel", which is one slip from "bath towel" of the club\'s kit' in told.message
