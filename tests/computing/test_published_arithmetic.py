"""Outside checks of sums: published worked examples, standards and physics, each with how it was known.

F: seen in a public page; R: read again in a stored page; D: derived here from such values; M: from memory.
"""

from decimal import Decimal
from pathlib import Path

import pytest
from phasepress.computing.load_recipe import Kit
from phasepress.judging.limits import SESSIONS_A_WEEK, START_WEEKS
from phasepress.reading.amounts import duration, mass, tempo
from phasepress.reading.model import Club
from phasepress.reading.model.club import KG_PER_LITRE

from tests.fixtures import sessions
from tests.oracle import oracle

PUSH_UP = "sides: both, measure: reps, tempo: 1-0-2-0, loadable: true"


def sets_of(to: Path, *stations: str, exercise: str = PUSH_UP) -> object:
    """A session of straight sets, without a rest between stations."""
    block = "- {kind: straight sets, changeover: 0 s, stations: [" + ", ".join(
        f"{{exercise: push, rest: 1 s, {one}}}" for one in stations
    )
    return sessions.session(to, block + "]}", {"push": exercise})


# --- volume = reps × kg (2014 Consensus, second-hand); Ladlow et al., BMJ Military Health, Table 1 (F) ----------


def test_a_volume_of_three_sets_of_eight_with_65_kg_is_1560(tmp_path: Path) -> None:
    facts = sets_of(tmp_path, "sets: 3, reps: 8, load: 65 kg")
    assert facts.totals.load_volume == 1560  # type: ignore[attr-defined]


def test_a_volume_of_sets_with_growing_loads_is_1520(tmp_path: Path) -> None:
    facts = sets_of(
        tmp_path,
        "sets: 1, reps: 10, load: 55 kg",
        "sets: 1, reps: 8, load: 65 kg",
        "sets: 1, reps: 6, load: 75 kg",
    )
    assert facts.totals.load_volume == 1520  # type: ignore[attr-defined]
    assert facts.totals.work.reps == 24  # type: ignore[attr-defined]


def test_the_mean_load_of_that_session_is_63_and_its_density_34_7() -> None:
    """1520 / 24 and 1560 / 45, as printed."""
    assert round(1520 / 24) == 63
    assert round(1560 / 45, 1) == 34.7


# --- Foster 2001, Table 5 (R): a week whose rows are effort × minutes, two of which contradict that ---------------


@pytest.mark.parametrize(
    ("effort", "minutes", "load"), [(7, 120, 840), (7, 40, 280), (3, 60, 180), (2, 25, 50)]
)
def test_a_session_load_is_effort_times_minutes(effort: int, minutes: int, load: int) -> None:
    assert oracle.effort_load(minutes, effort) == load


@pytest.mark.parametrize(("effort", "minutes", "printed"), [(5, 180, 940), (8, 75, 390)])
def test_two_printed_rows_contradict_it(effort: int, minutes: int, printed: int) -> None:
    assert oracle.effort_load(minutes, effort) != printed


def test_the_strain_of_that_week_is_its_load_times_its_monotony() -> None:
    assert round(3400 * 1.26) == 4284


# --- FitnessGram (R): 20 push-ups a minute, one in 3 s -----------------------------------------------------------


def test_a_minute_of_push_ups_at_the_cadence_of_fitnessgram_has_twenty(tmp_path: Path) -> None:
    assert tempo("1-0-2-0").seconds == 3
    facts = sets_of(tmp_path, "sets: 1, reps: 20")
    assert (facts.totals.work.tension, facts.totals.work.reps) == (60, 20)  # type: ignore[attr-defined]


def test_an_unpaced_push_up_is_much_faster_than_a_count_of_two_and_four() -> None:
    """LaChance & Hortobágyi 1994 (R, D): 145 % more in 51 % less time than at 2/4, 6 s a rep."""
    paced = tempo("4-0-2-0").seconds
    assert paced == 6
    assert round(float(paced) * 0.49 / 2.45, 1) == 1.2


# --- tempo: three and four counts (Ladlow Table 1; Wilk et al. 2018 and 2020; F) ---------------------------------


@pytest.mark.parametrize(
    ("written", "seconds"), [("3-1-1-0", 5), ("2-0-2-0", 4), ("5-0-3-0", 8), ("6-0-4-0", 10), ("2-0-X-0", 3)]
)
def test_published_tempos_take_the_sum_of_their_counts(written: str, seconds: int) -> None:
    assert tempo(written).seconds == seconds


# --- water and paper (reference tables F2; Kell's form of Bettin & Spieweck; ISO 216 and 536, F2, D) --------------


def water(celsius: float) -> float:
    """Kilograms a litre, Kell's formula on ITS-90 (F2)."""
    t = celsius
    above = 999.83952 + 16.952577 * t - 7.9905127e-3 * t**2 - 46.241757e-6 * t**3
    above += 105.84601e-9 * t**4 - 281.03006e-12 * t**5
    return above / (1 + 16.887236e-3 * t) / 1000


@pytest.mark.parametrize(
    ("celsius", "published"), [(4, 0.9999720), (15, 0.9991026), (20, 0.9982071), (30, 0.9956502)]
)
def test_a_litre_of_water_is_a_kilogram_within_half_a_per_cent(celsius: float, published: float) -> None:
    assert abs(water(celsius) - published) < 6e-6
    assert abs(KG_PER_LITRE - published) / published < 0.005


def test_a_ream_of_a4_at_80_grams_is_two_and_a_half_kilograms() -> None:
    """ISO 216: 210 × 297 mm; ISO 536: grams a square metre; 500 sheets."""
    ream = 500 * 0.210 * 0.297 * 0.080
    assert round(ream, 4) == 2.4948
    assert abs(ream - float(mass("2.5 kg"))) < 0.01


@pytest.mark.parametrize(
    ("before", "now", "per_cent"), [("0.5 kg", "1 kg", 100), ("1 kg", "1.5 kg", 50), ("1.5 kg", "2 kg", 33)]
)
def test_bottles_step_by_more_than_the_published_five_to_ten_per_cent(
    before: str, now: str, per_cent: int
) -> None:
    """NSCA 2009 (C): steps of 5 to 10 %."""
    assert round((mass(now) - mass(before)) / Decimal(mass(before)) * 100) == per_cent


def test_a_recipe_of_bottles_and_a_ream_comes_to_the_sum_of_their_masses() -> None:
    club = Club.model_validate(
        {"club": "Fenn", "kit": [{"item": "bottle", "holds": "2 l"}, {"item": "ream", "mass": "2.5 kg"}]}
    )
    assert str(Kit(club).recipe(Decimal("4.5"))) == "1 × bottle + 1 × ream"


# --- landings: starts of 50 to 60, twice a week (Johnson 2011, R); a set of jumps and its rest (Chu 1998, F2) -------


def test_two_starting_sessions_a_week_are_what_the_check_of_a_week_holds_to() -> None:
    from phasepress.judging.limits import BEGINNER_START_CONTACTS, BEGINNER_START_CONTACTS_A_WEEK

    assert BEGINNER_START_CONTACTS_A_WEEK == 2 * BEGINNER_START_CONTACTS == 120
    assert list(START_WEEKS) == [1, 2]


@pytest.mark.parametrize(("work", "rest"), [("10 s", ("50 s", "100 s"))])
def test_ten_seconds_of_jumps_want_fifty_to_a_hundred_of_rest(work: str, rest: tuple[str, str]) -> None:
    """Work to rest 1 : 5 to 1 : 10, as printed."""
    assert [duration(one) / duration(work) for one in rest] == [5, 10]


# --- sessions a week: 2 to 3 (CSEP 2008, F) --------------------------------------------------------------------


def test_two_and_three_sessions_a_week_are_inside() -> None:
    assert list(SESSIONS_A_WEEK) == [2, 3]


# --- a week's growth: 10 % a week doubles in 7.27 weeks (arithmetic; Buist 2008, F, found no effect of the rule) ------


@pytest.mark.parametrize(("weeks", "times"), [(4, 1.4641), (8, 2.1436)])
def test_ten_per_cent_a_week_compounds(weeks: int, times: float) -> None:
    now = Decimal(1)
    for _ in range(weeks):
        now += now * 10 / 100
    assert round(float(now), 4) == times
