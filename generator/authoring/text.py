"""The text of a file with single keys changed; every other character, comments too, stays as it is."""

from __future__ import annotations

import re

from ..reading.catalogue import raw
from ..reading.source import Document

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+\Z")
_VALUE = re.compile(r"(&\S+ +)?([\"']?)\d{4}-\d\d-\d\d\2")
_OF_NO_KEY = re.compile(r"\s*$|#|\.\.\.")


class UncopyableError(Exception):
    """A file that is written in a way that cannot be changed key by key: why, and what to do."""


class Text:
    """The text of a file that holds keys at its top; `lines` are with their ends."""

    def __init__(self, document: Document) -> None:
        """Raises UncopyableError for a file whose keys do not stand at the beginning of their lines."""
        self.name = document.name
        self.lines: list[str] = _LINE.findall(document.text.decode("utf-8"))
        self.end = "\r\n" if self.lines and self.lines[0].endswith("\r\n") else "\n"
        self._starts: dict[str, int] = {}
        for key in raw.mapping(document.data):
            line, column = document.place((key,), at_key=True)
            if column != 1:
                hint = "write each key at the beginning of a line, and try again"
                raise UncopyableError(f"{self.name}: the keys stand in {{ }}, which is not copied; {hint}")
            self._starts[key] = line - 1
        self._added: dict[int, list[str]] = {}

    def redate(self, key: str, day: str) -> None:
        """Put another date at a key that holds one. Raises UncopyableError where it is written otherwise."""
        first = self._starts[key]
        new, many = _VALUE.subn(
            lambda old: f"{old[1] or ''}{old[2]}{day}{old[2]}", self.lines[first], count=1
        )
        if not many:
            raise UncopyableError(f"{self.name}: {key} is not followed by a date in its line; write it there")
        self.lines[first] = new

    def write(self, key: str, value: str, after: str) -> None:
        """Give a key its value, in one line; a new key comes after another."""
        if key in self._starts:
            self._blank(key)
            self.lines[self._starts[key]] = f"{key}: {value}{self.end}"
        else:
            at = self._end(after)
            if not self.lines[at - 1].endswith(("\n", "\r")):
                self.lines[at - 1] += self.end
            self._added.setdefault(at, []).append(f"{key}: {value}{self.end}")

    def remove(self, key: str) -> None:
        """Leave a key out."""
        if key in self._starts:
            self._blank(key)

    def first_line(self, key: str) -> int:
        """The number of the first line of a key that is there, from 0."""
        return self._starts[key]

    def lines_of(self, key: str) -> list[str]:
        """The lines of a key that is there."""
        return self.lines[self._starts[key] : self._end(key)]

    def put(self, key: str, lines: list[str]) -> None:
        """Other lines for a key that is there, as many or one more."""
        first, last = self._starts[key], self._end(key)
        kept = last - first
        self.lines[first:last] = [*lines[: kept - 1], "".join(lines[kept - 1 :])]

    def comment(self, key: str, why: str) -> None:
        """Make a comment of a key, under a line that says why."""
        if key in self._starts:
            first, last = self._starts[key], self._end(key)
            own = [f"# {line}" for line in self.lines[first:last]]
            self.lines[first:last] = [f"# {why}{self.end}{own[0]}", *own[1:]]

    def remark(self, line: int, comment: str) -> None:
        """Put a comment of one line above a line, counted from 1, as far in as that begins."""
        before = self.lines[line - 1]
        margin = before[: len(before) - len(before.lstrip(" "))]
        self._added.setdefault(line - 1, []).append(f"{margin}{comment}{self.end}")

    def __str__(self) -> str:
        """The whole text; the file ends with the end of a line."""
        parts = []
        for at in range(len(self.lines) + 1):
            parts += self._added.get(at, [])
            parts += self.lines[at : at + 1]
        text = "".join(parts)
        return text if text.endswith(("\n", "\r")) else text + self.end

    def _blank(self, key: str) -> None:
        for at in range(self._starts[key], self._end(key)):
            self.lines[at] = ""

    def _end(self, key: str) -> int:
        """The line after a key's last one; blank lines and comments before the next key belong to that."""
        first = self._starts[key]
        last = min((start for start in self._starts.values() if start > first), default=len(self.lines))
        while last - 1 > first and _OF_NO_KEY.match(self.lines[last - 1]):
            last -= 1
        return last
