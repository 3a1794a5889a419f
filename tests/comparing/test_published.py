"""Frozen versions: any dose or time of a published version that differs is an error; mended words pass."""

import json
import re
import shutil
from pathlib import Path

import pytest

from tests.computing.test_fingerprint import DOSES, VERSION, WORDS
from tests.fixtures import clones, trees
from tests.samples import every


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return clones.clone_of_good(tmp_path_factory.mktemp("club"))


@pytest.fixture
def tree(published: Path, tmp_path: Path) -> Path:
    """A clone that a test may change."""
    return Path(shutil.copytree(published.parent, tmp_path / "club")) / "programmes"


def errors(tree: Path, base: str = "main") -> list[str]:
    told = json.loads(trees.run(tree, "check", "--base", base, "--format", "json").stdout)
    return [f"{f['file']}: {f['message']}" for f in told["findings"] if f["severity"] == "error"]


def test_an_unchanged_tree_passes(tree: Path) -> None:
    result = clones.check(tree)
    assert (result.exit_code, result.output) == (0, "no errors, no warnings, no notes\n")


@pytest.mark.parametrize(("file", "old", "new"), every(WORDS, few=7))
def test_mended_words_pass(file: str, old: str, new: str, tree: Path) -> None:
    trees.change(tree / file, old, new)
    assert errors(tree) == []


# That each of them makes another plan is tried in tests/computing/test_fingerprint.py.
@pytest.mark.parametrize(("file", "old", "new"), every(DOSES, few=9))
def test_any_dose_or_time_that_differs_is_an_error_that_names_it(
    file: str, old: str, new: str, tree: Path
) -> None:
    trees.change(tree / file, old, new)
    told = [error for error in errors(tree) if "is published at main and has another plan here" in error]
    assert told
    for error in told:
        assert error.startswith(f"programmes/{file}: "), "the place is where it is to be mended"
        what = error.split("the first difference: ")[1]
        assert re.search("[a-z] from .+ to .+", what)
        assert "plan from" not in what, "a difference in words, not two fingerprints"


def test_levels_and_days_in_another_order_pass(tree: Path) -> None:
    levels = (tree / "home/programme.yaml").read_text().splitlines(keepends=True)
    at = [n for n, line in enumerate(levels) if "{id:" in line]
    levels[at[0]], levels[at[1]] = levels[at[1]], levels[at[0]]
    (tree / "home/programme.yaml").write_text("".join(levels))
    text = (tree / VERSION).read_text()
    head, first, second = re.split("(?m)^(?=  - id: )", text)
    (tree / VERSION).write_text(head + second + first)
    assert errors(tree) == []


FIRST = [
    (VERSION, "reps: 10,", "reps: 12,", "22:41", "legs, starter, week 1, A3 hip-hinge: reps from 10 to 12"),
    (VERSION, "steady: 30 s", "steady: 35 s", "20:40", "legs, steady, week 1, A1 wall-sit: hold from 30 s to 35 s"),
    (VERSION, "reps: [6, 7]", "reps: [6, 8]", "21:41", "legs, starter, week 2, A2 step-back: reps each side from 7 to 8"),
    (VERSION, "rounds: 2", "rounds: [2, 3]", "15:17", "legs, starter, week 2, A: rounds from 2 to 3"),
    (VERSION, "on: [mon]", "on: [tue]", "10:9", "legs: on from mon to tue"),
    (VERSION, "starts: 2027-01-11", "starts: 2027-01-04", "3:9", "starts from 2027-01-11 to 2027-01-04"),
    (VERSION, "steady: push-up", "steady: high-push-up", "37:23", "arms, steady, week 1, A1 high-push-up: exercise from push-up, 8 reps to high-push-up, 8 reps"),
    ("exercises/step-back.yaml", "tempo: 2-0-X-0", "tempo: 2-0-1-0", "5:8", "legs, starter, week 1, A2 step-back: tempo from 2-0-X-0 to 2-0-1-0"),
    ("routines/cool-down.yaml", "5:00", "5:01", "4:3", "legs, starter, week 1, cool-down 1 march: work from 5 min to 5 min 1 s"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "place", "what"), FIRST)
def test_the_first_difference_is_told_in_words_at_its_place(
    file: str, old: str, new: str, place: str, what: str, tree: Path
) -> None:
    trees.change(tree / file, old, new)
    output = clones.check(tree).output
    message = (
        "error published: home 1.0 is published at main and has another plan here; the first difference: "
    )
    (line,) = [line for line in output.splitlines() if message in line]
    assert line.endswith(f"the first difference: {what}")
    assert line.startswith(f"programmes/{file}:{place}: ")


def test_the_fix_is_the_next_edition(tree: Path) -> None:
    trees.change(tree / VERSION, "reps: 10,", "reps: 12,")
    assert (
        "put it back; for another dose, copy 1.0.yaml to 1.2.yaml and change that"
        in clones.check(tree).output
    )


def test_an_exercise_that_others_rest_on_is_told_for_every_version_and_where_to_put_it_back(
    tree: Path,
) -> None:
    trees.change(tree / "exercises/step-back.yaml", "tempo: 2-0-X-0", "tempo: 3-0-X-0")
    told = errors(tree)
    assert [re.search(r"home (\d\.\d) is published", error)[1] for error in told] == ["1.0", "1.1", "2.0"]
    assert clones.check(tree).output.count("put it back in exercises/step-back.yaml") == 3


def test_a_version_that_is_gone_is_an_error(tree: Path) -> None:
    (tree / "home/1.0.yaml").unlink()
    (told,) = errors(tree)
    assert told.startswith("programmes/home/1.0.yaml: home 1.0 is published at main and is gone here")
    assert "merge main first" in clones.check(tree).output


def test_a_programme_that_is_gone_is_an_error_for_each_of_its_versions(tree: Path) -> None:
    shutil.rmtree(tree / "home")
    assert len(errors(tree)) == 3


def test_a_version_that_cannot_be_read_here_is_not_called_gone(tree: Path) -> None:
    trees.change(tree / VERSION, "weeks: 2", "weeks: two")
    assert all("published" not in error for error in errors(tree))
    assert errors(tree)


def test_new_versions_programmes_and_exercises_pass(tree: Path) -> None:
    shutil.copytree(tree / "home", tree / "away")
    shutil.copy(tree / "home/1.1.yaml", tree / "home/1.2.yaml")
    shutil.copy(tree / "exercises/wall-sit.yaml", tree / "exercises/wall-lean.yaml")
    assert errors(tree) == []


def test_a_base_with_faults_of_its_own_says_what_was_not_compared(tree: Path) -> None:
    trees.change(tree / VERSION, "weeks: 2", "weeks: two")
    clones.committed(tree.parent)
    trees.change(tree / VERSION, "weeks: two", "weeks: 2")
    result = clones.check(tree)
    assert result.exit_code == 0, "the merge that mends it must be able to pass"
    assert "warning published: 1.0 cannot be read at main and was not compared" in result.output
    assert "programmes/home/1.0.yaml:4:8: weeks: found" in result.output


def test_a_base_without_the_folder_is_said_and_passes(tmp_path: Path) -> None:
    club = tmp_path / "club"
    club.mkdir()
    clones.git(club, "init", "--quiet", "--initial-branch", "main")
    clones.committed(club)
    result = clones.check(trees.copy_of_good(club))
    assert result.exit_code == 0
    assert (
        "warning published: main has no folder programmes: nothing that was published there was compared"
        in result.output
    )


def test_a_second_club_beside_the_first_is_said_and_passes(tree: Path) -> None:
    shutil.copytree(tree, tree.parent / "juniors")
    result = clones.check(tree.parent / "juniors")
    assert result.exit_code == 0
    assert "warning published: main has no folder juniors" in result.output


def test_without_a_base_nothing_is_compared(tree: Path) -> None:
    trees.change(tree / VERSION, "reps: 10,", "reps: 12,")
    assert trees.run(tree, "check").exit_code == 0
