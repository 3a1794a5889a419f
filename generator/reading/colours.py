"""Whether a colour can be read: contrast as WCAG 2.2 defines it.

Contrast ratio (L1 + 0.05) / (L2 + 0.05), and relative luminance
L = 0.2126 R + 0.7152 G + 0.0722 B with R, G, B made linear: https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio,
#dfn-relative-luminance.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from .amounts import AmountError
from .findings import shown
from .theme import tokens

TEXT = 4.5
"""Least contrast of text with its ground (WCAG 2.2, 1.4.3), and so more than the 3:1 that 1.4.11 asks of
lines and of what shows where the focus is."""
_ACCENT = re.compile("#[0-9a-fA-F]{6}")
_GROUNDS = ("paper", "tint")
"""Tokens on which links, words that can be tapped and the line of the focus stand."""
_STEPS = 50


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb` or `#rgb`: 0 for black, 1 for white."""
    linear = [_linear(value / 255) for value in _channels(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, from 1 to 21."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def accent(raw: object) -> str:
    """A club's colour, in small letters. Raises AmountError, also for one that is too pale on light pages."""
    if not isinstance(raw, str) or not _ACCENT.fullmatch(raw):
        why = "write it in quotes, as # begins a comment" if raw is None else "look the six digits up"
        hint = f'{why}: "#0b5e55"'
        raise AmountError(f'found {shown(raw)}, allowed a colour of six digits such as "#0b5e55"', hint)
    colour = raw.lower()
    found = _least(colour, _on(tokens().light))
    if found < TEXT:
        darker = _towards("#000000", colour, _on(tokens().light))
        message = (
            f"found {shown(raw)}, which is too pale to read: a contrast of {_down(found)}:1 to the light "
            f"pages, needed {TEXT}:1 (WCAG 2.2, 1.4.3)"
        )
        raise AmountError(message, f'take a darker one, such as "{darker}"')
    return colour


def dressed(colour: str) -> Mapping[str, Mapping[str, str]]:
    """The tokens that a club's colour gives, as values by name for light and for dark screens.

    On dark screens the colour is made as much lighter as it has to be to be read there.
    """
    light = {"link": colour, "brand": colour}
    return {"light": light, "dark": {"link": _towards("#ffffff", colour, _on(tokens().dark))}}


def _on(of: Mapping[str, str]) -> list[str]:
    return [of[name] for name in _GROUNDS]


def _least(colour: str, grounds: Iterable[str]) -> float:
    return min(contrast(colour, ground) for ground in grounds)


def _towards(end: str, colour: str, grounds: Iterable[str]) -> str:
    """The colour mixed with as little of `end` as makes it readable on all of the grounds."""
    grounds = list(grounds)
    for step in range(_STEPS + 1):
        pairs = zip(_channels(colour), _channels(end), strict=True)
        mixed = "#" + "".join(f"{round(a + (b - a) * step / _STEPS):02x}" for a, b in pairs)
        if _least(mixed, grounds) >= TEXT:
            break
    return mixed


def _channels(colour: str) -> list[int]:
    digits = colour.removeprefix("#")
    digits = "".join(2 * digit for digit in digits) if len(digits) == 3 else digits
    return [int(digits[at : at + 2], 16) for at in (0, 2, 4)]


def _linear(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def _down(ratio: float) -> float:
    """To a tenth, and never up to what it does not reach."""
    return int(ratio * 10) / 10


def in_tokens(css: str, colour: str) -> str:
    """The style of the tokens with what a club's colour replaces in it."""
    light, dark, rest = css.partition("@media (prefers-color-scheme:dark)")
    parts = dressed(colour)
    return _replaced(light, parts["light"]) + dark + _replaced(rest, parts["dark"])


def _replaced(css: str, values: Mapping[str, str]) -> str:
    for name, value in values.items():
        css = re.sub(rf"(--{name}:)[^;}}]+", rf"\g<1>{value}", css, count=1)
    return css
