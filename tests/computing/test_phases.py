"""Which phase comes before which, and what is looked back at of it; expected by hand."""

from pathlib import Path

from phasepress.computing.facts import Earlier, Tree
from phasepress.computing.load_recipe import Kit
from phasepress.computing.phases import Phases

from tests.fixtures import trees
from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version

FIRST, SECOND, LATER, THIRD = "2027-01-11", "2027-01-18", "2027-01-25", "2027-02-01"


def before(tree: Path, name: str) -> Earlier | None:
    """What the version with this name looks back at."""
    catalogue = trees.checked(tree).catalogue
    programme = catalogue.programmes["trial"]
    found = programme.version(name)
    assert found
    phases = Phases(Tree(catalogue, Kit(catalogue.club.model if catalogue.club else None)), programme)
    return phases.facts(found).before


def lifted(kg: int) -> str:
    """A day in which so much is lifted."""
    return day(sets(f"squat, sets: 2, reps: 8, load: {kg} kg"))


def test_an_edition_that_starts_sooner_is_no_phase_before_its_own(tmp_path: Path) -> None:
    """2.1 starts a week before 2.0, which it takes the place of: both follow 1.0."""
    versions = {
        "1.0": version(lifted(2), starts=FIRST),
        "2.0": version(lifted(3), starts=LATER),
        "2.1": version(lifted(4), starts=SECOND),
        "3.0": version(lifted(5), starts=THIRD),
    }
    tree = planted(tmp_path, versions)
    looked_back = {name: before(tree, name) for name in versions}
    assert {name: one and one.name for name, one in looked_back.items()} == {
        "1.0": None, "2.0": "1.0", "2.1": "1.0", "3.0": "2.1",
    }  # fmt: skip
    assert looked_back["2.0"] is not None
    assert looked_back["2.0"].heaviest == {("starter", "squat"): 2}


def test_a_level_has_learned_to_land_where_it_trained_that_itself_or_comes_new_to_one_that_did(
    tmp_path: Path,
) -> None:
    landing = day(sets("{starter: drop, steady: squat}, sets: 2, reps: 8"))
    tree = planted(
        tmp_path,
        {
            "1.0": version(landing, starts=FIRST, keys="levels: [starter, steady]"),
            "2.0": version(landing, starts=SECOND, keys="levels: [starter, steady]"),
            "3.0": version(lifted(2), starts=LATER, keys="levels: [starter, steady]"),
        },
        TWO_LEVELS,
    )
    second, third = before(tree, "2.0"), before(tree, "3.0")
    assert second is not None
    assert third is not None
    assert second.landed == third.landed == {"starter"}


def test_a_level_that_was_not_there_yet_counts_as_having_learned_with_the_others(tmp_path: Path) -> None:
    landing = day(sets("drop, sets: 2, reps: 8"))
    tree = planted(
        tmp_path,
        {
            "1.0": version(landing, starts=FIRST, keys="levels: [starter]"),
            "2.0": version(lifted(2), starts=SECOND, keys="levels: [starter, steady]"),
        },
        TWO_LEVELS,
    )
    second = before(tree, "2.0")
    assert second is not None
    assert second.landed == {"starter", "steady"}
