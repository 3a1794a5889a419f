"""What stands in vain or twice, the public address, and what is accepted for a whole programme."""

import shutil
from pathlib import Path

import pytest
from phasepress.judging import address_findings
from phasepress.reading.catalogue import load
from phasepress.reading.shipped import LIBRARY

from tests.fixtures import trees
from tests.fixtures.phases import LEVELS, day, found, planted, sets, version


def test_an_exercise_that_is_word_for_word_the_librarys_may_lie_unused(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    shutil.copy(LIBRARY / "exercises/calf-stretch.yaml", tree / "exercises")
    assert found(tree, "unused") == []
    trees.change(tree / "exercises/calf-stretch.yaml", "sides: ", "sides:  ")
    (told,) = found(tree, "unused")
    assert told.file.endswith("calf-stretch.yaml")


def test_an_option_of_an_exercise_is_used(tmp_path: Path) -> None:
    """The good tree's high-push-up is one; nothing of it is in vain."""
    assert found(trees.copy_of_good(tmp_path), "unused") == []


def test_nothing_is_in_vain_where_a_file_that_may_use_it_cannot_be_read(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    trees.change(tree / "home/2.0.yaml", "phase: Load", "fase: Load")
    shutil.copy(tree / "exercises/wall-sit.yaml", tree / "exercises/wall-lean.yaml")
    assert [each.check for each in trees.checked(tree).findings] == ["key", "key"]


@pytest.mark.parametrize(("again", "told"), [("squat, sets: 2, reps: 8", 1), ("squat, sets: 2, reps: 9", 0)])
def test_a_station_with_another_dose_is_not_pasted_twice(again: str, told: int, tmp_path: Path) -> None:
    text = version(day(sets("squat, sets: 2, reps: 8", again)))
    assert len(found(planted(tmp_path, {"1.0": text}), "twice", "1.0")) == told


# --- the public address: RFC 2606, sections 2 and 3 -----------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("site_url: https://club.example/", "a name kept for examples"),
        ('site_url: "https://example.org/x"', "a name kept for examples"),
        ("site_url: https://strength.club.org/   # ours", ""),
        ("site_url:", "no site_url"),
        ("# site_url: https://strength.club.org/", "no site_url"),
    ],
)
def test_a_public_address_is_one_that_somebody_can_have(line: str, says: str, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    (tmp_path / "mkdocs.yml").write_text(f"site_name: x\n{line}\n", encoding="utf-8")
    told = trees.run(tree, "check").output
    assert ("mkdocs.yml:" in told) == bool(says)
    assert says in told
    if says == "a name kept for examples":
        assert told.startswith("mkdocs.yml:2:1: warning address: site_url: found ")


def test_a_tree_without_settings_beside_it_needs_no_address(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    assert list(address_findings(tree, load(tree).catalogue)) == []


def test_the_demo_has_an_address_of_nobodys(tmp_path: Path) -> None:
    root = trees.DATA.parents[1]
    assert list(address_findings(root / "programmes", load(root / "programmes").catalogue)) == []


# --- accepted once for a programme -----------------------------------------------------------------------------

HEAVY = sets("squat, sets: 2, reps: 8, load: 40 kg", "bridge, sets: 2, reps: 8")


def accepting(to: Path, accept: str, *starts: str) -> Path:
    """Phases with a load that the kit does not reach, one for each start."""
    files = {f"{n}.0": version(day(HEAVY), starts=one) for n, one in enumerate(starts, 1)}
    tree = planted(to, files, f"{LEVELS}\naccept: [{accept}]")
    for file in (tree / "exercises").iterdir():
        if file.stem not in ("ready", "squat", "bridge"):
            file.unlink()
    for name in ("ready", "bridge"):
        trees.change(tree / f"exercises/{name}.yaml", "name: Trial", f"name: {name}")
    return tree


def test_what_is_accepted_for_a_programme_is_accepted_in_each_of_its_versions(tmp_path: Path) -> None:
    tree = accepting(tmp_path, "{check: kit, because: We bring sand.}", "2027-01-11", "2027-01-18")
    checked = trees.checked(tree)
    assert [each.check for each in checked.findings] == []
    assert [(finding.check, why) for finding, why in checked.accepted] == [("kit", "We bring sand.")] * 2


def test_what_no_version_has_is_told_once(tmp_path: Path) -> None:
    kit = "{check: kit, because: We bring sand.}"
    tree = accepting(tmp_path, f"{kit}, {{check: sets, because: Few.}}", "2027-01-11", "2027-01-18")
    (told,) = trees.checked(tree).findings
    assert (told.check, told.message) == ("accept", "sets is accepted, but there is no such finding")


def test_accepted_findings_are_listed_only_when_asked_for(tmp_path: Path) -> None:
    tree = accepting(tmp_path, "{check: kit, because: We bring sand.}", "2027-01-11")
    assert trees.run(tree, "check").output == "no errors, no warnings, no notes; 1 accepted\n"
    listed = trees.run(tree, "check", "--accepted").output
    assert listed.startswith("accepted kit at trial 1.0 day: ")
    assert "    because We bring sand.\n" in listed
