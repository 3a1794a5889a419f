"""Where a difference is to be mended: in the version's own file, an exercise, a routine or the programme; by hand."""

from pathlib import Path

import pytest
from phasepress.comparing.causes import cause
from phasepress.comparing.changes import changes
from phasepress.computing.resolve import sessions
from phasepress.reading.catalogue import load

from tests.fixtures import trees
from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version

CIRCUIT = "{kind: circuit, rounds: 2, rest: 60 s, changeover: 15 s, rest after: 60 s, stations: [{exercise: squat, reps: 8}, {exercise: brace, hold: 20 s}]}"
DAYS = day(CIRCUIT, name="one", on="[mon]") + day(
    sets("squat, sets: 2, reps: 8, load: 4 kg", "split, sets: 2, reps: 8"), CIRCUIT, name="two", on="[thu]"
)
VERSION, PROGRAMME = "trial/1.0.yaml", "trial/programme.yaml"


@pytest.fixture
def before(tmp_path: Path) -> Path:
    return planted(tmp_path / "before", {"1.0": version(DAYS)}, TWO_LEVELS)


def place(before: Path, to: Path, *edits: tuple[str, str, str]) -> tuple[str, tuple[object, ...], str]:
    """File, path and the end of the hint of the first difference, after edits of file, old and new text."""
    now = planted(to / "now", {"1.0": version(DAYS)}, TWO_LEVELS)
    for file, old, new in edits:
        trees.change(now / file, old, new)
    one, other = load(before).catalogue, load(now).catalogue
    was, is_ = (each.programmes["trial"].versions[0] for each in (one, other))
    first = changes(was, list(sessions(one, was)), is_, list(sessions(other, is_)))[0]
    document, path, hint = cause(one, was, other, is_, first)
    return document.name, path, hint


SECOND = ("days", 1, "blocks", 0)


@pytest.mark.parametrize(
    ("old", "new", "path"),
    [
        ("starts: 2027-01-11", "starts: 2027-01-18", ("starts",)),
        ("weeks: 1", "weeks: 2", ("weeks",)),
        ("on: [thu]", "on: [fri]", ("days", 1, "on")),
        ("id: two", "id: second", ("days", 1, "id")),
        ("load: 4 kg", "load: 3 kg", (*SECOND, "stations", 0, "load")),
        ("exercise: split, sets: 2", "exercise: split, sets: 3", (*SECOND, "stations", 1, "sets")),
        ("exercise: split, sets: 2, reps: 8", "exercise: split, sets: 2, reps: 9", (*SECOND, "stations", 1, "reps")),
        ("sets: 2, reps: 8, rest: 60 s", "sets: 2, reps: 8, rest: 50 s", (*SECOND, "stations", 1, "rest")),
        ("hold: 20 s", "hold: 30 s", ("days", 0, "blocks", 0, "stations", 1, "hold")),
        ("rounds: 2", "rounds: 3", ("days", 0, "blocks", 0, "rounds")),
        ("rest: 60 s, changeover", "rest: 50 s, changeover", ("days", 0, "blocks", 0, "rest")),
        ("changeover: 15 s", "changeover: 10 s", ("days", 0, "blocks", 0, "changeover")),
        ("rest after: 60 s", "rest after: 50 s", ("days", 0, "blocks", 0, "rest after")),
    ],
)  # fmt: skip
def test_what_a_version_says_itself_is_mended_there(
    old: str, new: str, path: tuple[object, ...], before: Path, tmp_path: Path
) -> None:
    file, found, hint = place(before, tmp_path, (VERSION, old, new))
    assert (file[-len(VERSION) :], found, hint) == (VERSION, path, "")


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ("tempo: 2-0-1-0", "tempo: 3-0-1-0", "tempo"),
        ("sides: each", "sides: alternating", "sides"),
        ("tempo: 2-0-1-0", "tempo: 2-0-1-0\nparts: 2", "parts"),
        ("tempo: 2-0-1-0", "tempo: 2-0-1-0\ncontacts: 1\nlanding: low", "contacts"),
    ],
)
def test_what_an_exercise_says_is_mended_in_its_file(
    old: str, new: str, key: str, before: Path, tmp_path: Path
) -> None:
    file, path, hint = place(before, tmp_path, ("exercises/split.yaml", old, new))
    assert file.endswith("exercises/split.yaml")
    assert (path, hint) == ((key,), " in exercises/split.yaml")


def test_what_a_routine_says_is_mended_in_its_file(before: Path, tmp_path: Path) -> None:
    file, path, hint = place(before, tmp_path, ("routines/ready.yaml", "10 min", "9 min"))
    assert file.endswith("routines/ready.yaml")
    assert (path, hint) == (("blocks",), " in routines/ready.yaml")


def test_a_level_that_the_version_does_not_name_is_mended_in_the_programme(
    before: Path, tmp_path: Path
) -> None:
    steady = ", {id: steady, name: Steady, experience: intermediate}"
    file, path, hint = place(before, tmp_path, (PROGRAMME, steady, ""))
    assert file.endswith(PROGRAMME)
    assert (path, hint) == (("levels",), " in trial/programme.yaml")
    named = (VERSION, "weeks: 1", "weeks: 1\nlevels: [starter]")
    file, path, hint = place(before, tmp_path, named)
    assert file.endswith(VERSION)
    assert (path, hint) == (("levels",), "")


def test_a_day_that_is_gone_is_mended_at_the_days(before: Path, tmp_path: Path) -> None:
    text = (before / VERSION).read_text(encoding="utf-8")
    second = text[text.index("  - id: two") :]
    file, path, _ = place(before, tmp_path, (VERSION, second, ""))
    assert file.endswith(VERSION)
    assert path == ("days",)
