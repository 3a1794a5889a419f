"""Easier and harder exercises against what the hands carry: how much the model is off is allowed, no more.

The 0.10 on the knees is how far the estimate is below the published push-up on the knees (tests/drawing/test_mannequin).
"""

from pathlib import Path

import pytest
from phasepress.judging import figures
from phasepress.reading.model import Exercise

from tests.fixtures import trees


def told(
    to: Path, monkeypatch: pytest.MonkeyPatch, push_up: float, high: float, on_knees: tuple[str, ...]
) -> list[str]:
    """What is told of the push-up, to which the high one is easier, where the hands carry so much."""
    carried = {"Push-up": push_up, "High push-up": high}
    monkeypatch.setattr(figures, "share", lambda exercise: carried.get(exercise.name))
    monkeypatch.setattr(figures, "kneels", lambda exercise: exercise.name in on_knees)
    catalogue = trees.checked(trees.copy_of_good(to)).catalogue
    (own,) = [entry for entry in catalogue.exercises.values() if entry.model.name == "Push-up"]
    assert isinstance(own.model, Exercise)
    assert [option.exercise for option in own.model.easier] == ["high-push-up"]
    every = figures.figure_findings(catalogue)
    return [one.file for one in every if one.check == "ladder-order" and one.file.endswith("/push-up.yaml")]


@pytest.mark.parametrize(
    ("on_knees", "more", "is_told"),
    [
        ((), 0.02, False),
        ((), 0.03, True),
        (("Push-up", "High push-up"), 0.03, True),
        (("Push-up",), 0.10, False),
        (("High push-up",), 0.10, False),
        (("Push-up",), 0.11, True),
        (("High push-up",), 0.11, True),
    ],
)
def test_an_easier_exercise_may_carry_two_hundredths_more_and_a_tenth_where_one_of_the_two_kneels(
    on_knees: tuple[str, ...], more: float, is_told: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # From nothing, so that the difference is exactly the number written.
    assert bool(told(tmp_path, monkeypatch, 0.0, more, on_knees)) is is_told
