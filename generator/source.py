"""File to plain data: the strict YAML dialect, with a line and a column for every value.

YAML 1.2 core types (https://yaml.org/spec/1.2.2/, section 10.3.2), so `on`, `no` and `1:30` are strings.
The C parser delivers events; they are put together here without recursion, so that a deep or a huge file is a
finding and not a crash. Places are worked out only when a message needs one, from the text that was read.
"""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, NamedTuple

import yaml

from generator.findings import Fault, Finding, Path, Severity, shown

MOST_BYTES = 1_000_000
MOST_VALUES = 100_000
"""Bound on the values of a file with every alias written out."""
MOST_DEPTH = 40

_Event = Any
"""Events and marks of the C parser; their published type stubs describe those of the Python parser."""
_Parser: Any = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader
_INTEGER = re.compile(r"[-+]?[0-9]+\Z")
_BASED = re.compile(r"0o[0-7]+\Z|0x[0-9a-fA-F]+\Z")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?\Z")
_WORDS: dict[str, object] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}
_MOST_DIGITS = 300
"""Longer numbers are kept as text: no amount needs them, and converting them takes long."""


@dataclass(slots=True)
class Document:
    """One file as it was read. `name` is how messages call it.

    `problems` are those of the YAML itself; where `complete` is false, reading stopped at one of them and
    `data` is None.
    """

    name: str
    text: bytes
    data: object = None
    problems: list[Finding] = field(default_factory=list)
    complete: bool = True

    def finding(self, fault: Fault, severity: Severity = "error", at: str = "", source: str = "") -> Finding:
        """The fault with this file's name and the line and column of its path."""
        line, column = self.place(fault.path, at_key=fault.at_key)
        return Finding(fault.check, severity, self.name, line, column, at, fault.message, fault.hint, source)

    def place(self, path: Path, *, at_key: bool = False) -> tuple[int, int]:
        """Line and column, from 1, of the value at `path` (or its key); of its nearest parent when absent."""
        keys, values = _places(self.text)
        if at_key and path in keys:
            return keys[path]
        while path and path not in values:
            path = path[:-1]
        return values.get(path, (1, 1))


def read(name: str, text: bytes) -> Document:
    """Parse one file. Never raises for anything in the text: what is wrong is in `problems`."""
    document = Document(name, text)
    builder = _Builder()
    try:
        if len(text) > MOST_BYTES:
            message = f"the file has {len(text):,} bytes; at most {MOST_BYTES:,} are read"
            raise _Unreadable(_Problem(1, 1, message, "split it"))
        _require_utf8(text)
        builder.run(text)
        document.data = builder.result
    except _Unreadable as stop:
        document.complete = False
        builder.problems.append(stop.problem)
    document.problems = [
        Finding("yaml", "error", name, p.line, p.column, "", p.message, p.hint) for p in builder.problems
    ]
    return document


class _Problem(NamedTuple):
    line: int
    column: int
    message: str
    hint: str


class _Unreadable(Exception):
    """Reading cannot go on."""

    def __init__(self, problem: _Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


def _require_utf8(text: bytes) -> None:
    try:
        text.decode("utf-8")
    except UnicodeDecodeError as error:
        message = f"the file is not UTF-8 text (byte 0x{text[error.start]:02x})"
        line, column = _line_and_column(text, error.start)
        raise _Unreadable(_Problem(line, column, message, "save it with the encoding UTF-8")) from None


def _line_and_column(text: bytes, offset: int) -> tuple[int, int]:
    before = text[: max(0, offset)].decode("utf-8", "replace")
    return before.count("\n") + 1, len(before) - before.rfind("\n")


@lru_cache(maxsize=8192)
def _plain(text: str) -> object:
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
    if text.lower() in (".inf", "-.inf", "+.inf", ".nan"):
        return float(text.replace(".", ""))
    return text


class _Open:
    """A mapping or list that is still being read."""

    __slots__ = ("anchor", "key", "path", "size", "value")

    def __init__(self, value: dict[str, object] | list[object], anchor: str | None, path: Path) -> None:
        self.value, self.anchor, self.path = value, anchor, path
        self.key: str | None = None
        self.size = 1


class _Builder:
    """Puts parse events together; with `record`, also notes where every key and value stands."""

    def __init__(self, record: bool = False) -> None:
        self.result: object = None
        self.problems: list[_Problem] = []
        self.keys: dict[Path, tuple[int, int]] = {}
        self.values: dict[Path, tuple[int, int]] = {}
        self._record = record
        self._stack: list[_Open] = []
        self._anchors: dict[str, tuple[object, int]] = {}
        self._documents = 0

    def run(self, text: bytes) -> None:
        event: _Event = None
        try:
            parser = _Parser(text)
            while True:
                event = parser.get_event()
                if event is None or type(event) is yaml.StreamEndEvent:
                    return
                self._take(event)
        except yaml.MarkedYAMLError as error:
            mark = error.problem_mark or error.context_mark
            line, column = _mark(mark) if mark else (1, 1)
            raise _Unreadable(_Problem(line, column, _said(error), _SYNTAX_HINT)) from None
        except yaml.reader.ReaderError as error:
            line, column = _line_and_column(text, error.position)
            message = f"a character that YAML does not allow: {error.reason}"
            raise _Unreadable(_Problem(line, column, message, "delete it")) from None

    def _take(self, event: _Event) -> None:
        kind = type(event)
        if kind is yaml.ScalarEvent:
            self._scalar(event)
        elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
            self._open(event, {} if kind is yaml.MappingStartEvent else [])
        elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
            self._close()
        elif kind is yaml.AliasEvent:
            self._alias(event)
        elif kind is yaml.DocumentStartEvent:
            self._documents += 1
            if self._documents > 1:
                raise _stop(event, "a second document in one file", "keep one document a file")

    def _scalar(self, event: _Event) -> None:
        if event.tag is not None:
            self._tag(event)
        top = self._stack[-1] if self._stack else None
        if top is not None and top.key is None and type(top.value) is dict:
            self._key(event, top)
            return
        value = _plain(event.value) if event.implicit[0] else event.value
        if event.anchor is not None:
            self._anchors[event.anchor] = (value, 1)
        self._add(event, value, 1)

    def _key(self, event: _Event, top: _Open) -> None:
        key: str = event.value
        if event.anchor is not None:
            self._anchors[event.anchor] = (key, 1)
        path = (*top.path, key)
        if key in top.value:
            self._note(event, f"the key {shown(key)} stands twice in one mapping", "keep one of them")
        elif self._record:
            self.keys[path] = _mark(event.start_mark)
        top.key = key

    def _open(self, event: _Event, value: dict[str, object] | list[object]) -> None:
        if event.tag is not None:
            self._tag(event)
        if len(self._stack) >= MOST_DEPTH:
            raise _stop(event, f"nested more than {MOST_DEPTH} deep", "write it flatter")
        path = self._path(event)
        if self._record:
            self.values.setdefault(path, _mark(event.start_mark))
        self._stack.append(_Open(value, event.anchor, path))

    def _close(self) -> None:
        done = self._stack.pop()
        if done.anchor is not None:
            self._anchors[done.anchor] = (done.value, done.size)
        self._put(done.value, done.size)

    def _alias(self, event: _Event) -> None:
        known = self._anchors.get(event.anchor)
        if known is None:
            raise _stop(event, f"the alias *{event.anchor} stands before its anchor is complete", _ALIAS_HINT)
        top = self._stack[-1] if self._stack else None
        if top is not None and top.key is None and type(top.value) is dict:
            raise _stop(event, f"the alias *{event.anchor} as a key", "write the key out")
        self._add(event, *known)

    def _add(self, event: _Event, value: object, size: int) -> None:
        if self._record:
            self.values.setdefault(self._path(event), _mark(event.start_mark))
        if self._stack and self._stack[-1].size + size > MOST_VALUES:
            raise _stop(event, f"more than {MOST_VALUES:,} values with aliases written out", _ALIAS_HINT)
        self._put(value, size)

    def _put(self, value: object, size: int) -> None:
        if not self._stack:
            self.result = value
            return
        top = self._stack[-1]
        top.size += size
        if top.size > MOST_VALUES:
            message = f"more than {MOST_VALUES:,} values with aliases written out"
            raise _Unreadable(_Problem(1, 1, message, _ALIAS_HINT))
        if isinstance(top.value, list):
            top.value.append(value)
        else:
            assert top.key is not None
            top.value.setdefault(top.key, value)
            top.key = None

    def _path(self, event: _Event) -> Path:
        """Where the value that begins now will stand. Tracked only while recording: it costs time."""
        if not self._stack:
            return ()
        top = self._stack[-1]
        if isinstance(top.value, list):
            return (*top.path, len(top.value)) if self._record else ()
        if top.key is None:
            raise _stop(event, "a list or a mapping as a key", "a key is a plain word")
        return (*top.path, top.key) if self._record else ()

    def _tag(self, event: _Event) -> None:
        self._note(event, f"the tag {shown(event.tag)}", "take the tag out: tags are not used here")

    def _note(self, event: _Event, message: str, hint: str) -> None:
        self.problems.append(_Problem(*_mark(event.start_mark), message, hint))


_ALIAS_HINT = "write the value out, or use fewer aliases"
_SYNTAX_HINT = "look at the indentation, the colons and the quotes here and in the line above"


def _stop(event: _Event, message: str, hint: str) -> _Unreadable:
    return _Unreadable(_Problem(*_mark(event.start_mark), message, hint))


def _mark(mark: _Event) -> tuple[int, int]:
    return mark.line + 1, mark.column + 1


def _said(error: yaml.MarkedYAMLError) -> str:
    parts = [part for part in (error.context, error.problem) if part]
    return "not readable as YAML: " + ", ".join(parts)


@lru_cache(maxsize=4)
def _places(text: bytes) -> tuple[dict[Path, tuple[int, int]], dict[Path, tuple[int, int]]]:
    """Places of all keys and all values; of what stands before the stop, when the file is not readable."""
    builder = _Builder(record=True)
    with suppress(_Unreadable):
        builder.run(text)
    return builder.keys, builder.values
