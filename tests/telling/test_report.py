"""The documented JSON of the commands: every key, its type, and nothing more."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.fixtures import trees

NUMBER = (int, float)
WORK = {"sets": int, "reps": int, "tension_seconds": NUMBER}


def asked(tree: Path, *words: str) -> Any:
    result = trees.run(tree, *words, "--format", "json")
    assert result.exit_code in (0, 1)
    return json.loads(result.output)


def fits(value: dict[str, Any], shape: dict[str, Any]) -> None:
    assert value.keys() == shape.keys()
    for key, kind in shape.items():
        if isinstance(kind, dict):
            fits(value[key], kind)
        else:
            assert isinstance(value[key], kind), f"{key}: {value[key]!r}"
            assert not isinstance(value[key], bool)


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return trees.copy_of_good(tmp_path_factory.mktemp("good"))


# --- report ---------------------------------------------------------------------------------------------


def test_a_report_has_every_session_of_every_version_in_the_documented_shape(good: Path) -> None:
    told = asked(good, "report")
    assert told.keys() == {"versions"}
    for version in told["versions"]:
        fits(version, {"programme": str, "version": str, "phase": str, "plan": str, "sessions": list})
        for session in version["sessions"]:
            contacts = {"all": int, "low": int, "medium": int, "high": int}
            shape = {"day": str, "level": str, "week": int, "seconds": NUMBER, "work_seconds": NUMBER, **WORK,
                     "contacts": contacts, "load_volume_kg": NUMBER, "density": NUMBER, "patterns": dict}  # fmt: skip
            fits(session, shape)
            for work in session["patterns"].values():
                fits(work, WORK)
            assert 0 <= session["density"] <= 1


def test_a_report_names_versions_and_sessions_in_order(good: Path) -> None:
    told = asked(good, "report")
    assert [version["version"] for version in told["versions"]] == ["1.0", "1.1", "2.0"]
    assert [(s["day"], s["level"], s["week"]) for s in told["versions"][0]["sessions"]] == [
        (day, level, week) for day in ("legs", "arms") for level in ("starter", "steady") for week in (1, 2)
    ]


def test_the_figures_of_one_session_are_those_of_a_sum_by_hand(good: Path) -> None:
    """whole-body for steady. Warm-up: 540 s and 6 landings of 2.5 s each, 15 s between; 60 s; 8 × 3 s and 36 s wait,
    5 × 9 s and 15 s wait; 60 s. Two rounds of 14 × 3, 2 × 8 × 4, 10 × 3 and 8 × 3 s of work."""
    session = asked(good, "report")["versions"][2]["sessions"][1]
    round_work = 42 + 64 + 30 + 24
    assert session["work_seconds"] == 540 + 15 + 24 + 45 + 2 * round_work
    assert session["seconds"] == 570 + 60 + 120 + 60 + 2 * (round_work + 5 + 3 * 15) + 60
    assert session["reps"] == 2 * (14 + 16 + 10 + 8)
    # 2-0-X-0 and 2-0-1-0 are tension throughout, 2-1-1-0 too.
    assert session["tension_seconds"] == 2 * round_work
    assert session["load_volume_kg"] == 2 * (16 * 4 + 10 * 4)
    assert session["contacts"] == {"all": 6, "low": 6, "medium": 0, "high": 0}
    assert session["patterns"]["pull"] == {"sets": 2, "reps": 32, "tension_seconds": 128}
    assert session["density"] == pytest.approx(session["work_seconds"] / session["seconds"])


def test_the_report_for_people_has_a_line_for_every_session(good: Path) -> None:
    lines = trees.run(good, "report").output.splitlines()
    assert sum("starter" in line or "steady" in line for line in lines) == 18
    assert any(line.split()[:4] == ["whole-body", "steady", "1", "21:30"] for line in lines)


# --- order ----------------------------------------------------------------------------------------------


def test_an_order_is_a_list_of_segments_in_the_documented_shape(good: Path) -> None:
    told = asked(good, "order", "home", "1.0", "legs", "--level", "starter", "--week", "2")
    fits(told, {"segments": list, "seconds": NUMBER})
    maybe_text, maybe_number = (str, type(None)), (int, type(None))
    for segment in told["segments"]:
        shape = {"start": NUMBER, "length": NUMBER, "kind": str, "block": str, "station": maybe_text,
                 "exercise": maybe_text, "round": maybe_number, "side": maybe_text, "reps": maybe_number}  # fmt: skip
        fits(segment, shape)
        assert segment["kind"] in ("work", "side change", "changeover", "rest", "wait")
        assert segment["side"] in ("left", "right", None)
    assert told["segments"][0]["block"] == "warm-up"
    assert told["segments"][0]["station"] == "warm-up 1"
    assert told["segments"][-1]["station"] == "cool-down 1"


def test_whole_seconds_have_no_point_and_halves_have(good: Path) -> None:
    result = trees.run(
        good, "order", "home", "1.0", "legs", "--level", "starter", "--week", "1", "--format", "json"
    )
    assert '"length": 480,' in result.output
    trees_reps = asked(good, "report")["versions"][2]["sessions"][0]
    assert isinstance(trees_reps["seconds"], int)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("hom", "1.0", "legs", "--level", "starter", "--week", "1"), 'did you mean "home"?'),
        (("home", "1.9", "legs", "--level", "starter", "--week", "1"), "unknown version"),
        (("home", "1.0", "leg", "--level", "starter", "--week", "1"), 'did you mean "legs"?'),
        (("home", "1.0", "legs", "--level", "start", "--week", "1"), 'did you mean "starter"?'),
        (("home", "1.0", "legs", "--level", "starter", "--week", "9"), "unknown week"),
    ],
)
def test_a_word_that_names_nothing_is_a_wrong_call(words: tuple[str, ...], said: str, good: Path) -> None:
    result = trees.run(good, "order", *words)
    assert result.exit_code == 2
    assert said in result.output


# --- check ----------------------------------------------------------------------------------------------


def test_a_check_lists_findings_in_the_documented_shape(tmp_path: Path) -> None:
    tree = trees.tree_of(trees.BAD / "many-faults-in-many-files", tmp_path)
    told = asked(tree, "check")
    assert told.keys() == {"findings", "errors", "warnings"}
    for finding in told["findings"]:
        text = dict.fromkeys(("check", "severity", "file", "at", "message", "hint", "source"), str)
        fits(finding, {**text, "line": int, "column": int})
        assert finding["severity"] in ("error", "warning", "note")
        assert finding["line"] >= 1
        assert finding["column"] >= 1
    assert told["errors"] == sum(finding["severity"] == "error" for finding in told["findings"])


def test_findings_come_by_file_and_place_each_once(tmp_path: Path) -> None:
    tree = trees.tree_of(trees.BAD / "many-faults-in-many-files", tmp_path)
    places = [(f["file"], f["line"], f["column"]) for f in asked(tree, "check")["findings"]]
    assert places == sorted(places)


@pytest.mark.parametrize(("fault", "status"), [("many-faults-in-many-files", 1), ("kit", 0)])
def test_only_errors_make_the_check_fail(fault: str, status: int, tmp_path: Path) -> None:
    tree = trees.tree_of(trees.BAD / fault, tmp_path)
    assert trees.run(tree, "check").exit_code == status
    assert trees.run(tree, "check", "--format", "json").exit_code == status


def test_figures_are_not_told_of_a_tree_with_errors(tmp_path: Path) -> None:
    tree = trees.tree_of(trees.BAD / "weeks", tmp_path)
    result = trees.run(tree, "report", "--format", "json")
    assert result.exit_code == 1
    assert "error weeks" in result.output
