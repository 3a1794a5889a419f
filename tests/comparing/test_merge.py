"""What a merge changes: new, changed, mended and gone versions, and findings that come and go, in three forms."""

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.fixtures import clones, trees

NUMBER = (int, float, type(None))


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return clones.clone_of_good(tmp_path_factory.mktemp("club"))


@pytest.fixture
def tree(published: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(published.parent, tmp_path / "club")) / "programmes"


def text(tree: Path, *words: str, status: int = 0) -> str:
    result = trees.run(tree, "report", "--base", "main", *words)
    assert result.exit_code == status, result.output
    return result.stdout


def changes(tree: Path, status: int = 0) -> dict[str, Any]:
    return json.loads(text(tree, "--format", "json", status=status))["changes"]


def next_edition(tree: Path, *edits: tuple[str, str]) -> None:
    shutil.copy(tree / "home/1.1.yaml", tree / "home/1.2.yaml")
    for old, new in edits:
        trees.change(tree / "home/1.2.yaml", old, new)


def test_nothing_changed_is_said(tree: Path) -> None:
    assert "nothing changes: no version is new, changed or gone" in text(tree)
    assert "Nothing changes: no version is new, changed or gone" in text(tree, "--format", "markdown")
    nothing = {"base": "main", "not_allowed": [], "versions": [], "findings": {"new": [], "resolved": []}}
    assert changes(tree) == nothing


def test_a_new_edition_is_compared_with_the_one_before(tree: Path) -> None:
    next_edition(tree, ("rounds: 2", "rounds: [2, 3]"))
    told = text(tree)
    assert "home 1.2 Groundwork: new; against 1.1\n  Legs\n    Block A: 2 → 3 rounds in week 2\n" in told
    row = next(line for line in told.splitlines() if line.split()[:2] == ["Legs", "Starter"])
    # Three stations in two rounds, in the second week in three; two rounds of two stations under the cap.
    assert re.search(r"10 → 11\.5 \(\+1\.5, \+15 %\)", row)
    markdown = text(tree, "--format", "markdown")
    assert "### home 1.2 Groundwork: new; against 1.1" in markdown
    assert "- Block A: 2 → 3 rounds in week 2" in markdown
    assert "| Legs | Starter |" in markdown


def test_a_new_phase_is_compared_with_the_phase_before(tree: Path) -> None:
    shutil.copy(tree / "home/2.0.yaml", tree / "home/3.0.yaml")
    trees.change(tree / "home/3.0.yaml", "2027-01-25", "2027-02-01")
    trees.change(tree / "home/3.0.yaml", "exercise: push-up, reps: 8", "exercise: wall-sit, hold: 20 s")
    trees.change(tree / "home/3.0.yaml", "exercise: step-back, reps: 7", "exercise: step-back, reps: 9")
    told = text(tree)
    assert "home 3.0 Load: new; against 2.0" in told
    for line in ("New\n    Wall sit", "No longer\n    Push-up", "Step back: 7 → 9 reps each side"):
        assert line in told


def test_a_changed_version_is_compared_with_the_one_at_the_base(tree: Path) -> None:
    """It is an error, as in check; the report says what it would do all the same."""
    trees.change(tree / "home/1.0.yaml", "reps: 10,", "reps: 12,")
    told = text(tree, status=1)
    assert "home 1.0 Groundwork: changed; against 1.0 at main" in told
    assert "Hip hinge: 10 → 12 reps" in told


def test_an_exercise_that_changes_shows_in_every_version_that_uses_it(tree: Path) -> None:
    trees.change(tree / "exercises/step-back.yaml", "tempo: 2-0-X-0", "tempo: 3-0-X-0")
    versions = changes(tree, status=1)["versions"]
    assert [(v["version"], v["state"]) for v in versions] == [
        ("1.0", "changed"),
        ("1.1", "changed"),
        ("2.0", "changed"),
    ]
    assert all("Step back: tempo 2-0-X-0 → 3-0-X-0" in v["doses"][0]["changes"][0] for v in versions)


def test_mended_words_are_told_from_doses(tree: Path) -> None:
    trees.change(tree / "home/1.0.yaml", "title: Legs", "title: Strong legs")
    assert "home 1.0 Groundwork: words mended; no dose and no time is another" in text(tree)


def test_a_version_that_is_gone_is_told(tree: Path) -> None:
    (tree / "home/2.0.yaml").unlink()
    assert "home 2.0 Load: gone" in text(tree, status=1)


def test_the_first_version_of_a_programme_has_nothing_to_be_compared_with(tree: Path) -> None:
    (tree / "away").mkdir()
    for name in ("programme.yaml", "1.0.yaml"):
        shutil.copy(tree / "home" / name, tree / "away" / name)
    assert "away 1.0 Groundwork: new; the first version of this programme" in text(tree)
    (version,) = changes(tree)["versions"]
    assert (version["against"], version["figures"], version["doses"]) == (None, [], [])


def test_figures_are_in_the_documented_shape(tree: Path) -> None:
    next_edition(tree, ("rounds: 2", "rounds: [2, 3]"))
    (version,) = changes(tree)["versions"]
    assert version.keys() == {
        *("programme", "version", "phase", "state", "against", "short", "doses", "figures")
    }
    assert version["against"] == {"version": "1.1", "at": None}
    assert version["doses"] == [{"day": "legs", "changes": ["Block A: 2 → 3 rounds in week 2"]}]
    names = {"seconds", "sets", "tension_seconds", "contacts", "load_volume_kg"}
    for row in version["figures"]:
        assert row.keys() == {"day", "was", "level"} | names
        for name in names:
            assert row[name].keys() == {"before", "now", "difference", "percent"}
            assert all(isinstance(value, NUMBER) for value in row[name].values())
    (legs,) = [row for row in version["figures"] if (row["day"], row["level"]) == ("legs", "starter")]
    assert legs["sets"] == {"before": 10, "now": 11.5, "difference": 1.5, "percent": 15}


def test_the_report_keeps_its_shape_and_adds_the_changes(tree: Path) -> None:
    plain = json.loads(trees.run(tree, "report", "--format", "json").stdout)
    with_base = json.loads(text(tree, "--format", "json"))
    assert with_base.keys() == {"versions", "changes"}
    assert with_base["versions"] == plain["versions"]


def test_findings_that_come_and_go_are_told_and_a_moved_line_is_neither(tree: Path) -> None:
    trees.change(tree / "home/programme.yaml", "session: 45 min", "session: 10 min")
    clones.committed(tree.parent)
    trees.change(tree / "home/1.0.yaml", "phase: Groundwork", "# a line more\nphase: Groundwork")
    assert changes(tree)["findings"] == {"new": [], "resolved": []}
    trees.change(tree / "home/programme.yaml", "session: 10 min", "session: 45 min")
    told = changes(tree)["findings"]
    assert told["new"] == []
    assert {finding["check"] for finding in told["resolved"]} == {"session-length"}
    assert all(finding["accepted"] is None for finding in told["resolved"])
    assert "resolved findings:" in text(tree)
    assert "### Resolved findings" in text(tree, "--format", "markdown")


def test_a_finding_that_is_accepted_is_resolved_with_its_reason(tree: Path) -> None:
    trees.change(tree / "home/programme.yaml", "session: 45 min", "session: 10 min")
    clones.committed(tree.parent)
    accept = "accept:\n  - {check: session-length, because: the hall is free}\n"
    trees.change(tree / "home/2.0.yaml", "days:\n", f"{accept}days:\n")
    told = changes(tree)["findings"]["resolved"]
    assert told
    assert {finding["accepted"] for finding in told} == {"the hall is free"}
    assert "accepted, because the hall is free" in text(tree)


def test_markdown_shows_text_of_a_coach_as_text(tree: Path) -> None:
    next_edition(
        tree,
        ("title: Legs", 'title: "<b>|*Legs*| [x](http://a.example) @coach `y`"'),
        ("reps: 10,", "reps: 11,"),
    )
    markdown = text(tree, "--format", "markdown")
    assert "**`<b>`&#124;`*Legs*`&#124;``  [x](http://a.example) @coach `y` ``**" in markdown
    rows = [line for line in markdown.splitlines() if line.startswith("|")]
    assert len({len(re.findall(r"(?<!\\)\|", row)) for row in rows}) == 1, "a table stays a table"


def test_markdown_needs_a_base(tree: Path) -> None:
    result = trees.run(tree, "report", "--format", "markdown")
    assert result.exit_code == 2
    assert "add --base REF" in result.output


def test_a_tree_with_errors_is_not_reported(tree: Path) -> None:
    trees.change(tree / "home/1.0.yaml", "weeks: 2", "weeks: two")
    result = trees.run(tree, "report", "--base", "main")
    assert result.exit_code == 1
    assert "error value" in result.output


def test_a_base_without_the_folder_makes_every_version_new(tree: Path) -> None:
    tree.rename(tree.parent / "plans")
    told = json.loads(trees.run(tree.parent / "plans", "report", "--base", "main", "--format", "json").stdout)
    assert {version["state"] for version in told["changes"]["versions"]} == {"new"}
