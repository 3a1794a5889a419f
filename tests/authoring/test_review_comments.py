"""A new edition with the questions of a review: a comment each beside its dose, and no dose changed."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from phasepress.cli import main
from phasepress.reading.catalogue import load

from tests.fixtures import phases

ONE = {
    "programme": "trial", "version": "1.0", "day": "day", "level": "starter", "station": "A1", "exercise": "squat",
    "file": "1.0.yaml", "line": 1, "met": 9, "changed": 4, "why": "easier", "step": "do less",
}  # fmt: skip
BLOCK = (
    """{kind: circuit, rounds: 2, stations: [{exercise: squat, reps: 8}, {exercise: plank, hold: 20 s}]}"""
)
SPREAD = """kind: circuit
        rounds: 2
        stations:
          - exercise: push   # ours
            reps: {other: 8}   # a remark
          - {exercise: pull,
             reps: 6}"""


@pytest.fixture
def programmes(tmp_path: Path) -> Path:
    return phases.planted(tmp_path, {"1.0": phases.version(phases.day(BLOCK, SPREAD))})


def edition(programmes: Path, review: Any, *words: str) -> Result:
    path = programmes.parent / "review.json"
    path.write_text(review if isinstance(review, str) else json.dumps(review))
    call = ["new", "edition", "trial", "--review", str(path), "--programmes", str(programmes), *words]
    return CliRunner().invoke(main, call)


def test_each_question_is_a_comment_above_its_dose_and_nothing_else_changes(programmes: Path) -> None:
    asked = [
        ONE | {"station": "B1"},
        ONE | {"station": "B2", "why": "too easy", "changed": 0, "step": "squat"},
        ONE,
    ]
    done = edition(programmes, {"questions": asked})
    assert done.exit_code == 0, done.output
    assert "3 questions of the review" in done.stdout
    before, after = ((programmes / f"trial/{name}.yaml").read_text().splitlines() for name in ("1.0", "1.1"))
    added = [line for line in after if "asked by the review" in line]
    rest = [line for line in after if line not in added and not line.startswith("changes:")]
    assert rest == [line for line in before if not line.startswith("changes:")]
    beside = {after[at + 1].strip(): line.strip() for at, line in enumerate(after) if line in added}
    assert beside.keys() == {f"- {BLOCK}", "reps: {other: 8}   # a remark", "reps: 6}"}
    assert beside["reps: {other: 8}   # a remark"] == (
        "# asked by the review of 1.0, starter: 4 of 9 made it easier, left sets out or stopped at it"
        " (most often: made it easier). An easier step: do less"
    )
    assert "9 athletes changed nothing" in beside["reps: 6}"]
    assert "A harder step: squat" in beside["reps: 6}"]
    catalogue = load(programmes).catalogue.programmes["trial"]
    one, other = catalogue.version("1.0"), catalogue.version("1.1")
    assert one
    assert other
    assert one.model.days == other.model.days


def test_what_a_review_says_stays_within_its_comment(programmes: Path) -> None:
    evil = ONE | {"step": "x\ndays: []\r\n\u2028- {a: b}\x00\u0085 # " + "y" * 900}
    assert edition(programmes, {"questions": [evil]}).exit_code == 0
    after = (programmes / "trial/1.1.yaml").read_text()
    assert [line for line in after.split("\n") if line.startswith("days: []")] == []
    assert max(map(len, after.splitlines())) < 400


@pytest.mark.parametrize(
    "review",
    [
        "", "[]", "{}", "7", '{"questions": 7}', {"questions": [7]}, {"questions": [{}]}, "[" * 100_000,
        {"questions": [ONE | {"station": "Z9"}]}, {"questions": [ONE | {"station": "A0"}]},
        {"questions": [ONE | {"station": ""}]}, {"questions": [ONE | {"day": "other"}]},
        {"questions": [ONE | {"level": "strong"}]}, {"questions": [ONE | {"why": "bored"}]},
        {"questions": [ONE | {"met": "many"}]},
    ],
)  # fmt: skip
def test_what_is_no_review_is_refused_and_nothing_is_written(programmes: Path, review: Any) -> None:
    done = edition(programmes, review)
    assert done.exit_code == 2
    assert "it is no review in JSON" in done.stderr
    assert not (programmes / "trial/1.1.yaml").exists()


def test_a_review_of_another_version_says_of_which_it_is(programmes: Path) -> None:
    done = edition(programmes, {"questions": [ONE | {"version": "3.0"}]})
    assert (done.exit_code, "only about trial 3.0" in done.stderr) == (2, True)


def test_a_review_without_questions_makes_a_plain_copy(programmes: Path) -> None:
    assert edition(programmes, {"questions": []}).exit_code == 0
    assert "asked by" not in (programmes / "trial/1.1.yaml").read_text()


def test_a_review_is_for_editions_alone(programmes: Path) -> None:
    call = ["new", "trial", "--review", "x.json", "--programmes", str(programmes)]
    done = CliRunner().invoke(main, call)
    assert (done.exit_code, "--review is for a new edition" in done.stderr) == (2, True)
