"""What most likely happened where a file stops being YAML: the slips of editors, keyboards and merges.

The parser says where it could not go on, which is often not where the slip is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from ..findings import LOOK_LIKE_SPACES, shown
from .syntax import Problem

_CONFLICT = re.compile(r"(<{7}|={7}|>{7}|\|{7})( .*)?$")
_CURLY = re.compile("[“”„‟«»]")
_KEY = re.compile(r"( *(?:- +)*)([A-Za-z][\w ’'-]*?):(?= |$)")
_HYPHEN = re.compile(r"( *)- ")
_STUCK = re.compile(r" *(?:- +)*([A-Za-z][\w -]*):([^\s:/].*)$")
_AFTER_A_QUOTE = re.compile(r"""(?:- +|: +)(?P<all>(?P<sign>['"])[^'"]*(?P=sign)\s*[^\s#,\]}].*)$""")


def likely(text: bytes, problem: Problem) -> Problem:
    """The problem as the slip that it most likely comes from; itself where none is known."""
    lines = text.decode("utf-8", "replace").removeprefix("\ufeff").split("\n")
    lines = [line.rstrip("\r") for line in lines]
    for look in _LOOKS:
        found = look(lines, problem)
        if found:
            return found
    return problem


def _conflict(lines: Sequence[str], _: Problem) -> Problem | None:
    for number, line in enumerate(lines, 1):
        if _CONFLICT.match(line):
            message = f"a mark of git, {line[:7]}, where two changes meet"
            hint = (
                "keep one of the two parts, and delete the lines that begin with <<<<<<<, ======= and >>>>>>>"
            )
            return Problem(number, 1, message, hint)
    return None


def _no_space(lines: Sequence[str], problem: Problem) -> Problem | None:
    for number in (problem.line, problem.line - 1):
        for column, sign in enumerate(_line(lines, number), 1):
            if sign in LOOK_LIKE_SPACES:
                message = f"a sign that looks like a space and is none, U+{ord(sign):04X}"
                return Problem(number, column, message, "delete it and type a space; look for more of them")
    return None


def _typographic_quotes(lines: Sequence[str], problem: Problem) -> Problem | None:
    found = _CURLY.search(_line(lines, problem.line))
    if not found or "colon" not in problem.message:
        return None
    message = f"the quote {found[0]}, which is a letter to YAML, and a colon after it"
    return Problem(problem.line, found.start() + 1, message, 'write straight quotes around the text: "..."')


def _stuck_colon(lines: Sequence[str], problem: Problem) -> Problem | None:
    """`rest:60 s`, of which the parser tells on the next line."""
    for number in (problem.line, problem.line - 1):
        found = _STUCK.match(_line(lines, number))
        if found and "without its colon" in problem.message:
            message = f"no space after the colon of {shown(found[1])}"
            return Problem(
                number, found.start(2) + 1, message, f"write {found[1]}: {shown(found[2]).strip(chr(34))}"
            )
    return None


def _quote(lines: Sequence[str], problem: Problem) -> Problem | None:
    found = _AFTER_A_QUOTE.search(_line(lines, problem.line))
    if not found or found.start("all") + 1 >= problem.column:
        return None
    other = '"' if found["sign"] == "'" else "'"
    if other in found["all"]:
        return None
    message = "text after a closing quote"
    return Problem(
        problem.line, problem.column, message, f"put the whole of it in quotes: {other}{found['all']}{other}"
    )


def _indentation(lines: Sequence[str], problem: Problem) -> Problem | None:
    """A key that stands a little off the keys above it."""
    own = _KEY.match(_line(lines, problem.line))
    if not own or (problem.message.startswith("a colon") and own.end() != problem.column):
        return None
    here = len(own[1])
    for column, number, key in _keys_above(lines, problem.line):
        off = here - column
        if 0 < abs(off) <= 3:
            many = f"{abs(off)} space{'' if abs(off) == 1 else 's'}"
            way, mend = ("too many", "take out") if off > 0 else ("too few", "add")
            message = (
                f"{own[2]} is indented by {many} {way}: {shown(key)} above it, in line {number}, has {column}"
            )
            return Problem(problem.line, here + 1, message, f"{mend} {many}")
    return None


def _hyphen(lines: Sequence[str], problem: Problem) -> Problem | None:
    """An entry of a list that stands a little off the entry above it."""
    own = _HYPHEN.match(_line(lines, problem.line))
    for number in range(problem.line - 1, max(0, problem.line - 200), -1) if own else ():
        above = _HYPHEN.match(_line(lines, number))
        off = len(own[1]) - len(above[1]) if own and above else 0
        if own and above and 0 < abs(off) <= 3:
            many = f"{abs(off)} space{'' if abs(off) == 1 else 's'}"
            way, mend = ("too many", "take out") if off > 0 else ("too few", "add")
            message = (
                f"this entry is indented by {many} {way}: the one above it, in line {number}, has "
                f"{len(above[1])}"
            )
            return Problem(problem.line, len(own[1]) + 1, message, f"{mend} {many}")
        if above:
            return None
    return None


def _keys_above(lines: Sequence[str], line: int) -> list[tuple[int, int, str]]:
    """Indentation, line and name of the keys that a line may belong beside, the nearest first."""
    found: list[tuple[int, int, str]] = []
    least = 1 << 20
    for number in range(line - 1, max(0, line - 200), -1):
        key = _KEY.match(_line(lines, number))
        if key and len(key[1]) < least:
            least = len(key[1])
            found.append((least, number, key[2]))
    return found


def _line(lines: Sequence[str], number: int) -> str:
    return lines[number - 1][:1000] if 0 < number <= len(lines) else ""


_LOOKS: tuple[Callable[[Sequence[str], Problem], Problem | None], ...] = (
    _conflict,
    _no_space,
    _stuck_colon,
    _quote,
    _indentation,
    _hyphen,
    _typographic_quotes,
)
