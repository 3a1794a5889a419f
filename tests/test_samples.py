"""What `make test` leaves to `make test-all` is chosen by one rule."""

import pytest

from tests.samples import every, in_turn, size


def test_everything_is_everything() -> None:
    assert every("abcdef", few=2, everything=True) == list("abcdef")
    assert every("abcdef", few="c", everything=True) == list("abcdef")
    assert in_turn("abcdef", 4, few=2, everything=True) == list("abcdef")
    assert size(200, few=20, everything=True) == 200


@pytest.mark.parametrize(
    ("few", "taken"),
    [(2, "aj"), (3, "aej"), (4, "adgj"), (9, "abcdeghij"), (10, "abcdefghij"), (50, "abcdefghij")],
)
def test_a_few_are_spread_from_the_first_to_the_last(few: int, taken: str) -> None:
    found = every("abcdefghij", few=few, everything=False)
    assert "".join(found) == taken


def test_cases_that_are_named_have_to_be_there() -> None:
    assert every("abcdef", few="fb", everything=False) == ["f", "b"]
    with pytest.raises(AssertionError):
        every("abcdef", few="x", everything=False)


def test_one_case_is_no_sample() -> None:
    with pytest.raises(ValueError, match="two"):
        every("abcdef", few=1, everything=False)


def test_in_turn_each_case_is_taken() -> None:
    turns = [in_turn("abcdefgh", turn, few=3, everything=False) for turn in range(8)]
    assert [len(set(one)) for one in turns] == [3] * 8
    assert {case for one in turns for case in one} == set("abcdefgh")
    assert size(200, few=20, everything=False) == 20
    assert size(10, few=20, everything=False) == 10
