"""A verb is loaded when it is called, and loads only what it needs. Counted in modules, since seconds differ."""

import json
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from phasepress.cli import VERBS, main

from tests.conftest import ROOT
from tests.fixtures import trees
from tests.samples import every

HEAVY = {"icalendar", "jinja2", "material", "mkdocs", "playwright", "pypdf", "segno", "watchdog"}
_LOADED = """
import json, runpy, sys
sys.argv[0] = "phasepress"
try:
    runpy.run_module("phasepress", run_name="__main__")
except SystemExit as end:
    assert not end.code, end.code
print(json.dumps(sorted(sys.modules)))
"""


def loaded(*words: str, cwd: Path = ROOT) -> set[str]:
    """The modules that are loaded once the program with these words has ended, well."""
    call = [sys.executable, "-c", _LOADED, *words]
    done = subprocess.run(call, cwd=cwd, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return set(json.loads(done.stdout.splitlines()[-1]))


def of_others(modules: set[str]) -> set[str]:
    """The packages that are not Python's own, without what an installation in place needs itself."""
    tops = {module.partition(".")[0] for module in modules}
    return {top for top in tops - sys.stdlib_module_names if not top.startswith(("_", "sitecustomize"))}


@pytest.mark.parametrize("word", ["--version", "--help"])
def test_version_and_help_load_no_verb_and_nothing_of_others_but_click(word: str) -> None:
    modules = loaded(word)
    assert of_others(modules) <= {"click", "phasepress", "colorama"}
    wings = {module.split(".")[1] for module in modules if module.startswith("phasepress.")}
    assert wings == {"cli", "publishing", "reading"}
    assert {f"phasepress.cli.{verb.module}" for verb in VERBS.values()} & modules == set()
    assert len([module for module in modules if module.startswith("phasepress.")]) <= 12


def test_a_check_loads_nothing_that_draws_pages_or_prints(tmp_path: Path) -> None:
    modules = loaded("check", "--programmes", str(trees.copy_of_good(tmp_path)))
    assert of_others(modules) & HEAVY == set()
    assert "phasepress.cli.check" in modules
    ours = {module for module in modules if module.startswith("phasepress.")}
    assert not {module for module in ours if module.startswith("phasepress.telling.views")}
    assert ours & {"phasepress.publishing.mkdocs_door", "phasepress.drawing.qr"} == set()


def test_a_build_loads_nothing_of_what_print_needs(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    modules = loaded("build", "--programmes", str(tree), "--to", str(tmp_path / "site"))
    assert of_others(modules) & {"playwright", "pypdf", "pymupdf_fonts"} == set()
    assert "mkdocs" in of_others(modules), "else nothing would be noticed"


@pytest.mark.parametrize("name", VERBS)
def test_the_list_of_verbs_says_of_each_what_its_own_help_says(name: str) -> None:
    command = main.get_command(click.Context(main), name)
    assert command is not None
    assert command.name == name
    assert command.get_short_help_str(1000) == VERBS[name].help
    assert f"\n  {name}" in CliRunner().invoke(main, ["--help"]).output


def test_every_file_of_a_verb_is_in_the_list() -> None:
    folder = ROOT / "generator/cli"
    files = {path.stem for path in folder.glob("*.py") if "\n@click.command(" in path.read_text("utf-8")}
    # `new PROGRAMME` is one of the verbs of `new`, which loads it.
    assert files == {verb.module for verb in VERBS.values()} | {"new"}


def test_a_slip_in_a_verb_is_told_with_the_verb_that_may_be_meant() -> None:
    done = CliRunner().invoke(main, ["biuld"])
    assert done.exit_code == 2
    assert "No such command 'biuld'. Did you mean 'build'?" in done.output


PRINTS = (("print", "home", "1.0", "--to", "x.pdf"), ("print", "--help"))


@pytest.mark.parametrize(
    ("missing", "words"),
    every(
        [(missing, words) for missing in ("playwright", "pypdf") for words in PRINTS],
        few=[("playwright", PRINTS[0]), ("pypdf", PRINTS[1])],
    ),
)
def test_without_what_print_needs_it_says_how_to_get_it(missing: str, words: tuple[str, ...]) -> None:
    program = f"import sys; sys.modules[{missing!r}] = None\nfrom phasepress.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", program, *words], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert done.stdout == ""
    told = "phasepress: print needs more than is installed: pip install 'phasepress[print]'\n"
    assert done.stderr == told


def test_a_package_that_every_verb_needs_is_no_matter_of_an_extra() -> None:
    program = "import sys; sys.modules['mkdocs'] = None\nfrom phasepress.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", program, "print", "--help"], capture_output=True, text=True, check=False
    )
    assert "phasepress[print]" not in done.stderr
