"""What is wrong or worth knowing, and where: the one shape in which every stage reports."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from itertools import islice
from typing import Literal

from generator.escaping import printable

MOST_TOLD = 100
"""Bound on the faults of one kind in one file."""
Severity = Literal["error", "warning", "note"]
Path = tuple[str | int, ...]
"""Keys and list positions from the top of a file to one of its values."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A problem at `path` inside one file, before it has a file name, a line and a column."""

    check: str
    path: Path
    message: str
    hint: str = ""
    at_key: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the check report. `line` and `column` count from 1; `at` names the session meant."""

    check: str
    severity: Severity
    file: str
    line: int
    column: int
    at: str
    message: str
    hint: str = ""
    source: str = ""

    def as_json(self) -> dict[str, str | int]:
        """The documented JSON shape."""
        return asdict(self)


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Each finding once, by file and place."""
    return sorted(
        set(findings), key=lambda f: (f.file, f.line, f.column, f.check, f.at, f.message, f.severity, f.hint)
    )


def bounded(faults: Iterable[Fault]) -> list[Fault]:
    """The first MOST_TOLD faults; a last one says when there are more, which often follow from these."""
    told = list(islice(faults, MOST_TOLD + 1))
    if len(told) > MOST_TOLD:
        told[-1] = Fault(
            "value", (), f"more faults of this kind than the {MOST_TOLD} told", "mend these first"
        )
    return told


def nearest(word: object, known: Iterable[str]) -> str:
    """A hint that names the known word closest to `word`, or nothing when none is close."""
    if word is None or isinstance(word, dict | list):
        return ""
    text = str(word)[:60].lower()
    words = sorted(known)
    begun = [one for one in words if len(one) > 2 and text.startswith(one)]
    close = begun if len(begun) == 1 else difflib.get_close_matches(text, words, n=1, cutoff=0.6)
    return f'did you mean "{close[0]}"?' if close else ""


def listed(words: Iterable[str], last: str = "or") -> str:
    """Words as prose, in the order given: `a, b or c`."""
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} {last} {items[-1]}" if items else "none"


def in_weeks(numbers: Sequence[int]) -> str:
    """`week 3`, `weeks 1 to 3`, `weeks 1, 2 and 4`."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][1] == number - 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    texts = [
        text
        for first, last in runs
        for text in ([f"{first} to {last}"] if last > first + 1 else map(str, range(first, last + 1)))
    ]
    return f"{'week' if len(numbers) == 1 else 'weeks'} {listed(texts, 'and')}"


def shown(value: object) -> str:
    """A value as a message quotes it: short, on one line, and named when it is a list or a mapping."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "a list"
    text = printable(" ".join(str(value).split()))
    text = text if len(text) <= 40 else text[:37] + "..."
    return f'"{text}"' if isinstance(value, str) else text
