"""Records out of a JSON file, one by one, so that a long log takes little memory and a broken one is used in part."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any, NamedTuple, NoReturn

from ..reading.escaping import printable
from . import form

_SPACE = re.compile(r"[ \t\r\n]*")


class Broken(NamedTuple):
    """Where a file ends to be readable, and why; whatever came before it is used."""

    message: str


class NotALogError(Exception):
    """The file is something else, or of a form that is not known here; the text says what to do."""


def _no_number(word: str) -> NoReturn:
    raise ValueError(f"{word} is no number of JSON")


_DECODER = json.JSONDecoder(parse_constant=_no_number)
NO_LOG = "this is no log: choose a .json or .csv file that the page Your log has saved"


def records(text: str) -> Iterator[Any]:
    """Every record as plain data; last a `Broken` where the file is damaged.

    Raises NotALogError, maybe when some have come already: then none of them counts.
    """
    scan = _Scan(text)
    seen = set()
    try:
        for key in scan.keys():
            if key == "sessions" and scan.at("["):
                yield from scan.entries()
            else:
                _judge(key, scan.value())
            seen.add(key)
    except (ValueError, RecursionError) as error:
        if "format" not in seen:
            raise NotALogError(NO_LOG) from None
        yield Broken(_why(scan, error))
        return
    if not seen >= {"format", "version", "sessions"}:
        raise NotALogError(NO_LOG)


def _judge(key: str, value: Any) -> None:
    """Raise NotALogError where a key says that this is another thing."""
    if (key == "format" and value != form.NAME) or key == "sessions":
        raise NotALogError(NO_LOG)
    if key == "version" and (value not in form.FORMS or isinstance(value, bool)):
        told = printable(str(value)[:20])
        raise NotALogError(
            f"the file is of form {told}, and this phasepress reads 1 and 2: install a newer one"
        )


def _why(scan: _Scan, error: Exception) -> str:
    at = getattr(error, "pos", scan.position)
    line = scan.text.count("\n", 0, at) + 1
    column = at - scan.text.rfind("\n", 0, at)
    words = "breaks off or goes wrong" if isinstance(error, json.JSONDecodeError) else "cannot be read"
    return f"the file {words} in line {line}, column {column}; what stands before it is used. Save it again"


class _Scan:
    """The outermost object of a text, key by key."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.position = 0
        self._skip()

    def _skip(self) -> None:
        found = _SPACE.match(self.text, self.position)
        assert found
        self.position = found.end()

    def at(self, mark: str) -> bool:
        return self.text.startswith(mark, self.position)

    def _take(self, *marks: str) -> str:
        for mark in marks:
            if self.at(mark):
                self.position += 1
                self._skip()
                return mark
        raise json.JSONDecodeError(f"no {' or '.join(marks)}", self.text, self.position)

    def value(self) -> Any:
        value, self.position = _DECODER.raw_decode(self.text, self.position)
        self._skip()
        return value

    def keys(self) -> Iterator[str]:
        """Each key; its value is to be taken before the next is asked for."""
        self._take("{")
        if self.at("}"):
            return
        mark = ","
        while mark == ",":
            key = self.value()
            if not isinstance(key, str):
                raise json.JSONDecodeError("a key is no text", self.text, self.position)
            self._take(":")
            yield key
            mark = self._take(",", "}")
        if self.position < len(self.text):
            raise json.JSONDecodeError("more than one value", self.text, self.position)

    def entries(self) -> Iterator[Any]:
        """The values of a list."""
        self._take("[")
        if self.at("]"):
            self._take("]")
            return
        mark = ","
        while mark == ",":
            yield self.value()
            mark = self._take(",", "]")
