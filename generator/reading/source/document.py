"""One file as it was read: its data, its problems, and where each of its values stands."""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass, field

from ..escaping import printable
from ..findings import LOOK_LIKE_SPACES, Fault, Finding, Path, Severity
from .builder import Builder, Places, place
from .syntax import Problem, UnreadableError, line_and_column

_NO_SPACE = re.compile("|".join(rf"\\u{ord(sign):04x}" for sign in sorted(LOOK_LIKE_SPACES)))
MOST_BYTES = 1_000_000


@dataclass(slots=True)
class Document:
    """One file as it was read. `name` is how messages call it.

    `problems` are those of the YAML itself and of signs that no text may hold; where `complete` is false,
    reading stopped at one of them and `data` is None. `repeated` is how many values its aliases stand for.
    """

    name: str
    text: bytes
    data: object = None
    problems: list[Finding] = field(default_factory=list)
    complete: bool = True
    repeated: int = 0
    renamed: dict[Path, str] = field(default_factory=dict, repr=False, compare=False)
    """By the path of a key in `data` the word that stands in the text instead, where that is an older one."""
    _places: tuple[int, Places | None] | None = field(default=None, repr=False, compare=False)

    def finding(self, fault: Fault, severity: Severity = "error", at: str = "", source: str = "") -> Finding:
        """The fault with this file's name and the line and column of its path."""
        line, column = self.place(fault.path, at_key=fault.at_key)
        message, hint = printable(fault.message), printable(fault.hint)
        if _NO_SPACE.search(message):
            hint = "what is shown as \\u... looks like a space and is none: type a space in its place"
        return Finding(fault.check, severity, self.name, line, column, at, message, hint, source)

    def place(self, path: Path, *, at_key: bool = False) -> tuple[int, int]:
        """Line and column, from 1, of the value at `path` (or its key); of its nearest parent when absent."""
        if self._places is None:
            # Read once more, for the few files in which something is found.
            builder = Builder(record=True)
            with suppress(UnreadableError):
                builder.run(self.text)
            self._places = builder.places
        if self.renamed:
            path = tuple([self.renamed.get(path[: at + 1], step) for at, step in enumerate(path)])
        return place(self._places, path, at_key=at_key)


def read(name: str, text: bytes) -> Document:
    """Parse one file. Never raises for anything in the text: what is wrong is in `problems`."""
    document = Document(name, text)
    builder = Builder()
    try:
        if len(text) > MOST_BYTES:
            message = f"the file has more than {MOST_BYTES:,} bytes, which no file here needs"
            raise UnreadableError(Problem(1, 1, message, "see what got into it, or split it"))
        _require_text(text)
        builder.run(text)
        document.data, document.repeated = builder.result, builder.repeated
    except UnreadableError as stop:
        document.complete = False
        builder.problems.append(stop.problem)
    document.problems = [
        Finding(p.check, "error", name, p.line, p.column, "", printable(p.message), printable(p.hint))
        for p in builder.problems
    ]
    return document


def _require_text(text: bytes) -> None:
    """UTF-8, as every file is."""
    try:
        text.decode("utf-8")
    except UnicodeDecodeError as error:
        message = f"the file is not UTF-8 text (byte 0x{text[error.start]:02x})"
        line, column = line_and_column(text, error.start)
        problem = Problem(line, column, message, "save it with the encoding UTF-8")
        raise UnreadableError(problem) from None
