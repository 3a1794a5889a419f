"""What is wrong or worth knowing, and where: the one shape in which every stage reports."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from functools import lru_cache
from itertools import islice
from typing import Literal

from .escaping import printable

LOOK_LIKE_SPACES = frozenset("\u00a0\u2007\u202f\u3000")
"""Signs that look like a space and are none to YAML; a message shows them."""
MOST_TOLD = 100
"""Bound on the faults of one kind in one file."""
MOST_COMPARED = 200
"""Bound on the known words with which a wrong one is compared."""
MOST_LETTERS = 64
_CLOSE = 0.6
"""The likeness from which a known word is suggested. Common practice, no source."""
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


def nearest(word: object, known: Iterable[str], close: float = _CLOSE) -> str:
    """A hint that names the known word closest to `word`, or nothing when none is as close as `close`."""
    if word is None or isinstance(word, dict | list):
        return ""
    text = str(word)[:60].lower()
    words = _beside(text, frozenset(known))
    begun = [one for one in words if len(one) > 2 and text.startswith(one)]
    if len(begun) == 1:
        return f'did you mean "{begun[0]}"?'
    best = max(((_likeness(text, one), one) for one in words), default=(0.0, ""))
    return f'did you mean "{best[1]}"?' if best[0] >= close else ""


def _beside(text: str, known: frozenset[str]) -> Sequence[str]:
    """All known words in order; of very many, those that begin or end as `text` does."""
    words, backwards = _in_both_orders(known)
    if len(words) <= MOST_COMPARED:
        return words
    half = MOST_COMPARED // 4
    at, end = bisect_left(words, text), bisect_left(backwards, text[::-1])
    ends = [word[::-1] for word in backwards[max(0, end - half) : end + half]]
    return sorted({*words[max(0, at - half) : at + half], *ends})


@lru_cache(maxsize=8)
def _in_both_orders(known: frozenset[str]) -> tuple[list[str], list[str]]:
    """The words in order, and each of them backwards in order."""
    return sorted(known), sorted(word[::-1] for word in known) if len(known) > MOST_COMPARED else []


def _likeness(one: str, other: str) -> float:
    """Twice the letters that both have in one order, of all their letters: 1 where they are the same.

    The letters are those of the longest common subsequence, found for all places at once in the bits of a
    number (Crochemore et al. 2001; Hyyrö 2004).
    """
    other = other[:MOST_LETTERS]
    if _CLOSE * (len(one) + len(other)) > 2 * min(len(one), len(other)):
        return 0.0
    places: dict[str, int] = {}
    for at, letter in enumerate(one):
        places[letter] = places.get(letter, 0) | 1 << at
    every = (1 << len(one)) - 1
    row = every
    for letter in other:
        found = row & places.get(letter, 0)
        row = (row + found | row - found) & every
    return 2 * (len(one) - row.bit_count()) / (len(one) + len(other))


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
    text = str(value)
    for sign in LOOK_LIKE_SPACES.intersection(text):
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    text = printable(" ".join(text.split()))
    text = text if len(text) <= 40 else text[:37] + "..."
    return f'"{text}"' if isinstance(value, str) else text
