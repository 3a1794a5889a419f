"""Trees of programme files for tests: the good one, copies of it with changes, and what `check` says of them."""

import contextlib
import io
import os
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path

from click.testing import CliRunner, Result

from generator.catalogue import load
from generator.checks import Checked, check
from generator.cli import main

DATA = Path(__file__).resolve().parents[1] / "data"
GOOD = DATA / "good"
BAD = DATA / "bad"
EXPECTED = "expected.txt"
REMOVED = "REMOVED"
"""In a fault folder: the text that `check` prints, and the paths that the good tree lacks there."""


def faults() -> list[Path]:
    """Every fault folder: `<check>-<fault>`."""
    return sorted(path for path in BAD.iterdir() if path.is_dir())


def copy_of_good(to: Path) -> Path:
    """The good tree as `programmes` below `to`."""
    return Path(shutil.copytree(GOOD, to / "programmes"))


def tree_of(fault: Path, to: Path) -> Path:
    """The good tree with the files of a fault folder laid over it, as `programmes` below `to`."""
    tree = copy_of_good(to)
    removed = fault / REMOVED
    for name in removed.read_text().split() if removed.exists() else ():
        path = tree / name
        shutil.rmtree(path) if path.is_dir() else path.unlink()
    shutil.copytree(fault, tree, dirs_exist_ok=True)
    for name in (EXPECTED, REMOVED):
        (tree / name).unlink(missing_ok=True)
    return tree


def changed(to: Path, changes: Mapping[str, tuple[str, str]]) -> Path:
    """The good tree with one piece of text in each named file replaced; the piece must be there."""
    tree = copy_of_good(to)
    for name, (old, new) in changes.items():
        change(tree / name, old, new)
    return tree


def change(file: Path, old: str, new: str) -> None:
    """Replace every `old` in the file; it must be there."""
    text = file.read_text(encoding="utf-8")
    assert old in text, f"{file.name} has no {old!r}"
    file.write_text(text.replace(old, new), encoding="utf-8")


def checked(tree: Path) -> Checked:
    """Everything found in a tree."""
    return check(load(tree))


def run(tree: Path, *words: str) -> Result:
    """`phasepress` with these words, run beside the tree so that its messages begin with `programmes/`."""
    with _inside(tree.parent):
        return CliRunner().invoke(main, [*words, "--programmes", tree.name])


def check_text(tree: Path) -> str:
    """What `phasepress check` prints for the tree."""
    return run(tree, "check").output


@contextlib.contextmanager
def _inside(folder: Path) -> Iterator[None]:
    before = Path.cwd()
    os.chdir(folder)
    try:
        yield
    finally:
        os.chdir(before)


def lines(text: str) -> list[str]:
    """Text as lines, for a difference that pytest shows line by line."""
    return io.StringIO(text).readlines()
