"""Whatever stands in the files: findings and an exit status, never a traceback, and never an endless wait."""

import copy
import json
import os
import random
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from phasepress.reading.source import read

from tests.fixtures import trees
from tests.samples import every, in_turn, size

VERSION = "home/2.0.yaml"
# 1.1 has the keys and values of 1.0 once more.
FILES = [str(f.relative_to(trees.GOOD)) for f in sorted(trees.GOOD.rglob("*.yaml")) if f.name != "1.1.yaml"]
DEEP = "[" * 30 + "]" * 30
PARTS = {"home/1.0.yaml": 4}
"""Tests into which a long file is cut, so that workers share it."""
VALUES = [
    "null", "true", "0", "-1", "1e400", ".nan", f"'{'9' * 400}'", "9" * 400, '""', "[]", "{}", "[[]]", '{"a": null}',
    f'"{"long " * 2000}"', '"a\\0b\\e[31m"', DEEP,
]  # fmt: skip


class Raw(str):
    """Text that stands in the file as it is."""


def assert_survived(tree: Path, *, errors: bool | None = None) -> str:
    """Run the check; it must end by itself with a status and say nothing that a terminal would act on."""
    result = trees.run(tree, "check")
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
    assert result.exit_code in (0, 1, 2)
    assert (" error " in result.output) == (result.exit_code == 1), result.output
    assert result.output.replace("\n", "").isprintable()
    if errors is not None:
        assert (result.exit_code == 1) is errors, result.output
    return result.output


def as_yaml(value: object) -> str:
    """Data on one line; JSON is YAML but for what is raw."""
    if isinstance(value, Raw):
        return str(value)
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)}: {as_yaml(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(as_yaml, value)) + "]"
    return json.dumps(value)


def paths(data: object, path: tuple = ()) -> Iterator[tuple]:
    """The way to every value below the top."""
    if path:
        yield path
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for step, one in items:
        yield from paths(one, (*path, step))


def with_change(data: Any, path: tuple, change: Callable[[Any, Any], None]) -> str:
    """The file after `change(parent, step)` at the path."""
    data = copy.deepcopy(data)
    parent = data
    for step in path[:-1]:
        parent = parent[step]
    change(parent, path[-1])
    return as_yaml(data)


def replaced(value: str) -> Callable[[Any, Any], None]:
    return lambda parent, step: parent.__setitem__(step, Raw(value))


def deleted(parent: Any, step: Any) -> None:
    del parent[step]


def doubled(parent: Any, step: Any) -> None:
    if isinstance(parent, list):
        parent.insert(step, parent[step])


def small_tree(to: Path, name: str) -> Path:
    """The good tree with one version, that of the name or the first: it is checked thousands of times."""
    tree = trees.copy_of_good(to)
    for version in ("1.1", "1.0" if name == VERSION else "2.0"):
        (tree / f"home/{version}.yaml").unlink()
    return tree


@pytest.mark.parametrize(
    ("name", "part"), [(name, part) for name in FILES for part in range(PARTS.get(name, 1))]
)
def test_any_value_may_be_replaced_by_anything(name: str, part: int, tmp_path: Path) -> None:
    tree = small_tree(tmp_path, name)
    data = read(name, (tree / name).read_bytes()).data
    every = list(enumerate(paths(data)))
    for number, path in every[part :: PARTS.get(name, 1)]:
        for value in values_for(name, number):
            (tree / name).write_text(with_change(data, path, replaced(value)))
            assert_survived(tree)


def values_for(name: str, number: int) -> list[str]:
    """All values, or one at each place, in turn; most exercises are alike, so that three do at each place of those."""
    if not name.startswith("exercises/") or name in ("exercises/bag-row.yaml", "exercises/drop-stop.yaml"):
        return in_turn(VALUES, number, few=1)
    return in_turn(VALUES, number, few=size(3, few=1), everything=False)


@pytest.mark.parametrize("name", FILES)
def test_any_key_may_be_missing_and_any_entry_stand_twice(name: str, tmp_path: Path) -> None:
    tree = small_tree(tmp_path, name)
    data = read(name, (tree / name).read_bytes()).data
    for path in every(paths(data), few=6):
        for change in (deleted, doubled):
            (tree / name).write_text(with_change(data, path, change))
            assert_survived(tree)


WHOLE = ["", "null", "[]", "text", "5", DEEP, "- - - -", "a: &a [*a]", "\t", "%", "\ufeff"]


@pytest.mark.parametrize(
    ("name", "value"),
    [(name, value) for turn, name in enumerate(FILES) for value in in_turn(WHOLE, turn, few=3)],
)
def test_any_file_may_hold_anything(name: str, value: str, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    (tree / name).write_text(value, encoding="utf-8")
    assert_survived(tree, errors=True)


@pytest.mark.parametrize("seed", every(range(4), few=2))
def test_random_slips_of_the_keyboard(seed: int, tmp_path: Path) -> None:
    rng = random.Random(seed)
    tree = trees.copy_of_good(tmp_path)
    for _ in range(size(120, few=40)):
        name = rng.choice(FILES)
        before = (tree / name).read_bytes()
        (tree / name).write_bytes(slipped(before, rng))
        assert_survived(tree)
        (tree / name).write_bytes(before)


def slipped(text: bytes, rng: random.Random) -> bytes:
    """The text after a few slips: bytes and lines lost, doubled, moved, and signs where none belong."""
    for _ in range(rng.randint(1, 4)):
        at, upto = sorted((rng.randrange(len(text)), rng.randrange(len(text))))
        sign = rng.choice(
            [b":", b"-", b" ", b"\n", b"[", b"}", b'"', b"'", b"#", b"&a ", b"*a", b"!", b"\xff", b"\t"]
        )
        lines = text.splitlines(keepends=True)
        line = rng.randrange(len(lines))
        text = rng.choice([
            text[:at] + sign + text[at:],
            text[:at] + text[at + 1 :],
            text[:at] + text[min(upto, at + 30) :],
            b"".join(lines[:line] + lines[line + 1 :]) or b"\n",
            b"".join(lines[: line + 1] + lines[line:]),
            b"".join(rng.sample(lines, len(lines))),
        ])  # fmt: skip
    return text


# --- files that are too much ------------------------------------------------------------------------------

BOMB = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
BOMB += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 10)]
NESTED = ["a0: &a0 {a: x}", *(f"a{n}: &a{n} {{a: {{a: {{a: *a{n - 1}}}}}}}" for n in range(1, 3000))]
TOO_MUCH = {
    "ten megabytes": b"# a comment\n" * 900_000,
    "a hundred thousand brackets": b"[" * 100_000,
    "a hundred thousand hyphens": b"- " * 100_000,
    "a hundred thousand braces": b"{a: " * 100_000,
    "a hundred thousand unknown keys": b"".join(b"key%d: 1\n" % n for n in range(60_000)),
    "a long list": b"days: [" + b"1, " * 90_000 + b"]",
    "a long key": b"a" * 900_000 + b": 1",
    "a long text": b"phase: " + b"word " * 150_000,
    "a choice of many days": b"days: [{on: [" + b"mon or " * 100_000 + b"mon]}]",
    "an alias bomb": "\n".join(BOMB).encode(),
    "a ladder of aliases": "\n".join(NESTED).encode(),
    "utf-16": "phase: Load\n".encode("utf-16"),
    "latin-1": "phase: Größe\n".encode("latin-1"),
    "zeros": bytes(10_000),
}


@pytest.mark.parametrize("what", TOO_MUCH)
def test_a_file_may_be_too_much(what: str, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    (tree / VERSION).write_bytes(TOO_MUCH[what])
    assert_survived(tree, errors=True)


@pytest.mark.parametrize(
    "station",
    [
        "{kind: timed rounds, lasts: 240 min, changeover: 0 s, stations: [{exercise: march, work: 0.001 s}]}",
        "{kind: timed rounds, lasts: 240 min, changeover: 0.001 s, stations: [{exercise: march, work: 1 s}]}",
        "{kind: circuit, rounds: 50, changeover: 0 s, stations: ["
        + "{exercise: march, work: 1 s}, " * 40
        + "]}",
        "{kind: circuit, rounds: 50, stations: [" + "{exercise: side-plank, hold: 1 s}, " * 40 + "]}",
    ],
)
def test_a_session_may_be_too_long_to_be_listed(station: str, tmp_path: Path) -> None:
    blocks = "    blocks:\n" + 4 * f"      - {station}\n"
    tree = trees.changed(tmp_path, {VERSION: ("    blocks:\n", blocks)})
    assert "more than 5,000 segments" in assert_survived(tree, errors=True)


def test_as_much_as_the_format_allows_ends(tmp_path: Path) -> None:
    """52 weeks, 14 days and sessions of hours."""
    tree = trees.changed(tmp_path, {VERSION: ("weeks: 1", "weeks: 52")})
    head, day = (tree / VERSION).read_text().split("days:\n")
    days = "".join(
        day.replace("whole-body", f"day-{n}").replace("rounds: 2", "rounds: 10") for n in range(14)
    )
    (tree / VERSION).write_text(f"{head}days:\n{days}")
    assert_survived(tree, errors=False)


# --- trees that are odd -----------------------------------------------------------------------------------


def _a_folder_as_version(tree: Path) -> None:
    (tree / "home/3.0.yaml").mkdir()


def _a_folder_as_club(tree: Path) -> None:
    (tree / "club.yaml").unlink()
    (tree / "club.yaml").mkdir()


def _a_folder_as_programme(tree: Path) -> None:
    (tree / "home/programme.yaml").unlink()
    (tree / "home/programme.yaml").mkdir()


def _a_file_as_folder(tree: Path) -> None:
    shutil.rmtree(tree / "exercises")
    (tree / "exercises").write_text("no folder")


def _a_link_to_itself(tree: Path) -> None:
    (tree / "home/3.0.yaml").symlink_to("3.0.yaml")


def _folders_linked_in_a_circle(tree: Path) -> None:
    (tree / "away").symlink_to(tree)
    (tree / "there").symlink_to("back")
    (tree / "back").symlink_to("there")


def _a_link_to_nothing(tree: Path) -> None:
    (tree / "exercises/gone.yaml").symlink_to("nowhere.yaml")


def _a_pipe(tree: Path) -> None:
    os.mkfifo(tree / "exercises/pipe.yaml")


def _names_of_odd_bytes(tree: Path) -> None:
    for name in (
        b"\xff\xfe.yaml",
        b"a\nb.yaml",
        b"\x1b[31m.yaml",
        "größe.yaml".encode(),
        b" .yaml",
        b"-.yaml",
    ):
        with open(os.path.join(os.fsencode(tree / "exercises"), name), "wb") as file:
            file.write(b"name: x\n")


def _versions_of_odd_numbers(tree: Path) -> None:
    for name in ("0.0", "1", "1.0.0", "99999.0", "1.-1", "\u0663.\u0660", "1e1.0", "2.00"):
        (tree / f"home/{name}.yaml").write_text("phase: x\n")


def _nothing_at_all(tree: Path) -> None:
    shutil.rmtree(tree)
    tree.mkdir()


def _empty_folders(tree: Path) -> None:
    for name in ("exercises", "routines", "home"):
        shutil.rmtree(tree / name)
        (tree / name).mkdir()


ODD = [
    _a_folder_as_version, _a_folder_as_club, _a_folder_as_programme, _a_file_as_folder, _a_link_to_itself,
    _folders_linked_in_a_circle, _a_link_to_nothing, _a_pipe, _names_of_odd_bytes, _versions_of_odd_numbers,
    _nothing_at_all, _empty_folders,
]  # fmt: skip


@pytest.mark.parametrize("make", ODD, ids=lambda make: make.__name__.strip("_"))
def test_a_tree_may_be_odd(make: Callable[[Path], None], tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    make(tree)
    assert_survived(tree, errors=True)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_may_be_locked(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    (tree / VERSION).chmod(0)
    assert_survived(tree, errors=True)


def test_hidden_files_and_backups_belong_to_tools(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    for name in (".DS_Store", "home/.2.0.yaml.swp", "home/2.0.yaml~", ".schema/x.json"):
        (tree / name).parent.mkdir(exist_ok=True)
        (tree / name).write_bytes(b"\xff")
    assert_survived(tree, errors=False)


@pytest.mark.parametrize("make", [Path.touch, lambda tree: None], ids=["a file", "nothing"])
def test_a_tree_that_is_no_folder_is_a_wrong_call(make: Callable[[Path], None], tmp_path: Path) -> None:
    make(tmp_path / "programmes")
    result = trees.run(tmp_path / "programmes", "check")
    assert result.exit_code == 2
    assert "no folder of programme files" in result.output


def test_every_wrong_tree_survives_every_command(tmp_path: Path) -> None:
    for fault in every(trees.faults(), few=20):
        tree = trees.tree_of(fault, tmp_path / fault.name)
        for words in (
            ("report",),
            ("order", "home", "2.0", "whole-body", "--level", "starter", "--week", "1"),
        ):
            result = trees.run(tree, *words)
            assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
            assert result.exit_code in (0, 1, 2)
