"""The wheel has everything that the checkout has, and works where nobody has seen this repository."""

import os
import shutil
import subprocess
import sys
import zipfile
from email import message_from_string
from pathlib import Path

import pytest

from tests.fixtures import wheels
from tests.samples import ALL

from .conftest import GOOD, ROOT
from .pages import Site, contents

EXTRAS = ("playwright", "pymupdf-fonts", "pypdf")
# In place of what the extra brings, nothing.
_BLOCK = "import sys\nfor name in ('playwright', 'pymupdf_fonts', 'pypdf'):\n    sys.modules[name] = None\n"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    return zipfile.ZipFile(wheels.wheel(tmp_path_factory))


def _files(folder: Path, *suffixes: str) -> set[str]:
    found = {path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts}
    return {path.relative_to(folder).as_posix() for path in found if not suffixes or path.suffix in suffixes}


def _packaged(wheel: zipfile.ZipFile) -> set[str]:
    return {name for name in wheel.namelist() if ".dist-info/" not in name}


def test_every_module_template_style_script_icon_and_exercise_is_in_it_and_nothing_else(
    wheel: zipfile.ZipFile,
) -> None:
    theme = _files(ROOT / "theme_overrides")
    assert {Path(name).suffix for name in theme} >= {".html", ".css", ".js", ".png"}
    demo = ROOT / "programmes"
    library = {
        f"{folder}/{name}"
        for folder in ("exercises", "routines", ".schema")
        for name in _files(demo / folder)
    }
    expected = {f"phasepress/{name}" for name in _files(ROOT / "generator", ".py")}
    expected |= {f"phasepress/authoring/club/{name}" for name in _files(ROOT / "generator/authoring/club")}
    expected |= {f"phasepress/theme_overrides/{name}" for name in theme}
    expected |= {f"phasepress/library/{name}" for name in library}
    assert _packaged(wheel) == expected | {"phasepress/locked/requirements.lock"}


def test_nothing_is_called_generator_on_the_users_machine(wheel: zipfile.ZipFile) -> None:
    assert {name.partition("/")[0] for name in _packaged(wheel)} == {"phasepress"}


def test_what_only_print_needs_comes_with_its_extra(wheel: zipfile.ZipFile) -> None:
    (name,) = [name for name in wheel.namelist() if name.endswith(".dist-info/METADATA")]
    needs = message_from_string(wheel.read(name).decode()).get_all("Requires-Dist")
    assert needs is not None
    always = [need for need in needs if "extra ==" not in need]
    of_print = [need for need in needs if 'extra == "print"' in need]
    for extra in EXTRAS:
        assert not [need for need in always if need.startswith(extra)], "a build would bring it"
        assert [need for need in of_print if need.startswith(f"{extra}==")]


def test_the_pins_of_a_build_have_what_it_needs_and_no_more() -> None:
    build, every = (
        (ROOT / name).read_text("utf-8") for name in ("requirements.lock", "requirements-dev.lock")
    )
    for package in (*EXTRAS, "pytest", "hypothesis"):
        assert f"\n{package}==" not in build
        assert f"\n{package}==" in every
    pins = [line for line in build.splitlines() if "==" in line]
    assert len(pins) > 20
    assert set(pins) <= set(every.splitlines()), "tests run with other versions than a build"


@pytest.fixture(scope="module")
def club(wheel: zipfile.ZipFile, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with programme files and the demo's settings, and the installed package beside it."""
    folder = tmp_path_factory.mktemp("installed")
    wheel.extractall(folder / "packages")
    (folder / "packages/sitecustomize.py").write_text(_BLOCK, encoding="utf-8")
    (folder / "club").mkdir()
    shutil.copytree(ROOT / "programmes" if ALL else GOOD, folder / "club/programmes")
    shutil.copy(ROOT / "mkdocs.yml", folder / "club")
    return folder / "club"


def installed(club: Path, *words: object) -> "subprocess.CompletedProcess[str]":
    """A module of the installed package's machine, on which what print needs is missing."""
    env = os.environ | {"PYTHONPATH": str(club.parent / "packages"), "NO_MKDOCS_2_WARNING": "1"}
    command = [sys.executable, "-m", *map(str, words)]
    return subprocess.run(command, cwd=club, env=env, capture_output=True, text=True, check=False)


def test_it_is_the_wheel_that_runs(club: Path) -> None:
    told = "import phasepress, phasepress.reading.shipped as s; print(phasepress.__file__, s.IN_CHECKOUT)"
    env = os.environ | {"PYTHONPATH": str(club.parent / "packages")}
    done = subprocess.run(
        [sys.executable, "-c", told], cwd=club, env=env, capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == [str(club.parent / "packages/phasepress/__init__.py"), "False"]


def test_it_checks_and_builds_the_very_same_site(club: Path, request: pytest.FixtureRequest) -> None:
    """The site of the small good tree; `make test-all` does so with the demo's."""
    of_the_checkout: Site = request.getfixturevalue("demo" if ALL else "good")
    assert installed(club, "phasepress", "check").returncode == 0
    done = installed(club, "phasepress", "build", "--to", "site")
    assert done.returncode == 0, done.stderr
    assert contents(club / "site") == contents(of_the_checkout.folder)
    done = installed(club, "mkdocs", "build", "--strict", "-d", "other")
    assert done.returncode == 0, done.stderr
    assert contents(club / "other") == contents(of_the_checkout.folder)


def test_it_says_what_print_needs(club: Path) -> None:
    done = installed(club, "phasepress", "print", "home-strength", "1.0", "--to", "pack.pdf")
    assert done.returncode == 2
    assert "pip install 'phasepress[print]'" in done.stderr


def test_what_every_club_may_begin_with_is_found_in_it(club: Path) -> None:
    told = "from phasepress.reading.shipped import *; print(len(library()), all(map(Path.is_file, library().values())), LOCK.is_file())"
    env = os.environ | {"PYTHONPATH": str(club.parent / "packages")}
    done = subprocess.run([sys.executable, "-c", told], env=env, capture_output=True, text=True, check=True)
    here = [
        path
        for name in ("exercises", "routines", ".schema")
        for path in (ROOT / "programmes" / name).iterdir()
    ]
    assert done.stdout.split() == [str(len(here)), "True", "True"]
