"""Older words of the format: read for a while with a note, then refused with an error that says what to write."""

import re
from pathlib import Path

import phasepress.reading.model.forms as forms
import pytest
from phasepress.reading.model import Form

from tests.fixtures import trees

VERSION = re.compile(r"(\d+)\.(\d+)")
# A row as a later version may have it, turned round: what is written today is taken for the older form.
ROW = Form(
    kinds=("version", "routine"),
    inside="blocks",
    when={"kind": "time cap"},
    values={"kind": "timed rounds"},
    keys={"cap": "lasts"},
    since="0.2",
)
TODAY = (
    "      - kind: timed rounds\n        lasts: 4 min\n        stations: [{exercise: wall-sit, hold: 20 s}]\n"
)
OLDER = TODAY.replace("timed rounds", "time cap").replace("lasts: 4", "cap: 4")


@pytest.fixture
def table(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    monkeypatch.setattr(forms, "FORMS", (ROW,))
    return monkeypatch


def tree_with(block: str, to: Path) -> Path:
    """The good tree with one block more in the first day of its first version."""
    tree = trees.copy_of_good(to)
    path = tree / "home" / "1.0.yaml"
    head, mark, rest = path.read_text(encoding="utf-8").partition("    blocks:\n")
    path.write_text(head + mark + block + rest, encoding="utf-8")
    return tree


def line_of(tree: Path, text: str) -> int:
    lines = (tree / "home" / "1.0.yaml").read_text(encoding="utf-8").splitlines()
    return 1 + next(number for number, line in enumerate(lines) if text in line)


def plans(tree: Path) -> list[object]:
    return [version.model for version in trees.checked(tree).catalogue.programmes["home"].versions]


def test_an_older_form_is_the_same_plan_and_a_note_says_at_its_line_what_to_write(
    table: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    older, today = tree_with(OLDER, tmp_path / "older"), tree_with(TODAY, tmp_path / "today")
    assert plans(older) == plans(today)
    said = trees.check_text(older)
    first, second = line_of(older, "kind: time cap"), line_of(older, "cap: 4 min")
    assert (
        f'programmes/home/1.0.yaml:{first}:15: note form: kind: "time cap" is an older form; it is read still, and '
        "some version to come will refuse it\n    write kind: timed rounds\n" in said
    )
    assert f'programmes/home/1.0.yaml:{second}:9: note form: the key "cap" is an older form' in said
    assert "    write lasts: instead\n" in said
    assert " error " not in said
    assert " form: " not in trees.check_text(today)


def test_a_fault_in_an_older_form_is_told_where_it_stands(table: pytest.MonkeyPatch, tmp_path: Path) -> None:
    tree = tree_with(OLDER.replace("4 min", "4"), tmp_path)
    at = line_of(tree, "cap: 4")
    assert f"programmes/home/1.0.yaml:{at}:14: error value: " in trees.check_text(tree)


def test_a_form_that_is_refused_is_an_error_with_the_same_words(
    table: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    table.setattr(forms, "FORMS", (ROW._replace(refused="0.5"),))
    tree = tree_with(OLDER, tmp_path)
    said = trees.check_text(tree)
    assert f'{line_of(tree, "cap: 4 min")}:9: error form: the key "cap" is an older form' in said
    assert "which is not read since version 0.5\n    write lasts: instead\n" in said
    assert trees.run(tree, "check").exit_code == 1


def test_both_words_at_once_are_not_read_as_one(table: pytest.MonkeyPatch, tmp_path: Path) -> None:
    both = OLDER.replace("cap: 4 min", "cap: 4 min\n        lasts: 5 min")
    assert 'error key: unknown key "cap"' in trees.check_text(tree_with(both, tmp_path))


def test_what_an_alias_repeats_is_read_in_each_place(table: pytest.MonkeyPatch, tmp_path: Path) -> None:
    twice = OLDER.replace("- kind: time cap", "- &again\n        kind: time cap") + "      - *again\n"
    tree = tree_with(twice, tmp_path)
    said = trees.check_text(tree)
    assert " error " not in said
    assert (
        len(plans(tree)[0].days[0].blocks)
        == len(plans(trees.copy_of_good(tmp_path / "g"))[0].days[0].blocks) + 2
    )


def test_the_same_word_elsewhere_is_left_alone(table: pytest.MonkeyPatch, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    trees.change(tree / "home" / "1.0.yaml", "aim: ", "aim: time cap, cap, ")
    assert " form: " not in trees.check_text(tree)


def _number(version: str) -> tuple[int, int]:
    found = VERSION.fullmatch(version)
    assert found, version
    return int(found[1]), int(found[2])


def broken(rows: tuple[Form, ...]) -> list[Form]:
    """Rows that are refused sooner than the rule says: so many minor versions, or a major one, later."""
    refused = [row for row in rows if row.refused]
    return [
        row
        for row in refused
        if _number(row.refused)[0] == _number(row.since)[0]
        and _number(row.refused)[1] - _number(row.since)[1] < forms.LASTS
    ]


def test_every_older_word_is_read_as_long_as_the_rule_says() -> None:
    assert broken(forms.FORMS) == []
    assert broken((ROW._replace(refused="0.4"),)) != []
    assert broken((ROW._replace(refused="0.5"),)) == []
