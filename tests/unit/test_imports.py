"""Data goes one way: a module of the generator imports only from rooms to its left."""

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

GENERATOR = Path(__file__).resolve().parents[2] / "generator"

# From left to right. A room is a module or a package; rooms of one step do not know each other.
STEPS = (
    ("escaping",),
    ("words", "tree"),
    ("messages",),
    ("findings",),
    ("source", "history", "forges"),
    ("amounts",),
    ("model",),
    ("catalogue",),
    ("resolve",),
    ("running_order",),
    ("volume",),
    ("load_recipe",),
    ("plan",),
    ("theme",),
    ("figures",),
    ("checks",),
    ("comparison",),
    ("report", "new"),
    ("drawing", "plots", "qr"),
    ("views",),
    ("assets", "typeface"),
    ("offline",),
    ("feeds",),
    ("render",),
    ("pack",),
    ("stopping",),
    ("switching",),
    ("mkdocs_plugin", "paper"),
    ("cli",),
    ("__main__",),
)
STEP_OF = {room: number for number, rooms in enumerate(STEPS) for room in rooms}

# One thin door for each thing outside.
DOORS = {
    "mkdocs": "mkdocs_plugin",
    "material": "mkdocs_plugin",
    "playwright": "paper",
    "pypdf": "paper",
    "pymupdf_fonts": "typeface",
    "click": "cli",
    "segno": "qr",
    "subprocess": "history",
    "fcntl": "switching",
    "ctypes": "switching",
}

# Only the command line speaks and picks the exit status.
SPEAKS = {"print", "input", "exit", "quit", "SystemExit", "sys.exit", "sys.stdout", "sys.stderr"}
HIDES_AN_IMPORT = {"__import__", "importlib.import_module"}


@dataclass(frozen=True)
class Import:
    """One imported name: `target` in dots from the root, `line` where it stands."""

    target: str
    line: int
    in_function: bool


def problems(sources: Mapping[str, str]) -> list[str]:
    """Everything wrong in a package given as {path below generator/: text}, one line each, sorted."""
    modules = {_module_of(path): path for path in sources}
    found = list(_unknown_rooms(sources))
    edges: dict[str, set[str]] = {}
    for path, text in sources.items():
        module, tree = _module_of(path), ast.parse(text, path)
        imports = list(_imports(tree, module, path.endswith("__init__.py"), modules))
        edges[module] = {each.target for each in imports if each.target in modules}
        for each in imports:
            found += [f"{path}:{each.line}: {what}" for what in _faults_of_import(module, each)]
        if _room_of(module) != "cli":
            found += [f"{path}:{line}: {what}" for line, what in _faults_of_speech(tree)]
    return sorted(found + list(_loops(edges)))


def _module_of(path: str) -> str:
    return ".".join(["generator", *Path(path).with_suffix("").parts]).removesuffix(".__init__")


def _room_of(module: str) -> str:
    return [*module.split("."), ""][1]


def _unknown_rooms(sources: Mapping[str, str]) -> Iterator[str]:
    for path in sources:
        room = _room_of(_module_of(path))
        if room and room not in STEP_OF:
            yield (
                f"{path}:1: no room is called '{room}'. Add it to STEPS in tests/unit/test_imports.py, "
                "right of all it imports and left of all that import it"
            )


def _imports(tree: ast.Module, module: str, is_package: bool, modules: Mapping[str, str]) -> Iterator[Import]:
    for node, in_function in _walk(tree, in_function=False):
        for target in _targets(node, module, is_package, modules):
            yield Import(target, node.lineno, in_function)


def _walk(node: ast.AST, in_function: bool) -> Iterator[tuple[ast.AST, bool]]:
    for child in ast.iter_child_nodes(node):
        yield child, in_function
        enters = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef)
        yield from _walk(child, in_function or enters)


def _targets(node: ast.AST, module: str, is_package: bool, modules: Mapping[str, str]) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if not isinstance(node, ast.ImportFrom):
        return []
    base = _base(node, module, is_package)
    names = [f"{base}.{alias.name}" for alias in node.names]
    return [name if name in modules or _is_a_room(name) else base for name in names]


def _is_a_room(name: str) -> bool:
    return name.startswith("generator.") and name.split(".", 1)[1] in STEP_OF


def _base(node: ast.ImportFrom, module: str, is_package: bool) -> str:
    if not node.level:
        return node.module or ""
    parts = module.split(".")
    parts = parts[: len(parts) - node.level + is_package]
    return ".".join([*parts, *([node.module] if node.module else [])])


def _faults_of_import(module: str, each: Import) -> Iterator[str]:
    room, (package, *_) = _room_of(module), each.target.split(".")
    if each.in_function:
        yield f"imports {each.target} inside a function"
    if package == "generator" and not _is_to_the_left(_room_of(each.target), room):
        yield f"{room or 'generator'} imports {each.target}, which is not to its left"
    if DOORS.get(package, room) != room:
        yield f"{room or 'generator'} imports {each.target}; only {DOORS[package]} may"


def _is_to_the_left(target: str, room: str) -> bool:
    """Whether a room may import the target; the package itself, called '', is left of every room."""
    if target == room or not target:
        return True
    return STEP_OF.get(target, len(STEPS)) < STEP_OF.get(room, -1)


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
    """Loops between modules; a loop through two rooms is told as a wrong direction too."""
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


def test_the_generator_imports_leftwards_only() -> None:
    paths = sorted(GENERATOR.rglob("*.py"))
    assert len(paths) > 1, f"no modules in {GENERATOR}"
    sources = {path.relative_to(GENERATOR).as_posix(): path.read_text("utf-8") for path in paths}
    assert "\n".join(problems(sources)) == ""


def test_no_room_is_listed_twice() -> None:
    assert len(STEP_OF) == sum(len(rooms) for rooms in STEPS)


def test_the_checker_passes_what_is_right() -> None:
    assert not problems(
        {
            "__init__.py": '__version__ = "1"',
            "source.py": "import sys\nfrom pathlib import Path\nfrom generator import __version__",
            "model.py": "from .source import read\nimport generator.amounts",
            "amounts.py": "",
            "checks/__init__.py": "from generator.checks import loads",
            "checks/loads.py": "from .. import model\nfrom . import table\nfrom ..model import Plan",
            "checks/table.py": "",
            "mkdocs_plugin.py": "from mkdocs.plugins import BasePlugin",
            "paper.py": "from playwright.sync_api import sync_playwright",
            "cli.py": "import click, sys\nfrom generator import paper\nprint(1)\nsys.exit(1)",
        }
    )


@pytest.mark.parametrize(
    "line",
    [
        "import generator.views",
        "import generator.views as pages",
        "from generator import views",
        "from generator.views import page",
        "from . import views",
        "from .views import page",
        "if True:\n    from .views import page",
    ],
)
def test_an_import_from_the_right_is_reported_however_it_is_written(line: str) -> None:
    (problem,) = problems({"model.py": line, "views.py": ""})
    assert problem.startswith("model.py:")
    assert "model imports generator.views, which is not to its left" in problem


def test_an_import_from_the_right_is_reported_inside_a_package() -> None:
    (problem,) = problems({"checks/loads.py": "from ..views import page", "views.py": ""})
    assert problem == "checks/loads.py:1: checks imports generator.views, which is not to its left"


def test_rooms_of_one_step_do_not_import_each_other() -> None:
    (problem,) = problems({"paper.py": "from generator import mkdocs_plugin", "mkdocs_plugin.py": ""})
    assert problem == "paper.py:1: paper imports generator.mkdocs_plugin, which is not to its left"


def test_the_package_itself_imports_from_no_room() -> None:
    (problem,) = problems({"__init__.py": "from generator.cli import main", "cli.py": ""})
    assert problem == "__init__.py:1: generator imports generator.cli, which is not to its left"


@pytest.mark.parametrize(
    "text",
    [
        "def f():\n    import json",
        "async def f():\n    import json",
        "class C:\n  def f(self):\n    if self:\n      import json",
    ],
)
def test_an_import_inside_a_function_is_reported(text: str) -> None:
    (problem,) = problems({"model.py": text})
    assert problem.endswith(": imports json inside a function")


@pytest.mark.parametrize("text", ["__import__('json')", "from importlib import import_module"])
def test_a_hidden_import_is_reported(text: str) -> None:
    (problem,) = problems({"model.py": text})
    assert problem.endswith(", which hides an import")


def test_an_unknown_room_is_reported_with_the_place_to_add_it() -> None:
    (problem,) = problems({"attic/boxes.py": ""})
    assert problem.startswith("attic/boxes.py:1: no room is called 'attic'")
    assert "STEPS in tests/unit/test_imports.py" in problem


@pytest.mark.parametrize(
    ("line", "door"),
    [
        ("import mkdocs", "mkdocs_plugin"),
        ("from mkdocs.config import base", "mkdocs_plugin"),
        ("from material import x", "mkdocs_plugin"),
        ("from playwright.sync_api import Page", "paper"),
        ("import click", "cli"),
    ],
)
def test_each_outside_thing_has_one_door(line: str, door: str) -> None:
    (problem,) = problems({"views.py": line})
    assert problem.startswith("views.py:1: views imports ")
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
    (problem,) = problems({"volume.py": text})
    assert problem.endswith("; only cli may")


def test_a_loop_inside_a_room_is_reported_once() -> None:
    (problem,) = problems(
        {
            "checks/a.py": "from generator.checks import b",
            "checks/b.py": "from .c import name",
            "checks/c.py": "import generator.checks.a",
            "checks/d.py": "from . import a",
        }
    )
    assert problem == (
        "generator.checks.a → generator.checks.b → generator.checks.c → generator.checks.a: "
        "these import each other in a loop"
    )


def test_a_package_that_gathers_its_modules_and_is_asked_back_is_a_loop() -> None:
    (problem,) = problems(
        {
            "checks/__init__.py": "from . import loads",
            "checks/loads.py": "from generator.checks import register",
        }
    )
    assert problem.endswith("these import each other in a loop")
