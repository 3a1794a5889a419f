"""One version against another: days and stations matched sensibly, doses in words, figures with percentages."""

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import pytest
from phasepress.comparing import Comparison, compare, previous, side
from phasepress.comparing.totals import Difference
from phasepress.comparing.words import cell, step
from phasepress.computing.phases import computed_sessions

from tests.fixtures import trees

Edits = Sequence[tuple[str, str]]


def edition(to: Path, *edits: tuple[str, str], of: str = "1") -> Comparison:
    """The first edition of a phase of the good tree against a copy of it, with the edits made there."""
    tree = trees.copy_of_good(to)
    text = (tree / f"home/{of}.0.yaml").read_text()
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    (tree / f"home/{of}.2.yaml").write_text(text + "changes: Some.\n")
    catalogue = trees.checked(tree).catalogue
    programme = catalogue.programmes["home"]
    sides = {v.name: side(catalogue, v, list(computed_sessions(catalogue, v))) for v in programme.versions}
    return compare(sides[f"{of}.0"], sides[f"{of}.2"])


def lines(compared: Comparison) -> list[str]:
    return [f"{told.day}: {line}" for told in compared.told for line in told.lines]


def test_equal_plans_differ_in_nothing(tmp_path: Path) -> None:
    compared = edition(tmp_path, ("title: Legs", "title: Strong legs"))
    assert compared.equal
    assert all(not d.more for row in compared.rows for d in row.totals.values())


IN_WORDS: list[tuple[Edits, list[str]]] = [
    ([("rounds: 2", "rounds: [2, 3]")], ["legs: Block A: 2 → 3 rounds in week 2"]),
    ([("reps: [6, 7]", "reps: [7, 8]")], ["legs: Step back: 6 → 7 reps each side in week 1, 7 → 8 reps each side in week 2"]),
    ([("reps: 10,", "reps: 12,")], ["legs: Hip hinge: 10 → 12 reps"]),
    ([("steady: 30 s", "steady: 35 s")], ["legs: Wall sit: hold 30 s → 35 s (Steady)"]),
    ([("starter: 2 kg", "starter: 0 kg")], ["legs: Hip hinge: load 2 kg → none (Starter)"]),
    ([("tempo: 3-0-1-0", "tempo: 3-1-X-0")], ["legs: Hip hinge: tempo 3-0-1-0 → 3-1-X-0"]),
    ([("distance: 10 m, takes: 15 s", "distance: 12 m, takes: 18 s")], ["legs: Bear crawl: distance 10 m → 12 m; takes 15 s → 18 s"]),
    ([("sets: 2, reps: 8", "sets: 3, reps: 8")], ["arms: Bag row: 2 → 3 sets"]),
    ([("rest: 75 s", "rest: 90 s")], ["arms: High push-up: rest between sets 1 min 15 s → 1 min 30 s (Starter)", "arms: Push-up: rest between sets 1 min 15 s → 1 min 30 s (Steady)"]),
    ([("lasts: {starter: 4 min", "lasts: {starter: 6 min")], ["legs: Block B: lasts 4 min → 6 min (Starter)"]),
    ([("minutes: 4", "minutes: [4, 6]")], ["arms: Block B: 4 → 6 minutes in week 2"]),
    ([("    cool-down: cool-down\n", "")], ["legs: March on the spot: left out, work 5 min"]),
    ([("on: [mon]", "on: [tue]"), ("starts: 2027-01-11", "starts: 2027-01-18")], [": First day: 2027-01-11 → 2027-01-18", "legs: Weekdays: Monday → Tuesday"]),
    ([("steady: push-up", "steady: high-push-up")], ["arms: Station A1: Push-up, 8 reps → High push-up, 8 reps in week 1, Push-up, 9 reps → High push-up, 9 reps in week 2 (Steady)"]),
]  # fmt: skip


@pytest.mark.parametrize(("edits", "told"), IN_WORDS)
def test_a_dose_that_changed_is_told_in_words(edits: Edits, told: list[str], tmp_path: Path) -> None:
    assert lines(edition(tmp_path, *edits)) == told


def test_a_change_from_a_week_on_is_told_so(tmp_path: Path) -> None:
    """The issue of a new edition in the middle of a phase: the weeks that are over stay as they were."""
    longer = [("weeks: 2", "weeks: 4"), ("[20 s, 25 s]", "20 s"), ("[6, 7]", "7"), ("[8, 9]", "8")]
    tree = trees.changed(tmp_path, {})
    for file in ("home/1.0.yaml", "home/1.1.yaml"):
        for old, new in longer:
            text = (tree / file).read_text().replace(old, new).replace("[15 s, 20 s]", "20 s")
            (tree / file).write_text(text)
    trees.change(tree / "home/2.0.yaml", "starts: 2027-01-25", "starts: 2027-02-08")
    text = (tree / "home/1.1.yaml").read_text()
    (tree / "home/1.1.yaml").write_text(text.replace("rounds: 2", "rounds: [2, 2, 3, 3]"))
    catalogue = trees.checked(tree).catalogue
    sides = {v.name: side(catalogue, v, list(computed_sessions(catalogue, v))) for v in catalogue.programmes["home"].versions}  # fmt: skip
    assert lines(compare(sides["1.0"], sides["1.1"])) == ["legs: Block A: 2 → 3 rounds from week 3"]


def test_a_block_of_one_station_is_called_by_its_exercise(tmp_path: Path) -> None:
    compared = edition(
        tmp_path, ("minutes: 4", "minutes: 5"), ("          - {exercise: arm-raise, reps: 6}\n", "")
    )
    assert lines(compared) == [
        "arms: Side plank: 4 → 5 minutes",
        "arms: Three-way arm raise: left out, 6 reps",
    ]


# --- stations and days are matched by what is trained ---------------------------------------------------


def test_a_station_put_in_front_does_not_change_everything(tmp_path: Path) -> None:
    compared = edition(
        tmp_path, ("          - {exercise: wall-sit", "          - {exercise: march, work: 30 s}\n          - {exercise: wall-sit")
    )  # fmt: skip
    assert lines(compared) == ["legs: March on the spot: new, work 30 s"]


def test_a_block_put_in_front_does_not_change_everything(tmp_path: Path) -> None:
    block = "      - kind: circuit\n        rounds: 1\n        stations: [{exercise: march, work: 20 s}]\n"
    compared = edition(
        tmp_path,
        ("      - kind: circuit\n        rounds: 2", f"{block}      - kind: circuit\n        rounds: 2"),
    )
    assert lines(compared) == ["legs: March on the spot: new, work 20 s"]


def test_a_station_that_is_left_out_leaves_the_others_alone(tmp_path: Path) -> None:
    compared = edition(tmp_path, ("          - {exercise: step-back, reps: [6, 7]}\n", ""))
    assert lines(compared) == ["legs: Step back: left out, 6 to 7 reps each side"]


def test_stations_that_change_places_are_told_when_nothing_else_is_another(tmp_path: Path) -> None:
    row, hold = (
        "          - {exercise: bear-crawl, distance: 10 m, takes: 15 s}\n",
        "          - {exercise: side-plank, hold: 20 s}\n",
    )
    compared = edition(tmp_path, (row + hold, hold + row))
    assert lines(compared) == ["legs: Side plank: label B2 → B1", "legs: Bear crawl: label B1 → B2"]


def test_an_exercise_in_place_of_another_is_told_as_that(tmp_path: Path) -> None:
    compared = edition(tmp_path, ("exercise: wall-sit, hold", "exercise: side-plank, hold"))
    (line,) = lines(compared)
    assert line.startswith(
        "legs: Station A1: Wall sit, hold 20 s → Side plank, hold 20 s each side in week 1"
    )


def test_a_day_with_another_id_is_the_same_day(tmp_path: Path) -> None:
    compared = edition(tmp_path, ("id: legs", "id: leg-day"), ("reps: 10,", "reps: 12,"))
    assert lines(compared) == ["leg-day: This day was called legs", "leg-day: Hip hinge: 10 → 12 reps"]
    assert {row.was for row in compared.rows if row.day == "leg-day"} == {"legs"}


def test_a_level_more_or_less_changes_nothing_for_the_others(tmp_path: Path) -> None:
    fewer = ("weeks: 1", "weeks: 1\nlevels: [starter]"), ("{starter: 2 kg, steady: 4 kg}", "2 kg")
    compared = edition(tmp_path, *fewer, of="2")
    assert lines(compared) == [": Level Steady is gone"]
    gone = [row for row in compared.rows if row.level == "steady"]
    assert gone
    assert all(d.now is None and d.percent is None for row in gone for d in row.totals.values())
    assert all(not d.more for row in compared.rows if row.level == "starter" for d in row.totals.values())


def test_labels_beyond_nine_are_in_the_order_of_the_file(tmp_path: Path) -> None:
    ten = "".join(f"          - {{exercise: march, work: {n} s}}\n" for n in range(20, 30))
    head = "          - {exercise: wall-sit"
    compared = edition(tmp_path, (head, f"{ten}{head}"))
    assert len(lines(compared)) == 10
    assert all("March on the spot: new" in line for line in lines(compared))


# --- figures -------------------------------------------------------------------------------------------


def test_figures_are_those_of_a_sum_by_hand(tmp_path: Path) -> None:
    """Two rounds of 10 → 12 reps of 4 s for starters at 2 kg: per session 16 s of work and tension and 4 reps × 2 kg
    more. The phase's only other day is as it was, so a week has the same difference. Of 2 × 10 reps × 2 kg before,
    8 kg is 20 %."""
    compared = edition(tmp_path, ("reps: 10,", "reps: 12,"))
    for day in ("legs", ""):
        (row,) = [row for row in compared.rows if (row.day, row.level) == (day, "starter")]
        assert row.totals["seconds"].more == 16
        assert row.totals["tension_seconds"].more == 16
        assert row.totals["sets"].more == 0
        assert row.totals["load_volume_kg"].more == 8
    (legs,) = [row for row in compared.rows if (row.day, row.level) == ("legs", "starter")]
    assert legs.totals["load_volume_kg"].before == 40
    assert legs.totals["load_volume_kg"].percent == 20


def test_a_day_that_is_trained_twice_counts_twice_in_the_week(tmp_path: Path) -> None:
    compared = edition(tmp_path, ("on: [wed or thu]", "on: [wed, fri]"))
    for level in ("starter", "steady"):
        (week,) = [row for row in compared.rows if (row.day, row.level) == ("", level)]
        (arms,) = [row for row in compared.rows if (row.day, row.level) == ("arms", level)]
        assert week.totals["seconds"].more == arms.totals["seconds"].now
        assert arms.totals["seconds"].more == 0


@pytest.mark.parametrize(
    ("name", "before", "now", "shown", "only"),
    [
        ("seconds", 2298, 2278, "38.3 → 38 min (−0.3, −0.9 %)", "−0.3 min (−0.9 %)"),
        ("sets", 16, 20, "16 → 20 (+4, +25 %)", "+4 (+25 %)"),
        ("sets", 16, 16, "16", ""),
        ("sets", 100, 101, "100 → 101 (+1, +1 %)", "+1 (+1 %)"),
        ("sets", 1000, 1014, "1000 → 1014 (+14, +1 %)", "+14 (+1 %)"),
        ("sets", 1000, 985, "1000 → 985 (−15, −2 %)", "−15 (−2 %)"),
        ("sets", 1000, 1009, "1000 → 1009 (+9, +0.9 %)", "+9 (+0.9 %)"),
        ("contacts", 0, 12, "0 → 12 (+12)", "+12"),
        ("load_volume_kg", None, 40, "40 kg", ""),
        ("tension_seconds", 560, None, "560 s → –", ""),
        ("sets", 16, Fraction(1601, 100), "16 → 16 (+0.01, +0.1 %)", "+0.01 (+0.1 %)"),
    ],
)
def test_a_figure_is_shown_with_its_difference_and_its_percentage(
    name: str, before: int | None, now: int | None, shown: str, only: str
) -> None:
    sides = (None if value is None else Fraction(value) for value in (before, now))
    difference = Difference(*sides)
    assert cell(name, difference) == shown
    assert step(name, difference) == only


# --- from phase to phase -------------------------------------------------------------------------------


def test_a_new_phase_is_compared_with_the_newest_edition_of_the_one_before(tmp_path: Path) -> None:
    programme = trees.checked(trees.copy_of_good(tmp_path)).catalogue.programmes["home"]
    found = {v.name: previous(programme, v) for v in programme.versions}
    assert {name: entry and entry.name for name, entry in found.items()} == {
        "1.0": None,
        "1.1": "1.0",
        "2.0": "1.1",
    }


def test_a_new_phase_tells_what_is_new_gone_and_more(tmp_path: Path) -> None:
    catalogue = trees.checked(trees.copy_of_good(tmp_path)).catalogue
    programme = catalogue.programmes["home"]
    sides = {v.name: side(catalogue, v, list(computed_sessions(catalogue, v))) for v in programme.versions}
    steps = compare(sides["1.1"], sides["2.0"]).steps
    assert steps is not None
    assert steps.new == ()
    assert steps.gone == ("Wall sit", "Bear crawl", "Side plank", "High push-up", "Three-way arm raise")
    assert "Step back: 6 to 7 → 7 reps each side" in steps.lines
    assert "Push-up: 8 to 9 → 8 reps (Steady)" in steps.lines, "starters did not do it before"
