"""Parse events to plain data, without recursion: a deep or a huge file is a finding and not a crash."""

from __future__ import annotations

import re
import sys
from typing import Any, NamedTuple

import yaml

from ..escaping import without_forbidden
from ..findings import MOST_TOLD, Path, shown
from .likely import likely
from .scalars import plain
from .signs import Mark, Signs, as_yaml_1_2
from .syntax import Problem, UnreadableError, line_and_column, mark_place, syntax_problem

MOST_VALUES = 100_000
"""Bound on the values of a file with every alias written out."""
MOST_DEPTH = 40
_COLUMNS = 1 << 21
"""More than a line can have: a place is kept as line × this + column, which takes little memory."""
_TOO_MANY = f"more than {MOST_VALUES:,} values, counting what every alias stands for"
_ALIAS_HINT = "shorten the file, or write out what an alias repeats too often"
_TAG_HINT = "take it out; text that begins with ! needs quotes"

_COMMENT = re.compile(rb"[^\s#][ \t]+#[^\s#!]")
_COMMENT_OF_A_LINE = re.compile(r"[^\s#][ \t]+(#[^\s#!].*)")
_Event = Any
"""Events and marks of the C parser; their published type stubs describe those of the Python parser."""
_Parser: Any = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader


class _Open:
    """A mapping or list that is still being read."""

    __slots__ = ("anchor", "height", "key", "key_at", "places", "size", "value")

    def __init__(self, value: dict[str, object] | list[object], anchor: str | None) -> None:
        self.value, self.anchor = value, anchor
        self.key: str | None = None
        self.key_at = 0
        self.places: Places = {} if isinstance(value, dict) else []
        self.size = self.height = 1


class _Anchored(NamedTuple):
    """What an alias stands for: how many values, and how deep they are nested."""

    value: object
    size: int = 1
    height: int = 0


Places = dict[str, Any] | list[Any]
"""Where the entries of a mapping (key and value) or of a list stand, and the places inside of each."""


class Builder:
    """Puts parse events together; with `record`, also notes where every key and value stands."""

    def __init__(self, record: bool = False) -> None:
        self.result: object = None
        self.problems: list[Problem] = []
        self.places: tuple[int, Places | None] = _COLUMNS + 1, None
        """Where the value of the file stands, and what is inside of it."""
        self.repeated = 0
        """How many values all aliases stand for."""
        self._record = record
        self._stack: list[_Open] = []
        self._anchors: dict[str, _Anchored] = {}
        self._documents = 0
        self._signs = Signs(b"")
        self._lost: dict[int, tuple[int, str, str]] = {}
        """By line, where what may be such a comment begins, its text, and what is before it."""

    def run(self, text: bytes) -> None:
        """Read the file. Raises UnreadableError; what else is wrong is in `problems`."""
        event: _Event = None
        self._signs = Signs(text)
        self._lost = _comments_without_a_space(text)
        try:
            parser = _Parser(as_yaml_1_2(text) if self._signs.any_literal else text)
            while True:
                event = parser.get_event()
                if event is None or type(event) is yaml.StreamEndEvent:
                    return
                self._take(event)
        except yaml.MarkedYAMLError as error:
            raise UnreadableError(likely(text, syntax_problem(error, text))) from None
        except yaml.reader.ReaderError as error:
            line, column = line_and_column(text, error.position)
            message = f"the character {_code(error.character)}, which YAML does not allow"
            raise UnreadableError(Problem(line, column, message, "delete it")) from None
        finally:
            self._signs.end()
            self.problems += self._signs.problems

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
        text = self._text(event) if event.style == '"' or self._signs.any_literal else event.value
        top = self._stack[-1] if self._stack else None
        if top is not None and top.key is None and type(top.value) is dict:
            self._key(event, top, text)
            return
        if self._lost and event.value and not event.style:
            self._comment_after(event)
        value = plain(text) if event.implicit[0] or event.tag is not None else text
        if event.anchor is not None:
            self._anchors[event.anchor] = _Anchored(value)
        self._add(event, value, 1)

    def _comment_after(self, event: _Event) -> None:
        """Text that is lost to a # without a space after it, as in `push back #hard`."""
        line, column = mark_place(event.end_mark)
        at, lost, before = self._lost.get(line, (0, "", ""))
        if at >= column and not before[column - 1 :].strip():
            del self._lost[line]
            message = f"a comment right after a value: {shown(lost)} is lost"
            hint = 'put text with a # in quotes, "..."; a comment has a space after its #'
            self._problem(line, at, message, hint)

    def _text(self, event: _Event) -> str:
        """What a text holds but for signs that no text may hold, which are told."""
        self._signs.read(mark_place(event.start_mark), mark_place(event.end_mark), event.value)
        return without_forbidden(event.value)

    def _key(self, event: _Event, top: _Open, text: str) -> None:
        key = sys.intern(text)
        if event.anchor is not None:
            self._anchors[event.anchor] = _Anchored(key)
        if key in top.value:
            self._note(event, f"the key {shown(key)} stands twice in one mapping", "keep one of them")
        top.key = key
        if self._record:
            top.key_at = _at(event)

    def _open(self, event: _Event, value: dict[str, object] | list[object]) -> None:
        if event.tag is not None:
            self._tag(event)
        self._nested(event, 1)
        opened = _Open(value, event.anchor)
        self._note_place(event, opened.places)
        self._stack.append(opened)

    def _close(self) -> None:
        done = self._stack.pop()
        if done.anchor is not None:
            self._anchors[done.anchor] = _Anchored(done.value, done.size, done.height)
        self._put(done.value, done.size, done.height)

    def _alias(self, event: _Event) -> None:
        known = self._anchors.get(event.anchor)
        if known is None:
            message = f"the alias *{event.anchor}, with no complete anchor &{event.anchor} above it"
            raise _stop(event, message, "write the value out; text that begins with * needs quotes")
        top = self._stack[-1] if self._stack else None
        if top is not None and top.key is None and type(top.value) is dict:
            raise _stop(event, f"the alias *{event.anchor} as a key", "write the key out")
        self._nested(event, known.height)
        self.repeated += known.size
        self._add(event, *known)

    def _nested(self, event: _Event, height: int) -> None:
        if len(self._stack) + height > MOST_DEPTH:
            raise _stop(event, f"nested more than {MOST_DEPTH} deep", "write it flatter")

    def _add(self, event: _Event, value: object, size: int, height: int = 0) -> None:
        self._note_place(event)
        if self._stack and self._stack[-1].size + size > MOST_VALUES:
            raise _stop(event, _TOO_MANY, _ALIAS_HINT)
        self._put(value, size, height)

    def _put(self, value: object, size: int, height: int) -> None:
        if not self._stack:
            self.result = value
            return
        top = self._stack[-1]
        top.size += size
        if height >= top.height:
            top.height = height + 1
        if top.size > MOST_VALUES:
            raise UnreadableError(Problem(1, 1, _TOO_MANY, _ALIAS_HINT))
        if isinstance(top.value, list):
            top.value.append(value)
        else:
            assert top.key is not None
            top.value.setdefault(top.key, value)
            top.key = None

    def _note_place(self, event: _Event, inside: Places | None = None) -> None:
        """Where the value that begins now stands. Noted only while recording: it costs time."""
        top = self._stack[-1] if self._stack else None
        if top is not None and top.key is None and isinstance(top.value, dict):
            raise _stop(event, "a list or a mapping as a key", "a key is a plain word")
        if not self._record:
            return
        if top is None:
            self.places = _at(event), inside
        elif isinstance(top.places, list):
            top.places.append((_at(event), inside) if inside is not None else _at(event))
        elif top.key is not None:
            place = top.key_at, _at(event), inside
            top.places.setdefault(top.key, place)

    def _tag(self, event: _Event) -> None:
        tag = event.tag.replace("tag:yaml.org,2002:", "!!")
        self._note(event, f"the tag {tag}, and tags are not used here", _TAG_HINT)

    def _note(self, event: _Event, message: str, hint: str) -> None:
        if len(self.problems) == MOST_TOLD:
            raise _stop(event, f"more faults of this kind than the {MOST_TOLD} told", "mend these first")
        self._problem(*mark_place(event.start_mark), message, hint)

    def _problem(self, line: int, column: int, message: str, hint: str) -> None:
        if len(self.problems) < MOST_TOLD:
            self.problems.append(Problem(line, column, message, hint))


def _comments_without_a_space(text: bytes) -> dict[int, tuple[int, str, str]]:
    """Line → column, text and what is before it, of what may be such a comment: the parser knows."""
    if not _COMMENT.search(text):
        return {}
    found: dict[int, tuple[int, str, str]] = {}
    for number, line in enumerate(text.decode("utf-8", "replace").removeprefix("\ufeff").split("\n"), 1):
        lost = _COMMENT_OF_A_LINE.search(line)
        if lost:
            found[number] = lost.start(1) + 1, lost[1].rstrip(), line[: lost.start(1)]
    return found


def place(places: tuple[int, Places | None], path: Path, *, at_key: bool) -> Mark:
    """Line and column of the value at `path`, or of its key; of its nearest parent when absent."""
    here, inside = places
    for number, step in enumerate(path, 1):
        if isinstance(inside, dict) and step in inside:
            key, here, inside = inside[step]
            if at_key and number == len(path):
                here = key
        elif isinstance(inside, list) and isinstance(step, int) and step < len(inside):
            found = inside[step]
            here, inside = found if isinstance(found, tuple) else (found, None)
        else:
            break
    return divmod(here, _COLUMNS)


def _at(event: _Event) -> int:
    line, column = mark_place(event.start_mark)
    return line * _COLUMNS + column


def _code(character: int | str) -> str:
    return f"U+{character if isinstance(character, int) else ord(character):04X}"


def _stop(event: _Event, message: str, hint: str) -> UnreadableError:
    return UnreadableError(Problem(*mark_place(event.start_mark), message, hint))
