"""The kit card of clubs and phases unlike the demo's."""

from . import trees
from .pages import words


def test_without_a_list_of_household_things_it_says_whom_to_ask(grown):
    tree = trees.small()
    tree["club.yaml"].pop("kit", None)
    tree["exercises/sit.yaml"] |= {"loadable": True, "needs": ["bag"]}
    tree["plan/1.0.yaml"]["days"][0]["blocks"][0]["stations"][0] |= {"exercise": "sit", "load": "3 kg"}
    card = grown(tree)["plan/1.0/kit/"]
    assert "3 kg Your club's list has nothing for it: ask your coach. in this phase" in card.words
    assert "2 kg" not in card.words
    assert "One of each adds" not in card.words


def test_a_phase_without_loads_says_so(grown):
    tree = trees.small()
    card = grown(tree)["plan/1.0/kit/"]
    assert "No exercise of this phase has a load." in card.words
    assert "Check before every session" in card.words


def test_a_phase_that_needs_nothing_says_so(grown):
    tree = trees.small()
    for name in [name for name in tree if name.startswith("exercises/")]:
        tree[name].pop("needs", None)
    card = grown(tree)["plan/1.0/kit/"]
    assert "You need nothing but some floor." in card.words
    assert [words(one) for one in card.all("table")] == []


def test_what_comes_to_a_little_more_or_less_says_how_much(grown):
    tree = trees.small()
    tree["club.yaml"]["kit"] = [{"item": "big can", "holds": "2.1 l"}]
    tree["exercises/sit.yaml"] |= {"loadable": True, "needs": ["bag"]}
    tree["plan/1.0.yaml"]["days"][0]["blocks"][0]["stations"][0] |= {"exercise": "sit", "load": "2 kg"}
    card = grown(tree)["plan/1.0/kit/"]
    assert "2 kg 1 × big can comes to 2.1 kg; in this phase" in card.words
    assert "4 kg 2 × big can comes to 4.2 kg" in card.words
