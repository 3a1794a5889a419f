"""What is wrong with the YAML itself, in plain words, and where."""

from __future__ import annotations

from typing import Any, NamedTuple

import yaml


class Problem(NamedTuple):
    """Something wrong with the YAML; line and column from 1."""

    line: int
    column: int
    message: str
    hint: str
    check: str = "yaml"


class UnreadableError(Exception):
    """Reading cannot go on, for the reason of `problem`."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


def line_and_column(text: bytes, offset: int) -> tuple[int, int]:
    """The place of a byte offset, from 1; columns count characters."""
    before = text[: max(0, offset)].decode("utf-8", "replace").removeprefix("\ufeff")
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def mark_place(mark: Any) -> tuple[int, int]:
    """Line and column, from 1. The parser's marks are not typed."""
    return mark.line + 1, mark.column + 1


def syntax_problem(error: yaml.MarkedYAMLError, text: bytes) -> Problem:
    """The parser's complaint in plain words; an open quote is shown where it opens."""
    said = str(error.problem)
    mark, opened = error.problem_mark, error.context_mark
    if "quoted scalar" in str(error.context) and "end of stream" in said:
        mark = opened
    line, column = mark_place(mark) if mark else (1, 1)
    if said == _NO_TOKEN and _character(text, line, column) == "\t":
        said = _TAB
    message, hint = SAID.get(said, (f"not readable as YAML: {said}", _SYNTAX_HINT))
    if "flow" in str(error.context) and opened and opened.line + 1 < line:
        message = f"{message}; it begins in line {opened.line + 1}"
    return Problem(line, column, message, hint)


def _character(text: bytes, line: int, column: int) -> str:
    lines = text.decode("utf-8", "replace").removeprefix("\ufeff").splitlines()
    return lines[line - 1][column - 1 : column] if line <= len(lines) else ""


_NO_TOKEN = "found character that cannot start any token"
_TAB = "found a tab character that violates indentation"
_SYNTAX_HINT = "look at the indentation, the colons and the quotes here and in the line above"
_UNCLOSED = "look for a missing comma or closing {}; text with a comma, a colon or a bracket needs quotes"
SAID = {
    "mapping values are not allowed in this context": (
        "a colon where no key can stand",
        "put text that holds a colon in quotes, or put the indentation right",
    ),
    _NO_TOKEN: (
        "a character that no value begins with",
        'put text that begins with @, % or ` in quotes: "..."',
    ),
    _TAB: ("a tab in the indentation", "use spaces"),
    "did not find expected ',' or ']'": (
        "a list in [ ] that does not end where it should",
        _UNCLOSED.format("]"),
    ),
    "did not find expected ',' or '}'": (
        "a mapping in { } that does not end where it should",
        _UNCLOSED.format("}"),
    ),
    "did not find expected key": (
        "a line that fits neither the mapping above it nor a new one",
        "put the indentation right; after a closing quote the line ends",
    ),
    "did not find expected '-' indicator": (
        "a line that does not fit the list above it",
        "put the indentation right, or begin the line with a hyphen",
    ),
    "found incompatible YAML document": ("a YAML version that is not known", "take the %YAML line out"),
    "found unexpected end of stream": ("a quote that is never closed", "close it with the same quote"),
    "block sequence entries are not allowed in this context": (
        "a list entry where no list can begin",
        "put the hyphen on a line of its own below the key; text that begins with a hyphen needs quotes",
    ),
    "found unknown escape character": (
        "a backslash that means nothing to YAML",
        "write two backslashes, or use single quotes: '...'",
    ),
    "could not find expected ':'": (
        "a key without its colon",
        "write key: value; an entry of a list begins with a hyphen and a space",
    ),
    "did not find expected alphabetic or numeric character": (
        "a * or & that names nothing",
        'put text that begins with * or & in quotes: "..."',
    ),
    "did not find expected comment or line break": (
        "text on the line of a | or >",
        'put text that begins with | or > in quotes: "..."',
    ),
}
"""What the parser says → what it means to somebody who writes programmes, and how to mend it."""
