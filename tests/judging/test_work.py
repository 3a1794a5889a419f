"""How much work a tree is: the bounds lie where they say, and a message names the place that passes one."""

from pathlib import Path

import pytest
from phasepress.computing.facts import Tree
from phasepress.computing.load_recipe import Kit
from phasepress.computing.phases import Phases
from phasepress.judging import work
from phasepress.reading.catalogue import Catalogue, load
from phasepress.reading.findings import Fault

from tests.fixtures.phases import TWO_LEVELS, WARM_UP, day, planted, sets, version
from tests.fixtures.sessions import routine
from tests.fixtures.trees import change

SQUATS = "squat, sets: 2, reps: 8"


def two_days(to: Path, *names: str) -> Catalogue:
    """Versions of two weeks for two levels: in each session a warm-up of one station; on the first day a block of
    two stations and one of one, on the second day one of one."""
    text = version(
        day(sets(SQUATS, "pull, sets: 2, reps: 8"), sets("push, sets: 2, reps: 8"), name="one", on="[mon]"),
        day(sets(SQUATS), name="two", on="[thu]"),
        weeks=2,
    )
    starts = ("2027-01-11", "2027-02-08")
    files = {name: text.replace("2027-01-11", starts[n]) for n, name in enumerate(names)}
    return load(planted(to, files, TWO_LEVELS)).catalogue


def told(catalogue: Catalogue) -> list[tuple[str, Fault]]:
    return [(one.name, fault) for one, fault in work.too_much(catalogue)]


# --- stations and sessions: a day has 4 sessions, the first 16 stations, the second 8 ------------------------------


@pytest.mark.parametrize(
    ("most", "place", "path", "alone"),
    [
        (3, "one, warm-up", ("days", 0, "warm-up"), "warm-up alone has 4"),
        (4, "one, block A", ("days", 0, "blocks", 0), "block A alone has 8"),
        (11, "one, block A", ("days", 0, "blocks", 0), "block A alone has 8"),
        (15, "one, block B", ("days", 0, "blocks", 1), "block B alone has 4"),
        (19, "two, warm-up", ("days", 1, "warm-up"), "warm-up alone has 4"),
        (23, "two, block A", ("days", 1, "blocks", 0), "block A alone has 4"),
    ],
)
def test_the_part_of_a_day_that_passes_the_bound_on_stations_is_told(
    most: int,
    place: str,
    path: tuple[object, ...],
    alone: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(work, "MOST_STATIONS_OF_A_VERSION", most)
    ((_, fault),) = told(two_days(tmp_path, "1.0"))
    assert fault.message == (
        f"{place}: with it this version has more than {most} stations in sessions, every level and week counted"
    )
    assert fault.path == path
    assert fault.hint == f"take stations, blocks, weeks, levels or versions out; {alone}"


def test_each_version_that_is_too_much_is_told_but_a_tree_only_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    catalogue = two_days(tmp_path, "1.0", "2.0")
    monkeypatch.setattr(work, "MOST_STATIONS_OF_A_VERSION", 23)
    assert [name for name, _ in told(catalogue)] == ["1.0", "2.0"]
    monkeypatch.setattr(work, "MOST_STATIONS_OF_A_VERSION", 24)
    assert told(catalogue) == []
    monkeypatch.setattr(work, "MOST_STATIONS", 48)
    assert told(catalogue) == []
    monkeypatch.setattr(work, "MOST_STATIONS", 20)
    ((name, fault),) = told(catalogue)
    assert (name, fault.path) == ("1.0", ("days", 1, "blocks", 0))
    assert "two, block A: with it the whole tree has more than 20 stations" in fault.message
    monkeypatch.setattr(work, "MOST_STATIONS", 47)
    assert [name for name, _ in told(catalogue)] == ["2.0"]


@pytest.mark.parametrize(
    ("most", "name", "message", "path"),
    [
        (3, "1.0", "one: with it this version has more than 3 sessions", ("days", 0)),
        (7, "1.0", "two: with it this version has more than 7 sessions", ("days", 1)),
        (8, "2.0", "one: with it the whole tree has more than 8 sessions", ("days", 0)),
        (15, "2.0", "two: with it the whole tree has more than 15 sessions", ("days", 1)),
    ],
)
def test_the_day_that_passes_the_bound_on_sessions_is_told(
    most: int,
    name: str,
    message: str,
    path: tuple[object, ...],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(work, "MOST_SESSIONS", most)
    found, fault = told(two_days(tmp_path, "1.0", "2.0"))[0]
    assert (found, fault.path) == (name, path)
    assert fault.message == f"{message}, every level and week counted"
    assert fault.hint == "take days, weeks, levels or versions out; this day alone has 4"


def test_as_many_sessions_as_are_allowed_pass(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(work, "MOST_SESSIONS", 16)
    assert told(two_days(tmp_path, "1.0", "2.0")) == []


def test_the_bounds_grow_with_the_files_from_a_million_signs_on(tmp_path: Path) -> None:
    assert work.megabytes(two_days(tmp_path / "small", "1.0")) == 1
    tree = tmp_path / "large/programmes"
    two_days(tmp_path / "large", "1.0")
    for name in ("exercises/squat.yaml", "routines/ready.yaml", "trial/programme.yaml", "trial/1.0.yaml"):
        with (tree / name).open("a", encoding="utf-8") as file:
            file.write(f"# {'x' * 600_000}\n")
    assert 2.4 < work.megabytes(load(tree).catalogue) < 2.41


def test_the_stations_of_a_cool_down_count_as_those_of_a_warm_up_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tree = planted(tmp_path, {"1.0": version(day(sets(SQUATS)))})
    (tree / "routines/easy.yaml").write_text(routine("cool-down", WARM_UP), encoding="utf-8")
    change(tree / "trial/1.0.yaml", "warm-up: ready\n", "warm-up: ready\n    cool-down: easy\n")
    monkeypatch.setattr(work, "MOST_STATIONS_OF_A_VERSION", 3)
    assert told(load(tree).catalogue) == []
    monkeypatch.setattr(work, "MOST_STATIONS_OF_A_VERSION", 2)
    ((_, fault),) = told(load(tree).catalogue)
    assert fault.path == ("days", 0, "cool-down")
    assert fault.message.startswith("day, cool-down: with it this version has more than 2 stations")


# --- segments: a warm-up is one with the rest after it, which is another; three sets are 5 ----------------------


def after(catalogue: Catalogue) -> Fault | None:
    """The fault of the first version that takes the tree over the bound on segments."""
    segments = work.Segments()
    phases = Phases(Tree(catalogue, Kit(None)), catalogue.programmes["trial"])
    every = (segments.over(phases.facts(one)) for one in catalogue.programmes["trial"].versions)
    return next(filter(None, every), None)


@pytest.fixture
def growing(tmp_path: Path) -> Catalogue:
    """Two sessions of 7 segments, then three of 13: 2 of the warm-up, 5 of block A, a rest, 5 of block B."""
    three = sets("squat, sets: 3, reps: 8")
    files = {
        "1.0": version(day(three), weeks=2),
        "2.0": version(day(three, three), weeks=3, starts="2027-02-08"),
    }
    return load(planted(tmp_path, files)).catalogue


@pytest.mark.parametrize(
    ("most", "place", "week", "path", "largest"),
    [
        (13, "block A", 2, ("days", 0, "blocks", 0), "trial 1.0 has the most so far, 7"),
        (15, "warm-up", 1, ("days", 0, "warm-up"), "trial 1.0 has the most so far, 14"),
        (16, "block A", 1, ("days", 0, "blocks", 0), "trial 1.0 has the most so far, 14"),
        (26, "block B", 1, ("days", 0, "blocks", 1), "trial 1.0 has the most so far, 14"),
        (52, "block B", 3, ("days", 0, "blocks", 1), "trial 2.0 has the most so far, 26"),
    ],
)
def test_the_block_that_passes_the_bound_on_segments_is_told_with_the_largest_version(
    most: int, place: str, week: int, path: tuple[object, ...], largest: str,
    growing: Catalogue, monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setattr(work, "MOST_SEGMENTS", most)
    fault = after(growing)
    assert fault is not None
    assert fault.message == (
        f"day, {place}: with it the whole tree has more than {most} segments, every level and week counted "
        f"(up to starter in week {week})"
    )
    assert fault.path == path
    assert fault.hint == f"take rounds, sets or minutes out, weeks or levels; {largest}"


def test_as_many_segments_as_are_allowed_pass(growing: Catalogue, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(work, "MOST_SEGMENTS", 53)
    assert after(growing) is None
