"""What is told of figures: how grave it is, the share in words, and where a tree has too many positions; by hand."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from phasepress.drawing.mannequin.breaks import Break
from phasepress.judging import figures
from phasepress.reading.catalogue import Catalogue, load
from phasepress.reading.findings import Finding

from tests.fixtures import trees


@pytest.fixture
def quiet(monkeypatch: pytest.MonkeyPatch) -> None:
    """No figure shows anything wrong, and hands carry nothing."""
    monkeypatch.setattr(figures, "breaks", lambda figure: ())
    monkeypatch.setattr(figures, "captions", lambda exercise: ())
    monkeypatch.setattr(figures, "share", lambda exercise: None)


def found(catalogue: Catalogue) -> list[tuple[str, str, str, str]]:
    """Check, severity, exercise and words of each finding."""
    return [(one.check, one.severity, one.at, one.message) for one in figures.figure_findings(catalogue)]


def positions(catalogue: Catalogue) -> dict[str, int]:
    every = {name: entry.model.figure for name, entry in catalogue.exercises.items()}
    return {name: len(figure.positions) for name, figure in every.items() if figure}


def test_the_figure_that_is_too_many_is_told_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalogue = load(trees.copy_of_good(tmp_path)).catalogue
    many = positions(catalogue)
    assert len(many) == 3
    last = list(many)[-1]
    monkeypatch.setattr(figures, "MOST_POSITIONS", sum(many.values()) - 1)
    (told,) = figures.figure_findings(catalogue)
    assert isinstance(told, Finding)
    assert told.file.endswith(f"exercises/{last}.yaml")
    assert told.severity == "error"
    assert (
        f"with it the figures of the whole tree have more than {sum(many.values()) - 1} positions"
        in told.message
    )
    monkeypatch.setattr(figures, "MOST_POSITIONS", sum(many.values()))
    assert "error" not in {one.severity for one in figures.figure_findings(catalogue)}


@pytest.mark.parametrize(("grave", "severity"), [(True, "warning"), (False, "note")])
@pytest.mark.parametrize("kind", ["breaks", "captions"])
@pytest.mark.usefixtures("quiet")
def test_what_no_body_can_do_is_a_warning_and_what_is_less_grave_a_note(
    kind: str, grave: bool, severity: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def wrong(_: object) -> Iterator[Break]:
        yield Break(("figure", "positions"), "a knee bends sideways", "bend it another way", grave)

    monkeypatch.setattr(figures, kind, wrong)
    catalogue = load(trees.copy_of_good(tmp_path)).catalogue
    assert found(catalogue) == [
        ("figure", severity, name, "a knee bends sideways") for name in positions(catalogue)
    ]


@pytest.mark.usefixtures("quiet")
def test_a_figure_of_an_exercise_with_a_tempo_says_where_it_is_high_and_low(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    assert found(load(tree).catalogue) == []
    text = (tree / "exercises/push-up.yaml").read_text(encoding="utf-8")
    assert "tempo" in text
    (tree / "exercises/push-up.yaml").write_text(
        text.replace("at: high, ", "").replace("at: low, ", ""), encoding="utf-8"
    )
    message = "no position at: high or low, so it cannot move in the tempo of a dose"
    assert found(load(tree).catalogue) == [("figure", "note", "push-up", message)]


@pytest.mark.usefixtures("quiet")
def test_a_harder_exercise_may_not_carry_less_either_and_both_shares_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The high push-up names the push-up as its harder one; 0.745 of the weight are 74 %, halves to the even number."""
    shares = {"Push-up": 0.5, "High push-up": 0.745}
    monkeypatch.setattr(figures, "share", lambda exercise: shares.get(exercise.name))
    monkeypatch.setattr(figures, "kneels", lambda exercise: False)
    tree = trees.copy_of_good(tmp_path)
    trees.change(tree / "exercises/high-push-up.yaml", "figure:", "harder: [{exercise: push-up}]\nfigure:")
    told = {at: message for check, _, at, message in found(load(tree).catalogue) if check == "ladder-order"}
    assert told == {
        "high-push-up": "push-up is given as harder, but its hands carry about 50 % of body weight and those of this "
        "exercise about 74 % (estimate, adult data)",
        "push-up": "high-push-up is given as easier, but its hands carry about 74 % of body weight and those of this "
        "exercise about 50 % (estimate, adult data)",
    }
    shares["High push-up"] = 0.5
    assert found(load(tree).catalogue) == []
