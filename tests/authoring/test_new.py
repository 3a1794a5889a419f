"""`phasepress new`: what is written passes check at once, keeps comments, and overwrites nothing."""

import difflib
import re
import shutil
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from tests.fixtures import trees

DEMO = Path(__file__).resolve().parents[2] / "programmes"


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    return Path(shutil.copytree(DEMO, tmp_path / "programmes"))


@pytest.fixture
def good(tmp_path: Path) -> Path:
    return trees.copy_of_good(tmp_path)


def new(tree: Path, *words: str) -> str:
    result = trees.run(tree, "new", *words)
    assert result.exit_code == 0, result.output
    assert trees.run(tree, "check").exit_code == 0
    return result.output


def refused(tree: Path, *words: str) -> str:
    before = {path: path.read_bytes() for path in tree.rglob("*") if path.is_file()}
    result = trees.run(tree, "new", *words)
    assert result.exit_code == 2, result.output
    assert {path: path.read_bytes() for path in tree.rglob("*") if path.is_file()} == before
    return result.output


def differing(one: Path, other: Path) -> list[str]:
    """Lines that are in one file only, less the words of the difference itself."""
    texts = (path.read_text().splitlines() for path in (one, other))
    return [line for line in difflib.ndiff(*texts) if line[0] in "+-"]


def test_the_next_phase_is_a_copy_after_the_last_one(demo: Path) -> None:
    said = new(demo, "home-strength")
    assert "wrote programmes/home-strength/4.0.yaml" in said
    assert "a new phase with the days of 3.1" in said
    text = (demo / "home-strength/3.1.yaml").read_text()
    accept = text[text.index("accept:") :].splitlines()
    (changes,) = re.findall("(?m)^changes: .*", text)
    assert sorted(differing(demo / "home-strength/3.1.yaml", demo / "home-strength/4.0.yaml")) == sorted(
        [
            f"- {changes}",
            "- starts: 2027-01-11",
            "+ starts: 2027-02-08",
            "+ # Accepted for 3.1. Take the # away from what still holds:",
            *(f"- {line}" for line in accept),
            *(f"+ # {line}" for line in accept),
        ]
    )


def test_the_next_edition_is_a_copy_that_says_what_it_is(demo: Path) -> None:
    new(demo, "home-strength", "--from", "2.0", "--edition")
    (added,) = differing(demo / "home-strength/2.0.yaml", demo / "home-strength/2.2.yaml")
    assert added.startswith("+ changes: Copied from 2.0; nothing is changed yet.   # ")
    assert (
        YAML(typ="safe").load(demo / "home-strength/2.2.yaml")["changes"]
        == "Copied from 2.0; nothing is changed yet."
    )
    # What a new edition says is true as long as nobody has changed it.
    assert "2.2" in trees.run(demo, "report").output


def test_an_edition_of_an_edition_has_one_changes_line(demo: Path) -> None:
    said = new(demo, "home-strength", "--from", "1.1", "--edition")
    assert "home-strength 1.2, a copy of 1.1" in said
    text = (demo / "home-strength/1.2.yaml").read_text()
    assert re.findall("(?m)^changes: .*", text) == [
        "changes: Copied from 1.1; nothing is changed yet.   # say here what changed, and why"
    ]


def test_a_new_phase_does_not_say_what_changed_in_another(demo: Path) -> None:
    new(demo, "home-strength", "--from", "1.1", "--phase", "--starts", "2027-03-01")
    loaded = YAML(typ="safe").load(demo / "home-strength/4.0.yaml")
    assert "changes" not in loaded
    assert str(loaded["starts"]) == "2027-03-01"


def test_the_line_that_tells_editors_of_the_schema_is_kept(demo: Path) -> None:
    new(demo, "first-jumps")
    new(demo, "spring")
    for name in ("first-jumps/3.0.yaml", "spring/1.0.yaml"):
        first = (demo / name).read_text().splitlines()[0]
        assert first == "# yaml-language-server: $schema=../.schema/version.schema.json"


AWKWARD = """\
# A note at the top.

phase: "Ground: work"   # a name
aim: >
  Own the positions
  before adding load.
changes: |
  First line.
  # no comment

  Last line.

# About the dates:
"starts": &monday "2027-03-01"   # a Monday
weeks: 1
accept:
- {check: kit, because: we bring sand}
# between two
- {check: sets, because: they are short}

# The days.
days:
- id: one
  title: One
  on: [mon]
  warm-up: warm-up
  blocks:
  - {kind: circuit, rounds: 1, stations: [{exercise: wall-sit, hold: 20 s}]}
# The end."""


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_comments_stay_where_they_are_however_the_file_is_written(end: str, good: Path) -> None:
    (good / "home/3.0.yaml").write_bytes(AWKWARD.replace("\n", end).encode())
    new(good, "home")
    phase = (good / "home/4.0.yaml").read_bytes().decode()
    expected = AWKWARD + "\n"
    changes = expected[expected.index("changes: |") : expected.index("\n# About the dates")]
    expected = expected.replace(changes, "").replace("2027-03-01", "2027-03-08")
    accept = expected[expected.index("accept:") : expected.index("\n# The days.")]
    commented = "".join(f"# {line}\n" for line in accept.splitlines())
    expected = expected.replace(
        accept, f"# Accepted for 3.0. Take the # away from what still holds:\n{commented}"
    )
    assert phase == expected.replace("\n", end)
    new(good, "home", "--from", "3.0", "--edition")
    edition = (good / "home/3.1.yaml").read_bytes().decode()
    said = "changes: Copied from 3.0; nothing is changed yet.   # say here what changed, and why\n"
    assert edition == (AWKWARD + "\n").replace(changes, said).replace("\n", end)


def test_a_new_programme_passes_check_at_once(demo: Path) -> None:
    said = new(demo, "spring", "--title", 'Spring "one": # 1', "--starts", "2027-03-01")
    assert "wrote programmes/spring/programme.yaml" in said
    assert "wrote programmes/spring/1.0.yaml" in said
    assert YAML(typ="safe").load(demo / "spring/programme.yaml")["title"] == 'Spring "one": # 1'
    assert " error " not in trees.run(demo, "check").output
    assert "2027-03-01" in (demo / "spring/1.0.yaml").read_text()


def test_a_new_programme_trains_what_the_tree_has(good: Path) -> None:
    new(good, "spring")
    text = (good / "spring/1.0.yaml").read_text()
    assert "warm-up: warm-up" in text
    assert set(re.findall(r"exercise: ([a-z-]+)", text)) <= {
        path.stem for path in (good / "exercises").iterdir()
    }


def test_a_programme_without_a_version_gets_its_first_phase(good: Path) -> None:
    for path in (good / "home").glob("*.0.yaml"):
        path.unlink()
    (good / "home/1.1.yaml").unlink()
    assert "home 1.0, a first phase" in new(good, "home")
    assert "levels: [starter, steady]" in (good / "home/1.0.yaml").read_text()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("home", "--from", "9.0"), "unknown version '9.0', allowed 1.0, 1.1 or 2.0"),
        (
            ("hone",),
            "no programme 'hone'; did you mean \"home\"? For a new one by this name, add --title TEXT",
        ),
        (("away", "--from", "1.0"), "there is no programme 'away' to copy from"),
        (("home", "--title", "Home"), "there is a programme home already"),
        (("home", "--starts", "2027-03-02"), "allowed a Monday such as 2027-01-11"),
        (("home", "--starts", "soon"), "allowed a Monday such as 2027-01-11"),
        (("home", "--phase", "--edition"), "exclude each other"),
        (("home", "--edition", "--starts", "2027-03-01"), "an edition keeps the dates of its phase"),
        (("Spring_1",), "allowed lower-case words joined by hyphens"),
        (("../spring",), "allowed lower-case words joined by hyphens"),
        (("about",), "cannot be the id of a programme"),
        (("exercises",), "is there and cannot be read"),
        (("home", "--starts", "2027-01-11"), "does not pass check; nothing was written"),
    ],
)
def test_a_call_that_cannot_be_meant_writes_nothing(words: tuple[str, ...], said: str, good: Path) -> None:
    assert said in refused(good, *words)


def test_a_file_that_is_there_is_not_overwritten(good: Path) -> None:
    """A version with faults is in no list of versions, but it is there."""
    (good / "home/3.0.yaml").write_text("phase: mine\n")
    assert "cannot write programmes/home/3.0.yaml: File exists; nothing was written" in refused(good, "home")


def test_a_tree_without_a_warm_up_says_what_is_missing(good: Path) -> None:
    shutil.rmtree(good / "routines")
    assert "there is no warm-up for all levels in routines/" in refused(good, "spring")


def test_a_tree_without_exercises_says_what_is_missing(good: Path) -> None:
    shutil.rmtree(good / "exercises")
    refused(good, "spring")


def test_a_file_in_braces_is_not_copied(good: Path) -> None:
    (good / "home/3.0.yaml").write_text(
        "{phase: A, aim: B, starts: 2027-03-01, weeks: 1, days: [{id: a, title: A, on: [mon], warm-up: warm-up, "
        "blocks: [{kind: circuit, rounds: 1, stations: [{exercise: wall-sit, hold: 20 s}]}]}]}"
    )
    assert "write each key at the beginning of a line" in refused(good, "home")
