"""Every message has a wrong file: tests/data/bad/<check>-<fault> beside the exact text that `check` prints."""

import ast
import os
import re
import sys
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

import phasepress
import pytest
from phasepress.judging.figures import MOST_POSITIONS
from phasepress.judging.limits import ACCEPTABLE
from phasepress.judging.registry import Issue
from phasepress.reading.amounts import AmountError, WrongPart
from phasepress.reading.catalogue.files import MOST_FILES
from phasepress.reading.findings import Fault, Finding
from phasepress.reading.model.fields import Part
from phasepress.reading.model.validate import EXPLAIN
from phasepress.reading.source import MOST_BYTES
from phasepress.reading.source.syntax import SAID, Problem
from phasepress.reading.tree import Kind, OnDisk

from tests.fixtures import trees

GENERATOR = Path(phasepress.__file__).parent
CAN_IT_BE_READ = (
    "yaml",
    "key",
    "value",
    "reference",
    "weeks",
    "levels",
    "dose",
    "minute",
    "warm-up",
    "dates",
)
SAYS = (AmountError, Fault, Finding, Part, Problem, Issue, WrongPart)
"""Whoever makes one of these says something to the coach."""
ROOMS = ("reading", "computing", "judging")
OLDER_WORDS = "reading/model/forms.py:"
"""No older word is refused yet, so the error of one has no wrong tree; `test_forms` tries it with rows of its own."""


class Looked(NamedTuple):
    """What a check of a tree said, as text or as findings, and what was met on the way: file and line of each place
    that made a message, and the kinds of values that were explained."""

    tree: Path
    said: str
    findings: list[Finding]
    spoken: set[tuple[str, int]]
    explained: set[str]


Told = Callable[[Path], Looked]
Made = Callable[[str], Looked]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """`told(fault)`: the text that `check` prints for a wrong tree. Each tree is checked once, whoever asks."""

    @cache
    def look(fault: Path) -> Looked:
        tree = trees.tree_of(fault, tmp_path_factory.mktemp("wrong"))
        with pytest.MonkeyPatch.context() as patch:
            spoken, explained = _record(patch), _record_explanations(patch)
            return Looked(tree, trees.check_text(tree), [], spoken, explained)

    return look


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """`made(name)`: the findings of a tree that no folder of text files can hold. Each is checked once, whoever asks."""

    @cache
    def look(name: str) -> Looked:
        # What one of them makes the system refuse is not refused to the next.
        with pytest.MonkeyPatch.context() as patch:
            spoken = _record(patch)
            tree = MADE[name](tmp_path_factory.mktemp("made"), patch)
            return Looked(tree, "", trees.checked(tree).findings, spoken, set())

    return look


@pytest.mark.parametrize("fault", trees.faults(), ids=lambda fault: fault.name)
def test_the_text_for_a_wrong_tree_is_the_one_beside_it(fault: Path, told: Told) -> None:
    assert trees.lines(told(fault).said) == trees.lines((fault / trees.EXPECTED).read_text(encoding="utf-8"))


def test_the_good_tree_is_silent(tmp_path: Path) -> None:
    assert trees.check_text(trees.copy_of_good(tmp_path)) == "no errors, no warnings, no notes\n"


@pytest.mark.parametrize("check", [*CAN_IT_BE_READ, *sorted(ACCEPTABLE)])
def test_every_check_has_a_wrong_tree(check: str) -> None:
    texts = [_expected(fault) for fault in trees.faults() if _check_of(fault.name) == check]
    severity = "error" if check in CAN_IT_BE_READ else "(?:warning|note)"
    assert texts
    assert all(re.search(f" {severity} {check}: ", text) for text in texts), "it is named after its check"


def _check_of(folder: str) -> str:
    """`warm-up-length-short` is of `warm-up-length` and not of `warm-up`."""
    known = [check for check in (*CAN_IT_BE_READ, *ACCEPTABLE) if f"{folder}-".startswith(f"{check}-")]
    return max(known, key=len, default="")


def test_every_text_names_a_place_and_a_way_to_mend_it() -> None:
    for fault in trees.faults():
        *said, _summary = _expected(fault).splitlines()
        for finding, hint in zip(said[::2], said[1::2], strict=True):
            if finding.startswith("accepted "):
                continue
            assert finding.startswith("programmes/"), fault.name
            assert hint.startswith("    "), f"{fault.name}: no way to mend: {finding}"


def test_all_faults_of_all_files_come_in_one_run() -> None:
    said = _expected(trees.BAD / "many-faults-in-many-files").splitlines()
    places = [line.split(":")[0] for line in said if line.startswith("programmes/")]
    assert len(places) >= 12
    assert len(set(places)) >= 8


# --- no message without a wrong tree --------------------------------------------------------------------


def test_no_message_lacks_a_wrong_tree(told: Told, made: Made) -> None:
    spoken = set().union(
        *(told(fault).spoken for fault in trees.faults()), *(made(name).spoken for name in MADE)
    )
    silent = [
        f"{file.relative_to(GENERATOR)}:{first}"
        for file, first, last in _speaking_lines()
        if not any((str(file), line) in spoken for line in range(first, last + 1))
    ]
    silent = [line for line in silent if not line.startswith(OLDER_WORDS)]
    assert "\n".join(silent) == "", "these lines make a message for which tests/data/bad has no tree"


def test_every_complaint_of_the_parser_that_is_put_in_words_has_a_wrong_tree() -> None:
    texts = "".join(map(_expected, trees.faults()))
    assert [said for said, (message, _) in SAID.items() if f" error yaml: {message}" not in texts] == []


def test_every_explanation_of_a_wrong_value_has_a_wrong_tree(told: Told) -> None:
    assert sorted(EXPLAIN.keys() - set().union(*(told(fault).explained for fault in trees.faults()))) == []


def test_a_line_that_nobody_reaches_is_noticed() -> None:
    source = 'def f():\n    yield Fault(\n        "key", (), "words"\n    )\n    return Fault\n'
    assert list(_calls_in(source)) == [(2, 4)]


# What a folder of text files cannot hold.


def _too_big(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    (tree / "club.yaml").write_bytes(b"# long\n" * (MOST_BYTES // 7 + 1))
    return tree


def _a_pipe(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    os.mkfifo(tree / "home" / "3.0.yaml")
    return tree


def _a_link(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    (tree / "home" / "3.0.yaml").symlink_to("2.0.yaml")
    return tree


def _a_locked_folder(to: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    listing = OnDisk.entries

    def locked(disk: OnDisk, path: Path) -> Mapping[str, Kind]:
        if path.name == "home":
            raise PermissionError(13, "Permission denied")
        return listing(disk, path)

    monkeypatch.setattr(OnDisk, "entries", locked)
    return tree


def _very_many_faults(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    (tree / "club.yaml").write_text("club: x\ncautions: [" + "5, " * 20_000 + "]\n")
    return tree


def _very_many_signs(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    trees.change(tree / "club.yaml", "sport:", "# \u202e\n" * 20_000 + "sport:")
    return tree


def _very_many_faults_in_files(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    for n in range(12):
        (tree / f"exercises/x{n}.yaml").write_text(f"faults: [{'5, ' * 200}]\n")
    return tree


def _very_many_keys_twice(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    (tree / "club.yaml").write_text("club: x\n" * 200)
    return tree


def _very_many_files(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    for n in range(MOST_FILES):
        (tree / f"home/{n + 10}.0.yaml").touch()
    return tree


def _aliases_of_many_values(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    text = "a: &a [" + "1, " * 1000 + "]\nb: [" + "*a, " * 97 + "]\n"
    for name in ("x", "y", "z"):
        (tree / f"exercises/{name}.yaml").write_text(text)
    return tree


def _very_many_positions(to: Path, _: pytest.MonkeyPatch) -> Path:
    tree = trees.copy_of_good(to)
    text = (tree / "exercises/wall-sit.yaml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^figure:.*\n( .*\n)*", "", text)
    figure = f"figure: {{view: side, shows: s, positions: [{'{says: s}, ' * 8}]}}\n"
    for n in range(MOST_POSITIONS // 8 + 1):
        (tree / f"exercises/x{n:03d}.yaml").write_text(text + figure, encoding="utf-8")
    return tree


def _very_many_findings(to: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("phasepress.judging.run.MOST_FINDINGS", 3)
    return trees.tree_of(trees.BAD / "warm-up-length", to)


def _no_address(to: Path, _: pytest.MonkeyPatch) -> Path:
    (to / "mkdocs.yml").write_text("site_name: x\n")
    return trees.copy_of_good(to)


MADE: dict[str, Callable[[Path, pytest.MonkeyPatch], Path]] = {
    "yaml-too-big": _too_big,
    "yaml-a-pipe": _a_pipe,
    "reference-a-link": _a_link,
    "reference-a-locked-folder": _a_locked_folder,
    "value-very-many": _very_many_faults,
    "value-very-many-signs": _very_many_signs,
    "value-very-many-in-files": _very_many_faults_in_files,
    "yaml-very-many": _very_many_keys_twice,
    "value-very-many-files": _very_many_files,
    "value-very-many-aliases": _aliases_of_many_values,
    "value-very-many-positions": _very_many_positions,
    "value-very-many-findings": _very_many_findings,
    "address-none": _no_address,
}
MADE_SAY = {
    "address-none": (
        "../mkdocs.yml",
        "no site_url: sheets have no code to scan, and calendars and feeds no address to subscribe to",
        "write the club's own address there, such as site_url: https://…",
    ),
    "yaml-too-big": (
        "club.yaml",
        "the file has more than 1,000,000 bytes, which no file here needs",
        "see what got into it, or split it",
    ),
    "yaml-a-pipe": (
        "home/3.0.yaml",
        "cannot be read: Not a file",
        "make it a plain file that everybody may read",
    ),
    "reference-a-link": (
        "home/3.0.yaml",
        "a link, where a file or folder itself is to be",
        "put what it leads to in its place, or take it out",
    ),
    "reference-a-locked-folder": (
        "home",
        "this folder cannot be opened: Permission denied",
        "make it one that everybody may open",
    ),
    "value-very-many": (
        "club.yaml",
        "more faults of this kind than the 100 told",
        "mend these first",
    ),
    "value-very-many-signs": (
        "club.yaml",
        "more faults of this kind than the 100 told",
        "mend these first",
    ),
    "value-very-many-in-files": (
        "exercises/x7.yaml",
        "up to here, more faults in the whole tree than the 1,000 told",
        "mend these first",
    ),
    "yaml-very-many": (
        "club.yaml",
        "more faults of this kind than the 100 told",
        "mend these first",
    ),
    "value-very-many-files": (
        "home/981.0.yaml",
        "with it the tree has more than 5,000 files and folders",
        "take out what is not needed, or make two trees of it; the rest is not read",
    ),
    "value-very-many-aliases": (
        "exercises/z.yaml",
        "with it the aliases of the whole tree stand for more than 200,000 values",
        "write out what is repeated less often, and take the rest out",
    ),
    "value-very-many-positions": (
        "exercises/x249.yaml",
        "with it the figures of the whole tree have more than 2,000 positions",
        "take figures out, or positions",
    ),
    "value-very-many-findings": (
        "home/1.0.yaml",
        "up to here, more findings in the whole tree than the 3 told",
        "mend these, or accept them with the reason, and see the rest",
    ),
}


@pytest.mark.parametrize("name", MADE)
def test_what_no_folder_of_text_files_can_hold_is_told_too(name: str, made: Made) -> None:
    place, message, hint = MADE_SAY[name]
    tree, _, findings, *_ = made(name)
    assert len(findings) <= 1001
    assert (os.path.normpath(tree / place), message, hint) in [
        (each.file, each.message, each.hint) for each in findings
    ]


def _expected(fault: Path) -> str:
    return (fault / trees.EXPECTED).read_text(encoding="utf-8")


def _record(monkeypatch: pytest.MonkeyPatch) -> set[tuple[str, int]]:
    """File and line of each place that makes a message from now on."""
    spoken: set[tuple[str, int]] = set()
    for each in SAYS:
        name = "__new__" if issubclass(each, tuple) else "__init__"
        make = each.__dict__[name]

        def recording(*args: object, make: Callable[..., object] = make, **words: object) -> object:
            frame = sys._getframe(1)
            spoken.add((frame.f_code.co_filename, frame.f_lineno))
            return make(*args, **words)

        monkeypatch.setattr(each, name, recording)
    return spoken


def _record_explanations(patch: pytest.MonkeyPatch) -> set[str]:
    """The kinds of wrong values that are explained from now on."""
    explained: set[str] = set()
    for name, explain in EXPLAIN.items():
        patch.setitem(EXPLAIN, name, lambda e, name=name, explain=explain: explained.add(name) or explain(e))
    return explained


def _speaking_lines() -> Iterator[tuple[Path, int, int]]:
    for room in ROOMS:
        path = GENERATOR / room
        for file in [path] if path.is_file() else sorted(path.rglob("*.py")):
            for first, last in _calls_in(file.read_text(encoding="utf-8")):
                yield file, first, last


def _calls_in(source: str) -> Iterator[tuple[int, int]]:
    names = {each.__name__ for each in SAYS}
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in names:
            assert node.end_lineno is not None
            yield node.lineno, node.end_lineno


# --- the place is that of the word the message quotes -----------------------------------------------------

QUOTES = re.compile(
    r"programmes/(?P<file>[^:]+):(?P<line>\d+):(?P<column>\d+): error (?!reference: a name)(?P<said>.*?"
    r"(?:found|unknown key|unknown exercise|unknown routine|unknown level|unknown day|instead of) "
    r'(?P<word>"[^"]+?"|[\d.-]+)(?=,| |$)(?! entr| to ).*)'
)


@pytest.mark.parametrize("fault", trees.faults(), ids=lambda fault: fault.name)
def test_line_and_column_are_those_of_the_quoted_word(fault: Path) -> None:
    for found in QUOTES.finditer(_expected(fault)):
        own = fault / found["file"]
        file = own if own.exists() else trees.GOOD / found["file"]
        lines = file.read_text(encoding="utf-8").splitlines()
        here = lines[int(found["line"]) - 1][int(found["column"]) - 1 :].lstrip("\"'")
        word = found["word"].strip('"').removesuffix("...")
        if "\\u" not in word:
            assert here.startswith(word), f"{found['said']!r} is shown at {here!r}"


def test_the_places_of_many_faults_are_looked_at() -> None:
    assert sum(len(QUOTES.findall(_expected(fault))) for fault in trees.faults()) > 80
