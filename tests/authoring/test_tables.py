"""A phase as a table and back: an equal plan, however a spreadsheet saves it; faults by row and column."""

import shutil
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from phasepress.authoring.from_table import TableError, phase_from_table
from phasepress.authoring.table import as_table
from phasepress.computing.fingerprint import resolved
from phasepress.computing.phases import computed_sessions
from phasepress.judging import check
from phasepress.reading.catalogue import VersionEntry, load

from tests.fixtures import trees
from tests.oracle import trees as random_trees
from tests.samples import size

DEMO = trees.DATA.parents[1] / "programmes"


def plans(tree: Path) -> dict[tuple[str, str], object]:
    """Of each version, by its programme and name, everything that decides a dose or a time."""
    catalogue = check(load(tree)).catalogue
    return {
        (programme.id, version.name): resolved(
            version, (one.plan for one in computed_sessions(catalogue, version))
        )
        for programme in catalogue.programmes.values()
        for version in programme.versions
    }


def out_and_in(version: VersionEntry) -> None:
    """Put what comes back in the place of the version."""
    text, _ = phase_from_table(as_table(version).encode(), version, version.model.starts, "")
    Path(version.document.name).write_text(text + "changes: None.\n", encoding="utf-8")


def assert_all_come_back(tree: Path) -> None:
    """Every version goes out and comes in again, and each has an equal plan."""
    before = plans(tree)
    assert before
    for programme in load(tree).catalogue.programmes.values():
        for version in programme.versions:
            out_and_in(version)
    after = plans(tree)
    assert after.keys() == before.keys()
    assert [name for name in before if after[name] != before[name]] == []


@settings(max_examples=size(12, few=6), deadline=None, suppress_health_check=list(HealthCheck))
@given(seed=st.integers(0, 10**6))
def test_out_and_in_again_gives_an_equal_plan(seed: int, tmp_path_factory: pytest.TempPathFactory) -> None:
    assert_all_come_back(random_trees.write_tree(tmp_path_factory.mktemp("t") / "programmes", seed))


def test_the_demos_versions_come_back_with_equal_plans(tmp_path: Path) -> None:
    assert_all_come_back(Path(shutil.copytree(DEMO, tmp_path / "programmes")))


def good_table(tree: Path) -> str:
    result = trees.run(tree, "report", "--table", "home", "1.1")
    assert result.exit_code == 0, result.output
    return result.output


@pytest.mark.parametrize(
    "saved",
    [
        lambda text: text.encode(),
        lambda text: text.encode("utf-8-sig"),
        lambda text: text.replace(",", ";").encode(),
        lambda text: text.replace(",", "\t").encode("utf-16"),
        lambda text: text.replace("\r\n", "\n").replace(",", ";").encode("cp1252"),
        lambda text: "\n".join(
            ",".join(f'"{c}"' for c in line.split(",")) for line in text.splitlines()
        ).encode(),
        lambda text: text.replace("2 kg", '"2,0 kg"').encode(),
    ],
    ids=[
        "as written",
        "with a mark",
        "semicolons",
        "tabs, UTF-16",
        "Western European",
        "quoted",
        "decimal commas",
    ],
)
def test_a_table_is_read_as_spreadsheets_of_any_country_save_it(saved: object, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    (tmp_path / "plan.csv").write_bytes(saved(good_table(tree)))  # type: ignore[operator]
    result = trees.run(tree, "new", "phase", "home", "--from", "1.1", "--table", "plan.csv")
    assert result.exit_code == 0, result.output
    assert "wrote programmes/home/3.0.yaml" in result.output
    own = plans(tree)
    first, third = own["home", "1.1"], own["home", "3.0"]
    assert third["sessions"] == first["sessions"]  # type: ignore[index]
    assert third["starts"] == "2027-02-01"  # type: ignore[index]


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            "wall-sit,hold",
            "wal-sit,hold",
            'row 2: exercise: unknown exercise "wal-sit"; did you mean "wall-sit"?',
        ),
        ("legs,A,1", "leg,A,1", 'row 2, day: unknown day "leg", allowed legs or arms; did you mean "legs"?'),
        ("starter", "starte", 'row 2, level: unknown level "starte"'),
        ("week 1,week 2", "week 1,week 3", "row 1: the columns of weeks"),
        ("exercise,dose", "exercice,dose", "row 1: no column exercise"),
        (",6,7\r\n", ",6,\r\n", "week 2: empty"),
        (",6,7\r\n", ",6,many\r\n", 'week 2: found "many", allowed a whole number of reps'),
        ("circuit,2,15 s", "circuit,two,15 s", 'row 2, rounds: found "two"'),
    ],
)
def test_faults_are_told_by_row_and_column(old: str, new: str, says: str, tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    text = good_table(tree)
    assert old in text.replace("\n", "\r\n").replace("\r\r", "\r")
    text = text.replace("\r\n", "\n").replace("\n", "\r\n")
    (tmp_path / "plan.csv").write_text(text.replace(old, new), encoding="utf-8", newline="")
    result = trees.run(tree, "new", "phase", "home", "--from", "1.1", "--table", "plan.csv")
    assert result.exit_code == 1, result.output
    assert says in result.output
    assert not (tree / "home/3.0.yaml").exists()


def test_a_file_that_is_no_table_is_told(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    version = load(tree).catalogue.programmes["home"].versions[0]
    for content in (b"", b"\x00\xff\xfe", b"day,block\n1,2\n", b'"'):
        with pytest.raises(TableError):
            phase_from_table(content, version, date(2027, 1, 11), "")
