"""`python -m tests.mutants [--sample 100] [--seed 1] [module …]`: are the tests sharp? One edit at a time, does one fail?

Each edit of a module is tried against the tests of its wing, in a process of its own; nothing on the disk is changed.
Edits that no test notices are told by file and line. The score is the share that some test notices.
"""

import argparse
import ast
import importlib
import importlib.util
import os
import pkgutil
import random
import resource
import sys
from collections.abc import Iterator, Sequence
from importlib.machinery import ModuleSpec, SourceFileLoader
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.mutations import Edit, edited, edits

ROOT = Path(__file__).resolve().parents[1]
WINGS = ("computing", "comparing", "judging")
BESIDE = {"judging": ("reading/test_bad_files.py", "computing/test_work.py")}
"""Tests of a wing that stand elsewhere: the exact text of every finding, and what is asked of all bouts at once."""
GOAL = 0.9
PATIENCE = 10
"""An edit may take so many times the processor time of the tests without one, then it counts as noticed."""
MOST_MEMORY = 4 << 30
READ_BEFORE = ("click.testing", "hypothesis", "trio")
"""Packages that tests need and no edit is in: read once, and not by each process."""
SLOW = ("@given", "clones")
"""What tests are named by that take long: random examples, and checkouts of Git."""
NOT_RUN = (pytest.ExitCode.USAGE_ERROR, pytest.ExitCode.NO_TESTS_COLLECTED)


class Mutant(NamedTuple):
    """A module of the package, and one edit of it."""

    file: Path
    edit: Edit

    def __str__(self) -> str:
        return f"{self.file.relative_to(ROOT)}:{self.edit.line}: {self.edit.what}"


class _Edited(SourceFileLoader):
    """Loads one module from an edited tree, whatever lies in its file."""

    def __init__(self, name: str, path: str, tree: ast.Module) -> None:
        super().__init__(name, path)
        self._tree = tree

    def get_code(self, fullname: str) -> object:
        return compile(self._tree, self.path, "exec", dont_inherit=True)


class _Finder:
    """Finds the edited module before anything else does; all others are found as ever."""

    def __init__(self, file: Path, edit: Edit | None) -> None:
        self._name, self._file = module_name(file), file
        self._tree = edited(file.read_text(encoding="utf-8"), edit)

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        if name != self._name:
            return None
        loader = _Edited(name, str(self._file), self._tree)
        return importlib.util.spec_from_file_location(name, self._file, loader=loader)


def module_name(file: Path) -> str:
    """`phasepress.computing.totals` of `generator/computing/totals.py`."""
    return ".".join(("phasepress", *file.relative_to(ROOT / "generator").with_suffix("").parts))


def tests_of(file: Path) -> list[str]:
    """The tests of a module's wing: those named after it first, as they are the likeliest to fail; slow ones last."""
    folder = ROOT / "tests" / file.parent.name
    every = sorted(
        folder.glob("test_*.py"), key=lambda one: (file.stem not in one.stem, _is_slow(one), one.stem)
    )
    beside = (ROOT / "tests" / name for name in BESIDE.get(file.parent.name, ()))
    return [str(one) for one in (*every, *beside)]


def _is_slow(tests: Path) -> bool:
    text = tests.read_text(encoding="utf-8")
    return any(word in text for word in SLOW)


def modules(named: Sequence[str]) -> list[Path]:
    """The files named, or all of the three wings."""
    if named:
        return [Path(name).resolve() for name in named]
    return [file for wing in WINGS for file in sorted((ROOT / "generator" / wing).glob("*.py"))]


def mutants(files: Sequence[Path]) -> Iterator[Mutant]:
    """Every edit of the files."""
    for file in files:
        yield from (Mutant(file, edit) for edit in edits(file.read_text(encoding="utf-8")))


def tried(tests: Sequence[str], file: Path, edit: Edit | None = None, seconds: int = 0) -> tuple[bool, float]:
    """Whether all tests pass in a process of its own, and its seconds of processor time.

    Without an edit they must: a test that fails because of how the module is loaded would notice every edit.
    """
    finder = _Finder(file, edit)
    child = os.fork()
    if not child:
        _run(tests, finder, seconds)
    _, status, usage = os.wait4(child, 0)
    code = os.waitstatus_to_exitcode(status)
    if edit is None and code:
        raise SystemExit(f"the tests fail as they are, so no edit can be judged: pytest {' '.join(tests)}")
    if code in NOT_RUN:
        raise SystemExit(f"pytest could not run: it ended with {code}")
    return code == 0, usage.ru_utime + usage.ru_stime


def _run(tests: Sequence[str], finder: _Finder, seconds: int) -> None:
    """Never comes back: the process ends."""
    code = 1
    try:
        if seconds:
            resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
            resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 1)
        os.dup2(silent, 2)
        sys.meta_path.insert(0, finder)  # type: ignore[arg-type]
        code = int(pytest.main(["-x", "-q", "-p", "no:xdist", "-p", "no:cacheprovider", *tests]))
    finally:
        os._exit(code)


def _warm() -> None:
    """Load what no edit is in and every process needs: the wing left of these, and libraries."""
    import phasepress.reading as reading

    for name in READ_BEFORE:
        importlib.import_module(name)
    for module in pkgutil.walk_packages(reading.__path__, "phasepress.reading."):
        importlib.import_module(module.name)
    loaded = [name for name in sys.modules if name.startswith("phasepress.") and name.split(".")[1] in WINGS]
    assert not loaded, f"{loaded[0]} is loaded, so no edit of it would be seen"


def main() -> int:
    """Try the edits, tell those that no test notices, and the score."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument(
        "--sample", type=int, help="how many edits, drawn by the seed; all where it is not said"
    )
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("module", nargs="*", help="files of the three wings; all of them where none is named")
    asked = parser.parse_args()
    every = list(mutants(modules(asked.module)))
    if asked.sample and asked.sample < len(every):
        every = sorted(random.Random(asked.seed).sample(every, asked.sample))
    _warm()
    usual: dict[str, int] = {}
    alive = 0
    for number, mutant in enumerate(every):
        print(f"{number} of {len(every)}", end="\r", file=sys.stderr, flush=True)
        tests = tests_of(mutant.file)
        wing = mutant.file.parent.name
        if wing not in usual:
            usual[wing] = int(tried(tests, mutant.file)[1]) + 1
        passed, _ = tried(tests, mutant.file, mutant.edit, PATIENCE * usual[wing])
        if passed:
            alive += 1
            print(f"not noticed: {mutant}", flush=True)
    score = 1 - alive / len(every) if every else 1
    print(f"{len(every) - alive} of {len(every)} edits noticed: {score:.1%} (the goal is {GOAL:.0%})")
    return score < GOAL


if __name__ == "__main__":
    sys.exit(main())
