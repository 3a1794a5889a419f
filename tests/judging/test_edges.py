"""Bounds and words of checks that the other files do not reach: just inside, just outside, and what is told; by hand."""

from pathlib import Path

import pytest

from tests.fixtures import trees
from tests.fixtures.phases import (
    LEVELS,
    TWO_LEVELS,
    day,
    found,
    one_day,
    planted,
    sets,
    version,
)
from tests.fixtures.sessions import routine

SQUATS = sets("squat, sets: 2, reps: 8")


# --- cool-down-length: habit, no source --------------------------------------------------------------------------


def cooled_down(to: Path, *blocks: str) -> list[str]:
    """What is told of a cool-down of these blocks, after a day of squats with a long rest after them."""
    last = "{kind: circuit, rounds: 1, rest after: 4 min, stations: [{exercise: squat, reps: 8}]}"
    tree = planted(to, {"1.0": version(day(SQUATS, last))})
    (tree / "routines/easy.yaml").write_text(routine("cool-down", "\n".join(blocks)), encoding="utf-8")
    trees.change(tree / "trial/1.0.yaml", "warm-up: ready\n", "warm-up: ready\n    cool-down: easy\n")
    return [finding.message for finding in found(tree, "cool-down-length", "easy")]


def easy(seconds: int, rest_after: str = "60 s") -> str:
    station = f"{{exercise: ready, work: {seconds} s}}"
    return f"- {{kind: circuit, rounds: 1, rest after: {rest_after}, stations: [{station}]}}"


def test_a_cool_down_lasts_five_minutes_from_its_start_to_its_end(tmp_path: Path) -> None:
    """The rest before it is none of it, the rest between its blocks is, and the one after the last is not."""
    assert cooled_down(tmp_path / "a", easy(300)) == []
    assert cooled_down(tmp_path / "b", easy(120, "60 s"), easy(120, "9 min")) == []
    (told,) = cooled_down(tmp_path / "c", easy(120, "60 s"), easy(119, "9 min"))
    assert told.startswith("easy: a cool-down of 4 min 59 s (estimate); 5 min or more is ")


# --- match-near --------------------------------------------------------------------------------------------------


def test_of_several_sessions_the_one_with_the_largest_share_for_the_legs_is_told(tmp_path: Path) -> None:
    """3 of 6 in week 1, 2 of 3 in week 2, 2 of 6 in week 3, which is a third."""
    block = sets("squat, sets: [3, 2, 2], reps: 8", "push, sets: [3, 1, 4], reps: 8")
    text = version(day(block, on="[fri]"), weeks=3, keys="match days: [sat]")
    (finding,) = found(planted(tmp_path, {"1.0": text}), "match-near")
    assert (
        "day, starter in weeks 1 and 2: on the day before a match, with 2 of 3 sets in squat"
        in finding.message
    )
    assert finding.at == "trial 1.0 day starter in weeks 1 and 2"


# --- rest-days ---------------------------------------------------------------------------------------------------


def test_weeks_are_told_with_the_days_that_they_leave_free(tmp_path: Path) -> None:
    """Two sessions and four matches leave one day free; in week 2 a third session takes that too."""
    more = sets("squat, sets: {starter: [0, 2, 0], steady: 0}, reps: 8")
    days = day(SQUATS, on="[mon, wed]"), day(more, name="more", on="[fri]")
    text = version(*days, weeks=3, keys="match days: [tue, thu, sat, sun]")
    none, one = found(planted(tmp_path, {"1.0": text}, TWO_LEVELS), "rest-days")
    assert none.message.startswith(
        "starter in week 2: sessions and match days leave no day of the week free; "
    )
    assert one.message.startswith(
        "starter in weeks 1 and 3; steady in weeks 1 to 3: sessions and match days leave 1 day of the week free; "
    )
    assert {each.at: each.severity for each in (none, one)} == {
        "trial 1.0 starter in week 2": "warning",
        "trial 1.0 starter in weeks 1 and 3; steady in weeks 1 to 3": "note",
    }


# --- sessions-per-week -------------------------------------------------------------------------------------------


def test_a_week_without_any_session_and_one_with_too_many_are_told_each_with_its_way_out(
    tmp_path: Path,
) -> None:
    block = sets("squat, sets: [0, 2], reps: 8")
    text = version(day(block, on="[mon, wed, fri, sun]"), weeks=2)
    findings = found(planted(tmp_path, {"1.0": text}), "sessions-per-week")
    assert [each.message.split(";")[0] for each in findings] == [
        "no sessions a week, starter in week 1",
        "4 sessions a week, starter in week 2",
    ]
    assert ["elsewhere" in each.hint for each in findings] == [True, False]


# --- two-at-once -------------------------------------------------------------------------------------------------


def beside(to: Path, other: str, ages: str = "[13, 15]", more: str = "") -> list[str]:
    """What is told of another programme beside one for ages 13 to 14 of two sessions a week, for three weeks."""
    own = version(day(SQUATS, on="[mon, thu]"), weeks=3)
    tree = planted(to, {"1.0": own}, f"{TWO_LEVELS}\naudience: {{ages: [13, 14]}}")
    for name, text in (("more", other), ("third", more)):
        if text:
            (tree / name).mkdir()
            head = f"title: {name}\n{TWO_LEVELS}\naudience: {{ages: {ages}}}\n"
            (tree / name / "programme.yaml").write_text(head, encoding="utf-8")
            (tree / name / "1.0.yaml").write_text(text, encoding="utf-8")
    findings = trees.checked(tree).findings
    assert [each.message for each in findings if each.severity == "error"] == []
    return [each.message.split(";")[0] for each in findings if each.check == "two-at-once"]


def test_the_first_week_with_too_many_sessions_together_is_told(tmp_path: Path) -> None:
    """Of two programmes that start together the second by its id is told. The steady train one session of the other
    in week 1 and none in week 2; in week 3 all train two."""
    often = sets("squat, sets: {starter: [0, 0, 2], steady: [2, 0, 2]}, reps: 8")
    seldom = sets("squat, sets: {starter: [0, 0, 2], steady: 0}, reps: 8")
    text = version(day(often, name="a", on="[tue]"), day(seldom, name="b", on="[sat]"), weeks=3)
    assert beside(tmp_path, text) == [
        "more 1.0 is for athletes of 13 to 14 years too: together 4 sessions in week 3"
    ]


def test_a_week_in_which_one_of_two_rests_has_only_the_others_sessions(tmp_path: Path) -> None:
    text = version(day(sets("squat, sets: [0, 2], reps: 8"), on="[tue, wed, sat, sun]"), weeks=2)
    assert beside(tmp_path, text) == [
        "more 1.0 is for athletes of 13 to 14 years too: together 6 sessions in week 2"
    ]


@pytest.mark.parametrize(("starts", "told"), [("2027-01-25", 1), ("2027-02-01", 0)])
def test_programmes_are_at_once_up_to_the_last_week_of_the_first(
    starts: str, told: int, tmp_path: Path
) -> None:
    assert len(beside(tmp_path, version(day(SQUATS, on="[tue, sat]"), weeks=4, starts=starts))) == told


def test_weeks_are_compared_by_the_calendar(tmp_path: Path) -> None:
    """The one that starts two weeks later has its first week in the third of the other, in which that rests."""
    tree = planted(
        tmp_path,
        {"1.0": version(day(sets("squat, sets: [2, 2, 0], reps: 8"), on="[mon, thu]"), weeks=3)},
        f"{LEVELS}\naudience: {{ages: [13, 14]}}",
    )
    (tree / "more").mkdir()
    (tree / "more/programme.yaml").write_text(f"title: More\n{LEVELS}\naudience: {{ages: [13, 14]}}\n")
    text = version(day(SQUATS, on="[tue, sat]"), weeks=3, starts="2027-01-25")
    (tree / "more/1.0.yaml").write_text(text, encoding="utf-8")
    assert found(tree, "two-at-once") == []


def test_of_three_at_once_each_later_one_names_the_first_with_which_it_is_too_much(tmp_path: Path) -> None:
    later = [version(day(SQUATS, on="[tue, sat]"), starts=starts) for starts in ("2027-01-18", "2027-01-25")]
    assert (
        sorted(beside(tmp_path, *later[:1], more=later[1]))
        == ["trial 1.0 is for athletes of 13 to 14 years too: together 4 sessions in week 1"] * 2
    )


def test_who_is_of_both_ages_is_told_by_one_number_where_it_is_one(tmp_path: Path) -> None:
    (told,) = beside(tmp_path, version(day(SQUATS, on="[tue, sat]")), "[14, 17]")
    assert "for athletes of 14 years too" in told


# --- easy-week ---------------------------------------------------------------------------------------------------


def test_levels_with_the_same_weeks_are_told_together_with_the_week_since_when(tmp_path: Path) -> None:
    block = sets("push, sets: 2, reps: [9, 8, 9, 9, 9, 9]")
    (finding,) = found(planted(tmp_path, {"1.0": version(day(block), weeks=6)}, TWO_LEVELS), "easy-week")
    assert finding.message.startswith(
        "starter and steady: 4 weeks up to week 6 with none lighter than the one before, from week 3 on; "
    )
    assert finding.at == "trial 1.0 starter and steady week 6"


def test_a_run_from_the_first_week_on_is_none_of_the_phase_before(tmp_path: Path) -> None:
    versions = {
        "1.0": version(day(sets("push, sets: 2, reps: [9, 8]")), weeks=2),
        "2.0": version(day(sets("push, sets: 2, reps: [7, 8, 8, 8, 8]")), weeks=5, starts="2027-01-25"),
    }
    (finding,) = found(planted(tmp_path / "a", versions), "easy-week")
    assert "4 weeks up to week 5 with none lighter than the one before, from week 2 on" in finding.message
    versions["2.0"] = versions["2.0"].replace("[7, 8, 8, 8, 8]", "[8, 8, 8, 8, 7]")
    (finding,) = found(planted(tmp_path / "b", versions), "easy-week")
    assert "4 weeks up to week 4 with none lighter than the one before, from week 1 on" in finding.message


# --- week-step and load-step -------------------------------------------------------------------------------------


def test_a_phase_that_ended_with_a_week_off_is_looked_back_at_in_its_last_trained_one(tmp_path: Path) -> None:
    versions = {
        "1.0": version(day(sets("push, sets: [4, 2, 0], reps: 8")), weeks=3),
        "2.0": version(day(sets("push, sets: 3, reps: 8")), starts="2027-02-01"),
    }
    programme = f"{LEVELS}\nlimits: {{week step: 25 %}}"
    (finding,) = found(planted(tmp_path, versions, programme), "week-step")
    assert "week 1 on week 2 of 1.0: sets 4 to 6 (up 50 %)" in finding.message


def test_four_steps_are_told_whole_and_of_five_the_first_four(tmp_path: Path) -> None:
    for weeks, more in ((5, ""), (6, "; and 1 more")):
        loads = ", ".join(f"{2**week} kg" for week in range(weeks))
        block = sets(f"squat, sets: 2, reps: 8, load: [{loads}]")
        (finding,) = found(
            planted(tmp_path / str(weeks), {"1.0": version(day(block), weeks=weeks)}), "load-step"
        )
        assert f"to 16 kg in week 5, up 100 %{more}; outside NSCA" in finding.message


def test_an_exercise_that_was_not_loaded_in_the_phase_before_is_no_step(tmp_path: Path) -> None:
    versions = {
        "1.0": version(day(sets("squat, sets: 2, reps: 8", "bridge, sets: 2, reps: 8, load: 1 kg"))),
        "2.0": version(day(sets("squat, sets: 2, reps: 8, load: 4 kg")), starts="2027-01-18"),
    }
    assert found(planted(tmp_path, versions), "load-step") == []


# --- contacts ----------------------------------------------------------------------------------------------------

UNCOUNTED = {"jump": "pattern: jump, sides: both, measure: time, contacts: 1, landing: medium"}


def test_landings_that_cannot_be_counted_are_told_and_accepted_once_a_station(tmp_path: Path) -> None:
    block = (
        "{kind: circuit, rounds: 2, stations: [{exercise: jump, work: 20 s}, {exercise: jump, work: 30 s}]}"
    )
    accept = "accept: [{check: contacts, because: We count by ear.}]"
    tree = planted(tmp_path, {"1.0": version(day(block), weeks=2, keys=accept)}, TWO_LEVELS, UNCOUNTED)
    assert [finding.message.split(":")[0] for finding, _ in trees.checked(tree).accepted] == [
        "day, A1",
        "day, A2",
    ]


def test_landings_are_told_of_the_weeks_that_have_too_many_with_the_most(tmp_path: Path) -> None:
    block = sets("bounce, sets: 5, reps: [21, 20, 22]")
    tree = one_day(tmp_path, block, weeks=3)
    (warning,) = [each for each in found(tree, "contacts") if each.severity == "warning"]
    assert warning.message.startswith("day, starter: up to 110 landings in weeks 1 and 3; outside ")
    assert warning.at == "trial 1.0 day starter weeks 1 and 3"


def test_a_week_of_landings_is_told_with_the_most_of_the_first_two(tmp_path: Path) -> None:
    block = sets("bounce, sets: 3, reps: [20, 21, 30]")
    told = [each for each in found(one_day(tmp_path, block, weeks=3), "contacts") if "a week" in each.message]
    assert [(each.message.split(";")[0], each.at) for each in told] == [
        ("starter: up to 126 landings a week in week 2", "trial 1.0 starter week 2")
    ]


def test_a_week_of_a_hundred_and_twenty_landings_is_inside_and_one_more_is_not(tmp_path: Path) -> None:
    """60 and 60, or 60 and 61 on two days of which each is inside."""
    for more, told in ((60, 0), (61, 1)):
        days = day(sets("bounce, sets: 5, reps: 12"), name="one", on="[mon]") + day(
            sets(f"bounce, sets: 1, reps: {more}"), name="two", on="[thu]"
        )
        found_here = found(planted(tmp_path / str(more), {"1.0": version(days)}), "contacts")
        assert len([each for each in found_here if "landings a week" in each.message]) == told


# --- session-length, warm-up-length, exercises: the most, the least and the many -----------------------------------


def test_the_longest_session_is_told_with_the_weeks_that_are_too_long(tmp_path: Path) -> None:
    """10 min, 60 s and one set of 24, 33 or 30 s."""
    block = sets("push, sets: 1, reps: [8, 11, 10]")
    tree = one_day(tmp_path, block, weeks=3, programme=f"{LEVELS}\nlimits: {{session: 685 s}}")
    longer = [each for each in found(tree, "session-length") if each.severity == "warning"]
    assert [each.message for each in longer] == [
        "day, starter: longer in weeks 2 and 3 than the programme's limit of 11 min 25 s; up to 11 min 33 s (estimate)"
    ]


def test_the_shortest_warm_up_is_told(tmp_path: Path) -> None:
    seconds = "{starter: 4 min, steady: 3 min}"
    warm_up = f"- {{kind: circuit, rounds: 1, stations: [{{exercise: ready, work: {seconds}}}]}}"
    (finding,) = found(
        planted(tmp_path, {"1.0": version(day(SQUATS))}, TWO_LEVELS, warm_up=warm_up), "warm-up-length"
    )
    assert finding.message.startswith("day, every level in week 1: a warm-up of 3 min (estimate); ")


def test_the_largest_number_of_exercises_is_told(tmp_path: Path) -> None:
    names = [f"push-{number}" for number in range(14)]
    extra = dict.fromkeys(names, "pattern: push, sides: both, measure: hold")
    stations = [f"{{exercise: {name}, hold: 20 s}}" for name in names[:13]]
    stations.append(f"{{exercise: {names[13]}, hold: {{starter: 0 s, steady: 20 s}}}}")
    block = f"{{kind: circuit, rounds: 2, stations: [{', '.join(stations)}]}}"
    (finding,) = found(planted(tmp_path, {"1.0": version(day(block))}, TWO_LEVELS, extra), "exercises")
    assert finding.message.startswith("day, every level in week 1: 14 exercises; ")


def test_a_landing_that_comes_nought_times_a_rep_is_none(tmp_path: Path) -> None:
    """A step down that is named medium and counts no landings: neither rest, order, days nor reps are those of jumps."""
    stays = {
        "jump": "pattern: lunge, sides: both, measure: reps, seconds per rep: 3, contacts: 0, landing: medium"
    }
    block = sets("push, sets: 2, reps: 8", "jump, sets: 2, reps: 11")
    tree = planted(tmp_path, {"1.0": version(day(block, on="[mon, tue]"))}, exercises=stays)
    for check in ("jump-days-apart", "land-first", "jumps-when-tired", "reps"):
        assert found(tree, check) == []
