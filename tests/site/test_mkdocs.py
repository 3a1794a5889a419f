"""`mkdocs build`, for people who know it, gives the very same site and the very same complaints."""

import os
import re
import shutil
import subprocess
import sys

import pytest
import yaml

from tests.samples import every
from tests.stops import ended

from . import trees
from .conftest import GOOD, ROOT
from .pages import contents


def called(folder, *words):
    """`mkdocs build` in a folder, as a user calls it."""
    # The theme's notice about another product's future is no warning about this site.
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    os.chdir(folder)
    from mkdocs.__main__ import cli

    cli(["build", *map(str, words)], prog_name="mkdocs")


@pytest.fixture
def mkdocs(tmp_path):
    """`mkdocs(*words, cwd=folder)`: its status and all that it printed."""

    def call(*words, cwd):
        return ended(called, cwd, *words, said=tmp_path / "said")

    return call


@pytest.fixture
def club(tmp_path):
    """A club's own folder: a tree, and the settings of the checkout pointed at it."""
    shutil.copytree(GOOD, tmp_path / "programmes")
    # In the order of its keys and without comments, as a club may have them.
    settings = yaml.safe_load((ROOT / "mkdocs.yml").read_text(encoding="utf-8"))
    (tmp_path / "mkdocs.yml").write_text(yaml.safe_dump(settings), encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("which", every(["good", "demo"], few=["good"]))
def test_it_gives_the_same_files_and_no_warning(which, request, tmp_path):
    """With the settings of the checkout as they are: the demo in the checkout itself, the good tree beside a copy."""
    site, place = request.getfixturevalue(which), ROOT
    if which == "good":
        place = tmp_path / "checkout"
        shutil.copytree(GOOD, place / "programmes")
        shutil.copy(ROOT / "mkdocs.yml", place)
    env = os.environ | {"NO_MKDOCS_2_WARNING": "1"}
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "-d", str(tmp_path / "site")]
    done = subprocess.run(command, cwd=place, env=env, capture_output=True, text=True, check=False)
    said = done.stdout + done.stderr
    assert done.returncode == 0, said
    assert "WARNING" not in said
    assert contents(tmp_path / "site") == contents(site.folder)


def test_a_club_builds_its_own_tree(club, good, mkdocs):
    status, said = mkdocs("--strict", cwd=club)
    assert status == 0, said
    assert contents(club / "site") == contents(good.folder)


def test_a_fault_in_a_file_is_told_with_its_place_and_ends_the_build(club, mkdocs):
    version = club / "programmes" / "home" / "2.0.yaml"
    text = version.read_text(encoding="utf-8")
    assert "rounds: 2" in text
    version.write_text(text.replace("rounds: 2", "roundz: 2"), encoding="utf-8")
    status, said = mkdocs(cwd=club)
    assert status != 0
    line = text[: text.index("rounds: 2")].count("\n") + 1
    column = text.splitlines()[line - 1].index("rounds") + 1
    assert f"{version}:{line}:{column}: error key: unknown key" in said
    assert 'did you mean "rounds"?' in said
    assert "the site was not built" in said
    assert "Traceback" not in said


def test_a_fault_in_a_file_leaves_the_old_site_alone(club, good, mkdocs):
    """The old one is what `mkdocs` gives for this tree, as the test above says."""
    shutil.copytree(good.folder, club / "site")
    before = contents(club / "site")
    (club / "programmes" / "club.yaml").unlink()
    status, said = mkdocs(cwd=club)
    assert status != 0
    assert re.search(r"club\.yaml:1:1: error reference: ", said)
    assert contents(club / "site") == before


def plan_instead(club, tree):
    """This tree in the place of the club's own."""
    shutil.rmtree(club / "programmes")
    trees.write(tree, club / "programmes")


def test_a_warning_in_the_tree_fails_no_strict_build(club, mkdocs):
    """It is the coach's to weigh and is printed; `--strict` is about the site."""
    limited = trees.small()
    limited["plan/programme.yaml"]["limits"] = {"session": "1 min"}
    plan_instead(club, limited)
    status, said = mkdocs("--strict", cwd=club)
    assert status == 0
    assert "warning session-length" in said


def test_an_address_without_a_path_and_none_at_all_build_too(club, mkdocs):
    plan_instead(club, trees.small())
    settings = yaml.safe_load((club / "mkdocs.yml").read_text(encoding="utf-8"))
    for address in ("https://club.example", ""):
        (club / "mkdocs.yml").write_text(yaml.safe_dump(settings | {"site_url": address}), encoding="utf-8")
        status, said = mkdocs("--strict", cwd=club)
        assert status == 0, said
        page = (club / "site" / "plan" / "1.0" / "index.html").read_text(encoding="utf-8")
        assert ("canonical" in page) == bool(address)
        assert 'href="/"' in (club / "site" / "404.html").read_text(encoding="utf-8")
