"""One file as it was read: its data, its problems, and where each of its values stands."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache

from generator.escaping import printable
from generator.findings import Fault, Finding, Path, Severity
from generator.source.builder import Builder
from generator.source.signs import Mark
from generator.source.syntax import Problem, UnreadableError, line_and_column

MOST_BYTES = 1_000_000


@dataclass(slots=True)
class Document:
    """One file as it was read. `name` is how messages call it.

    `problems` are those of the YAML itself and of signs that no text may hold; where `complete` is false,
    reading stopped at one of them and `data` is None.
    """

    name: str
    text: bytes
    data: object = None
    problems: list[Finding] = field(default_factory=list)
    complete: bool = True

    def finding(self, fault: Fault, severity: Severity = "error", at: str = "", source: str = "") -> Finding:
        """The fault with this file's name and the line and column of its path."""
        line, column = self.place(fault.path, at_key=fault.at_key)
        message, hint = printable(fault.message), printable(fault.hint)
        return Finding(fault.check, severity, self.name, line, column, at, message, hint, source)

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
    builder = Builder()
    try:
        if len(text) > MOST_BYTES:
            message = f"the file has more than {MOST_BYTES:,} bytes, which no file here needs"
            raise UnreadableError(Problem(1, 1, message, "see what got into it, or split it"))
        _require_text(text)
        builder.run(text)
        document.data = builder.result
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


@lru_cache(maxsize=4)
def _places(text: bytes) -> tuple[dict[Path, Mark], dict[Path, Mark]]:
    """Places of all keys and all values; of what stands before the stop, when the file is not readable."""
    builder = Builder(record=True)
    with suppress(UnreadableError):
        builder.run(text)
    return builder.keys, builder.values
