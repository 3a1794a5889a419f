"""Amounts as they are written, and amounts that vary by week and level."""

from decimal import Decimal

import pytest
from phasepress.reading import amounts
from phasepress.reading.amounts import AmountError, Varying

# --- durations ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("45 s", 45),
        ("45s", 45),
        ("0 s", 0),
        ("2 min", 120),
        ("2min", 120),
        ("1 min 30 s", 90),
        ("1:30", 90),
        ("01:05", 65),
        ("90:00", 5400),
        ("1.5 min", 90),
        ("2.5 s", Decimal("2.5")),
        ("0.125 s", Decimal("0.125")),
        ("240 min", 14400),
    ],
)
def test_a_duration_is_a_number_and_its_unit_or_minutes_and_seconds(text: str, seconds: object) -> None:
    assert amounts.duration(text) == seconds


def test_whole_seconds_stay_whole_numbers_and_others_are_exact() -> None:
    assert type(amounts.duration("1.5 min")) is int
    assert amounts.duration("0.1 s") * 3 == Decimal("0.3"), "binary fractions would give 0.30000000000000004"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "s",
        "45",
        "45 S",
        "45 sec",
        "-5 s",
        "1:75",
        "1:5",
        "1:30:00",
        "1,5 s",
        "five s",
        "5 s 1 min",
        "\uff15 s",
    ],
)
def test_anything_else_is_no_duration(text: str) -> None:
    with pytest.raises(AmountError):
        amounts.duration(text)


@pytest.mark.parametrize("raw", [30, 1.5, "30"])
def test_a_bare_number_is_asked_for_its_unit(raw: object) -> None:
    with pytest.raises(AmountError, match="a number without a unit") as caught:
        amounts.duration(raw)
    assert caught.value.hint == f"{raw} what? write {raw} s or {raw} min"


def test_the_longest_duration_is_four_hours() -> None:
    with pytest.raises(AmountError, match="at most 4 hours"):
        amounts.duration("240 min 1 s")


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("2 m", "write min for minutes"),
        ("2 minutes", "write min for minutes"),
        ("2'", "write min for minutes"),
        ("30 sec", "write s for seconds"),
        ('30"', "write s for seconds"),
        ("1 h", "write hours as minutes: 60 min"),
        ("1:75", "seconds after the colon have two digits, up to 59"),
        ("-5 s", "an amount cannot be negative"),
        ("soon", "write a number, a space and s, with a point for decimals"),
    ],
)
def test_a_wrong_duration_is_answered_with_the_way_to_write_it(text: str, hint: str) -> None:
    with pytest.raises(AmountError) as caught:
        amounts.duration(text)
    assert caught.value.hint == hint


# --- masses, distances, volumes, percentages ------------------------------------------------------------


def test_each_measure_has_its_own_unit() -> None:
    assert amounts.mass("2.5 kg") == Decimal("2.5")
    assert amounts.mass("0 kg") == 0
    assert amounts.distance("20 m") == 20
    assert amounts.volume("0.5 l") == Decimal("0.5")
    assert amounts.percent("25 %") == 25
    assert amounts.percent("25%") == 25


@pytest.mark.parametrize(
    ("parse", "text"),
    [
        (amounts.mass, "5 lb"),
        (amounts.mass, "2,5 kg"),
        (amounts.mass, "201 kg"),
        (amounts.mass, "-1 kg"),
        (amounts.distance, "2 km"),
        (amounts.distance, "20"),
        (amounts.volume, "50 ml"),
        (amounts.percent, "0.25"),
    ],
)
def test_another_unit_or_an_amount_beyond_bounds_is_refused(parse, text: str) -> None:
    with pytest.raises(AmountError):
        parse(text)


# --- tempo ----------------------------------------------------------------------------------------------
# Four numbers, eccentric / pause / concentric / pause, and 2/0/2/0, 5/0/3/0, 6/0/4/0: Wilk et al. 2018,
# J Hum Kinet 62:241-250, seen. Three numbers, 3-1-1 = 3 s eccentric, 1 s isometric, 1 s concentric: Ladlow et al.,
# BMJ Military Health, table 1, seen; here it is written with the pause high, 3-1-1-0.


@pytest.mark.parametrize(
    ("text", "rep", "ten_reps"),
    [("2-0-2-0", 4, 40), ("5-0-3-0", 8, 80), ("6-0-4-0", 10, 100), ("3-1-1-0", 5, 50)],
)
def test_a_rep_lasts_as_long_as_its_published_tempo_adds_up_to(text: str, rep: int, ten_reps: int) -> None:
    assert amounts.tempo(text).seconds == rep
    assert 10 * amounts.tempo(text).seconds == ten_reps


def test_as_fast_as_possible_counts_as_one_second_by_our_own_convention() -> None:
    """X is the fastest lifting that is possible (2/0/X, Wilk et al. 2020, seen); no source gives it seconds."""
    assert amounts.tempo("2-0-X-0").seconds == 2 + amounts.X_SECONDS == 3


def test_the_pause_high_is_a_part_of_the_rep() -> None:
    assert amounts.tempo("3-1-1-1").seconds == 6
    assert amounts.tempo("3-1-1-1").before_pause_high == 5


def test_half_seconds_and_ten_seconds_are_counts() -> None:
    assert amounts.tempo("0.5-0-0.5-0").seconds == 1
    assert amounts.tempo("10-0-1-0").seconds == 11


@pytest.mark.parametrize(
    "raw",
    ["20X0", "4-1", "3-1-1", "3-1-1-0-1", "3-0-x-0", "0-0-0-0", "11-0-1-0", "3.3-0-1-0", "3 0 1 0", "-3-0-1-0", "",
     3010, 3, None, True, ["3-0-1-0"]],
)  # fmt: skip
def test_any_other_form_of_a_tempo_is_refused(raw: object) -> None:
    with pytest.raises(AmountError):
        amounts.tempo(raw)


@pytest.mark.parametrize(
    ("raw", "hint"),
    [
        ("20X0", "write 2-0-X-0"),
        (3010, "write 3-0-1-0"),
        ("2/0/X/0", "write 2-0-X-0"),
        ("2-0-x-0", "write 2-0-X-0"),
        ("3-1-1", "for no pause high, write 3-1-1-0"),
        ("311", "for no pause high, write 3-1-1-0"),
        ("slow", "write it like 3-0-1-0 or 2-1-X-0"),
    ],
)
def test_a_tempo_of_another_habit_is_answered_with_ours(raw: object, hint: str) -> None:
    with pytest.raises(AmountError) as caught:
        amounts.tempo(raw)
    assert caught.value.hint == hint


# --- counts ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("raw", [0, 8, 50])
def test_a_count_is_a_whole_number_between_its_bounds(raw: int) -> None:
    assert amounts.count(0, 50, "a whole number of sets")(raw) == raw


@pytest.mark.parametrize("raw", [-1, 51, 8.0, 8.5, "8", "8-12", True, None, [8]])
def test_anything_else_is_no_count(raw: object) -> None:
    with pytest.raises(AmountError, match="allowed a whole number of sets from 0 to 50"):
        amounts.count(0, 50, "a whole number of sets")(raw)


# --- by week and level ----------------------------------------------------------------------------------

REPS = amounts.count(0, 100, "a whole number of reps")


def read(raw: object) -> Varying[int]:
    result = amounts.varying(raw, REPS)
    assert isinstance(result, Varying)
    return result


def test_one_amount_is_for_every_level_and_week() -> None:
    assert [read(8).at(level, week) for level in ("starter", "steady") for week in (1, 4)] == [8, 8, 8, 8]


def test_a_list_has_one_amount_a_week() -> None:
    assert [read([6, 8, 10]).at("starter", week) for week in (1, 2, 3)] == [6, 8, 10]


def test_a_mapping_has_one_amount_a_level_and_other_is_for_the_rest() -> None:
    reps = read({"starter": 6, "other": 8})
    assert (reps.at("starter", 1), reps.at("steady", 1), reps.at("strong", 3)) == (6, 8, 8)


def test_a_mapping_of_lists_has_one_amount_for_each_level_and_week() -> None:
    reps = read({"starter": [5, 6], "steady": [8, 10]})
    assert (reps.at("starter", 2), reps.at("steady", 1)) == (6, 8)
    assert sorted(reps.values()) == [5, 6, 8, 10]


def test_everything_wrong_with_an_amount_is_told_at_once_with_the_way_to_it() -> None:
    wrong = amounts.varying({"starter": [5, "six", [7]], "steady": None, "strong": []}, REPS)
    assert isinstance(wrong, list)
    assert [part.path for part in wrong] == [("starter", 1), ("starter", 2), ("steady",), ("strong",)]


@pytest.mark.parametrize("raw", [[], {}, [[6, 8]], {"starter": {"week 1": 6}}, [{"starter": 6}]])
def test_no_other_nesting_is_an_amount(raw: object) -> None:
    assert isinstance(amounts.varying(raw, REPS), list)


# --- for people -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("seconds", "said", "clock"),
    [
        (0, "0 s", "0:00"),
        (45, "45 s", "0:45"),
        (60, "1 min", "1:00"),
        (90, "1 min 30 s", "1:30"),
        (Decimal("61.5"), "1 min 1.5 s", "1:01"),
        (Decimal("62.5"), "1 min 2.5 s", "1:02"),
        (3600, "60 min", "60:00"),
    ],
)
def test_a_length_is_said_and_shown_on_a_clock(seconds: amounts.Number, said: str, clock: str) -> None:
    assert amounts.spoken(seconds) == said
    assert amounts.clock(seconds) == clock


@pytest.mark.parametrize(
    ("value", "text"),
    [(Decimal("2.50"), "2.5"), (20, "20"), (Decimal("1E+1"), "10"), (Decimal("0.5"), "0.5")],
)
def test_a_number_is_written_without_needless_zeros(value: amounts.Number, text: str) -> None:
    assert amounts.written(value) == text
