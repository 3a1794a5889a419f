"""A finding that the coach has weighed, written into the file of its version or programme; all else stays."""

from __future__ import annotations

from typing import Any

import yaml

from ..reading.catalogue import raw
from ..reading.source import Document
from .programme import quoted
from .text import Text, UncopyableError

_KEY = "accept"
_INDENT = "  "
_Loader: Any = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader


def with_acceptance(document: Document, check: str, day: str | None, because: str) -> str:
    """The text of the file with one entry more. Raises UncopyableError where it has no place for it."""
    text = Text(document)
    at = f"at: {day}, " if day else ""
    entry = f"{{check: {check}, {at}because: {quoted(because)}}}"
    known = raw.mapping(document.data).get(_KEY)
    if known is None:
        text.remove(_KEY)
        return f"{text}{_KEY}:{text.end}{_INDENT}- {entry}{text.end}"
    own = text.lines_of(_KEY)
    closing = _closing_bracket(document)
    if closing:
        line, column = closing[0] - text.first_line(_KEY), closing[1]
        head, tail = own[line][:column], own[line][column:]
        above = "".join([*own[:line], head]).rstrip()
        comma = "" if not known or above.endswith(",") else ", "
        own[line] = f"{head}{comma}{entry}{tail}"
        text.put(_KEY, own)
        return str(text)
    if not own[-1].endswith(("\n", "\r")):
        own[-1] += text.end
    dashes = [line for line in own if line.lstrip().startswith("- ")]
    if not dashes:
        raise UncopyableError(f"{text.name}: accept is written in a way that has no room for another entry")
    indent = dashes[0][: len(dashes[0]) - len(dashes[0].lstrip())]
    text.put(_KEY, [*own, f"{indent}- {entry}{text.end}"])
    return str(text)


def _closing_bracket(document: Document) -> tuple[int, int] | None:
    """Line and column, from 0, of the bracket that ends the list; None where it is one of hyphens."""
    node: Any = yaml.compose(document.text, Loader=_Loader)
    for key, value in node.value:
        if key.value == _KEY and getattr(value, "flow_style", False):
            return value.end_mark.line, value.end_mark.column - 1
    return None
