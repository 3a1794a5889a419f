"""`check` ends within 10 s of processor time and 300 MB, whatever a tree of up to a megabyte says."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest

from tests import samples
from tests.bounds import trees
from tests.fixtures import clones

ROOT = Path(__file__).resolve().parents[2]
SECONDS = 10
MEGABYTES = 300
KEPT = ("p/programme.yaml", "p/1.0.yaml")
TOO_MUCH = "a small file of very many segments"
SAYS = (
    "block B: with it this version has more than 100,000 stations in sessions, every level and week counted"
)


class Ended(NamedTuple):
    """How a command ended: its status, processor seconds, resident megabytes and what it said."""

    status: int
    seconds: float
    megabytes: float
    out: str
    err: str


# A small process between the two: what is measured of a child begins with the memory of who makes it.
_BETWEEN = """
import json, os, resource, sys
seconds, *command = json.loads(sys.argv[1])
child = os.fork()
if not child:
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
    resource.setrlimit(resource.RLIMIT_AS, (2 << 30, 2 << 30))
    os.execv(command[0], command)
_, status, used = os.wait4(child, 0)
told = [os.waitstatus_to_exitcode(status), used.ru_utime + used.ru_stime, used.ru_maxrss / 1024]
open("used", "w").write(json.dumps(told))
"""


def run(folder: Path, *words: str) -> Ended:
    """`phasepress` with these words beside the tree; killed when it takes more processor time than it may."""
    command = [SECONDS, sys.executable, "-m", "phasepress", *words, "--programmes", "programmes"]
    with open(folder / "out", "w") as out, open(folder / "err", "w") as err:
        subprocess.run(
            [sys.executable, "-c", _BETWEEN, json.dumps(command)], cwd=folder, stdout=out, stderr=err, check=True,
            env=os.environ | {"PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"},
        )  # fmt: skip
    status, seconds, megabytes = json.loads((folder / "used").read_text())
    said = ((folder / name).read_text(encoding="utf-8", errors="replace") for name in ("out", "err"))
    return Ended(status, seconds, megabytes, *said)


ASK_MOST = ("unknown words beside thousands of known ones", "a kit of many kinds and thousands of loads")
"""One of thousands of files, which is much to read, and one that is much to judge; below, every command is given one
more. Those that come nearest to the bounds, alike in kind, take their turn in `make test-all`."""


@pytest.mark.parametrize("name", samples.every(trees.TREES, few=ASK_MOST))
def test_a_hostile_tree_of_a_megabyte_is_checked_in_bounds(name: str, tmp_path: Path) -> None:
    trees.write(trees.TREES[name](), tmp_path / "programmes")
    ended = run(tmp_path, "check")
    assert ended.status in (0, 1), f"status {ended.status}: {ended.err[-2000:]}"
    assert ended.megabytes < MEGABYTES
    assert "Traceback" not in ended.err
    assert (" error " in ended.out) == (ended.status == 1)


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("check", "--format", "json"),
        ("report",),
        ("order", "p", "1.0", "d0", "--level", "l0", "--week", "1"),
        ("build", "--to", "site"),
        ("print", "p", "1.0", "--to", "pack.pdf"),
    ],
    ids=" ".join,
)
def test_every_command_refuses_a_tree_of_too_much_work(words: tuple[str, ...], tmp_path: Path) -> None:
    trees.write(trees.TREES[TOO_MUCH](), tmp_path / "programmes")
    ended = run(tmp_path, *words)
    assert ended.status == 1
    assert SAYS in ended.out + ended.err
    assert not (tmp_path / "site").exists()
    assert not (tmp_path / "pack.pdf").exists()


@pytest.mark.parametrize("large", [("here",), ("there",), ("here", "there")])
def test_what_is_too_much_work_to_compare_is_an_error_and_not_compared(
    large: tuple[str, ...], tmp_path: Path
) -> None:
    much = trees.TREES["sessions that are all alike"]()
    if len(large) == 1:
        # Of the hundreds of versions a few are too much already, and are sooner read.
        much = {name: text for name, text in much.items() if not re.fullmatch(r"p/\d\d+\.0\.yaml", name)}
    little = {name: text for name, text in much.items() if not name.startswith("p/") or name in KEPT}
    there, here = (much if side in large else little for side in ("there", "here"))
    trees.write(there, tmp_path / "programmes")
    clones.git(tmp_path, "init", "--quiet", "--initial-branch", "main")
    clones.committed(tmp_path)
    shutil.rmtree(tmp_path / "programmes")
    trees.write(
        here | {"exercises/h.yaml": trees.HOLD.replace("name: a", "name: b")}, tmp_path / "programmes"
    )
    ended = run(tmp_path, "check", "--base", "main")
    assert ended.status == 1, ended.err
    assert "is too much work, so no plan was compared" in ended.out


def test_a_process_that_takes_too_long_would_be_ended(tmp_path: Path) -> None:
    """The limit of the tests above is one that the system keeps."""
    code = "import resource; resource.setrlimit(resource.RLIMIT_CPU, (1, 2))\nwhile True: pass"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode < 0
