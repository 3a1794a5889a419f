"""A tree as a whole: what is readable, what hangs on what, and how little hides the rest."""

from pathlib import Path

from phasepress.reading.catalogue import load

from tests.fixtures import trees


def checks(tree: Path) -> list[tuple[str, str]]:
    """File and check of every finding."""
    return [(Path(each.file).name, each.check) for each in trees.checked(tree).findings]


def test_the_good_tree_is_read_whole(tmp_path: Path) -> None:
    catalogue = load(trees.copy_of_good(tmp_path)).catalogue
    assert catalogue.club is not None
    assert len(catalogue.exercises) == len(list((trees.GOOD / "exercises").iterdir()))
    assert sorted(catalogue.routines) == ["cool-down", "warm-up"]
    home = catalogue.programmes["home"]
    assert [version.name for version in home.versions] == ["1.0", "1.1", "2.0"]
    assert [version.name for version in home.newest_editions()] == ["1.1", "2.0"]
    assert [level.id for level in home.versions[0].levels] == ["starter", "steady"]


def test_a_readme_beside_the_club_file_is_for_people_and_any_other_is_a_wrong_name(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    (tree / "README.md").write_bytes(b"\xff how we plan")
    (tree / "home/README.md").write_text("home")
    assert [finding.file for finding in trees.checked(tree).findings] == [str(tree / "home/README.md")]


def test_versions_come_by_number_and_not_by_name(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    text = (tree / "home/2.0.yaml").read_text()
    for number, starts in ((10, "2027-03-01"), (9, "2027-02-15")):
        (tree / f"home/{number}.0.yaml").write_text(text.replace("2027-01-25", starts))
    versions = load(tree).catalogue.programmes["home"].versions
    assert [version.name for version in versions] == ["1.0", "1.1", "2.0", "9.0", "10.0"]


def test_a_phase_without_levels_trains_all_of_the_programme(tmp_path: Path) -> None:
    version = load(trees.copy_of_good(tmp_path)).catalogue.programmes["home"].version("2.0")
    assert version is not None
    assert [level.id for level in version.levels] == ["starter", "steady"]


# --- faults that must not hide others, nor make up others -------------------------------------------------


def test_a_version_that_is_wrong_leaves_the_others_readable(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"home/1.0.yaml": ("weeks: 2", "weeks: two")})
    loaded = load(tree)
    assert [v.name for v in loaded.catalogue.programmes["home"].versions] == ["1.1", "2.0"]
    assert [name for _, name, _ in loaded.unreadable_versions] == ["1.0"]


def test_a_version_that_uses_a_wrong_exercise_is_not_readable_and_not_blamed(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"exercises/wall-sit.yaml": ("pattern: squat", "pattern: squad")})
    loaded = load(tree)
    assert [v.name for v in loaded.catalogue.programmes["home"].versions] == ["2.0"]
    assert [Path(each.file).name for each in loaded.findings] == ["wall-sit.yaml"]


def test_an_exercise_with_a_syntax_fault_is_still_known_by_its_name(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"exercises/hip-hinge.yaml": ("setup: [", "setup: [[")})
    assert checks(tree) == [("hip-hinge.yaml", "yaml")]


def test_a_routine_with_a_fault_is_told_once_and_its_days_are_not_blamed(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"routines/warm-up.yaml": ("rounds: 1", "rounds: one")})
    assert checks(tree) == [("warm-up.yaml", "value")]


def test_wrong_level_ids_are_told_where_they_are_given_and_not_at_every_dose(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"home/programme.yaml": ("id: steady", "id: Steady")})
    assert checks(tree) == [("programme.yaml", "value")]


def test_a_slip_in_the_levels_of_a_phase_is_told_once(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"home/1.0.yaml": ("[starter, steady]", "[starter, steddy]")})
    assert checks(tree) == [("1.0.yaml", "reference")]


def test_a_missing_programme_file_is_told_and_its_versions_are_still_read(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"home/2.0.yaml": ("reps: 7", "reps: seven")})
    (tree / "home/programme.yaml").unlink()
    assert sorted(checks(tree)) == [("2.0.yaml", "value"), ("programme.yaml", "reference")]


def test_two_faults_of_one_station_are_both_told(tmp_path: Path) -> None:
    two = ("{exercise: step-back, reps: 7}", "{exercise: step-bak, reps: [7, 8]}")
    assert checks(trees.changed(tmp_path, {"home/2.0.yaml": two})) == [
        ("2.0.yaml", "reference"),
        ("2.0.yaml", "weeks"),
    ]


def test_a_routine_may_name_levels_of_another_programme(tmp_path: Path) -> None:
    """Warm-ups are shared: what one phase has not, another may have."""
    tree = trees.changed(tmp_path, {"routines/warm-up.yaml": ("{starter: 8 min, other: 9 min}", "{starter: 8 min, steady: 9 min, strong: 9 min}")})  # fmt: skip
    assert checks(tree) == [("warm-up.yaml", "reference")]
    other = tree / "hall"
    other.mkdir()
    (other / "programme.yaml").write_text(
        "title: Hall\nlevels: [{id: strong, name: Strong, experience: advanced}]\n"
    )
    assert checks(tree) == []


# --- phases in time ---------------------------------------------------------------------------------------


def test_only_the_newest_editions_keep_their_weeks_free(tmp_path: Path) -> None:
    """1.0 and 1.1 run in the same weeks; so may a 2.1 that moves 2.0 by a week."""
    tree = trees.copy_of_good(tmp_path)
    moved = (tree / "home/2.0.yaml").read_text().replace("2027-01-25", "2027-02-01")
    (tree / "home/2.1.yaml").write_text(moved.replace("weeks: 1", "weeks: 1\nchanges: A week later."))
    assert checks(tree) == []


def test_a_phase_that_outlasts_the_next_one_overlaps_with_the_one_after_that(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    text = (tree / "home/2.0.yaml").read_text()
    (tree / "home/2.0.yaml").write_text(text.replace("weeks: 1", "weeks: 8"))
    for number, starts in ((3, "2027-02-01"), (4, "2027-03-01")):
        (tree / f"home/{number}.0.yaml").write_text(text.replace("2027-01-25", starts))
    assert [each for each in checks(tree) if each[1] == "dates"] == [
        ("3.0.yaml", "dates"),
        ("4.0.yaml", "dates"),
    ]


def test_a_phase_may_begin_on_the_monday_after_the_last_sunday(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    assert "2027-01-25" in (tree / "home/2.0.yaml").read_text()
    first = load(tree).catalogue.programmes["home"].version("1.1")
    assert first is not None
    assert first.ends.isoformat() == "2027-01-24"
