"""What is told of a version, a day or a level as a whole, and of numbers at their edges; expected by hand."""

from fractions import Fraction
from pathlib import Path

import pytest
from phasepress.comparing.base import base_at
from phasepress.comparing.changes import NOTHING, Change, changes
from phasepress.comparing.matching import days
from phasepress.comparing.sentences import Words, sentences
from phasepress.comparing.totals import Difference
from phasepress.comparing.words import percent, signed
from phasepress.computing.resolve import PlannedSession, sessions
from phasepress.reading.git_tree import Past

from tests.fixtures import trees
from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version

DAY = day(sets("squat, sets: 2, reps: 8"))


def of(tree: Path, before: str, now: str, programme: str = "home") -> list[Change]:
    """The changes between two versions of a tree's programme."""
    catalogue = trees.checked(tree).catalogue
    was, is_ = (catalogue.programmes[programme].version(name) for name in (before, now))
    assert was
    assert is_
    return changes(was, list(sessions(catalogue, was)), is_, list(sessions(catalogue, is_)))


def test_a_level_that_comes_or_goes_belongs_to_no_week(tmp_path: Path) -> None:
    both, one = (version(DAY, keys=f"levels: [{levels}]") for levels in ("starter, steady", "steady"))
    tree = planted(tmp_path, {"1.0": both, "1.1": one}, TWO_LEVELS)
    assert of(tree, "1.0", "1.1", "trial")[0] == Change("", "starter", 0, "", "", "level", "starter", NOTHING)
    assert of(tree, "1.1", "1.0", "trial")[0] == Change("", "starter", 0, "", "", "level", NOTHING, "starter")


def test_a_day_that_comes_or_goes_is_named_once_and_belongs_to_no_week(tmp_path: Path) -> None:
    found = of(trees.copy_of_good(tmp_path), "1.0", "2.0")
    told = {(one.day, one.before, one.after) for one in found if one.what == "day"}
    assert all(one.week == 0 for one in found if one.what in ("day", "on", "starts", "weeks"))
    for name, before, after in told:
        assert name
        assert NOTHING in (before, after)
        assert name in (before, after)


def test_days_without_any_exercise_are_not_alike() -> None:
    before = [PlannedSession("was", "starter", 1, ())]
    now = [PlannedSession("is", "starter", 1, ())]
    assert days(before, now) == [(None, "is"), ("was", None)]


@pytest.mark.parametrize(
    ("before", "now", "words"),
    # A whole number from 1 % on, a decimal below; nothing of nothing has no percentage.
    [(100, 101, "+1 %"), (100, 99, "−1 %"), (1000, 1009, "+0.9 %"), (1000, 991, "−0.9 %"), (0, 5, ""), (None, 5, "")],
)  # fmt: skip
def test_a_percentage_has_a_decimal_below_1(before: int | None, now: int, words: str) -> None:
    was = None if before is None else Fraction(before)
    assert percent(Difference(was, Fraction(now))) == words


def test_nothing_has_no_minus() -> None:
    assert signed(Fraction(0), "1") == "+0"


def test_a_folder_that_moved_is_known_by_its_club_file() -> None:
    """A folder with versions and without `club.yaml` is no tree of programmes."""
    elsewhere = frozenset({"plans/club.yaml", "plans/home/1.0.yaml", "notes/home/1.0.yaml"})
    gone = frozenset({"plans/home/1.0.yaml", "notes/home/1.0.yaml", "plans/home/programme.yaml"})
    assert base_at("main", Past(None, elsewhere, gone)).gone == (("plans", ("home 1.0",)),)


def test_a_level_is_told_with_its_name_and_whether_it_came_or_went() -> None:
    words = Words({}, {"steady": "Steady"}, 4)
    come = Change("", "steady", 0, "", "", "level", NOTHING, "steady")
    gone = Change("", "steady", 0, "", "", "level", "steady", NOTHING)
    (told,) = sentences([come, gone], words)
    assert told.lines == ("Level Steady is new", "Level Steady is gone")
