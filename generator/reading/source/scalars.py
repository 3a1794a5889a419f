"""Unquoted text to a value, by the YAML 1.2 core schema (https://yaml.org/spec/1.2.2/, section 10.3.2)."""

from __future__ import annotations

import re
from functools import lru_cache

_INTEGER = re.compile(r"[-+]?[0-9]+\Z")
_BASED = re.compile(r"0o[0-7]+\Z|0x[0-9a-fA-F]+\Z")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?\Z")
_ENDLESS = re.compile(r"[-+]?\.(inf|Inf|INF)\Z|\.(nan|NaN|NAN)\Z")
_WORDS: dict[str, object] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_MOST_DIGITS = 300
"""Longer numbers are kept as text: no amount needs them, and converting them takes long."""


@lru_cache(maxsize=8192)
def plain(text: str) -> object:
    """The value of an unquoted scalar by the YAML 1.2 core schema."""
    if text in _WORDS:
        return _WORDS[text]
    if text[0] not in "-+.0123456789" or len(text) > _MOST_DIGITS:
        return text
    if _INTEGER.match(text):
        return int(text)
    if _BASED.match(text):
        return int(text, 0)
    if _FLOAT.match(text):
        return float(text)
    if _ENDLESS.match(text):
        return float(text.replace(".", ""))
    return text
