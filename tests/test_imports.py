"""Data goes one way: a module imports only from its own wing and from wings to the left of it.

The wings and their order are read from the map in generator/README.md, so that the map cannot lie.
"""

import ast
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

GENERATOR = Path(__file__).resolve().parents[1] / "generator"
WINGS = tuple(re.findall(r"^\| `(\w+)/` \|", (GENERATOR / "README.md").read_text("utf-8"), re.MULTILINE))

# One thin door for each thing outside: the package, and the module or folder that alone imports it.
DOORS = {
    "mkdocs": "publishing.mkdocs_door",
    "material": "publishing.mkdocs_door",
    "playwright": "publishing.pdf",
    "pypdf": "publishing.pdf",
    "click": "cli",
    "segno": "drawing.qr",
    "icalendar": "telling.feeds",
    "subprocess": "reading.git_tree",
}

# Only the command line speaks and picks the exit status.
SPEAKS = {"print", "input", "exit", "quit", "SystemExit", "sys.exit", "sys.stdout", "sys.stderr"}
HIDES_AN_IMPORT = {"__import__", "importlib.import_module"}
LOADS_VERBS = "cli"
"""The command line alone finds a module by its name: it loads a verb when that is called."""


@dataclass(frozen=True)
class Import:
    """One imported name: `target` in dots from the package, empty for the package itself; `outside` if it is not ours."""

    target: str
    line: int
    in_function: bool
    outside: bool


def problems(sources: Mapping[str, str], wings: Sequence[str] = WINGS) -> list[str]:
    """Everything wrong in a package given as {path below generator/: text}, one line each, sorted."""
    modules = {_module_of(path): path for path in sources}
    found = list(_unknown_wings(sources, wings))
    edges: dict[str, set[str]] = {}
    for path, text in sources.items():
        module, tree = _module_of(path), ast.parse(text, path)
        imports = list(_imports(tree, path, modules))
        edges[module] = {each.target for each in imports if not each.outside and each.target in modules}
        for each in imports:
            found += [f"{path}:{each.line}: {what}" for what in _faults_of_import(module, each, wings)]
        if _wing_of(module) != "cli":
            found += [f"{path}:{line}: {what}" for line, what in _faults_of_speech(tree)]
    return sorted(found + list(_loops(edges)))


def _module_of(path: str) -> str:
    return ".".join(Path(path).with_suffix("").parts).removesuffix("__init__").removesuffix(".")


def _wing_of(module: str) -> str:
    # Where the program begins belongs to the command line.
    return "cli" if module == "__main__" else module.partition(".")[0]


def _unknown_wings(sources: Mapping[str, str], wings: Sequence[str]) -> Iterator[str]:
    for path in sources:
        wing = _wing_of(_module_of(path))
        if wing and wing not in wings:
            yield f"{path}:1: no wing is called '{wing}'; the map in generator/README.md names them all"


def _imports(tree: ast.Module, path: str, modules: Mapping[str, str]) -> Iterator[Import]:
    for node, in_function in _walk(tree, in_function=False):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield _absolute(alias.name, node.lineno, in_function)
        if isinstance(node, ast.ImportFrom):
            base = _base(node, path)
            for alias in node.names:
                whole = f"{base}.{alias.name}".lstrip(".")
                if not node.level:
                    yield _absolute(base, node.lineno, in_function)
                else:
                    yield Import(whole if whole in modules else base, node.lineno, in_function, outside=False)


def _absolute(name: str, line: int, in_function: bool) -> Import:
    return Import(name, line, in_function, outside=True)


def _base(node: ast.ImportFrom, path: str) -> str:
    if not node.level:
        return node.module or ""
    parts = Path(path).parent.parts
    parts = parts[: len(parts) - node.level + 1]
    return ".".join([*parts, *([node.module] if node.module else [])])


def _walk(node: ast.AST, in_function: bool) -> Iterator[tuple[ast.AST, bool]]:
    for child in ast.iter_child_nodes(node):
        yield child, in_function
        enters = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef)
        yield from _walk(child, in_function or enters)


def _faults_of_import(module: str, each: Import, wings: Sequence[str]) -> Iterator[str]:
    here = module or "the package"
    if each.in_function:
        yield f"imports {each.target} inside a function"
    if each.outside:
        package = each.target.partition(".")[0]
        if package in ("generator", "phasepress"):
            yield f"imports {each.target} by its whole name; write it relative, as the folder has another name"
        door = DOORS.get(package)
        if door and not f"{module}.".startswith(f"{door}."):
            yield f"{here} imports {each.target}; only {door} may"
    elif not _is_to_the_left(_wing_of(each.target), _wing_of(module), wings):
        yield f"{here} imports {each.target}, which is not to its left"


def _is_to_the_left(target: str, wing: str, wings: Sequence[str]) -> bool:
    """Whether a wing may import the target; the package itself, called '', is left of every wing."""
    if target == wing or not target:
        return True
    order = {name: number for number, name in enumerate(wings)}
    return order.get(target, len(order)) < order.get(wing, -1)


def _faults_of_speech(tree: ast.Module) -> Iterator[tuple[int, str]]:
    for node, _ in _walk(tree, in_function=False):
        for name in _names(node):
            if name in SPEAKS:
                yield node.lineno, f"uses {name}; only cli may"
            if name in HIDES_AN_IMPORT:
                yield node.lineno, f"uses {name}, which hides an import"


def _names(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load):
        return [node.id]
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        return [f"{node.value.id}.{node.attr}"]
    if isinstance(node, ast.ImportFrom) and not node.level:
        return [f"{node.module}.{alias.name}" for alias in node.names]
    return []


def _loops(edges: Mapping[str, set[str]]) -> Iterator[str]:
    """Loops between modules; a loop through two wings is told as a wrong direction too."""
    for module in sorted(edges):
        way = _way_back(module, edges)
        # Told once, from its first name in the alphabet.
        if way and module == min(way):
            yield f"{' → '.join([*way, module])}: these import each other in a loop"


def _way_back(module: str, edges: Mapping[str, set[str]]) -> list[str]:
    """The modules of a loop through this one, beginning with it; empty if there is none."""
    ways, seen = [[module]], {module}
    while ways:
        way = ways.pop(0)
        for target in sorted(edges[way[-1]]):
            if target == module:
                return way
            if target not in seen:
                seen.add(target)
                ways.append([*way, target])
    return []


def test_data_goes_one_way_through_the_wings() -> None:
    paths = sorted(GENERATOR.rglob("*.py"))
    assert len(paths) > 1, f"no modules in {GENERATOR}"
    sources = {path.relative_to(GENERATOR).as_posix(): path.read_text("utf-8") for path in paths}
    assert "\n".join(problems(sources)) == ""


def test_the_map_names_every_wing_that_is_there_and_no_other() -> None:
    folders = {path.parent.name for path in GENERATOR.glob("*/__init__.py")}
    assert set(WINGS) == folders
    assert len(WINGS) == len(folders)


HOUSE = ("reading", "computing", "judging", "publishing", "cli")
"""A small house for the tests of the checker."""


def told(sources: Mapping[str, str]) -> list[str]:
    return problems(sources, HOUSE)


def test_the_checker_passes_what_is_right() -> None:
    assert not told(
        {
            "__init__.py": '__version__ = "1"',
            "reading/__init__.py": "",
            "reading/source.py": "import sys\nfrom pathlib import Path\nfrom .. import __version__",
            "reading/amounts.py": "from .source import read",
            "judging/__init__.py": "from . import loads",
            "judging/loads.py": "from ..reading import amounts\nfrom . import table\nfrom ..reading.source import X",
            "judging/table.py": "",
            "publishing/mkdocs_door/plugin.py": "from mkdocs.plugins import BasePlugin",
            "publishing/pdf.py": "from playwright.sync_api import sync_playwright",
            "cli/__init__.py": "import click, sys\nfrom ..publishing import pdf\nprint(1)\nsys.exit(1)",
        }
    )


@pytest.mark.parametrize(
    "line",
    [
        "from ..publishing import page",
        "from ..publishing import page as pages",
        "from ..publishing.page import title",
        "from .. import publishing",
        "if True:\n    from ..publishing.page import title",
    ],
)
def test_an_import_from_the_right_is_reported_however_it_is_written(line: str) -> None:
    (problem,) = told({"reading/model.py": line, "publishing/__init__.py": "", "publishing/page.py": ""})
    assert problem.startswith("reading/model.py:")
    assert "reading.model imports publishing" in problem
    assert problem.endswith("which is not to its left")


def test_the_package_itself_imports_from_no_wing() -> None:
    (problem,) = told({"__init__.py": "from .cli import main", "cli/__init__.py": ""})
    assert problem == "__init__.py:1: the package imports cli, which is not to its left"


@pytest.mark.parametrize("line", ["import phasepress.cli", "from generator.cli import main"])
def test_a_whole_name_of_our_own_is_reported(line: str) -> None:
    (problem,) = told({"reading/model.py": line})
    assert "by its whole name; write it relative" in problem


@pytest.mark.parametrize(
    "text",
    [
        "def f():\n    import json",
        "async def f():\n    import json",
        "class C:\n  def f(self):\n    if self:\n      import json",
    ],
)
def test_an_import_inside_a_function_is_reported(text: str) -> None:
    (problem,) = told({"reading/model.py": text})
    assert problem.endswith(": imports json inside a function")


@pytest.mark.parametrize("text", ["__import__('json')", "from importlib import import_module"])
def test_a_hidden_import_is_reported(text: str) -> None:
    (problem,) = told({"reading/model.py": text})
    assert problem.endswith(", which hides an import")


def test_an_unknown_wing_is_reported_with_the_place_to_add_it() -> None:
    (problem,) = told({"attic/boxes.py": ""})
    assert problem.startswith("attic/boxes.py:1: no wing is called 'attic'")
    assert "generator/README.md" in problem


@pytest.mark.parametrize(
    ("line", "door"),
    [
        ("import mkdocs", "publishing.mkdocs_door"),
        ("from mkdocs.config import base", "publishing.mkdocs_door"),
        ("from material import x", "publishing.mkdocs_door"),
        ("from playwright.sync_api import Page", "publishing.pdf"),
        ("import click", "cli"),
    ],
)
def test_each_outside_thing_has_one_door(line: str, door: str) -> None:
    (problem,) = told({"publishing/page.py": line})
    assert problem.startswith("publishing/page.py:1: publishing.page imports ")
    assert problem.endswith(f"; only {door} may")


@pytest.mark.parametrize(
    "text",
    [
        "print(1)",
        "import sys\nsys.exit(1)",
        "from sys import exit",
        "raise SystemExit(1)",
        "import sys\nsys.stderr.write('')",
        "show = print",
    ],
)
def test_only_the_command_line_speaks(text: str) -> None:
    (problem,) = told({"reading/amounts.py": text})
    assert problem.endswith("; only cli may")


def test_a_loop_inside_a_wing_is_reported_once() -> None:
    (problem,) = told(
        {
            "judging/a.py": "from ..judging import b",
            "judging/b.py": "from .c import name",
            "judging/c.py": "from . import a",
            "judging/d.py": "from . import a",
        }
    )
    assert problem == ("judging.a → judging.b → judging.c → judging.a: these import each other in a loop")


def test_a_wing_that_gathers_its_modules_and_is_asked_back_is_a_loop() -> None:
    (problem,) = told(
        {
            "judging/__init__.py": "from . import loads",
            "judging/loads.py": "from ..judging import register",
        }
    )
    assert problem.endswith("these import each other in a loop")
