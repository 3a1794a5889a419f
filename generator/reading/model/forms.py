"""Older words of the format, which are read for a while: one table, one rule.

The rule (see also the README of `reading/`): when a word of the format is replaced, the older one is read
for at least LASTS minor versions, and a note says what to write. After that it is refused, by an error that
says the same. It stays in the table for good: a file of any age is told what to change, at its line.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from ..findings import Fault, Path, Severity, shown
from ..source import Document
from .schemas import Kind

LASTS = 3
"""Minor versions for which an older word is read at least."""
_NOTHING: Mapping[str, str] = {}


class Form(NamedTuple):
    """One row: how a mapping was written, and how it is now.

    It holds for the files of `kinds`, in each entry of a list at the key `inside` (in the mapping at the top
    where that is empty), and only where the entry says `when`. `values` are new values for keys of `when`,
    `keys` new keys by the older ones. `since` is the version that brought the new words, `refused` the first
    one that does not read the older ones, empty while they are read.
    """

    kinds: tuple[Kind, ...]
    inside: str
    keys: Mapping[str, str]
    since: str
    when: Mapping[str, str] = _NOTHING
    values: Mapping[str, str] = _NOTHING
    refused: str = ""

    @property
    def words(self) -> tuple[str, ...]:
        """The older words: a file without all of these has nothing of this row."""
        return tuple(self.when.values()) or tuple(self.keys)


FORMS: tuple[Form, ...] = (
    Form(
        kinds=("version", "routine"),
        inside="blocks",
        when={"kind": "time cap"},
        values={"kind": "timed rounds"},
        keys={"cap": "lasts"},
        since="0.2",
    ),
)
"""The table. Rows are added and never taken out; tests/reading/test_forms.py holds the rule."""


def renew(kind: Kind, document: Document) -> Iterator[tuple[Severity, Fault]]:
    """Put the words of today into the data of a file, and tell of every older one with its place."""
    rows = [row for row in FORMS if kind in row.kinds and _may_hold(row, document.text)]
    if rows and document.complete:
        renewing = _Renewing(rows, document)
        document.data = renewing.copy(document.data, (), "")
        yield from renewing.told


def _may_hold(row: Form, text: bytes) -> bool:
    return any(word.encode() in text for word in row.words)


class _Renewing:
    """A file that is gone through. Paths are in the words of today; the document knows what stands there."""

    def __init__(self, rows: list[Form], document: Document) -> None:
        self.rows, self.document = rows, document
        self.told: list[tuple[Severity, Fault]] = []

    def copy(self, value: object, path: Path, inside: str) -> object:
        """The value in the words of today; `inside` is the key of the list that it is an entry of."""
        if isinstance(value, list):
            key = path[-1] if path and isinstance(path[-1], str) else "\0"
            return [self.copy(entry, (*path, index), key) for index, entry in enumerate(value)]
        if isinstance(value, dict):
            found = self._mapping(value, path, inside)
            return {key: self.copy(entry, (*path, key), "\0") for key, entry in found.items()}
        return value

    def _mapping(self, data: Mapping[str, object], path: Path, inside: str) -> Mapping[str, object]:
        for row in self.rows:
            if row.inside == inside and all(data.get(key) == word for key, word in row.when.items()):
                data = self._in_new_words(data, path, row)
        return data

    def _in_new_words(self, data: Mapping[str, object], path: Path, row: Form) -> Mapping[str, object]:
        found: dict[str, object] = {}
        for key, value in data.items():
            new = row.keys.get(key, key)
            if new != key and new in data:
                # Which of the two is meant is for the author to say: the older one is an unknown key.
                new = key
            if new != key:
                self.document.renamed[*path, new] = key
                self._tell(row, (*path, new), f"the key {shown(key)}", f"write {new}: instead", at_key=True)
            if key in row.values:
                value = row.values[key]
                older = f"{key}: {shown(row.when[key])}"
                self._tell(row, (*path, new), older, f"write {key}: {value}", at_key=False)
            found[new] = value
        return found

    def _tell(self, row: Form, path: Path, older: str, hint: str, *, at_key: bool) -> None:
        if row.refused:
            message = f"{older} is an older form, which is not read since version {row.refused}"
            self.told.append(("error", Fault("form", path, message, hint, at_key)))
        else:
            message = f"{older} is an older form; it is read still, and some version to come will refuse it"
            self.told.append(("note", Fault("form", path, message, hint, at_key)))
