"""The theme folder, and its tokens: pictures drawn here have the colours of the styles."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from .shipped import THEME

TOKENS = "css/tokens.css"
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE = re.compile(r"(?:@media\s*([^{]+?)\s*\{\s*)?:root\s*\{([^{}]*)\}")
_TOKEN = re.compile(r"--([\w-]+)\s*:\s*([^;]+?)\s*(?:;|$)")
_MEDIA = {"": "light", "(prefers-color-scheme:dark)": "dark", "print": "paper"}


class Tokens(NamedTuple):
    """Values by their names without the dashes: on a light screen, on a dark one, and on paper."""

    light: Mapping[str, str]
    dark: Mapping[str, str]
    paper: Mapping[str, str]


def tokens() -> Tokens:
    """The tokens of the theme folder as they are now: a preview sees them change."""
    return read_tokens((THEME / TOKENS).read_text(encoding="utf-8"))


@lru_cache(maxsize=4)
def read_tokens(css: str) -> Tokens:
    """The tokens of a style whose rules are all of `:root`; dark and paper add to light, or replace."""
    found: dict[str, dict[str, str]] = {name: {} for name in _MEDIA.values()}
    for media, rules in _RULE.findall(_COMMENT.sub("", css)):
        found[_MEDIA[media.replace(" ", "")]] |= dict(_TOKEN.findall(rules))
    light = found["light"]
    return Tokens(light, light | found["dark"], light | found["paper"])
