"""Findings as two forges read them. The forms are from memory of the forges' documentation."""

import json
from pathlib import Path

from phasepress.reading.findings import Finding
from phasepress.telling.findings_formats import github, gitlab

from tests.fixtures import trees

ODD = Finding("kit", "note", "a,b:c.yaml", 3, 7, "", "50 % more", "mend it\nhere")


def test_a_workflow_command_keeps_odd_characters_in_their_place() -> None:
    (line,) = github([ODD])
    assert line == "::notice file=a%2Cb%3Ac.yaml,line=3,col=7,title=kit::50 %25 more%0Amend it%0Ahere"


def test_errors_come_first_as_a_forge_shows_only_so_many(tmp_path: Path) -> None:
    tree = trees.tree_of(trees.BAD / "accept-matches-nothing", tmp_path)
    trees.change(tree / "home/1.0.yaml", "weeks: 2", "weeks: two")
    lines = trees.run(tree, "check", "--format", "github").output.splitlines()
    kinds = [line.split()[0] for line in lines if line.startswith("::")]
    assert kinds[0] == "::error"
    assert kinds == sorted(kinds)


def test_the_report_of_the_other_forge_has_its_keys_and_unique_fingerprints() -> None:
    entries = json.loads(gitlab([ODD, ODD]))
    assert len({entry["fingerprint"] for entry in entries}) == 2
    assert entries[0].keys() == {"description", "check_name", "fingerprint", "severity", "location"}
    assert entries[0]["severity"] == "info"
    assert entries[0]["location"] == {"path": "a,b:c.yaml", "lines": {"begin": 3}}


def test_a_finding_keeps_its_fingerprint_when_its_line_moves() -> None:
    (one,), (other,) = (json.loads(gitlab([ODD.__class__(**{**ODD.as_json(), "line": n})])) for n in (3, 9))
    assert one["fingerprint"] == other["fingerprint"]


def test_no_finding_is_an_empty_report(tmp_path: Path) -> None:
    result = trees.run(trees.copy_of_good(tmp_path), "check", "--format", "gitlab")
    assert (result.exit_code, json.loads(result.output)) == (0, [])
