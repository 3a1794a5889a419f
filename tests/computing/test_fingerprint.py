"""The fingerprint of a plan: the same when words are mended, another when a dose or a time changes."""

from pathlib import Path

import pytest
from phasepress.computing.fingerprint import fingerprint, resolved
from phasepress.computing.phases import computed_sessions

from tests.fixtures import trees

VERSION = "home/1.0.yaml"


def fingerprints(tree: Path) -> dict[str, str]:
    catalogue = trees.checked(tree).catalogue
    return {
        version.name: fingerprint(resolved(version, (s.plan for s in computed_sessions(catalogue, version))))
        for version in catalogue.programmes["home"].versions
    }


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    return fingerprints(trees.copy_of_good(tmp_path_factory.mktemp("good")))


WORDS = [
    (VERSION, "aim: Own the positions", "aim: Keep the positions"),
    (VERSION, "phase: Groundwork", "phase: Ground work"),
    (VERSION, "title: Legs", "title: Strong legs"),
    (VERSION, "levels: [starter, steady]", "levels: [steady, starter]"),
    (VERSION, "tempo: 3-0-1-0", "tempo: 3.0-0-1.0-0"),
    (VERSION, "match days: [sat]", "match days: [sun]"),
    (VERSION, "weeks: 2", "weeks: 2   # two"),
    (VERSION, "rest: 60 s", "rest: 1 min"),
    (VERSION, "rest: 60 s", 'rest: "1:00"'),
    (VERSION, "reps: [6, 7]", "reps: {starter: [6, 7], other: [6, 7]}"),
    (VERSION, "reps: 10,", "reps: [10, 10],"),
    (VERSION, "rounds: 2\n        rest: 60 s\n", "rounds: 2\n"),
    (VERSION, "\ndays:", "\naccept:\n  - {check: kit, because: we bring sand}\ndays:"),
    ("exercises/step-back.yaml", "name: Step back", "name: Step back lunge"),
    ("exercises/step-back.yaml", "[Long step., Quiet knee.]", "[A long step., A quiet knee.]"),
    ("exercises/step-back.yaml", "pattern: lunge", "pattern: squat"),
    ("exercises/bag-row.yaml", "needs: [bag, chair]", "needs: [bag, chair, towel]"),
    ("routines/warm-up.yaml", "name: Warm-up", "name: Get warm"),
    ("club.yaml", "holds: 2 l", "holds: 1.5 l"),
    ("home/programme.yaml", "session: 45 min", "session: 50 min"),
    ("home/programme.yaml", "name: Steady", "name: Steady hands"),
]
DOSES = [
    (VERSION, "starts: 2027-01-11", "starts: 2027-01-04"),
    (VERSION, "on: [mon]", "on: [tue]"),
    (VERSION, "on: [wed or thu]", "on: [thu]"),
    (VERSION, "rounds: 2", "rounds: [2, 3]"),
    (VERSION, "reps: [6, 7]", "reps: [6, 8]"),
    (VERSION, "steady: 30 s", "steady: 31 s"),
    (VERSION, "rest: 60 s", "rest: 61 s"),
    (VERSION, "changeover: 15 s", "changeover: 14 s"),
    (VERSION, "rest after: 90 s", "rest after: 91 s"),
    (VERSION, "tempo: 3-0-1-0", "tempo: 3-0-X-0.5"),
    (VERSION, "starter: 2 kg", "starter: 2.5 kg"),
    (VERSION, "distance: 10 m", "distance: 12 m"),
    (VERSION, "takes: 15 s", "takes: 16 s"),
    (VERSION, "minutes: 4", "minutes: 5"),
    (VERSION, "sets: 2, reps: 8", "sets: 3, reps: 8"),
    (VERSION, "exercise: wall-sit, hold", "exercise: side-plank, hold"),
    (VERSION, "    cool-down: cool-down\n", ""),
    (VERSION, "id: legs", "id: leg-day"),
    ("exercises/step-back.yaml", "tempo: 2-0-X-0", "tempo: 2-1-X-0"),
    ("exercises/step-back.yaml", "tempo: 2-0-X-0", "tempo: 2-0-1-0"),
    ("exercises/step-back.yaml", "sides: alternating", "sides: each"),
    ("exercises/arm-raise.yaml", "parts: 3", "parts: 2"),
    ("exercises/drop-stop.yaml", "contacts: 1", "contacts: 2"),
    ("exercises/drop-stop.yaml", "landing: low", "landing: medium"),
    ("exercises/drop-stop.yaml", "seconds per rep: 2.5", "seconds per rep: 3"),
    ("routines/warm-up.yaml", "reps: 6", "reps: 7"),
    ("routines/warm-up.yaml", "rounds: 1", "rounds: 2"),
    ("routines/cool-down.yaml", "1:30", "1:31"),
]


@pytest.mark.parametrize(("file", "old", "new"), WORDS)
def test_mended_words_leave_the_plan_as_it_was(
    file: str, old: str, new: str, good: dict[str, str], tmp_path: Path
) -> None:
    assert fingerprints(trees.changed(tmp_path, {file: (old, new)}))["1.0"] == good["1.0"]


@pytest.mark.parametrize(("file", "old", "new"), DOSES)
def test_any_dose_or_time_makes_another_plan(
    file: str, old: str, new: str, good: dict[str, str], tmp_path: Path
) -> None:
    assert fingerprints(trees.changed(tmp_path, {file: (old, new)}))["1.0"] != good["1.0"]


def test_a_dose_of_one_version_leaves_the_others_alone(good: dict[str, str], tmp_path: Path) -> None:
    changed = fingerprints(trees.changed(tmp_path, {VERSION: ("reps: [6, 7]", "reps: [6, 8]")}))
    assert {name: changed[name] for name in ("1.1", "2.0")} == {name: good[name] for name in ("1.1", "2.0")}


def test_another_level_in_the_programme_changes_no_phase_that_does_not_train_it(
    good: dict[str, str], tmp_path: Path
) -> None:
    levels = ("levels:\n", "levels:\n  - {id: strong, name: Strong, experience: advanced}\n")
    changed = fingerprints(trees.changed(tmp_path, {"home/programme.yaml": levels, "home/2.0.yaml": ("weeks: 1", "weeks: 1\nlevels: [starter, steady]")}))  # fmt: skip
    assert changed == good


def test_a_fingerprint_is_twelve_hexadecimal_digits_in_three_groups(good: dict[str, str]) -> None:
    for one in good.values():
        assert [len(part) for part in one.split("-")] == [4, 4, 4]
        int(one.replace("-", ""), 16)
    assert len(set(good.values())) == len(good)
