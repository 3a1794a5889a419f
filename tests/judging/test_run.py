"""One run of all checks: what is accepted and why, how much is told, and what is looked at beside faults."""

import gc
from pathlib import Path

import pytest
from phasepress.computing import running_order
from phasepress.judging import Checked, run
from phasepress.reading.catalogue import load
from phasepress.reading.findings import Finding

from tests.fixtures import trees
from tests.fixtures.phases import LEVELS, day, planted, sets, version

STARTS = ("2027-01-11", "2027-02-01", "2027-03-01", "2027-04-05")
HEAVY = sets("squat, sets: 2, reps: 8, load: 40 kg", "bridge, sets: 2, reps: 8")
"""The kit has no recipe for it."""
LIGHT = sets("squat, sets: 2, reps: 8", "bridge, sets: 2, reps: 8")


def tree(to: Path, *versions: str, accept: str = "") -> Path:
    """Phases 1.0, 2.0 and so on of these days, each with lines of its own if it says `|` and some; nothing else is
    found in them than that a station has no recipe."""
    files = {}
    for number, (days, starts) in enumerate(zip(versions, STARTS, strict=False), 1):
        words, _, keys = days.partition("|")
        files[f"{number}.0"] = version(words, starts=starts, keys=keys)
    made = planted(to, files, f"{LEVELS}\n{accept}")
    for file in (made / "exercises").iterdir():
        if file.stem not in ("ready", "squat", "bridge", "push"):
            file.unlink()
    for name in ("ready", "bridge", "push"):
        trees.change(made / f"exercises/{name}.yaml", "name: Trial", f"name: {name}")
    if "push" not in "".join(versions):
        (made / "exercises/push.yaml").unlink()
    return made


def judged(made: Path) -> Checked:
    return run.check(load(made))


def told(findings: list[Finding]) -> list[tuple[str, str]]:
    return [(each.check, each.at) for each in findings]


KIT = ("kit", "trial 1.0 day")


# --- what is accepted -----------------------------------------------------------------------------------------


def reasons(made: Path) -> list[str]:
    checked = judged(made)
    assert checked.findings == []
    return [why for _, why in checked.accepted]


def test_of_two_reasons_for_one_finding_the_first_counts_and_both_entries_have_a_use(tmp_path: Path) -> None:
    one, other = "{check: kit, because: We bring sand.}", "{check: kit, at: day, because: Bricks.}"
    assert reasons(tree(tmp_path / "a", f"{day(HEAVY)}|accept: [{one}, {other}]")) == ["We bring sand."]
    assert reasons(tree(tmp_path / "b", f"{day(HEAVY)}|accept: [{other}, {one}]")) == ["Bricks."]


def test_the_reason_of_a_version_goes_before_that_of_its_programme(tmp_path: Path) -> None:
    own = f"{day(HEAVY)}|accept: [{{check: kit, because: We bring sand.}}]"
    made = tree(tmp_path, own, day(HEAVY), accept="accept: [{check: kit, because: Bricks.}]")
    assert reasons(made) == ["We bring sand.", "Bricks."]


def test_an_entry_for_a_day_that_has_no_such_finding_is_told_with_the_day(tmp_path: Path) -> None:
    days = day(HEAVY, name="one", on="[mon]") + day(LIGHT, name="two", on="[thu]")
    entries = "{check: kit, at: one, because: Sand.}, {check: kit, at: two, because: Sand.}"
    (finding,) = judged(tree(tmp_path, f"{days}|accept: [{entries}]")).findings
    assert finding.message == "kit is accepted at two, but there is no such finding"
    assert (finding.severity, finding.at) == ("warning", "trial 1.0")


def test_an_entry_of_a_programme_that_names_no_check_is_told_in_its_file(tmp_path: Path) -> None:
    made = tree(tmp_path, day(LIGHT), accept="accept: [{check: kitt, because: Sand.}]")
    (finding,) = judged(made).findings
    assert finding.file.endswith("trial/programme.yaml")
    assert finding.message.startswith('check: found "kitt", allowed the id of a warning or note')
    assert finding.hint == 'did you mean "kit"?'


def test_where_a_version_cannot_be_read_no_entry_of_the_programme_is_called_useless(tmp_path: Path) -> None:
    accept = "accept: [{check: kit, because: Sand.}]"
    assert [each.check for each in judged(tree(tmp_path / "a", day(LIGHT), accept=accept)).findings] == [
        "accept"
    ]
    made = tree(tmp_path / "b", day(LIGHT), day(LIGHT), accept=accept)
    (made / "trial/2.0.yaml").write_text("phase: [", encoding="utf-8")
    assert [each.check for each in judged(made).findings] == ["yaml"]


# --- how much is told -----------------------------------------------------------------------------------------


def test_findings_are_counted_by_their_severity(tmp_path: Path) -> None:
    checked = judged(
        tree(tmp_path, day(HEAVY), day(sets("squat, sets: 2, reps: 16", "bridge, sets: 2, reps: 8")))
    )
    assert [checked.count(severity) for severity in ("error", "warning", "note")] == [0, 1, 1]


def test_what_was_found_in_each_version_is_kept_by_its_name(tmp_path: Path) -> None:
    accepting = f"{day(HEAVY)}|accept: [{{check: kit, because: Sand.}}]"
    checked = judged(tree(tmp_path, day(HEAVY), accepting, day(LIGHT)))
    assert told(checked.findings) == [KIT]
    found = {
        name: (told(list(one.findings)), len(one.accepted)) for (_, name), one in checked.versions.items()
    }
    assert found == {"1.0": ([KIT], 0), "2.0": ([], 1), "3.0": ([], 0)}


@pytest.mark.parametrize(("most", "seen"), [(3, ["1.0", "2.0", "3.0"]), (2, ["1.0", "2.0"]), (1, ["1.0"])])
def test_of_a_tree_with_too_many_findings_the_first_are_told_and_accepted_ones_count(
    most: int, seen: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "MOST_FINDINGS", most)
    accepting = f"{day(HEAVY)}|accept: [{{check: kit, because: Sand.}}]"
    checked = judged(tree(tmp_path, accepting, day(HEAVY), day(HEAVY)))
    assert [name for _, name in checked.versions] == seen
    errors = [each for each in checked.findings if each.severity == "error"]
    if most == 3:
        assert errors == []
    else:
        message = f"up to here, more findings in the whole tree than the {most} told"
        assert [(each.message, each.file[-8:]) for each in errors] == [(message, f"{most + 1}.0.yaml")]


def test_accepted_findings_of_the_version_itself_count_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A version with two findings, one of them accepted, where one may be told."""
    heavy_and_many = sets("squat, sets: 2, reps: 16, load: 40 kg", "bridge, sets: 2, reps: 8")
    made = tree(tmp_path, f"{day(heavy_and_many)}|accept: [{{check: reps, because: Easy ones.}}]")
    monkeypatch.setattr(run, "MOST_FINDINGS", 2)
    assert [each.check for each in judged(made).findings] == ["kit"]
    monkeypatch.setattr(run, "MOST_FINDINGS", 1)
    assert judged(made).count("error") == 1


def test_progress_is_told_before_each_version(tmp_path: Path) -> None:
    calls: list[tuple[int, int]] = []
    run.check(
        load(tree(tmp_path, day(LIGHT), day(LIGHT), day(LIGHT))), lambda done, of: calls.append((done, of))
    )
    assert calls == [(0, 3), (1, 3), (2, 3)]


def test_garbage_is_looked_for_seldom_while_checks_run_and_as_ever_afterwards(tmp_path: Path) -> None:
    usual, during = gc.get_threshold(), set()
    run.check(load(tree(tmp_path, day(LIGHT))), lambda done, of: during.add(gc.get_threshold()))
    assert during == {(100_000, *usual[1:])}
    assert gc.get_threshold() == usual


# --- sessions that are too long to be trained --------------------------------------------------------------------

LONG = "{kind: circuit, rounds: 20, stations: [{exercise: squat, reps: 1}, {exercise: bridge, reps: 1}]}"


def test_a_session_of_too_many_segments_is_told_at_its_day_and_others_are_judged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(running_order, "MOST_SEGMENTS", 30)
    days = day(HEAVY, name="one", on="[mon]") + day(LONG, name="two", on="[thu]")
    checked = judged(tree(tmp_path, days, day(HEAVY)))
    (error,) = [each for each in checked.findings if each.severity == "error"]
    assert error.message == "two: more than 30 segments in one session, for starter in week 1"
    lines = (tmp_path / "programmes/trial/1.0.yaml").read_text(encoding="utf-8").splitlines()
    assert lines[error.line - 1].strip() == "- id: two"
    assert told([each for each in checked.findings if each.check == "kit"]) == [("kit", "trial 2.0 day")]


# --- beside other faults -----------------------------------------------------------------------------------------

FULL = "{kind: every minute, minutes: 4, stations: [{exercise: push, reps: 21}, {exercise: push, reps: 5}]}"


@pytest.mark.parametrize(("most", "seen"), [(4, ["1.0", "2.0"]), (3, ["1.0"]), (2, ["1.0"]), (1, [])])
def test_versions_with_other_faults_are_looked_at_so_far_as_that_is_little_work(
    most: int, seen: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each has two stations in one session."""
    monkeypatch.setattr(run, "MOST_STATIONS_DESPITE_FAULTS", most)
    faulty = day(FULL, on="[moon]")
    found = [
        each.file[-8:-5] for each in judged(tree(tmp_path, faulty, faulty)).findings if each.check == "minute"
    ]
    assert found == seen
