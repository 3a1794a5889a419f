"""`phasepress accept`: the entry stands where it belongs, comments stay, and only what is found is accepted."""

from pathlib import Path

import pytest
from ruamel.yaml import YAML

from tests.fixtures import trees
from tests.fixtures.phases import LEVELS, day, planted, sets, version

HEAVY = sets("squat, sets: 2, reps: 8, load: 40 kg")


def tree_with(to: Path, end: str = "") -> Path:
    """A load that the kit does not reach, in a version that ends so."""
    return planted(to, {"1.0": version(day(HEAVY)) + end}, LEVELS)


def accept(tree: Path, at: str = "trial 1.0", check: str = "kit", because: str = "We bring sand.") -> str:
    result = trees.run(tree, "accept", check, "--at", at, "--because", because)
    assert result.exit_code == 0, result.output
    return result.output


def entries(file: Path) -> list[dict[str, str]]:
    """What another reader of YAML finds below `accept`."""
    return list(YAML(typ="safe", pure=True).load(file.read_text(encoding="utf-8"))["accept"])


KIT = {"check": "kit", "because": "We bring sand."}


@pytest.mark.parametrize(
    ("end", "before"),
    [
        ("", []),
        ("# the end\n", []),
        ("accept: []   # none\n", []),
        (
            "accept:   # weighed\n  - {check: balance, because: Enough.}   # so\n",
            [{"check": "balance", "because": "Enough."}],
        ),
        (
            "accept:\n- check: balance\n  because: Enough.\n\n# the end\n",
            [{"check": "balance", "because": "Enough."}],
        ),
        ("accept: [{check: balance, because: 'a ] b'}]   # ]\n", [{"check": "balance", "because": "a ] b"}]),
        ("accept: [\n  {check: balance, because: Enough.},\n]", [{"check": "balance", "because": "Enough."}]),
    ],
)
def test_an_entry_more_stands_below_those_that_are_there(end: str, before: object, tmp_path: Path) -> None:
    tree = tree_with(tmp_path, end)
    file = tree / "trial/1.0.yaml"
    comments = [line.partition("#")[2] for line in file.read_text().splitlines() if "#" in line]
    assert accept(tree) == "wrote programmes/trial/1.0.yaml: kit is accepted, 1 finding\n"
    assert entries(file) == [*before, KIT]  # type: ignore[misc]
    text = file.read_text()
    assert all(comment in text for comment in comments)
    assert [each for each in trees.checked(tree).findings if each.check == "kit"] == []


def test_a_day_is_named_in_the_entry(tmp_path: Path) -> None:
    tree = tree_with(tmp_path)
    accept(tree, "trial 1.0 day", because='"Sand": it\'s #1')
    assert entries(tree / "trial/1.0.yaml") == [{"check": "kit", "at": "day", "because": '"Sand": it\'s #1'}]


def test_a_programme_accepts_for_all_its_versions(tmp_path: Path) -> None:
    tree = tree_with(tmp_path)
    accept(tree, "trial")
    assert entries(tree / "trial/programme.yaml") == [KIT]


@pytest.mark.parametrize(
    ("check", "at", "says"),
    [
        ("kits", "trial 1.0", 'did you mean "kit"?'),
        ("value", "trial 1.0", "an error is mended"),
        ("address", "trial", "it is of the site and no programme's, so no file has a place to accept it"),
        ("unused", "trial 1.0", "it is of a file that no programme has, so no file has a place"),
        ("sets", "trial 1.0", "there is no sets to accept there; it is found at: nowhere"),
        ("kit", "trail 1.0", 'did you mean "trial"?'),
        ("kit", "trial 2.0", "unknown version"),
        ("kit", "trial 1.0 dya", 'did you mean "day"?'),
        ("kit", "trial 1.0 day week 1", "allowed"),
    ],
)
def test_what_cannot_be_accepted_is_told_and_nothing_is_written(
    check: str, at: str, says: str, tmp_path: Path
) -> None:
    tree = tree_with(tmp_path)
    before = (tree / "trial/1.0.yaml").read_bytes()
    result = trees.run(tree, "accept", check, "--at", at, "--because", "Why.")
    assert result.exit_code == 2
    assert says in result.output
    assert (tree / "trial/1.0.yaml").read_bytes() == before
