"""`phasepress new exercise`: it passes check at once, has every key, and overwrites nothing."""

from pathlib import Path

import pytest
from phasepress.reading.model import Exercise

from tests.fixtures import trees


def test_a_new_exercise_has_every_key_with_a_word_on_it_and_passes_check(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    result = trees.run(tree, "new", "exercise", "chair-sit")
    assert result.exit_code == 0, result.output
    text = (tree / "exercises/chair-sit.yaml").read_text(encoding="utf-8")
    assert 'name: "Chair sit"' in text
    for name, field in Exercise.model_fields.items():
        assert f"{field.alias or name}:" in text, name
    (told,) = trees.checked(tree).findings
    assert (told.check, told.severity) == ("unused", "note")


def test_an_exercise_like_another_has_its_text_and_a_name_of_its_own(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    result = trees.run(tree, "new", "exercise", "one-arm-row", "--like", "bag-row", "--name", "Row: one arm")
    assert result.exit_code == 0, result.output
    old = (tree / "exercises/bag-row.yaml").read_text().splitlines()
    made = (tree / "exercises/one-arm-row.yaml").read_text().splitlines()
    assert made[0] == 'name: "Row: one arm"'
    assert made[1:] == old[1:]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("bag-row",), "cannot write"),
        (("Bag",), "cannot be the id of an exercise"),
        (("new-row", "--like", "bagrow"), 'did you mean "bag-row"?'),
    ],
)
def test_what_cannot_be_written_is_told(words: tuple[str, ...], says: str, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    before = {path: path.read_bytes() for path in tree.rglob("*.yaml")}
    result = trees.run(tree, "new", "exercise", *words)
    assert result.exit_code == 2
    assert says in result.output
    assert {path: path.read_bytes() for path in tree.rglob("*.yaml")} == before
