"""Tests of fitness and their cadences, as blocks: what fits a minute, and what the checks say of it."""

from pathlib import Path

import pytest

from tests.fixtures import trees
from tests.fixtures.phases import day, planted, version

PUSH_UP = {"push": "pattern: push, sides: both, measure: reps, tempo: 1-0-2-0"}
"""FitnessGram (read in a stored page): 20 push-ups a minute, one in 3 s. How the 3 s are shared out is ours."""
ONE_SIDED = {"push": "pattern: push, sides: each, measure: reps, tempo: 1-0-2-0"}


def told(to: Path, reps: int, exercises: dict[str, str]) -> list[str]:
    """What is wrong with a block that begins so many of them every minute."""
    block = f"{{kind: every minute, minutes: 2, stations: [{{exercise: push, reps: {reps}}}]}}"
    findings = trees.checked(planted(to, {"1.0": version(day(block))}, exercises=exercises)).findings
    return [each.message for each in findings if each.check == "minute"]


@pytest.mark.parametrize(("reps", "faults"), [(19, 0), (20, 0), (21, 1)])
def test_a_minute_holds_the_twenty_push_ups_of_the_published_cadence_and_no_more(
    reps: int, faults: int, tmp_path: Path
) -> None:
    found = told(tmp_path, reps, PUSH_UP)
    assert len(found) == faults
    assert all("push: 1 min 3 s of work for starter in week 1" in one for one in found)


@pytest.mark.parametrize(("reps", "faults"), [(9, 0), (10, 1)])
def test_on_either_side_the_change_of_sides_takes_one_of_them(reps: int, faults: int, tmp_path: Path) -> None:
    """2 × 9 × 3 s and 5 s are 59 s, 2 × 10 × 3 s and 5 s are 65 s; the 5 s are the format's."""
    assert len(told(tmp_path, reps, ONE_SIDED)) == faults
