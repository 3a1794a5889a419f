"""What a new phase trains that the one before did not, and its doses from the least to the most; by hand."""

from pathlib import Path

import pytest
from phasepress.comparing.phases import Steps, steps
from phasepress.comparing.sentences import Words
from phasepress.computing.phases import computed_sessions
from phasepress.reading.catalogue import load

from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version

WORDS = Words({"squat": "Squat", "push": "Push-up"}, {"starter": "Starter", "steady": "Steady"}, 2)
CRAWL = {"crawl": "pattern: locomotion, sides: both, measure: distance"}


def between(to: Path, before: str, now: str) -> Steps:
    """From a phase of two weeks with this block to one with that."""
    text = version(day(before), weeks=2), version(day(now), weeks=2, starts="2027-02-01")
    catalogue = load(planted(to, {"1.0": text[0], "2.0": text[1]}, TWO_LEVELS, CRAWL)).catalogue
    old, new = (list(computed_sessions(catalogue, one)) for one in catalogue.programmes["trial"].versions)
    return steps(old, new, WORDS)


@pytest.mark.parametrize(
    ("before", "now", "lines"),
    [
        ("squat, sets: 2, reps: 8", "squat, sets: 2, reps: 8", ()),
        ("squat, sets: 2, reps: 8", "squat, sets: 2, reps: [8, 9]", ("Squat: 8 → 8 to 9 reps",)),
        ("squat, sets: 2, reps: [9, 8]", "squat, sets: [3, 2], reps: 8", ("Squat: 8 to 9 → 8 reps; 2 → 2 to 3 sets",)),
        ("squat, sets: 2, reps: 8, load: 2 kg", "squat, sets: 2, reps: 8, load: [3 kg, 4 kg]",
         ("Squat: load 2 kg → 3 kg to 4 kg",)),
        ("brace, sets: 2, hold: 20 s", "brace, sets: 2, hold: 70 s", ("brace: hold 20 s → 1 min 10 s",)),
        ("plank, sets: 2, hold: 20 s", "plank, sets: 2, hold: 70 s", ("plank: hold 20 s → 1 min 10 s each side",)),
        ("crawl, sets: 2, distance: 10 m, takes: 9 s", "crawl, sets: 2, distance: 12 m, takes: 20 s",
         ("crawl: distance 10 m → 12 m",)),
        # What is counted another way cannot be compared.
        ("squat, sets: 2, reps: 8", "squat, sets: 2, work: 20 s", ()),
        ("squat, sets: 2, reps: 8", "squat, sets: 2, reps: {starter: 8, steady: 9}", ("Squat: 8 → 9 reps (Steady)",)),
        ("squat, sets: 2, reps: 8", "squat, sets: 2, reps: {starter: 9, steady: 10}",
         ("Squat: 8 → 9 reps (Starter), 8 → 10 reps (Steady)",)),
        ("squat, sets: {starter: 0, steady: 2}, reps: 8", "squat, sets: 2, reps: 9", ("Squat: 8 → 9 reps (Steady)",)),
        ("squat, sets: 2, reps: 8", "squat, sets: {starter: 0, steady: 2}, reps: 9", ("Squat: 8 → 9 reps",)),
    ],
)  # fmt: skip
def test_doses_are_compared_from_the_least_to_the_most_of_all_weeks(
    before: str, now: str, lines: tuple[str, ...], tmp_path: Path
) -> None:
    found = between(tmp_path, sets(before), sets(now))
    assert found == Steps((), (), lines)


def test_exercises_that_are_new_and_that_are_gone_are_told_by_name_and_warm_ups_are_left_aside(
    tmp_path: Path,
) -> None:
    same = "brace, sets: 2, hold: 20 s"
    found = between(tmp_path, sets(same, "squat, sets: 2, reps: 8"), sets("push, sets: 2, reps: 8", same))
    assert found == Steps(("Push-up",), ("Squat",), ())


def test_sets_are_those_that_end_in_time(tmp_path: Path) -> None:
    """A squat takes 24 s and a change 15 s: 63 s hold two, and 102 s three."""
    rounds = "{{kind: timed rounds, lasts: {} s, stations: [{{exercise: squat, reps: 8}}]}}"
    assert between(tmp_path, rounds.format(63), rounds.format(102)).lines == ("Squat: 2 → 3 sets",)
