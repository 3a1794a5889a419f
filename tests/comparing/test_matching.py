"""Which station and which day was which, where more than one could be: worked out by hand from the rule."""

from collections.abc import Sequence

import pytest
from phasepress.comparing.matching import Pair, days, stations
from phasepress.computing.resolve import PlannedBlock, PlannedSession, PlannedStation, Section

Slots = Sequence[str]
"""For each station the exercises, one letter each, that it has in one level or another."""


def station(label: str, exercise: str, section: Section = "day") -> PlannedStation:
    return PlannedStation(
        label, section, exercise, "squat", "both", "reps", 5, 0, 3, 3, None, 0, 0, "none", 1, 0
    )


def block(label: str, section: Section, inside: list[PlannedStation]) -> PlannedBlock:
    return PlannedBlock(label, section, "circuit", 1, 60, 15, 60, tuple(inside))


def day(slots: Slots, name: str = "day", warm_up: Slots = ()) -> list[PlannedSession]:
    """A session for each level, of which the first has the first letter of each slot, and so on."""
    levels = range(max(len(letters) for letters in (*slots, *warm_up)))

    def planned(some: Slots, mark: str, section: Section, level: int) -> list[PlannedStation]:
        numbered = enumerate(some, 1)
        return [station(f"{mark}{n}", one[min(level, len(one) - 1)], section) for n, one in numbered]

    return [
        PlannedSession(
            name, f"level {level}", 1,
            (block("warm-up", "warm-up", planned(warm_up, "warm-up ", "warm-up", level)),
             block("A", "day", planned(slots, "A", "day", level))),
        )
        for level in levels
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("before", "now", "pairs"),
    [
        # The most in common first, though another is nearer.
        (["ab", "x"], ["y", "ac", "abd"], [(None, "A1"), (None, "A2"), ("A1", "A3"), ("A2", None)]),
        # Of equally much the nearer, be it before or after.
        (["x", "ab", "y", "ac"], ["ad"], [("A2", "A1"), ("A1", None), ("A3", None), ("A4", None)]),
        (
            ["ab", "x", "ac"],
            ["p", "q", "r", "ad"],
            [(None, "A1"), (None, "A2"), (None, "A3"), ("A3", "A4"), ("A1", None), ("A2", None)],
        ),
        # Equally near: the earlier of now, the earlier of before.
        (["x", "ab"], ["ac", "p", "ad"], [("A2", "A1"), (None, "A2"), (None, "A3"), ("A1", None)]),
        (["ab", "x", "ac"], ["p", "ad"], [(None, "A1"), ("A1", "A2"), ("A2", None), ("A3", None)]),
        # One in place of another between the same neighbours; not where more came than went.
        (["a", "b", "c"], ["a", "z", "c"], [("A1", "A1"), ("A2", "A2"), ("A3", "A3")]),
        (
            ["a", "b", "c"],
            ["a", "y", "z", "c"],
            [("A1", "A1"), (None, "A2"), (None, "A3"), ("A3", "A4"), ("A2", None)],
        ),
        # A station that is put in moves the labels after it, and nothing else.
        (["a", "b"], ["z", "a", "b"], [(None, "A1"), ("A1", "A2"), ("A2", "A3")]),
        # Labels count as numbers: the tenth stands after the ninth.
        (list("abcdefghij"), list("abcdefghij"), [(f"A{n}", f"A{n}") for n in range(1, 11)]),
    ],
)
def test_a_station_is_the_one_with_which_it_has_most_in_common_then_the_nearest(
    before: Slots, now: Slots, pairs: list[Pair]
) -> None:
    assert stations(day(before), day(now)) == pairs


def test_a_station_of_the_warm_up_is_none_of_the_day() -> None:
    found = stations(day(["b"], warm_up=["ac"]), day(["b", "ad"], warm_up=["z", "y"]))
    assert found == [
        (None, "warm-up 1"),
        (None, "warm-up 2"),
        ("A1", "A1"),
        (None, "A2"),
        ("warm-up 1", None),
    ]


@pytest.mark.parametrize(
    ("before", "now", "pairs"),
    [
        # The id goes before what is trained.
        ({"one": "ab", "two": "cd"}, {"one": "cd", "two": "ab"}, [("one", "one"), ("two", "two")]),
        # Half of the exercises in common is enough, 2 × 1 of 4; 2 × 1 of 5 is not.
        ({"one": "ab"}, {"new": "ax"}, [("one", "new")]),
        ({"one": "abc"}, {"new": "ax"}, [(None, "new"), ("one", None)]),
        # The most alike; of equally alike ones the first.
        ({"one": "abx", "two": "abc"}, {"new": "abc"}, [("two", "new"), ("one", None)]),
        ({"one": "ab", "two": "ac"}, {"new": "ax"}, [("one", "new"), ("two", None)]),
        # None is taken twice.
        ({"one": "ab"}, {"new": "ab", "other": "ab"}, [("one", "new"), (None, "other")]),
    ],
)
def test_a_day_is_the_one_of_its_id_or_the_most_alike_of_those_that_are_gone(
    before: dict[str, str], now: dict[str, str], pairs: list[Pair]
) -> None:
    def planned(every: dict[str, str]) -> list[PlannedSession]:
        return [session for name, letters in every.items() for session in day(list(letters), name)]

    assert days(planned(before), planned(now)) == pairs
