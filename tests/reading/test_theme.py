"""The tokens of the theme folder, and that the styles say nothing of the look that is not among them."""

import re
from pathlib import Path

import pytest
from phasepress.reading.shipped import THEME
from phasepress.reading.theme import TOKENS, read_tokens, tokens

STYLES = sorted(path for path in (THEME / "css").glob("*.css") if path != THEME / TOKENS)
# The paper's own, the white of a QR code, and what lets through what lies behind.
PLAIN = {"#000", "#fff", "#777", "#0000", "#000a"}
COLOURS = ["paper", "ink", "soft", "line", "tint", "link", "stop", "stopline"]


def text(path: Path) -> str:
    return re.sub(r"/\*.*?\*/", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)


def test_tokens_are_read_with_what_is_other_on_dark_screens_and_on_paper() -> None:
    found = read_tokens(
        ":root{color-scheme:light dark;--ink:#123;--s1:.1rem}\n"
        "/* :root{--ink:#fff} */@media (prefers-color-scheme:dark){:root{--ink:#eee}}\n"
        "@media print{:root{\n--ink:#000;\n}}"
    )
    assert found.light == {"ink": "#123", "s1": ".1rem"}
    assert found.dark == {"ink": "#eee", "s1": ".1rem"}
    assert found.paper == {"ink": "#000", "s1": ".1rem"}


@pytest.mark.parametrize("name", COLOURS)
def test_every_colour_is_said_for_light_dark_and_paper(name: str) -> None:
    for of in tokens():
        assert re.fullmatch("#([0-9a-f]{3}|[0-9a-f]{6})", of[name])
    assert tokens().light[name] != tokens().dark[name]
    assert tokens().paper[name] in PLAIN


@pytest.mark.parametrize("path", STYLES, ids=lambda path: path.stem)
def test_a_style_takes_colours_type_and_fonts_from_the_tokens(path: Path) -> None:
    style = text(path)
    assert set(re.findall(r"#[0-9a-fA-F]{3,8}\b", style)) - {"#main"} <= PLAIN
    # Tokens are of screens: type on paper is fitted to the page, in points.
    assert re.findall(r"font(?:-size)?:[\d.]+rem", style) == []
    assert "system-ui" not in style or path.stem == "pack"
    assert re.findall(r"(?:margin|padding|gap)[a-z-]*:[^;{}]*\drem", style) == []


@pytest.mark.parametrize("path", STYLES, ids=lambda path: path.stem)
def test_a_style_asks_for_no_token_that_is_not_there(path: Path) -> None:
    asked = set(re.findall(r"var\(--([\w-]+)\)", text(path)))
    own = set(re.findall(r"--([\w-]+):", "".join(map(text, STYLES))))
    assert asked - own - {"high"} <= tokens().light.keys(), "--high is set by the pack"


def test_every_token_is_asked_for() -> None:
    asked = set(re.findall(r"var\(--([\w-]+)\)", "".join(map(text, STYLES))))
    assert tokens().light.keys() - asked == {"brand"}, "the bar of the installed site has it alone"
