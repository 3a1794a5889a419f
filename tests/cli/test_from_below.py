"""The folder of a club is found from any folder below it, and `--programmes` names another tree."""

import os
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from phasepress.cli import main
from phasepress.reading import club_folder
from phasepress.reading.club_folder import NotOursError, settings_of, tree_above

from tests.fixtures import trees
from tests.fixtures.settings import beside


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """A club's folder, with settings and programme files."""
    return beside(trees.copy_of_good(tmp_path / "club")).parent


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


@pytest.mark.parametrize(
    ("below", "named"),
    [
        (".", "programmes/"),
        ("notes/of/mine", "../../../programmes/"),
        ("programmes", ""),
        ("programmes/home", "../"),
    ],
)
def test_a_verb_finds_the_tree_from_below_and_names_its_files_from_there(
    club: Path, below: str, named: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    (club / "programmes/club.yaml").write_text("club: A\nclup: B\n", encoding="utf-8")
    (club / below).mkdir(parents=True, exist_ok=True)
    monkeypatch.chdir(club / below)
    done = run("check")
    assert done.exit_code == 1
    assert done.output.startswith(f"{named}club.yaml:2:1: error ")


def test_where_no_folder_above_is_a_clubs_a_tree_here_is_enough(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    trees.copy_of_good(tmp_path)
    monkeypatch.chdir(tmp_path)
    assert run("check").exit_code == 0
    (tmp_path / "empty").mkdir()
    monkeypatch.chdir(tmp_path / "empty")
    done = run("check")
    assert done.exit_code == 2
    assert "name another with --programmes DIR" in done.output


def test_a_tree_that_is_named_is_taken_before_or_after_the_verb(
    club: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = trees.copy_of_good(tmp_path / "other")
    (other / "club.yaml").unlink()
    monkeypatch.chdir(club)
    assert run("check").exit_code == 0
    assert run("check", "--programmes", str(other)).exit_code == 1
    assert run("--programmes", str(other), "check").exit_code == 1
    assert run("--programmes", str(other), "check", "--programmes", "programmes").exit_code == 0


def test_settings_inside_programme_files_are_those_of_nobody(club: Path) -> None:
    """A request may bring files into programmes/ alone; what lies there must not become the settings."""
    inside = beside(trees.copy_of_good(club / "programmes")).parent
    assert (inside / "mkdocs.yml").is_file()
    for start in (inside, inside / "programmes", inside / "programmes/home"):
        assert tree_above(start) == club / "programmes"


def test_the_nearest_of_two_clubs_is_taken(club: Path) -> None:
    own = beside(trees.copy_of_good(club / "clubs/own"))
    assert tree_above(own / "home") == own
    assert tree_above(club / "clubs") == club / "programmes"


def test_settings_of_somebody_else_are_not_used_from_below(
    club: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """They may run code; whoever goes to the folder itself means it."""
    below = club / "programmes/home"
    monkeypatch.setattr(club_folder.os, "getuid", lambda: os.stat(club).st_uid + 1)
    if os.stat(club).st_uid == 0:
        monkeypatch.setattr(club_folder, "_is_ours", lambda folder: False)
    with pytest.raises(NotOursError, match="belongs to somebody else"):
        tree_above(below)
    assert tree_above(club) == club / "programmes"
    monkeypatch.chdir(below)
    done = run("check")
    assert done.exit_code == 2
    assert f"name the files with --programmes {club / 'programmes'}" in done.output


def test_the_settings_of_a_tree_are_those_beside_it_as_its_path_is_written(
    club: Path, tmp_path: Path
) -> None:
    assert settings_of(club / "programmes") == club / "mkdocs.yml"
    assert settings_of(trees.copy_of_good(tmp_path / "bare")) is None
    (tmp_path / "linked").mkdir()
    link = tmp_path / "linked/programmes"
    link.symlink_to(club / "programmes")
    assert settings_of(link) is None
