"""What holds for every session, tried on random ones."""

from dataclasses import replace
from decimal import Decimal
from itertools import accumulate, groupby

from hypothesis import given
from hypothesis import strategies as st
from phasepress.computing.resolve import PlannedBlock, PlannedSession, PlannedStation
from phasepress.computing.running_order import RunningOrder, running_order, work_seconds
from phasepress.computing.totals import totals
from phasepress.reading.amounts import Number, Tempo, number

SECONDS = st.integers(0, 240).map(lambda halves: number(Decimal(halves) / 2))
SOME_SECONDS = SECONDS.filter(bool)
SIDES = st.sampled_from(["both", "each", "alternating"])
MEASURES = st.sampled_from(["reps", "hold", "time", "distance"])


@st.composite
def stations(draw: st.DrawFn, label: str = "A1", section: str = "day") -> PlannedStation:
    measure = draw(MEASURES)
    rep = draw(st.integers(1, 16).map(lambda halves: number(Decimal(halves) / 2)))
    counted = measure == "reps"
    timed = counted or (measure == "time" and draw(st.booleans()))
    return PlannedStation(
        label=label,
        section=section,  # type: ignore[arg-type]
        exercise=draw(st.sampled_from(["squat", "row", "jump"])),
        pattern=draw(st.sampled_from(["squat", "pull", "jump"])),
        sides=draw(SIDES) if measure != "hold" else draw(st.sampled_from(["both", "each"])),
        measure=measure,
        amount=draw(st.integers(1, 12)) if counted else draw(SOME_SECONDS),
        metres=draw(st.integers(1, 50)) if measure == "distance" else 0,
        rep=rep if timed else None,
        rep_before_pause_high=rep if timed else None,
        tempo=Tempo(rep, 0, 0, 0, "x") if timed else None,
        load=draw(st.integers(0, 8)) if counted else 0,
        contacts=draw(st.integers(0, 2)),
        landing=draw(st.sampled_from(["none", "low", "medium", "high"])),
        sets=draw(st.integers(1, 4)),
        rest=draw(SECONDS),
    )


@st.composite
def blocks(draw: st.DrawFn, label: str = "A", section: str = "day", kinds: str = "") -> PlannedBlock:
    kind = kinds or draw(st.sampled_from(["circuit", "straight sets", "every minute", "timed rounds"]))
    many = draw(st.integers(1, 4))
    inside = tuple(draw(stations(f"{label}{n + 1}", section)) for n in range(many))
    if kind == "every minute":
        inside = tuple(station for station in inside if work_seconds(station) <= 60)
        inside = inside or (replace_hold(draw(stations(f"{label}1", section))),)
    times: Number = draw(SOME_SECONDS) if kind == "timed rounds" else draw(st.integers(1, 6))
    rests = [draw(SECONDS) for _ in range(3)]
    return PlannedBlock(label, section, kind, times if kind != "straight sets" else 1, *rests, inside)  # type: ignore[arg-type]


def replace_hold(station: PlannedStation) -> PlannedStation:
    """The station as a hold that fits into any minute."""
    return station._replace(measure="hold", amount=10, rep=None, rep_before_pause_high=None)


@st.composite
def sessions(draw: st.DrawFn) -> PlannedSession:
    inside = [draw(blocks(label)) for label in "ABC"[: draw(st.integers(0, 3))]]
    warm_up = [draw(blocks("warm-up", "warm-up"))] if draw(st.booleans()) else []
    return PlannedSession("day", "starter", 1, tuple(warm_up + inside))


def alone(block: PlannedBlock) -> RunningOrder:
    return running_order(PlannedSession("day", "starter", 1, (block,)))


@given(sessions())
def test_starts_are_the_running_sum_of_the_lengths_from_0(session: PlannedSession) -> None:
    order = running_order(session)
    ends = list(accumulate(segment.length for segment in order.segments))
    assert [segment.start for segment in order.segments] == [0, *ends][: len(order.segments)]
    assert order.seconds == (ends[-1] if ends else 0)


@given(sessions())
def test_no_segment_is_empty_and_work_is_the_sum_of_the_work_segments(session: PlannedSession) -> None:
    order = running_order(session)
    assert all(segment.length > 0 for segment in order.segments)
    assert order.work_seconds == sum(s.length for s in order.segments if s.kind == "work")


@given(sessions())
def test_a_session_lasts_as_long_as_its_blocks_and_the_rests_between_them(session: PlannedSession) -> None:
    rests = sum(block.rest_after for block in session.blocks[:-1])
    assert running_order(session).seconds == sum(alone(block).seconds for block in session.blocks) + rests


@given(blocks(kinds="circuit") | blocks(kinds="straight sets") | blocks(kinds="every minute"))
def test_left_is_done_as_often_and_as_long_as_right_and_always_first(block: PlannedBlock) -> None:
    sided = [segment for segment in alone(block).segments if segment.side]
    left, right = sided[::2], sided[1::2]
    assert [(s.station, s.round, s.length, s.reps) for s in left] == [
        (s.station, s.round, s.length, s.reps) for s in right
    ]
    assert {s.side for s in left} <= {"left"}
    assert {s.side for s in right} <= {"right"}


@given(blocks(kinds="circuit"))
def test_twice_the_rounds_take_twice_the_time_and_one_rest(block: PlannedBlock) -> None:
    double = replace(block, times=2 * block.times)
    assert alone(double).seconds == 2 * alone(block).seconds + block.rest


@given(blocks(kinds="circuit"))
def test_half_the_rounds_are_half_the_sets_reps_and_landings(block: PlannedBlock) -> None:
    one, two = totals(alone(block)), totals(alone(replace(block, times=2 * block.times)))
    assert (2 * one.work.sets, 2 * one.work.reps, 2 * one.work.tension) == (
        two.work.sets,
        two.work.reps,
        two.work.tension,
    )
    assert (2 * one.contacts, 2 * one.load_volume) == (two.contacts, two.load_volume)


@given(blocks(kinds="timed rounds"))
def test_a_time_cap_takes_exactly_its_cap(block: PlannedBlock) -> None:
    assert alone(block).seconds == block.times


@given(blocks(kinds="timed rounds"), SOME_SECONDS)
def test_a_longer_cap_never_counts_less(block: PlannedBlock, more: Number) -> None:
    shorter, longer = totals(alone(block)), totals(alone(replace(block, times=block.times + more)))
    assert shorter.work.sets <= longer.work.sets
    assert shorter.work.tension <= longer.work.tension


@given(blocks(kinds="every minute"))
def test_every_minute_takes_exactly_its_minutes_and_begins_a_station_at_each(block: PlannedBlock) -> None:
    order = alone(block)
    assert order.seconds == 60 * block.times
    first = [
        next(bout) for _, bout in groupby((s for s in order.segments if s.station), lambda s: s.start // 60)
    ]
    assert [segment.start for segment in first] == [60 * minute for minute in range(int(block.times))]


@given(blocks(kinds="straight sets"))
def test_straight_sets_do_every_set_of_every_station(block: PlannedBlock) -> None:
    assert totals(alone(block)).work.sets == sum(station.sets for station in block.stations)


@given(sessions())
def test_patterns_and_exercises_each_add_up_to_the_whole(session: PlannedSession) -> None:
    found = totals(running_order(session))
    for parts in (found.patterns, found.exercises):
        assert sum(work.sets for work in parts.values()) == found.work.sets
        assert sum(work.reps for work in parts.values()) == found.work.reps
        assert sum(work.tension for work in parts.values()) == found.work.tension


@given(sessions())
def test_landings_by_intensity_never_exceed_all_landings(session: PlannedSession) -> None:
    found = totals(running_order(session))
    assert sum(found.contacts_by_landing.values()) <= found.contacts


@given(blocks(kinds="circuit"))
def test_reps_in_the_segments_are_the_reps_of_the_volume(block: PlannedBlock) -> None:
    order = alone(block)
    assert sum(segment.reps or 0 for segment in order.segments) == totals(order).work.reps


@given(sessions())
def test_the_same_session_gives_the_same_order(session: PlannedSession) -> None:
    again = replace(session, blocks=tuple(replace(block) for block in session.blocks))
    assert running_order(session).segments == running_order(again).segments
