"""The edits that try the tests: each changes one thing, and only where a test could see it."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutants import ROOT, modules
from tests.mutations import edited, edits


@pytest.mark.parametrize(
    ("text", "becomes"),
    [
        ("a < b", {"a <= b"}),
        ("a >= b", {"a > b"}),
        ("a == b", {"a != b"}),
        ("a is None", {"a is not None"}),
        ("a < b < c", {"a <= b < c", "a < b <= c"}),
        ("a + b", {"a - b"}),
        ("a // b", {"a * b"}),
        ("a += b", {"a -= b"}),
        ("a = 1", {"a = 2", "a = 0"}),
        ("a = 0", {"a = 1", "a = -1"}),
        ("a = True", {"a = False"}),
        ("a and b", {"a or b"}),
        ("a = not b", {"a = b"}),
        ("f(a)", {"pass"}),
        ("a = sorted(b, key=c)", {"a = b"}),
        ("a = b if c else d", {"a = b if not c else d"}),
        ("def f():\n    return a", {"def f():\n    return None"}),
        ("def f():\n    yield a", {"def f():\n    yield from ()"}),
    ],
)
def test_an_edit_changes_one_thing(text: str, becomes: set[str]) -> None:
    assert {ast.unparse(edited(text, one)) for one in edits(text)} == becomes


@pytest.mark.parametrize(
    "text",
    [
        "def f(a: Literal[1]) -> Literal[2]: pass",
        "@cache(3)\ndef f(): pass",
        "assert a < 1",
        "a = zip(b, c, strict=True)",
        "'words'",
        "def f():\n    return None",
    ],
)
def test_what_no_test_could_see_is_not_edited(text: str) -> None:
    assert edits(text) == []


def test_every_edit_of_the_three_wings_is_another_module_that_compiles() -> None:
    for file in modules(()):
        text = file.read_text(encoding="utf-8")
        as_it_is = ast.dump(ast.parse(text))
        for one in edits(text)[::60]:
            new = edited(text, one)
            assert ast.dump(new) != as_it_is, f"{file}:{one.line}: {one.what}"
            compile(new, str(file), "exec")


def test_lines_keep_their_numbers_whatever_is_edited() -> None:
    text = "def f(a):\n    # A word.\n\n    if a:\n        print(\n            a\n        )\n    return a\n"
    lines = {node.lineno for node in ast.walk(edited(text, None)) if isinstance(node, ast.stmt)}
    assert lines == {1, 4, 5, 8}
    for one in edits(text):
        assert {node.lineno for node in ast.walk(edited(text, one)) if isinstance(node, ast.stmt)} == lines


def test_an_edit_that_a_test_notices_and_one_that_none_does_are_told_apart(tmp_path: Path) -> None:
    """Two tests of a file of their own: one sees that 60 s are a minute, the other looks at nothing."""
    (tmp_path / "test_sharp.py").write_text(
        "from phasepress.computing.running_order import MINUTE\n\ndef test_it():\n    assert MINUTE == 60\n"
    )
    (tmp_path / "test_blunt.py").write_text(
        "from phasepress.computing.running_order import MINUTE\n\ndef test_it():\n    assert MINUTE\n"
    )
    script = f"""
from pathlib import Path
from tests import mutants
from tests.mutations import edits
mutants._warm()
file = Path({str(ROOT)!r}) / "generator/computing/running_order.py"
text = file.read_text(encoding="utf-8")
(one,) = [edit for edit in edits(text) if edit.what == "60 to 61"]
for name in ("sharp", "blunt"):
    test = [str(Path({str(tmp_path)!r}) / f"test_{{name}}.py")]
    print(name, mutants.tried(test, file)[0], mutants.tried(test, file, one, 60)[0])
"""
    # The two tests need no plugin of pytest.
    env = os.environ | {"PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, env=env, capture_output=True, text=True, check=True
    )
    assert done.stdout.split("\n")[:2] == ["sharp True False", "blunt True True"]
