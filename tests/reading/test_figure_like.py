"""A figure that is like another exercise's has all of it but what its own file says."""

from pathlib import Path

import pytest
from phasepress.reading.catalogue import load

from tests.fixtures import trees

STEP = "exercises/step-back.yaml"
LIKE = "figure: {like: push-up, view: front, joints: {neck: 5}}\n"


def with_figure(to: Path, text: str) -> Path:
    """The good tree with this text at the end of an exercise that has no figure."""
    tree = trees.copy_of_good(to)
    path = tree / STEP
    assert "figure:" not in path.read_text()
    path.write_text(path.read_text().rstrip() + "\n" + text)
    return tree


def test_what_is_not_said_is_the_other_ones(tmp_path: Path) -> None:
    catalogue = load(with_figure(tmp_path, LIKE)).catalogue
    own, other = (catalogue.exercise(name).figure for name in ("step-back", "push-up"))
    assert own is not None
    assert other is not None
    assert own.positions == other.positions
    assert (own.view, other.view) == ("front", "side")
    # Joints differ name by name, so that what is not named stays.
    assert own.joints == {**other.joints, "neck": 5}


def test_positions_that_are_given_replace_the_other_ones(tmp_path: Path) -> None:
    text = "figure:\n  like: push-up\n  positions: [{says: hold it, joints: {lean: 70, shoulder: 68}}]\n"
    figure = load(with_figure(tmp_path, text)).catalogue.exercise("step-back").figure
    assert figure is not None
    assert [position.says for position in figure.positions] == ["hold it"]


def test_one_may_be_like_one_that_is_like_another(tmp_path: Path) -> None:
    tree = with_figure(tmp_path, LIKE)
    (tree / "exercises/third.yaml").write_text(
        (tree / STEP).read_text().replace("like: push-up", "like: step-back")
    )
    catalogue = load(tree).catalogue
    third, first = (catalogue.exercise(name).figure for name in ("third", "push-up"))
    assert third is not None
    assert first is not None
    assert (third.view, third.positions) == ("front", first.positions)


@pytest.mark.parametrize(
    ("text", "what", "hint"),
    [
        ("figure: {like: push-upp}\n", "unknown exercise “push-upp”", "push-up"),
        (
            "figure: {like: step-back}\n",
            "leads back to a figure that is like this one",
            "write its positions out",
        ),
        ("figure: {like: march}\n", "", ""),
        ("figure: {like: 7}\n", "allowed the id of an exercise", ""),
    ],
)
def test_one_that_cannot_be_is_told_at_its_line(text: str, what: str, hint: str, tmp_path: Path) -> None:
    tree = with_figure(tmp_path, text)
    lines = (tree / STEP).read_text().splitlines()
    found = [one for one in load(tree).findings if one.file.endswith(STEP)]
    assert len(found) == 1
    assert found[0].line == len(lines)
    assert what.replace("“", '"').replace("”", '"') in found[0].message
    assert hint in found[0].hint


def test_a_value_that_is_wrong_beside_like_is_told_as_ever(tmp_path: Path) -> None:
    (one,) = load(with_figure(tmp_path, LIKE.replace("front", "frnt"))).findings
    assert (one.check, one.file.endswith(STEP)) == ("value", True)
    assert "view" in one.message
