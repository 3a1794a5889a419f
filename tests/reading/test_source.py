"""Reading YAML: the strict dialect, and the place of every key and value."""

import io
import math
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from phasepress.reading.source import MOST_BYTES, Document, read
from ruamel.yaml import YAML


def data(text: str | bytes) -> Any:
    """The data of a file without problems."""
    document = document_of(text)
    assert document.problems == []
    return document.data


def document_of(text: str | bytes) -> Document:
    return read("a.yaml", text.encode() if isinstance(text, str) else text)


def problems(text: str | bytes, check: str = "yaml") -> list[tuple[int, int, str]]:
    """Line, column and message of each problem; each comes with a hint."""
    found = document_of(text).problems
    assert all(each.hint and each.check == check and each.severity == "error" for each in found)
    return [(each.line, each.column, each.message) for each in found]


# --- scalars: YAML 1.2.2, section 10.3.2, core schema ---------------------------------------------------
# https://yaml.org/spec/1.2.2/#1032-tag-resolution; the patterns below are those of its table.

SPEC = [
    (r"null|Null|NULL|~|", lambda text: None),
    (r"true|True|TRUE", lambda text: True),
    (r"false|False|FALSE", lambda text: False),
    (r"[-+]?[0-9]+", int),
    (r"0o[0-7]+", lambda text: int(text[2:], 8)),
    (r"0x[0-9a-fA-F]+", lambda text: int(text[2:], 16)),
    (r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", float),
    (r"[-+]?(\.inf|\.Inf|\.INF)", lambda text: -math.inf if text[0] == "-" else math.inf),
    (r"\.nan|\.NaN|\.NAN", lambda text: math.nan),
]


def by_the_table(text: str) -> object:
    return next((make(text) for pattern, make in SPEC if re.fullmatch(pattern, text)), text)


def same(one: object, other: object) -> bool:
    both_nan = one != one and other != other
    return type(one) is type(other) and (one == other or both_nan)


# The same text read by a reference library for YAML 1.2 and by us.
AGREED = """
    1:30 0101 on off yes no y n ~ null Null NULL nULL true True TRUE tRUE false 0 -0 +0 12 +12 -19 0o17 0o8
    017 0x1F 0xfg 0. 0.5 .5 -.5 +12e03 -2E+05 1e3 1.5e 1e .inf -.Inf +.INF .nan .NAN inf nan a-b 1.2.3 3-0-1-0
    2-1-X-0 12:30:45 190:20:30 Infinity 0x 1e400 -1e400 007 09 0.0 é 😀 0o0 1e+ ..inf .NaN 1.e3 e3 . 25%"""


@pytest.mark.parametrize("text", AGREED.split())
def test_an_unquoted_value_is_what_yaml_1_2_says_and_what_a_reference_library_reads(text: str) -> None:
    reference = YAML(typ="safe", pure=True).load(f"- {text}\n")[0]
    (value,) = data(f"- {text}\n")
    assert same(value, reference)
    assert same(value, by_the_table(text))


# The reference library goes on beyond the core schema here, and we do not.
@pytest.mark.parametrize("text", ["2027-01-11", "1_000", "0b101", "=", "<<", "+0x1", "-0o7"])
def test_what_is_not_in_the_core_schema_is_text(text: str) -> None:
    assert data(f"- {text}\n") == [text]
    assert by_the_table(text) == text


@given(st.text(alphabet="0123456789+-.:eExXoO_aAfFnNiItTrRuUlL~", max_size=8).filter(lambda t: t not in "-."))
def test_any_short_word_is_read_by_the_table(text: str) -> None:
    if text.startswith(("- ", ":")) or text.endswith(":") or text in ("---", "-"):
        return
    (value,) = data(f"- {text}\n")
    assert same(value, by_the_table(text))


def test_a_number_too_long_for_any_use_stays_text() -> None:
    assert data("- " + "9" * 301) == ["9" * 301]
    assert data("- " + "9" * 300) == [10**300 - 1]


@pytest.mark.parametrize("text", ['"5"', "'5'", "|-\n  5", ">-\n  5"])
def test_a_quoted_or_block_value_is_text(text: str) -> None:
    assert data(f"a: {text}\n") == {"a": "5"}


def test_a_key_is_text_whatever_it_looks_like() -> None:
    assert data("1: a\non: b\n~: c\n1.0: d\n") == {"1": "a", "on": "b", "~": "c", "1.0": "d"}


def test_an_empty_file_holds_nothing() -> None:
    assert data("") is None
    assert data("# only a comment\n") is None


# --- agreement on whole files ---------------------------------------------------------------------------

VALUES = st.recursive(
    st.sampled_from(["text", "8", "1:30", "[a]", "", "é – ✓", "{x: y}", "- a", "a: b", "# no", " padded "]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("abcdé"), inner, max_size=3),
    max_leaves=12,
)


@given(VALUES)
def test_a_file_that_another_library_wrote_is_read_back(value: object) -> None:
    stream = io.BytesIO()
    YAML(typ="safe", pure=True).dump({"top": value}, stream)
    assert data(stream.getvalue()) == YAML(typ="safe", pure=True).load(stream.getvalue())


# --- anchors and aliases --------------------------------------------------------------------------------


def test_an_alias_stands_for_its_anchor() -> None:
    assert data("a: &x [1, 2]\nb: *x\nc: {d: *x}\ne: &y 8\nf: *y\n") == {
        "a": [1, 2],
        "b": [1, 2],
        "c": {"d": [1, 2]},
        "e": 8,
        "f": 8,
    }


def test_an_anchor_that_is_given_again_means_the_newer_value() -> None:
    assert data("a: &x 1\nb: &x 2\nc: *x\n")["c"] == 2


@pytest.mark.parametrize("text", ["a: *x\n", "a: &x [*x]\n", "a: &x {b: *x}\n"])
def test_an_alias_without_a_complete_anchor_is_told(text: str) -> None:
    ((_, _, message),) = problems(text)
    assert message == "the alias *x, with no complete anchor &x above it"


def test_aliases_may_not_multiply_without_bound() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 30)]
    ((_, _, message),) = problems("\n".join(lines))
    assert "more than 100,000 values" in message


def test_nesting_is_bounded_through_aliases_too() -> None:
    assert data("[" * 40 + "]" * 40)
    assert "nested more than 40 deep" in problems("[" * 41 + "]" * 41)[0][2]
    chain = ["a0: &a0 [x]"] + [f"a{n}: &a{n} [*a{n - 1}]" for n in range(1, 60)]
    ((line, _, message),) = problems("\n".join(chain))
    assert (line, message) == (40, "nested more than 40 deep"), "39 lists and the mapping around them"


# --- what is refused ------------------------------------------------------------------------------------


def test_a_key_that_stands_twice_is_told_and_the_first_one_counts() -> None:
    document = document_of("a: 1\nb: {c: 1, c: 2}\na: 3\n")
    assert [(p.line, p.column) for p in document.problems] == [(2, 11), (3, 1)]
    assert document.data == {"a": 1, "b": {"c": 1}}


@pytest.mark.parametrize(
    "tag", ["!!int", "!!python/object:os.system", "!plan", "!<tag:example.org,2027:x>", "!"]
)
def test_a_tag_is_told_and_the_file_is_read_on(tag: str) -> None:
    document = document_of(f"a: {tag} 1\nb: 2\nb: 3\n")
    assert [p.line for p in document.problems] == [1, 3]
    assert document.complete


def test_a_second_document_is_told() -> None:
    assert problems("a: 1\n---\nb: 2\n") == [(2, 1, "a second document in one file")]
    assert data("---\na: 1\n...\n") == {"a": 1}


@pytest.mark.parametrize("key", ["[a, b]: c", "{a: b}: c", "? [a]\n: c"])
def test_a_key_is_a_plain_word(key: str) -> None:
    ((_, _, message),) = problems(key)
    assert message == "a list or a mapping as a key"


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-32", "latin-1", "cp1252"])
def test_another_encoding_is_refused_whole(encoding: str) -> None:
    document = document_of("name: Größe – weit\n".replace("–", "-").encode(encoding))
    assert not document.complete
    assert document.data is None


def test_a_byte_that_is_not_utf_8_is_shown_where_it_stands() -> None:
    assert problems(b"a: x\nb: \xc3\xa9\xff\n") == [(2, 5, "the file is not UTF-8 text (byte 0xff)")]


@pytest.mark.parametrize("character", ["\u0085", "\u2028", "\u2029"])
def test_a_character_that_only_older_yaml_takes_for_a_line_end_is_refused(character: str) -> None:
    text = f"a: é{character}b c\nd: e\n"
    ((line, column, message),) = problems(text, "value")
    assert (line, column) == (1, 5)
    assert f"U+{ord(character):04X}" in message
    assert document_of(text).place(("d",)) == (2, 4)


FORBIDDEN = [chr(n) for n in (0x85, 0x2028, 0x2029, *range(0x202A, 0x202F), *range(0x2066, 0x206A))]


@pytest.mark.parametrize("character", FORBIDDEN, ids=ascii)
@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("a: b{}c\n", (1, 5)),
        ("a: 'b{}c'\n", (1, 6)),
        ('a: "b{}{}c"\n', (1, 6)),
        ("a: |\n  b\n  c{}\nd: e\n", (3, 4)),
        ("a{}b: c\n", (1, 2)),
        ("a: b # c{}d\n", (1, 9)),
        ("a: [b, &c d{}, *c, *c]\n", (1, 12)),
        ("{{a{}}}", (1, 3)),
    ],
)
def test_a_sign_that_acts_is_told_once_where_it_stands(
    text: str, place: tuple[int, int], character: str
) -> None:
    ((line, column, message),) = problems(
        text.replace("{}", character).replace("{{", "{").replace("}}", "}"), "value"
    )
    assert (line, column) == place
    assert f"U+{ord(character):04X}" in message


@pytest.mark.parametrize(
    ("escape", "name"),
    [(r"\N", "U+0085"), (r"\L", "U+2028"), (r"\P", "U+2029"), (r"\x85", "U+0085"), (r"\u202E", "U+202E"),
     (r"\U00002066", "U+2066"), (r"\e", "U+001B"), (r"\0", "U+0000"), (r"\r", "U+000D"), (r"\x7f", "U+007F"),
     (r"\x9b", "U+009B"), (r"\uFFFE", "U+FFFE"), (r"\U0001FFFF", "U+1FFFF")],
)  # fmt: skip
@pytest.mark.parametrize(
    "text", ['a: b\nc: "d{}e{}"\n', 'a: b\nc: ["d{}"]\n', 'a: b\nc: {"d{}": &x "e{}", f: *x}\n']
)
def test_a_sign_that_acts_is_told_at_the_text_that_holds_it_as_an_escape(
    text: str, escape: str, name: str
) -> None:
    text = text.replace("{}", escape)
    found = problems(text, "value")
    assert len(found) == text.count('"') // 2
    assert all(line == 2 and text.splitlines()[1][column - 1] in '"&' for line, column, _ in found)
    assert all(name in message for *_, message in found)


@pytest.mark.parametrize("text", ["می‌خواهم", "क्‍ष", "a\u200eb\u200fc", "👩‍👧", "tab\there", "e\u00a0f"])
def test_signs_that_words_need_are_left_alone(text: str) -> None:
    assert data(f'a: "{text}"\n') == {"a": text}


def test_what_else_is_wrong_is_told_beside_a_sign_that_acts() -> None:
    checks = [each.check for each in document_of("a: b\u202e\na: [c\n# \u2066").problems]
    assert sorted(checks) == ["value", "value", "yaml", "yaml"]


def test_a_control_character_is_shown_where_it_stands() -> None:
    assert problems("é: a\x07b\n") == [(1, 5, "the character U+0007, which YAML does not allow")]
    assert problems("\ufeffé: a\x07b\n") == [(1, 5, "the character U+0007, which YAML does not allow")]


def test_a_file_beyond_the_bound_is_not_parsed() -> None:
    assert "more than 1,000,000 bytes" in problems(b"x" * (MOST_BYTES + 1))[0][2]


# --- line ends and the byte order mark ------------------------------------------------------------------


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_line_end_counts_one_line(end: str) -> None:
    document = document_of(end.join(["a: 1", "b:", "  - x", "  - y: 2", ""]))
    assert document.data == {"a": 1, "b": ["x", {"y": 2}]}
    assert document.place(("b", 1, "y")) == (4, 8)


def test_a_byte_order_mark_takes_no_room() -> None:
    document = document_of(b"\xef\xbb\xbfa: 1\nb: 2\n")
    assert document.data == {"a": 1, "b": 2}
    assert document.place(("a",)) == (1, 4)
    assert document.place(("a",), at_key=True) == (1, 1)


# --- places ---------------------------------------------------------------------------------------------

TEXT = """\
name: Größe 😀
days:
  - {id: é, "on": [mon, tue]}
  - id: &two b
    blocks:
      - [1,
         2]
same: *two
"""


@pytest.mark.parametrize(
    ("path", "value", "key"),
    [
        ((), (1, 1), (1, 1)),
        (("name",), (1, 7), (1, 1)),
        (("days",), (3, 3), (2, 1)),
        (("days", 0), (3, 5), (3, 5)),
        (("days", 0, "id"), (3, 10), (3, 6)),
        (("days", 0, "on"), (3, 19), (3, 13)),
        (("days", 0, "on", 1), (3, 25), (3, 25)),
        (("days", 1, "id"), (4, 9), (4, 5)),
        (("days", 1, "blocks", 0, 1), (7, 10), (7, 10)),
        (("same",), (8, 7), (8, 1)),
    ],
)
def test_every_key_and_value_has_its_line_and_column(path, value, key) -> None:
    document = document_of(TEXT)
    assert document.place(path) == value
    assert document.place(path, at_key=True) == key


def test_columns_count_characters_and_not_bytes() -> None:
    document = document_of("- {größe: 😀é, z: 1}\n")
    assert document.place((0, "z")) == (1, 18)


def test_what_is_absent_is_shown_at_its_nearest_parent() -> None:
    document = document_of(TEXT)
    assert document.place(("days", 1, "blocks", 0, 9, "x")) == (6, 9)
    assert document.place(("nothing", "here"), at_key=True) == (1, 1)


def test_what_an_alias_stands_for_is_shown_at_the_alias() -> None:
    document = document_of("a: &x {b: 1}\nc: *x\n")
    assert document.place(("c", "b")) == (2, 4)


def test_places_before_a_stop_are_known() -> None:
    document = document_of("a: 1\nb: [\n")
    assert not document.complete
    assert document.place(("a",)) == (1, 4)


@given(VALUES)
def test_the_place_of_every_scalar_is_where_its_text_begins(value: object) -> None:
    stream = io.BytesIO()
    YAML(typ="safe", pure=True).dump({"top": value}, stream)
    document = document_of(stream.getvalue())
    lines = stream.getvalue().decode().splitlines()
    for path, one in leaves(document.data):
        line, column = document.place(path)
        shown = lines[line - 1][column - 1 :].lstrip("'\"")
        assert shown.startswith(str(one).split(" ")[0][:1] if one else shown[:1])


def leaves(value: object, path: tuple = ()) -> Any:
    if isinstance(value, dict | list):
        items = value.items() if isinstance(value, dict) else enumerate(value)
        for step, one in items:
            yield from leaves(one, (*path, step))
    else:
        yield path, value
