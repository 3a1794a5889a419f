"""Languages, signs and colours of a tree against the standards that define them. M: from memory."""

import re
import sys
from unicodedata import bidirectional, category

import pytest
from phasepress.reading.colours import contrast
from phasepress.reading.escaping import forbidden
from phasepress.reading.model import Club, json_schema
from pydantic import ValidationError

# --- RFC 5646 (BCP 47), appendix A: examples of language tags (M) --------------------------------------------------------

TAGS = [
    "de", "fr", "ja", "zh-Hant", "zh-Hans", "sr-Cyrl", "sr-Latn", "zh-cmn-Hans-CN", "cmn-Hans-CN", "zh-yue-HK", "yue-HK",
    "zh-Hans-CN", "sr-Latn-RS", "sl-rozaj", "sl-rozaj-biske", "sl-nedis", "de-CH-1901", "sl-IT-nedis", "hy-Latn-IT-arevela",
    "de-DE", "en-US", "es-419", "de-Qaaa", "sr-Latn-QM", "sr-Qaaa-RS",
]  # fmt: skip
INVALID = ["de-419-DE", "a-DE", "ar-a-aaa-b-bbb-a-ccc"]
"""Two regions; a first part of one letter; one extension twice."""
NOT_TAKEN = ["i-enochian", "de-CH-x-phonebk", "az-Arab-x-AZE-derbend", "x-whatever", "en-US-u-islamcal", "en-a-myext-b-another"]  # fmt: skip
"""Well-formed, and refused all the same: registered before the rules, of private use, or with an extension."""


def taken(tag: str) -> bool:
    try:
        return Club.model_validate({"club": "Fenn", "language": tag}).language == tag
    except ValidationError:
        return False


@pytest.mark.parametrize("tag", TAGS)
def test_a_language_may_be_said_by_any_of_the_standards_plain_examples(tag: str) -> None:
    assert taken(tag)


@pytest.mark.parametrize("tag", [*INVALID, *NOT_TAKEN])
def test_what_the_standard_calls_invalid_is_refused_and_what_no_page_needs_too(tag: str) -> None:
    assert not taken(tag)


def test_an_editor_is_told_the_same() -> None:
    pattern = json_schema("club")["properties"]["language"]["pattern"]
    assert [tag for tag in TAGS if not re.search(pattern, tag)] == []
    assert [tag for tag in [*INVALID, *NOT_TAKEN] if re.search(pattern, tag)] == []


# --- Unicode: which signs act (reference: Python's database of all characters) ------------------------------------------

TURNS = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
"""UAX 9, table 4: explicit formatting characters, by their bidirectional class."""
EVERY = [chr(number) for number in range(sys.maxunicode + 1) if not 0xD800 <= number <= 0xDFFF]


def is_no_character(sign: str) -> bool:
    """Unicode, D14: the last two of each plane, and U+FDD0 to U+FDEF."""
    return ord(sign) & 0xFFFE == 0xFFFE or 0xFDD0 <= ord(sign) <= 0xFDEF


def test_unicode_has_66_numbers_that_are_no_character_and_nine_signs_that_turn_a_line() -> None:
    assert sum(map(is_no_character, EVERY)) == 66
    assert sum(bidirectional(sign) in TURNS for sign in EVERY) == 9


def test_just_those_signs_are_refused_that_turn_break_control_or_are_none() -> None:
    """All controls but tab and newline, both separators, all that turn a line, all that are no character."""

    def acts(sign: str) -> bool:
        control = category(sign) == "Cc" and sign not in "\t\n"
        return (
            control or category(sign) in ("Zl", "Zp") or bidirectional(sign) in TURNS or is_no_character(sign)
        )

    assert [hex(ord(sign)) for sign in EVERY if bool(forbidden(sign)) != acts(sign)] == []


# --- WCAG 2.2: greys on white that just pass and just fail a limit, as they are often quoted (M) --------------------------


@pytest.mark.parametrize(
    ("passes", "fails", "limit"),
    [("#949494", "#959595", 3), ("#767676", "#777777", 4.5), ("#595959", "#5a5a5a", 7)],
)
def test_the_palest_grey_that_passes_is_the_known_one(passes: str, fails: str, limit: float) -> None:
    """1.4.11 and large text: 3; 1.4.3: 4.5; 1.4.6: 7."""
    assert contrast(passes, "#ffffff") >= limit > contrast(fails, "#ffffff")
