"""Words of messages: the nearest known word, lists as prose, and values as they are quoted."""

import pytest
from phasepress.reading.findings import MOST_TOLD, Fault, Finding, bounded, in_order, listed, nearest, shown


@pytest.mark.parametrize(
    ("word", "known", "hint"),
    [
        ("circiut", ["circuit", "straight sets"], 'did you mean "circuit"?'),
        ("Saturday", ["sat", "sun"], 'did you mean "sat"?'),
        ("cue", ["cues", "cautions"], 'did you mean "cues"?'),
        ("wallsit", ["wall-sit", "wall-push-up"], 'did you mean "wall-sit"?'),
        ("zzz", ["cues", "cautions"], ""),
        ("anything", [], ""),
        (None, ["note"], ""),
        (5, ["5 s"], ""),
    ],
)
def test_the_nearest_word_is_named_when_one_is_near(word: object, known: list[str], hint: str) -> None:
    assert nearest(word, known) == hint


def test_of_two_words_just_as_near_the_same_one_is_named_every_time() -> None:
    assert nearest("reps", {"rep", "rap", "reb"}) == nearest("reps", ["reb", "rap", "rep"])


@pytest.mark.parametrize(
    ("words", "said"),
    [([], "none"), (["a"], "a"), (["a", "b"], "a or b"), (["a", "b", "c"], "a, b or c")],
)
def test_words_are_listed_as_prose(words: list[str], said: str) -> None:
    assert listed(words) == said
    assert listed(words, "and") == said.replace(" or ", " and ")


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (None, "nothing"),
        (True, "true"),
        (8, "8"),
        (2.5, "2.5"),
        ("8", '"8"'),
        ("", '""'),
        ({"a": 1}, "a mapping"),
        ([1], "a list"),
        ("two\n lines", '"two lines"'),
        ("x" * 41, '"' + "x" * 37 + '..."'),
        ("\x1b[31mred\0", '"\\u001b[31mred\\u0000"'),
        ("right\u202eleft", '"right\\u202eleft"'),
    ],
)
def test_a_value_is_quoted_short_and_on_one_line(value: object, said: str) -> None:
    assert shown(value) == said


def test_findings_are_sorted_by_file_and_place_and_told_once() -> None:
    def at(file: str, line: int, column: int = 1, check: str = "key") -> Finding:
        return Finding(check, "error", file, line, column, "", "words")

    mixed = [at("b", 1), at("a", 10), at("a", 9, 2), at("a", 9), at("a", 9, check="dose"), at("a", 10)]
    assert [(f.file, f.line, f.column, f.check) for f in in_order(mixed)] == [
        ("a", 9, 1, "dose"),
        ("a", 9, 1, "key"),
        ("a", 9, 2, "key"),
        ("a", 10, 1, "key"),
        ("b", 1, 1, "key"),
    ]


def test_findings_equal_but_for_one_thing_are_all_told_and_always_in_one_order() -> None:
    def one(**said: str) -> Finding:
        words = {"check": "dose", "severity": "error", "at": "a", "message": "m", "hint": "h"}
        return Finding(**{"file": "f", "line": 1, "column": 1, **words, **said})  # type: ignore[arg-type]

    ordered = [
        one(),
        one(hint="i"),
        one(severity="note"),
        one(severity="warning"),
        one(message="n", severity="error"),
        one(at="b", message="a"),
    ]
    for mixed in (ordered, ordered[::-1], ordered[3:] + ordered[:3]):
        assert in_order(mixed) == ordered


def test_faults_beyond_the_bound_are_told_in_one_line() -> None:
    faults = [Fault("key", (n,), "words") for n in range(MOST_TOLD)]
    assert bounded(faults) == faults
    assert len(bounded(faults + faults)) == MOST_TOLD + 1
    assert "more faults" in bounded(faults + faults)[-1].message


def test_bounding_does_not_look_further_than_it_must() -> None:
    def endless():
        while True:
            yield Fault("key", (), "words")

    assert len(bounded(endless())) == MOST_TOLD + 1
