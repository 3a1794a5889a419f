"""`make lint` finds what the oldest browsers lack, in scripts and in styles."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
BIN = ROOT / "tests/scripts/node_modules"
LACKING = {
    "AbortSignal.timeout(5);": "no-restricted-properties",
    "new CompressionStream('gzip');": "compat/compat",
    "[3, 1].toSorted();": "no-restricted-syntax",
    "/(?<=a)b/.test('ab');": "no-restricted-syntax",
    "(class { static { this.one = 1; } });": "no-restricted-syntax",
}
STYLES = {
    "main:has(p){color:red}": "css-has",
    "main{& p{color:red}}": "css-nesting",
    "main{color:color-mix(in srgb,red,blue)}": "function-disallowed-list",
}


@pytest.fixture
def linters() -> Path:
    """Where the linters are."""
    if not (BIN / ".ready").exists() or not shutil.which("node"):
        missing = pytest.fail if os.environ.get("CI") else pytest.skip
        missing("the linters are not here: make lint fetches them, and says where it cannot")
    return BIN


def run(*command: str, given: str) -> str:
    done = subprocess.run(
        ["node", *command], cwd=ROOT, input=given, capture_output=True, text=True, check=False
    )
    return done.stdout + done.stderr


@pytest.mark.parametrize("script", LACKING)
def test_a_script_that_needs_more_than_the_floor_is_found(linters: Path, script: str) -> None:
    eslint = (str(linters / "eslint/bin/eslint.js"), "--config", "tests/scripts/eslint.config.js", "--stdin")
    told = run(*eslint, "--stdin-filename", "theme_overrides/js/made-up.js", given=script + "\n")
    assert LACKING[script] in told


@pytest.mark.parametrize("style", STYLES)
def test_a_style_that_needs_more_than_the_floor_is_found(linters: Path, style: str) -> None:
    stylelint = (
        str(linters / "stylelint/bin/stylelint.mjs"),
        "--config",
        "tests/scripts/stylelint.config.js",
        "--stdin",
    )
    told = run(*stylelint, "--stdin-filename", "theme_overrides/css/made-up.css", given=style + "\n")
    assert STYLES[style] in told
