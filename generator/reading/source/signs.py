"""Signs that no text of a file may hold, as they stand in it: what is wrong with them, and how to mend it."""

from __future__ import annotations

import re
from collections import deque

from ..escaping import forbidden, sign
from ..findings import MOST_TOLD
from .syntax import Problem

Mark = tuple[int, int]
"""Line and column, from 1."""
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")
_BREAKS = re.compile(rb"\xc2\x85|\xe2\x80[\xa8\xa9]")
_STANDS_FOR = {b"\xc2\x85": "\u00a0".encode()}
"""YAML 1.1 takes these for line breaks and YAML 1.2 does not; others of the same length keep all places."""
_ANOTHER = "\ufdd0".encode()


def as_yaml_1_2(text: bytes) -> bytes:
    """The file with line breaks alone where the parser sees some."""
    return _BREAKS.sub(lambda found: _STANDS_FOR.get(found[0], _ANOTHER), text)


class Signs:
    """Goes through a file's texts in their order, and tells each that holds such a sign once."""

    def __init__(self, text: bytes) -> None:
        self.problems: list[Problem] = []
        self._literal: deque[tuple[Mark, str]] = deque()
        decoded = text.decode("utf-8", "replace").removeprefix("\ufeff")
        if not text.isascii() and forbidden(decoded.replace("\n", "")):
            self._literal.extend(_literal(decoded))
        self.any_literal = bool(self._literal)

    def read(self, start: Mark, end: Mark, value: str) -> None:
        """The next text of the file, and where it stands."""
        self._outside(start)
        inside = None
        while self._literal and self._literal[0][0] < end:
            found = self._literal.popleft()
            inside = inside or found
        escaped = forbidden(value)
        if inside:
            self._tell(*inside)
        elif escaped:
            self._tell(start, escaped[0])

    def end(self) -> None:
        """What is left stands after the last text that could be read."""
        self._outside((self._literal[-1][0][0] + 1, 1) if self._literal else (1, 1))

    def _outside(self, before: Mark) -> None:
        """Signs in comments, and between texts: one a line is told."""
        line = 0
        while self._literal and self._literal[0][0] < before:
            mark, character = self._literal.popleft()
            if mark[0] != line:
                self._tell(mark, character)
            line = mark[0]

    def _tell(self, mark: Mark, character: str) -> None:
        if len(self.problems) < MOST_TOLD:
            message, hint = _said(character)
            self.problems.append(Problem(*mark, message, hint, "value"))
        elif len(self.problems) == MOST_TOLD:
            message = f"more faults of this kind than the {MOST_TOLD} told"
            self.problems.append(Problem(*mark, message, "mend these first", "value"))


def _literal(text: str) -> list[tuple[Mark, str]]:
    """Each of them that YAML lets stand in a file, with its place."""
    found = []
    for number, line in enumerate(_LINE.findall(text), 1):
        if forbidden(line.rstrip("\r\n")):
            signs = ((column, c) for column, c in enumerate(line.rstrip("\r\n"), 1) if c > "\x84")
            found += [((number, column), c) for column, c in signs if forbidden(c)]
    return found


def _said(character: str) -> tuple[str, str]:
    """Message and hint."""
    if character in "\x85\u2028\u2029":
        why, hint = (
            "which looks like the end of a line and is none",
            "delete it; it often comes with pasted text",
        )
    elif character < "\xa0":
        why, hint = "a control character, which no text may hold", "write the text anew, without escapes"
    elif "\u202a" <= character <= "\u2069":
        why = "which turns the direction of what stands after it"
        hint = "delete it; pages keep words from right to left apart by themselves"
    else:
        why, hint = "which is no character, as Unicode has it", "delete it"
    return f"the character {sign(character)}, {why}", hint
