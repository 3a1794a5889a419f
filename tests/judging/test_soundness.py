"""Is it sound? Each check on a tree just inside the line, where it is silent, and on one just outside."""

import json
from pathlib import Path

import pytest
from phasepress.reading.findings import Finding

from tests.fixtures import trees

VERSION = "home/2.0.yaml"
PROGRAMME = "home/programme.yaml"


def found(tree: Path, check: str) -> list[Finding]:
    """What one check raises in version 2.0 of the tree; nothing else may be wrong with it."""
    findings = trees.checked(tree).findings
    assert not [finding for finding in findings if finding.severity == "error"]
    return [each for each in findings if each.check == check and each.file.endswith(VERSION)]


def severities(tree: Path, check: str) -> list[tuple[str, str]]:
    """Severity and session of what the check raises."""
    return [(each.severity, each.at) for each in found(tree, check)]


# --- session-length: the programme's own limit ----------------------------------------------------------
# By hand, whole-body for steady: warm-up 9 min + 15 s + 6 × 2.5 s, rest 1 min, 2 min, rest 1 min; a round is
# 2 × 7 × 3 s, 8 × 4 s + 5 s + 8 × 4 s, 10 × 3 s, 8 × 3 s and three changeovers of 15 s, so 210 s; two rounds
# and 60 s between them. In all 570 + 60 + 120 + 60 + 480 s = 21 min 30 s.


@pytest.mark.parametrize(
    ("limit", "expected"),
    [("21 min 30 s", []), ("21 min 29 s", [("warning", "home 2.0 whole-body steady week 1")])],
)
def test_a_session_may_be_as_long_as_the_programme_says_and_no_longer(
    limit: str, expected: list[object], tmp_path: Path
) -> None:
    tree = trees.changed(tmp_path, {PROGRAMME: ("session: 45 min", f"session: {limit}")})
    assert [each for each in severities(tree, "session-length") if each[0] == "warning"] == expected


def test_without_a_limit_no_session_is_too_long(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {PROGRAMME: ("session: 45 min, ", "")})
    trees.change(tree / VERSION, "rounds: 2", "rounds: 20")
    assert severities(tree, "session-length") == []


# --- days-apart -----------------------------------------------------------------------------------------
# 2 to 3 sessions a week on days that are not consecutive: Behm et al. 2008 (CSEP), abstract, seen; the same in
# Lloyd et al. 2014 (International Consensus), second-hand.

APART = [
    "[mon, wed, fri]",
    "[tue, fri]",
    "[mon, sat]",
    "[sun, tue]",
    "[mon, tue or wed]",
    "[tue or wed, mon]",
]
CLOSE = ["[mon, tue]", "[sun, mon]", "[mon, mon]", "[mon, wed, fri, sun]", "[mon, tue or sun]", "[tue, wed or thu, fri]"]  # fmt: skip


@pytest.mark.parametrize("days", APART)
def test_sessions_with_a_day_between_them_are_apart(days: str, tmp_path: Path) -> None:
    assert found(trees.changed(tmp_path, {VERSION: ("[tue, fri]", days)}), "days-apart") == []


@pytest.mark.parametrize("days", CLOSE)
def test_sessions_on_neighbouring_days_are_told_sunday_to_monday_too(days: str, tmp_path: Path) -> None:
    (finding,) = found(trees.changed(tmp_path, {VERSION: ("[tue, fri]", days)}), "days-apart")
    assert finding.severity == "warning"
    assert "outside CSEP 2008" in finding.message
    assert "set for supervised training" in finding.message
    assert "Behm" in finding.source
    assert "Consensus" in finding.source


def test_sessions_of_different_days_of_the_plan_are_kept_apart_too(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"home/1.0.yaml": ("[wed or thu]", "[tue or sun]")})
    (finding,) = [each for each in trees.checked(tree).findings if each.check == "days-apart"]
    assert finding.file.endswith("1.0.yaml")


# --- contacts -------------------------------------------------------------------------------------------
# Beginner: start at 50 to 60 jumps a session at ages 5 to 14, Johnson, Salzberg & Stevenson 2011, abstract, seen.
# Most in a session: 100, 120 and 140 for a beginner, an intermediate and an advanced adult, Potach & Chu in
# Essentials of Strength Training and Conditioning; the first row second-hand, the others from memory.
# Sets × reps × landings a rep, two feet together as one: the definition in the same table, second-hand.


def tree_with_landings(to: Path, experience: str, landings: int) -> Path:
    """Both levels of 2.0, the only phase, land so often in a session; 6 of the landings are those of the warm-up.

    The audience begins at 14: a younger one is held to the row of beginners."""
    sets = 5 if (landings - 6) % 5 == 0 else 2
    reps, rest = divmod(landings - 6, sets)
    assert not rest
    jumps = f"- kind: straight sets\n        stations: [{{exercise: drop-stop, sets: {sets}, reps: {reps}}}]"
    tree = trees.changed(to, {VERSION: ("- kind: circuit", f"{jumps}\n      - kind: circuit")})
    trees.change(tree / PROGRAMME, "beginner", "OTHER")
    trees.change(tree / PROGRAMME, "intermediate", experience)
    trees.change(tree / PROGRAMME, "OTHER", "advanced")
    trees.change(tree / PROGRAMME, ", sessions per week: 3", "")
    trees.change(tree / PROGRAMME, "ages: [13", "ages: [14")
    for other in ("1.0", "1.1"):
        (tree / f"home/{other}.yaml").unlink()
    return tree


@pytest.mark.parametrize(
    ("experience", "landings", "severity", "source"),
    [
        ("beginner", 61, "note", "Johnson"),
        ("beginner", 100, "note", "Johnson"),
        ("beginner", 101, "warning", "Potach"),
        ("intermediate", 121, "warning", "Potach"),
        ("advanced", 141, "warning", "Potach"),
    ],
)
def test_more_landings_than_published_are_told_with_their_source(
    experience: str, landings: int, severity: str, source: str, tmp_path: Path
) -> None:
    found_here = found(tree_with_landings(tmp_path, experience, landings), "contacts")
    (finding,) = [each for each in found_here if "whole-body steady" in each.at]
    assert finding.severity == severity
    assert source in finding.source
    assert f"up to {landings} landings" in finding.message
    assert "outside" in finding.message
    assert "set for supervised training" in finding.message
    assert "unsafe" not in finding.message


@pytest.mark.parametrize(
    ("experience", "landings"), [("beginner", 60), ("intermediate", 120), ("advanced", 140)]
)
def test_as_many_landings_as_published_are_inside(experience: str, landings: int, tmp_path: Path) -> None:
    assert found(tree_with_landings(tmp_path, experience, landings), "contacts") == []


def test_landings_are_counted_by_session_and_not_by_week(tmp_path: Path) -> None:
    """60 landings in each of two sessions a week are 120 a week and inside."""
    tree = tree_with_landings(tmp_path, "beginner", 60)
    assert "on: [tue, fri]" in (tree / VERSION).read_text()
    assert found(tree, "contacts") == []


def test_landings_on_one_foot_count_on_both_sides(tmp_path: Path) -> None:
    """Our own decision, no source: 30 reps a side are 60 single-foot landings, and 6 a side of the warm-up 12."""
    tree = tree_with_landings(tmp_path, "beginner", 36)
    trees.change(tree / "exercises/drop-stop.yaml", "sides: both", "sides: each")
    (finding,) = [each for each in found(tree, "contacts") if "whole-body" in each.message]
    assert "up to 72 landings" in finding.message


def test_landings_in_a_time_without_a_tempo_are_told_because_they_cannot_be_counted(tmp_path: Path) -> None:
    landing = ("measure: time", "measure: time\ncontacts: 1\nlanding: low")
    tree = trees.changed(tmp_path, {"exercises/march.yaml": landing})
    assert [each.severity for each in found(tree, "contacts")] == ["warning"]
    trees.change(tree / "exercises/march.yaml", "contacts: 1", "contacts: 1\nseconds per rep: 20")
    assert found(tree, "contacts") == [], "9 min hold 27 of them"


# --- kit: a convention of the format, no source ---------------------------------------------------------
# The smallest thing of the good tree's kit is 0.5 kg, and the nearest below it is nothing.


@pytest.mark.parametrize(("load", "count"), [("0.25 kg", 0), ("0.249 kg", 1), ("4 kg", 0), ("0 kg", 0)])
def test_a_load_needs_a_recipe_of_the_clubs_kit(load: str, count: int, tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {VERSION: ("load: 4 kg", f"load: {load}")})
    assert [each.severity for each in found(tree, "kit")] == ["warning"] * count


def test_a_club_file_that_cannot_be_read_is_not_told_again_for_every_load(tmp_path: Path) -> None:
    tree = trees.changed(tmp_path, {"club.yaml": ("club:", "clob:")})
    assert {each.check for each in trees.checked(tree).findings} == {"key"}


# --- accept ---------------------------------------------------------------------------------------------

NO_RECIPE = ("load: 4 kg", "load: 0.1 kg")


def tree_that_accepts(to: Path, entry: str) -> Path:
    tree = trees.changed(to, {VERSION: NO_RECIPE})
    trees.change(tree / VERSION, "\ndays:", f"\naccept:\n  - {{{entry}, because: we bring sand}}\ndays:")
    return tree


@pytest.mark.parametrize("entry", ["check: kit", "check: kit, at: whole-body"])
def test_a_finding_that_the_coach_has_weighed_is_listed_under_the_reason(entry: str, tmp_path: Path) -> None:
    checked = trees.checked(tree_that_accepts(tmp_path, entry))
    assert checked.findings == []
    ((finding, reason),) = checked.accepted
    assert (finding.check, reason) == ("kit", "we bring sand")


def test_an_acceptance_leaves_the_other_days_as_they_are(tmp_path: Path) -> None:
    tree = tree_that_accepts(tmp_path, "check: kit, at: whole-body")
    other = (tree / VERSION).read_text().split("days:\n")[1].replace("whole-body", "again")
    with (tree / VERSION).open("a") as file:
        file.write(other)
    assert severities(tree, "kit") == [("warning", "home 2.0 again")]


def test_an_acceptance_that_matches_nothing_is_a_warning(tmp_path: Path) -> None:
    tree = tree_that_accepts(tmp_path, "check: session-length, at: whole-body")
    (finding,) = found(tree, "accept")
    assert finding.severity == "warning"
    assert "session-length" in finding.message


def test_an_error_cannot_be_accepted(tmp_path: Path) -> None:
    tree = tree_that_accepts(tmp_path, "check: minute")
    assert [(each.check, each.severity) for each in trees.checked(tree).findings] == [
        ("value", "error"),
        ("kit", "warning"),
    ]


def test_an_accepted_finding_is_no_longer_counted(tmp_path: Path) -> None:
    shown = trees.run(tree_that_accepts(tmp_path, "check: kit"), "check", "--format", "json")
    told = json.loads(shown.output)
    assert (told["findings"], told["errors"], told["warnings"]) == ([], 0, 0)


# --- minute ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("hold", "count"), [("27.5 s", 0), ("28 s", 1)])
def test_work_in_an_every_minute_block_fits_into_its_minute_side_change_included(
    hold: str, count: int, tmp_path: Path
) -> None:
    """27.5 + 5 + 27.5 s are a minute."""
    version = "home/1.0.yaml"
    tree = trees.changed(tmp_path, {version: ("minutes: 4", "minutes: 4 # here")})
    text = (tree / version).read_text()
    head, tail = text.split("# here")
    (tree / version).write_text(head + tail.replace("hold: 20 s", f"hold: {hold}"))
    assert [each.check for each in trees.checked(tree).findings] == ["minute"] * count
