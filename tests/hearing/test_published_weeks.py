"""Loads and weeks against what was published of them, row by row, misprints included.

R: read in a stored page; D: derived here from such values; M: from memory.
"""

from datetime import date, timedelta
from math import sqrt
from pathlib import Path
from statistics import stdev
from typing import Any

import pytest
from phasepress.hearing.weeks import monday_of, monotony, strain
from phasepress.telling.views.words import EFFORT

from tests.hearing.squads import record, reviewed

# --- Foster et al. 2001, J Strength Cond Res 15(1):109-115, Table 5 (R): effort, minutes, printed load --------------

ROWS = [(7, 120, 840), (7, 40, 280), (3, 60, 180), (2, 25, 50), (5, 180, 940), (8, 75, 390)]
MISPRINTED = {(5, 180, 940): 900, (8, 75, 390): 600}
"""Rows whose printed load contradicts effort × minutes, and what the rule of the same paper gives (D)."""
LOAD, MONOTONY, STRAIN = 3400, 1.26, 4284


def load(to: Path, effort: int, minutes: int) -> float:
    """The load of an athlete whose log has one such session."""
    [athlete] = reviewed(to, {"kim.json": [record(effort=effort, seconds=minutes * 60)]})["athletes"]
    found: float = athlete["load"]
    return found


@pytest.mark.parametrize("row", ROWS)
def test_a_row_of_the_worked_week_follows_the_rule_and_not_a_misprint(
    row: tuple[int, int, int], tmp_path: Path
) -> None:
    effort, minutes, printed = row
    found = load(tmp_path, effort, minutes)
    assert found == MISPRINTED.get(row, printed)
    assert (found == printed) == (row not in MISPRINTED)


def test_the_two_misprints_add_up_to_a_week_that_is_heavier_than_the_printed_one() -> None:
    """By the rule the week would be 170 more: 40 less in one row, 210 more in the other (D)."""
    assert sum(ours - printed for (*_, printed), ours in MISPRINTED.items()) == 170
    assert strain(LOAD + 170, MONOTONY) == pytest.approx(STRAIN + 170 * MONOTONY)


def test_the_worked_week_does_not_say_which_deviation_and_ours_is_the_lower_reading_of_it() -> None:
    """Read by day (D) it has a monotony of 1.122 with n - 1 below the line and of 1.212 with n; it prints 1.26. Any
    week of seven days has these two in the ratio √(7 / 6); ours is the one with n - 1."""
    assert pytest.approx(sqrt(7 / 6), abs=0.001) == 1.212 / 1.122
    days = [840.0, 280, 180, 50, 900, 600, 0]
    middle = sum(days) / 7
    with_n = middle / sqrt(sum((day - middle) ** 2 for day in days) / 7)
    ours = monotony(days)
    assert ours is not None
    assert with_n / ours == pytest.approx(1.212 / 1.122, abs=0.001)


# --- weeks of daily loads, worked out by hand and by a second reader (D); Foster 1998 defines both figures ----------

WEEKS = [
    ([(5, 60), (0, 0), (6, 75), (0, 0), (4, 40), (8, 90), (0, 0)], 1630, 0.844, 1375),
    ([(4, 30), (0, 0), (5, 40), (0, 0), (4, 30), (6, 70), (0, 0)], 860, 0.806, 693),
    ([(5, 60)] * 6 + [(0, 0)], 1800, 2.268, 4082),
]


def week(to: Path, sessions: list[tuple[int, int]]) -> dict[str, Any]:
    """The week of an athlete who trained so hard and so long on its days."""
    records = [
        record(number, number, effort=effort, seconds=minutes * 60)
        for number, (effort, minutes) in enumerate(sessions)
        if minutes
    ]
    [found] = reviewed(to, {"kim.json": records})["athletes"][0]["weeks"]
    answer: dict[str, Any] = found
    return answer


@pytest.mark.parametrize(("sessions", "total", "even", "hard"), WEEKS)
def test_a_week_has_the_monotony_and_strain_that_were_worked_out_apart(
    sessions: list[tuple[int, int]], total: int, even: float, hard: int, tmp_path: Path
) -> None:
    found = week(tmp_path, sessions)
    assert found["load"] == total
    assert found["monotony"] == pytest.approx(even, abs=0.0005)
    assert found["strain"] == pytest.approx(hard, abs=0.5)


def test_days_without_training_count_in_the_mean(tmp_path: Path) -> None:
    """A common error: over four days of training alone the mean of the first week is 407.5, over seven 232.9 (D)."""
    sessions, total, even, _ = WEEKS[0]
    assert (round(total / 4, 1), round(total / 7, 1)) == (407.5, 232.9)
    trained = [float(effort * minutes) for effort, minutes in sessions if minutes]
    assert monotony(trained) == pytest.approx(407.5 / stdev(trained))
    assert week(tmp_path, sessions)["monotony"] == pytest.approx(even, abs=0.0005)


def test_a_week_of_sessions_that_were_rest_has_no_monotony(tmp_path: Path) -> None:
    """Effort 0 is a load of 0 (Foster 2001: 0 is rest); seven equal days have a deviation of 0 to divide by (D)."""
    found = week(tmp_path, [(0, 30)] * 7)
    assert (found["load"], found["monotony"], found["strain"]) == (0, None, None)


# --- the scale of effort: CR-10 as modified in Foster et al. 2001 (second-hand) -----------------------------------

ANCHORS = {0: "rest", 1: "very very easy", 2: "easy", 3: "moderate", 4: "somewhat hard", 5: "hard", 7: "very hard", 10: "maximal"}  # fmt: skip


@pytest.mark.parametrize("effort", range(11))
def test_a_number_of_the_scale_has_its_published_words_or_none(effort: int) -> None:
    assert len(EFFORT) == 11
    assert EFFORT[effort] == ANCHORS.get(effort, "")


# --- weeks: ISO 8601 begins them on a Monday (reference: Python's calendar; the examples M) -------------------------


@pytest.mark.parametrize(
    ("day", "iso"),
    [("2008-12-30", (2009, 1, 2)), ("2010-01-03", (2009, 53, 7)), ("2009-12-31", (2009, 53, 4))],
)
def test_a_week_over_the_turn_of_the_year_is_one_week(day: str, iso: tuple[int, int, int]) -> None:
    then = date.fromisoformat(day)
    assert tuple(then.isocalendar()) == iso
    assert monday_of(then) == date.fromisocalendar(iso[0], iso[1], 1)


def test_a_monday_is_that_of_the_iso_week_on_every_day_of_28_years() -> None:
    """After 28 years weekdays and leap years fall together again, as long as no century is left out."""
    for number in range(28 * 366):
        day = date(2020, 1, 1) + timedelta(days=number)
        year, number_of_week, _ = day.isocalendar()
        assert monday_of(day) == date.fromisocalendar(year, number_of_week, 1), day
