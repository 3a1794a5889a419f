"""What checks may look at of a version: which sessions, whose, and where they stand in the file; by hand."""

from pathlib import Path

import pytest
from phasepress.computing.facts import Tree, VersionFacts
from phasepress.computing.load_recipe import Kit
from phasepress.computing.phases import Phases
from phasepress.reading.catalogue import Catalogue, load

from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version

SQUATS = sets("squat, sets: 2, reps: 8")
NOT_FOR_STARTERS = sets("squat, sets: {starter: 0, steady: [2, 0]}, reps: 8")


def facts(to: Path, *names: str, second: str = "2027-01-25") -> VersionFacts:
    """Of the last of these versions: a day for both levels, and one of steady in week 1 alone."""
    days = day(SQUATS, SQUATS, name="one", on="[mon, thu]"), day(NOT_FOR_STARTERS, name="two", on="[sat]")
    starts = ("2027-01-11", second)
    files = {name: version(*days, weeks=2, starts=start) for name, start in zip(names, starts, strict=False)}
    catalogue = load(planted(to, files, TWO_LEVELS)).catalogue
    programme = catalogue.programmes["trial"]
    last = programme.version(names[-1])
    assert last
    return Phases(Tree(catalogue, Kit(None)), programme).facts(last)


def test_sessions_are_there_by_day_level_and_week_and_those_of_which_nothing_is_left_are_not_trained(
    tmp_path: Path,
) -> None:
    found = facts(tmp_path, "1.0")
    every = [
        (day, level, [one.plan.week for one in sessions]) for day, level, sessions in found.by_day_and_level()
    ]
    assert every == [
        ("one", "starter", [1, 2]), ("one", "steady", [1, 2]),
        ("two", "starter", [1, 2]), ("two", "steady", [1, 2]),
    ]  # fmt: skip
    trained = [(one.plan.day, one.plan.level, one.plan.week) for one in found.trained]
    assert trained == [
        ("one", "starter", 1), ("one", "starter", 2), ("one", "steady", 1), ("one", "steady", 2),
        ("two", "steady", 1),
    ]  # fmt: skip


def test_a_week_counts_each_day_as_often_as_it_is_trained(tmp_path: Path) -> None:
    """4 sets on Monday and on Thursday; steady 2 more on Saturday of week 1."""
    weeks = facts(tmp_path, "1.0").weeks
    assert {level: [(week.sessions, week.sets) for week in own] for level, own in weeks.items()} == {
        "starter": [(2, 8), (2, 8)],
        "steady": [(3, 10), (2, 8)],
    }


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        ([("starter", 1)], "starter in week 1"),
        ([("starter", 2), ("starter", 1)], "starter in weeks 1 and 2"),
        ([("starter", 1), ("steady", 2)], "starter in week 1; steady in week 2"),
        ([("starter", 1), ("steady", 1)], "every level in week 1"),
        ([("starter", 1), ("steady", 1), ("steady", 2)], "starter in week 1; steady in weeks 1 and 2"),
    ],
)
def test_levels_and_weeks_are_told_in_few_words(
    pairs: list[tuple[str, int]], words: str, tmp_path: Path
) -> None:
    found = facts(tmp_path, "1.0")
    assert found.which(pairs) == words
    own = [one for pair in pairs for one in found.sessions if (one.plan.level, one.plan.week) == pair]
    assert found.whose(own) == words


def test_the_only_level_is_called_by_its_id(tmp_path: Path) -> None:
    text = version(day(SQUATS), keys="levels: [steady]")
    catalogue = load(planted(tmp_path, {"1.0": text}, TWO_LEVELS)).catalogue
    programme = catalogue.programmes["trial"]
    found = Phases(Tree(catalogue, Kit(None)), programme).facts(programme.versions[0])
    assert found.whose(found.sessions) == "steady in week 1"


def test_days_and_stations_have_their_places_in_the_file(tmp_path: Path) -> None:
    found = facts(tmp_path, "1.0")
    assert [found.day_path(name) for name in ("one", "two")] == [("days", 0), ("days", 1)]
    assert found.station_path("one", "A1") == ("days", 0, "blocks", 0, "stations", 0)
    assert found.station_path("two", "C12") == ("days", 1, "blocks", 2, "stations", 11)


def test_levels_have_the_experience_that_the_programme_says(tmp_path: Path) -> None:
    found = facts(tmp_path, "1.0")
    assert [found.experience(level) for level in ("starter", "steady")] == ["beginner", "intermediate"]


@pytest.mark.parametrize(("starts", "follows_on"), [("2027-01-25", True), ("2027-02-01", False)])
def test_a_phase_follows_on_where_no_day_lies_between(starts: str, follows_on: bool, tmp_path: Path) -> None:
    """The first phase has two weeks from 11 January on."""
    assert facts(tmp_path, "1.0", "2.0", second=starts).follows_on is follows_on


def test_the_first_phase_follows_on_nothing(tmp_path: Path) -> None:
    found = facts(tmp_path, "1.0")
    assert found.before is None
    assert not found.follows_on


def test_what_all_versions_share_is_worked_out_once() -> None:
    asked = []

    def work_out(catalogue: Catalogue) -> int:
        asked.append(catalogue)
        return len(asked)

    tree = Tree(Catalogue(None), Kit(None))
    assert [tree.once(work_out), tree.once(work_out)] == [1, 1]
    assert asked == [tree.catalogue]
