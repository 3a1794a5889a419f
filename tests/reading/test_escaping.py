"""The door for an author's text: what a terminal, a forge's log, JSON and Markdown make of it."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from phasepress.reading.escaping import (
    MOST_SHOWN,
    as_json,
    github_data,
    github_property,
    markdown,
    printable,
    terminal,
)

from tests.fixtures.reading_forges import UNSEEN, obeyed, references, rendered

PIECES = [
    "::error::", "::add-mask::x", "##[add-mask]x", "##vso[task]x", "@coach", "#1", "!1", "$x$", ":tada:", "\n", "\r", " ",
    "http://a.example", "www.b.example", "c@d.example", "<img src=x onerror=y>", "<!--", "**b**", "__b__", "~~s~~", "`", "``",
    "|", "\\", "[x](y)", "[x]: y", "![x](y)", "GH-1", "PROJ-12", "0a1b2c3d4e", "~l", "%1", "&1", "&amp;", "[^1]", "[^1]: z",
    "> [!NOTE]", "- [ ] x", "# x", "1. x", "+ x", "---", "===", "\t", "    x", "{+ x +}", "[[x]]", "[TOC]", "Legs", "שלום",
    "\x1b[31m", "\u202e", "\u2028", "\x85", "\u200d", "\udc80", "mailto:", "xmpp:", "a|b", ":", "x_y_z", "<https://e.example>",
]  # fmt: skip
TEXTS = st.lists(st.sampled_from(PIECES) | st.text(max_size=3), max_size=8).map("".join)


def test_a_message_is_one_line_of_bounded_length() -> None:
    assert len(printable("x" * 5000)) == MOST_SHOWN
    assert printable("a\nb\tc\x07") == "a b c\\u0007"
    assert printable("3 × 8, 10–12, the coach’s, größer 😀") == "3 × 8, 10–12, the coach’s, größer 😀"


def test_joiners_that_words_need_stay_as_they_are() -> None:
    assert printable("می‌خواهم") == "می‌خواهم"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("::error::x", "\\u003a:error::x"),
        (" \u00a0\u200d::add-mask::x", "  \u200d\\u003a:add-mask::x"),
        ("a\n::error::x", "a ::error::x"),
        ("a ##[add-mask]x", "a #\\u0023[add-mask]x"),
        ("[::1]:8000 is taken", "[::1]:8000 is taken"),
    ],
)
def test_a_line_of_a_log_is_no_command(text: str, said: str) -> None:
    assert terminal(text) == said


@given(TEXTS)
def test_no_text_is_obeyed_by_a_terminal_or_a_forge(text: str) -> None:
    assert obeyed(terminal(text)) == []
    assert "\n" not in terminal(text)


@given(TEXTS)
def test_json_says_the_same_and_is_obeyed_by_nobody(text: str) -> None:
    said = as_json({"a": [text], text: 1})
    assert json.loads(said) == {"a": [text], text: 1}
    assert obeyed(said) == []


def test_a_property_of_a_workflow_command_ends_where_it_should() -> None:
    assert github_property("a,b:c%\n") == "a%2Cb%3Ac%25%0A"
    assert github_data("a,b:c%\r\n") == "a,b:c%25%0D%0A"


@given(TEXTS)
@pytest.mark.parametrize(
    ("frame", "elements"),
    [
        ("- {}", {"ul", "li", "p"}),
        ("### {}", {"h3"}),
        ("- a\n- {}\n- b", {"ul", "li", "p"}),
        ("| a | b |\n| --- | --- |\n| {} | {} |", {"table", "thead", "tbody", "tr", "th", "td"}),
    ],
)
def test_text_stays_text_in_markdown(frame: str, elements: set[str], text: str) -> None:
    said = markdown(text)
    for shown in rendered(frame.replace("{}", said)):
        assert set(shown.elements) <= elements | {"code"}, said
        assert references(shown) == [], said
        if "td" in elements:
            assert shown.elements.count("td") == 2, said


@given(TEXTS)
def test_no_word_is_lost_in_markdown(text: str) -> None:
    for shown in rendered(f"- {markdown(text)}"):
        assert "".join(shown.all_words.split()) == "".join(printable(text).split())


@pytest.mark.parametrize(
    "text",
    [
        "home 1.2 Groundwork: new; against 1.1",
        "Block A: 2 → 3 rounds in week 2",
        "10 → 11.5 (+1.5, +15 %)",
        "Push & pull, sit-ups and the coach’s “best” exercise!",
        "Größer, שלום",
    ],
)
def test_plain_words_stay_plain_in_markdown(text: str) -> None:
    assert markdown(text) == text


def test_unseen_signs_are_those_that_the_reader_passes_over() -> None:
    assert all(not sign.isprintable() for sign in UNSEEN)
