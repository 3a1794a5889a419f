"""What the base has and cannot be compared: told once a programme, at its first version."""

from pathlib import Path

from phasepress.comparing.base import Base, base_at
from phasepress.comparing.changes import Change
from phasepress.comparing.published import published, told
from phasepress.reading.catalogue import load
from phasepress.reading.git_tree import Past

from tests.fixtures.phases import day, planted, sets, version

DAY = day(sets("squat, sets: 2, reps: 8"))
ROOT = Path("programmes")


def test_versions_that_cannot_be_read_at_the_base_are_told_together_at_the_first(tmp_path: Path) -> None:
    fine = {
        "1.0": version(DAY),
        "2.0": version(DAY, starts="2027-02-01"),
        "3.0": version(DAY, starts="2027-03-01"),
    }
    faulty = {**fine, "1.0": fine["1.0"].replace("weeks: 1", "weeks: one"), "2.0": "phase: ["}
    base = Base("main", True, load(planted(tmp_path / "base", faulty)))
    (finding,) = published(base, load(planted(tmp_path / "here", fine)), ROOT)
    assert finding.message.startswith("1.0 and 2.0 cannot be read at main and was not compared (there, ")
    assert (finding.file, finding.line, finding.column) == ("programmes/trial/1.0.yaml", 1, 1)
    assert (finding.severity, finding.at) == ("warning", "trial")


def test_a_version_that_is_gone_is_told_at_the_first_sign_of_its_file(tmp_path: Path) -> None:
    base = Base("main", True, load(planted(tmp_path / "base", {"1.0": version(DAY), "1.1": version(DAY)})))
    (finding,) = published(base, load(planted(tmp_path / "here", {"1.0": version(DAY)})), ROOT)
    assert (finding.file, finding.line, finding.column) == ("programmes/trial/1.1.yaml", 1, 1)
    assert (finding.severity, finding.at) == ("error", "trial 1.1")


def test_a_base_without_the_folder_is_told_at_the_first_sign_of_the_clubs_file(tmp_path: Path) -> None:
    here = load(planted(tmp_path, {"1.0": version(DAY)}))
    (finding,) = published(Base("main", False), here, ROOT)
    assert (finding.severity, finding.file, finding.line, finding.column) == (
        "warning",
        "programmes/club.yaml",
        1,
        1,
    )
    gone = (("plans", ("trial 1.0",)), ("old", ("trial 1.0", "trial 2.0")))
    errors = list(published(Base("main", False, gone=gone), here, ROOT))
    assert [(each.severity, each.file, each.line, each.column) for each in errors] == [
        ("error", "programmes/club.yaml", 1, 1)
    ] * 2
    assert errors[1].message == "main has trial 1.0 and trial 2.0 in old, which are gone here"


def test_a_difference_is_told_in_the_words_of_the_files() -> None:
    dose = Change("legs", "starter", 1, "A1", "squat", "reps", "8", "9")
    assert told(dose) == "legs, starter, week 1, A1 squat: reps from 8 to 9"
    assert (
        told(dose._replace(exercise="", place="A", what="rounds"))
        == "legs, starter, week 1, A: rounds from 8 to 9"
    )
    assert told(Change("legs", "", 0, "", "", "on", "mon", "tue")) == "legs: on from mon to tue"
    assert told(Change("", "", 0, "", "", "weeks", "8", "9")) == "weeks from 8 to 9"


def test_of_several_differences_the_first_is_told_where_it_is(tmp_path: Path) -> None:
    before = version(day(sets("squat, sets: 2, reps: 8", "push, sets: 2, reps: 8")))
    now = before.replace("squat, sets: 2, reps: 8", "squat, sets: 2, reps: 9").replace(
        "push, sets: 2", "push, sets: 3"
    )
    base = Base("main", True, load(planted(tmp_path / "base", {"1.0": before})))
    (finding,) = published(base, load(planted(tmp_path / "here", {"1.0": now})), ROOT)
    assert finding.message.endswith("the first difference: day, starter, week 1, A1 squat: reps from 8 to 9")


def test_versions_that_are_gone_with_a_folder_are_told_in_order() -> None:
    elsewhere = frozenset({"plans/club.yaml"})
    gone = frozenset(f"plans/home/{name}.yaml" for name in ("2.0", "1.1", "3.0", "1.0", "2.1"))
    in_order = tuple(f"home {name}" for name in ("1.0", "1.1", "2.0", "2.1", "3.0"))
    assert base_at("main", Past(None, elsewhere, gone)).gone == (("plans", in_order),)
