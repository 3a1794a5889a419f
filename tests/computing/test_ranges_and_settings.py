"""Reps from a least to a most, and how hard an exercise is set in words."""

from pathlib import Path

import pytest
from phasepress.computing.fingerprint import fingerprint, resolved
from phasepress.computing.phases import computed_sessions
from phasepress.judging import check
from phasepress.reading.amounts import AmountError, RepRange, reps
from phasepress.reading.catalogue import load

from tests.fixtures import sessions

SQUAT = "sides: both, measure: reps, tempo: 2-0-1-0"


def station(to: Path, keys: str) -> object:
    """The one station of a session, as planned."""
    block = f"- {{kind: circuit, rounds: 2, stations: [{{exercise: squat, {keys}}}]}}"
    return sessions.session(to, block, {"squat": SQUAT})


def digits(to: Path, keys: str) -> str:
    """The fingerprint of such a plan."""
    block = f"- {{kind: circuit, rounds: 2, stations: [{{exercise: squat, {keys}}}]}}"
    catalogue = check(load(sessions.written(to, block, {"squat": SQUAT}))).catalogue
    (version,) = catalogue.programmes["trial"].versions
    return fingerprint(resolved(version, (one.plan for one in computed_sessions(catalogue, version))))


def test_a_range_counts_as_its_upper_end(tmp_path: Path) -> None:
    """2 rounds of 10 reps of 3 s and 60 s between them."""
    facts = station(tmp_path, "reps: 8-10")
    assert (facts.totals.work.reps, facts.totals.work.tension) == (20, 60)  # type: ignore[attr-defined]
    assert facts.order.seconds - 60 - 10 >= 120 - 70  # type: ignore[attr-defined]


def test_a_range_is_shown_as_it_is_written() -> None:
    assert f"{reps('8-10')} {reps('8 – 10')!s}" == "8-10 8-10"


def test_a_range_is_another_dose_than_its_upper_end(tmp_path: Path) -> None:
    assert reps("8-10") != 10
    assert reps("8-10") == RepRange(8, 10)
    assert (
        len({digits(tmp_path / str(n), f"reps: {each}") for n, each in enumerate(["10", "8-10", "9-10"])})
        == 3
    )


@pytest.mark.parametrize("wrong", ["10-8", "8-8", "0-8", "8-1001", "8-", "8-10-12"])
def test_a_range_goes_from_few_to_many(wrong: str) -> None:
    with pytest.raises(AmountError):
        reps(wrong)


def test_levels_with_the_same_upper_end_keep_their_own_doses(tmp_path: Path) -> None:
    facts = station(tmp_path, "reps: {starter: 8-10, other: 10}")
    assert str(next(facts.plan.day_stations).amount) == "8-10"  # type: ignore[attr-defined]


def test_a_setting_is_in_the_plan_and_its_absence_is_not(tmp_path: Path) -> None:
    """The fingerprint of a plan without one is that of test_fingerprint, which is from before there were any."""
    plain, rail = (
        digits(tmp_path / "a", "reps: 8"),
        digits(tmp_path / "b", "reps: 8, setting: hands at the rail"),
    )
    assert plain != rail
    assert digits(tmp_path / "c", "reps: 8, setting: hands on the wall") not in (plain, rail)


def test_a_setting_varies_by_level_and_week(tmp_path: Path) -> None:
    facts = station(tmp_path, "reps: 8, setting: {starter: [hands at the rail], other: none}")
    assert next(facts.plan.day_stations).setting == "hands at the rail"  # type: ignore[attr-defined]
