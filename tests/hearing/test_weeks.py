"""Loads, monotony and strain, against what Foster published."""

from datetime import date, timedelta
from pathlib import Path
from statistics import mean, pstdev, stdev

import pytest
from phasepress.hearing.weeks import load_of, monday_of, monotony, strain

from tests.hearing.squads import record, reviewed

# Foster 2001, J Strength Cond Res 15(1):109-115, Table 5: the rows of a worked week. Two rows of the printed table
# contradict effort × minutes (5 × 180 = 940, 8 × 75 = 390); these four do not.
FOSTER_SESSIONS = [(7, 120, 840), (7, 40, 280), (3, 60, 180), (2, 25, 50)]


@pytest.mark.parametrize(("effort", "minutes", "load"), FOSTER_SESSIONS)
def test_a_session_of_fosters_week_has_the_load_that_he_printed(
    tmp_path: Path, effort: int, minutes: int, load: int
) -> None:
    [athlete] = reviewed(tmp_path, {"kim.json": [record(effort=effort, seconds=minutes * 60)]})["athletes"]
    assert (athlete["load"], athlete["minutes"]) == (load, minutes)


def test_fosters_week_has_his_strain_from_his_load_and_monotony() -> None:
    """Foster 2001, Table 5: load 3400, monotony 1.26, strain 4284, that is load × monotony."""
    assert strain(3400, 1.26) == pytest.approx(4284)


def test_a_worked_week_has_the_figures_that_the_definition_gives(tmp_path: Path) -> None:
    """45 min at effort 6 is 270; a week of 270, 0, 300, 0, 240, 0, 0 has mean 115.7. Monotony is mean / standard
    deviation, strain load × monotony (Foster 1998, Med Sci Sports Exerc 30(7):1164-1168, abstract), which leaves open
    which deviation: that of a sample here, by the reference of Python's statistics."""
    days = [270, 0, 300, 0, 240, 0, 0]
    records = [
        record(1, 0, effort=6, seconds=45 * 60),
        record(2, 2, effort=5, seconds=60 * 60),
        record(3, 4, effort=8, seconds=30 * 60),
    ]
    [week] = reviewed(tmp_path, {"kim.json": records})["athletes"][0]["weeks"]
    assert mean(days) == pytest.approx(115.7, abs=0.05)
    assert week["load"] == 810
    assert week["monotony"] == pytest.approx(mean(days) / stdev(days))
    assert week["monotony"] != pytest.approx(mean(days) / pstdev(days))
    assert week["strain"] == pytest.approx(810 * mean(days) / stdev(days))


def test_without_an_effort_the_load_is_unknown_and_never_0(tmp_path: Path) -> None:
    records = [
        record(1, 0, effort=None),
        record(2, 7, effort=None),
        record(3, 8, effort=0),
        record(4, 14, effort=5),
    ]
    weeks = reviewed(tmp_path, {"kim.json": records})["athletes"][0]["weeks"]
    assert [(one["load"], one["unknown"]) for one in weeks] == [(None, 1), (0, 1), (225, 0)]
    assert [one["monotony"] is None for one in weeks] == [True, True, False]
    assert [one["strain"] is None for one in weeks] == [True, True, False]


def test_equal_days_have_no_monotony(tmp_path: Path) -> None:
    records = [record(number, number, effort=6) for number in range(7)]
    [week] = reviewed(tmp_path, {"kim.json": records})["athletes"][0]["weeks"]
    assert (week["load"], week["monotony"], week["strain"]) == (7 * 270, None, None)
    assert monotony([0.1 + 0.2, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3]) is None


def test_two_sessions_of_one_day_are_one_load_of_that_day(tmp_path: Path) -> None:
    records = [record(1, 0), record(2, 0.125), record(3, 2)]
    [week] = reviewed(tmp_path, {"kim.json": records})["athletes"][0]["weeks"]
    days = [540, 0, 270, 0, 0, 0, 0]
    assert week["sessions"] == 3
    assert week["monotony"] == pytest.approx(mean(days) / stdev(days))


def test_a_session_over_midnight_belongs_to_the_day_on_which_it_began(tmp_path: Path) -> None:
    late = record(1, 6 + 6.9 / 24)
    [week] = reviewed(tmp_path, {"kim.json": [late]})["athletes"][0]["weeks"]
    assert week["monday"] == "2027-01-11", "Sunday at 23:54, though it ended on Monday"


def test_a_week_is_that_of_the_athletes_own_clock(tmp_path: Path) -> None:
    """17:00 in Greenwich on Sunday 17 January is Monday 06:00 at UTC+13."""
    east = record(1, 6, utc=13 * 60)
    [week] = reviewed(tmp_path, {"kim.json": [east]})["athletes"][0]["weeks"]
    assert week["monday"] == "2027-01-18"


@pytest.mark.parametrize("days", range(14))
def test_a_monday_is_that_on_or_before_a_day(days: int) -> None:
    day = date(2027, 1, 11) + timedelta(days=days)
    assert monday_of(day) == date(2027, 1, 11 if days < 7 else 18)


def test_no_session_has_the_load_0_and_none_that_is_known_has_none() -> None:
    assert (load_of([]), load_of([None]), load_of([None, 3.0])) == (0, None, 3)
