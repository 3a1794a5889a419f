"""What is gathered from the sessions of a version; expected by hand."""

from pathlib import Path

from phasepress.computing.facts import exercises_of, loads_of, once_an_order

from tests.fixtures.sessions import session as computed

BLOCKS = """
- kind: circuit
  rounds: 1
  stations:
    - {exercise: second, reps: 5, load: 4 kg}
    - {exercise: first, reps: 5, load: 2 kg}
    - {exercise: second, reps: 6, load: 4 kg}
    - {exercise: first, reps: 6, load: 10 kg}
    - {exercise: first, reps: 6}
"""
LIFT = "sides: both, measure: reps, tempo: 2-0-1-0, loadable: true"


def test_loads_are_told_once_each_and_the_lightest_first(tmp_path: Path) -> None:
    session = computed(tmp_path, BLOCKS, {"first": LIFT, "second": LIFT})
    assert loads_of([session, session]) == [2, 4, 10]


def test_exercises_are_told_once_each_in_the_order_in_which_they_are_met(tmp_path: Path) -> None:
    session = computed(tmp_path, BLOCKS, {"first": LIFT, "second": LIFT})
    assert [name for name in exercises_of([session, session]) if name != "rest"] == ["second", "first"]


def test_what_is_worked_out_of_a_running_order_is_worked_out_once(tmp_path: Path) -> None:
    session = computed(tmp_path, BLOCKS, {"first": LIFT, "second": LIFT})
    asked = []
    many = once_an_order(lambda order: asked.append(order) or order.many)  # type: ignore[func-returns-value]
    assert [many(session.order), many(session.order)] == [session.order.many] * 2
    assert asked == [session.order]
