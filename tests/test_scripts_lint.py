"""What `make lint` does about scripts where Node.js is missing. Where it is there, the linters judge the scripts."""

import json
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
LINT = ROOT / "tests/scripts/lint.sh"
HOW_TO_GET_IT = "scripts and styles were not linted: that needs Node.js 20.19 or later, with npm"


def lint(folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    call = ["/bin/sh", str(LINT)]
    return subprocess.run(call, env={"PATH": str(folder), **environment}, capture_output=True, text=True)


def pretend(folder: Path, name: str, status: int) -> None:
    (folder / name).write_text(f"#!/bin/sh\nexit {status}\n", encoding="utf-8")
    (folder / name).chmod(0o755)


def test_a_machine_without_node_is_told_so_in_one_line(tmp_path: Path) -> None:
    done = lint(tmp_path)
    assert done.returncode == 0
    assert done.stderr.startswith(HOW_TO_GET_IT)
    assert done.stderr.count("\n") == 1
    assert done.stdout == ""


def test_ci_does_not_go_without(tmp_path: Path) -> None:
    done = lint(tmp_path, CI="true")
    assert done.returncode != 0
    assert done.stderr.startswith(HOW_TO_GET_IT)


@pytest.mark.parametrize(("node", "npm"), [(1, 0), (0, 1)], ids=["an older Node.js", "no npm"])
def test_half_of_what_it_needs_is_not_enough(tmp_path: Path, node: int, npm: int) -> None:
    pretend(tmp_path, "node", node)
    pretend(tmp_path, "npm", npm)
    assert lint(tmp_path, CI="true").stderr.startswith(HOW_TO_GET_IT)


def test_every_package_is_pinned_with_its_digest() -> None:
    wanted = json.loads((LINT.parent / "package.json").read_text(encoding="utf-8"))["devDependencies"]
    locked = json.loads((LINT.parent / "package-lock.json").read_text(encoding="utf-8"))["packages"]
    for name, version in wanted.items():
        assert re.fullmatch(r"\d+\.\d+\.\d+", version)
        assert locked[f"node_modules/{name}"]["version"] == version
    assert [
        name for name, one in locked.items() if name and not one.get("integrity", "").startswith("sha512-")
    ] == []
