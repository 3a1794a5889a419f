"""Contrast as WCAG 2.2 defines it, and which colours a club may have."""

import colorsys
import random

import pytest
from phasepress.reading.amounts import AmountError
from phasepress.reading.colours import accent, contrast, dressed, in_tokens, luminance
from phasepress.reading.shipped import THEME
from phasepress.reading.theme import TOKENS, read_tokens, tokens

from tests.fixtures.wcag import ratio

# 21:1 for black on white stands in WCAG 2.2, "contrast ratio", note 1. #767676 and #777777 on white lie on both sides of
# 4.5:1, by W3C, "Understanding SC 1.4.3" (from memory of its examples, worked out by hand once more below).
PUBLISHED = [
    ("#000000", "#ffffff", 21.0),
    ("#ffffff", "#ffffff", 1.0),
    ("#767676", "#fff", 4.54),
    ("#777777", "#fff", 4.48),
]


@pytest.mark.parametrize(("one", "other", "expected"), PUBLISHED)
def test_contrast_is_that_of_the_published_formula(one: str, other: str, expected: float) -> None:
    assert contrast(one, other) == pytest.approx(expected, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


def test_luminance_of_the_three_primaries_is_their_weight() -> None:
    """The weights of ITU-R BT.709, which WCAG's "relative luminance" names."""
    assert [luminance(one) for one in ("#ff0000", "#00ff00", "#0000ff")] == pytest.approx(
        [0.2126, 0.7152, 0.0722]
    )


def colours() -> list[str]:
    """All round the wheel, pale and dark, the same in every run."""
    chance = random.Random(1)
    made = [colorsys.hsv_to_rgb(*(chance.random() for _ in range(3))) for _ in range(400)]
    return ["#" + "".join(f"{round(part * 255):02x}" for part in one) for one in made]


def test_a_colour_passes_just_where_text_in_it_can_be_read_on_every_light_ground() -> None:
    passed = []
    for colour in colours():
        least = min(ratio(colour, tokens().light[ground]) for ground in ("paper", "tint"))
        try:
            assert accent(colour) == colour
            assert least >= 4.5
            passed.append(colour)
        except AmountError:
            assert least < 4.5
    assert 50 < len(passed) < 350


def test_on_dark_screens_every_colour_that_passes_can_be_read_too() -> None:
    for colour in colours():
        lighter = dressed(colour)["dark"]["link"]
        assert min(ratio(lighter, tokens().dark[ground]) for ground in ("paper", "tint")) >= 4.5, colour


def test_the_colour_that_a_complaint_proposes_passes_itself() -> None:
    with pytest.raises(AmountError) as error:
        accent("#ffd400")
    proposed = error.value.hint.rpartition("as ")[2].strip('"')
    assert accent(proposed) == proposed


@pytest.mark.parametrize("ratio_found", ["4.4"])
def test_a_ratio_just_below_is_not_rounded_up_to_what_is_needed(ratio_found: str) -> None:
    near = next(c for c in (f"#{n:02x}{n:02x}{n:02x}" for n in range(0x60, 0x90)) if 4.4 <= _least(c) < 4.5)
    with pytest.raises(AmountError, match=f"contrast of {ratio_found}:1"):
        accent(near)


def _least(colour: str) -> float:
    return min(ratio(colour, tokens().light[ground]) for ground in ("paper", "tint"))


def test_the_tokens_get_the_colour_for_light_and_dark_and_none_on_paper() -> None:
    before = read_tokens((THEME / TOKENS).read_text(encoding="utf-8"))
    after = read_tokens(in_tokens((THEME / TOKENS).read_text(encoding="utf-8"), "#7a1f3d"))
    assert after.light["link"] == after.light["brand"] == "#7a1f3d"
    assert after.dark["link"] == dressed("#7a1f3d")["dark"]["link"]
    assert after.paper["link"] == before.paper["link"]
    kept = {name for name in before.light if before.light[name] == after.light[name]}
    assert before.light.keys() - kept == {"link", "brand"}
    assert {name for name in before.dark if before.dark[name] != after.dark[name]} == {"link", "brand"}
