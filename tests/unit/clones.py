"""Git checkouts of small trees for tests: what is committed there, and `phasepress` run inside."""

import subprocess
from pathlib import Path

from click.testing import Result

from tests.unit import trees

_WHO = ("-c", "user.name=Coach", "-c", "user.email=coach@club.example", "-c", "commit.gpgsign=false")


def git(where: Path, *words: str) -> str:
    """Run git; it must succeed."""
    done = subprocess.run(["git", *_WHO, *words], cwd=where, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def committed(where: Path, message: str = "A step") -> None:
    """Commit everything that is there."""
    git(where, "add", "--all")
    git(where, "commit", "--quiet", "--allow-empty", "--message", message)


def clone_of_good(to: Path, folder: str = "") -> Path:
    """A checkout with the good tree committed on `main`; gives the tree, in a sub-folder if one is named."""
    (to / folder).mkdir(parents=True, exist_ok=True)
    git(to, "init", "--quiet", "--initial-branch", "main")
    tree = trees.copy_of_good(to / folder)
    committed(to)
    return tree


def check(tree: Path, base: str = "main") -> Result:
    """`phasepress check --base` for the tree."""
    return trees.run(tree, "check", "--base", base)
