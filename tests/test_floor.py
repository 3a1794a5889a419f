"""`make lint` finds what the oldest browsers lack, in scripts and in styles."""

import json
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


# One start for all cases: each linter takes longer to be read than to look.
LOOK = """
import { readFileSync } from "node:fs";
import { ESLint } from "./eslint/lib/api.js";
import stylelint from "./stylelint/lib/index.mjs";
const { top, scripts, styles } = JSON.parse(readFileSync(0, "utf8"));
const settings = (name) => `${top}/tests/scripts/${name}.config.js`;
const eslint = new ESLint({ cwd: top, overrideConfigFile: settings("eslint") });
const found = {};
for (const code of scripts) {
  const [told] = await eslint.lintText(code, { filePath: `${top}/theme_overrides/js/made-up.js` });
  found[code] = told.messages.map((one) => one.ruleId);
}
for (const code of styles) {
  const codeFilename = `${top}/theme_overrides/css/made-up.css`;
  const { results } = await stylelint.lint({ code, codeFilename, cwd: top, configFile: settings("stylelint") });
  found[code] = results[0].warnings.map((one) => `${one.rule}: ${one.text}`);
}
console.log(JSON.stringify(found));
"""


@pytest.fixture(scope="module")
def told() -> dict[str, list[str]]:
    """What the linters say of each script and style."""
    if not (BIN / ".ready").exists() or not shutil.which("node"):
        missing = pytest.fail if os.environ.get("CI") else pytest.skip
        missing("the linters are not here: make lint fetches them, and says where it cannot")
    done = subprocess.run(
        ["node", "--input-type=module", "--eval", LOOK],
        cwd=BIN,
        input=json.dumps({"top": str(ROOT), "scripts": [*LACKING], "styles": [*STYLES]}),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, list[str]] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize("script", LACKING)
def test_a_script_that_needs_more_than_the_floor_is_found(told: dict[str, list[str]], script: str) -> None:
    assert LACKING[script] in told[script]


@pytest.mark.parametrize("style", STYLES)
def test_a_style_that_needs_more_than_the_floor_is_found(told: dict[str, list[str]], style: str) -> None:
    assert STYLES[style] in " ".join(told[style])
