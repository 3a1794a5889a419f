"""The door for an author's text on its way out: to a terminal, to a forge's log, to JSON, to Markdown.

HTML is escaped by its templates, XML by its writer, calendars by theirs, and the log's table in the browser.
"""

from __future__ import annotations

import json
import re

MOST_SHOWN = 1000
"""Bound on the length of a message, in characters."""

FORBIDDEN_IN_SCHEMA = (
    "\\u0000-\\u0008\\u000b-\\u001f\\u007f-\\u009f\\u2028\\u2029\\u202a-\\u202e\\u2066-\\u2069"
    "\\ufdd0-\\ufdef\\ufffe\\uffff"
)
"""Signs that no text of a tree may hold, as the inside of a class of a pattern, for JSON Schema too.

Controls but tab and newline (a terminal obeys them), signs that break a line unseen, signs that turn the
direction of what follows, and numbers that Unicode says are no characters (XML 1.0 has no place for them).
"""
_BEYOND = "".join(
    f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0x10000, 0x110000, 0x10000)
)
_FORBIDDEN = re.compile(f"[{FORBIDDEN_IN_SCHEMA}{_BEYOND}]")
_JOINERS = "\u200c\u200d"
_KEPT = f"\n{_JOINERS}"
"""Without these, words of some scripts cannot be written; they show nothing themselves."""

# "Workflow commands for GitHub Actions": a line that begins with `::`, whatever white space is before it.
# Its runner, and another forge, look for the older `##[…]` and `##name[…]` anywhere in a line. Which unseen
# signs a runner skips is not written down, so that all are taken for white space. All from memory.
_COMMAND = re.compile(r"^([^!-~]*):(?=:)|(?<=#)#(?=\w*\[)")

_MARKED = re.compile(r"`+")
# A word in Markdown that no forge reads as more than a word: letters, or a number with its sign and decimals.
# What is known to be read as more: addresses, names after @, numbers after # or !, hashes of commits, GH-1
# and ABC-123, $mathematics$, :pictures:, ~labels, %milestones, HTML, and all of Markdown itself.
_WORD = r"[^\W_]+(?:['’–-][^\W\d_]+)*"
_NUMBER = r"[+−]?\d+(?:[.,–×]\d+){0,3}"
_CALM = re.compile(
    rf'[("“]{{0,2}}(?:{_WORD}|{_NUMBER})[)"”]{{0,2}}[,;:.?!…)]{{0,2}}|[–→·×−%&]|%[),;.]{{1,2}}'
)
_HASH = re.compile(r"\W*[0-9a-f]{7,}\W*", re.IGNORECASE)
_LIST = re.compile(r"\d+[.)]+")


def forbidden(text: str) -> re.Match[str] | None:
    """The first sign in the text that no text of a tree may hold."""
    # Nearly all texts are printable, which is quicker to ask for.
    return None if text.isprintable() else _FORBIDDEN.search(text)


def without_forbidden(text: str) -> str:
    """The text without these signs: what it is when it is mended."""
    return text if text.isprintable() else _FORBIDDEN.sub("", text)


def sign(character: str) -> str:
    """How a message calls a character: `U+202E`."""
    return f"U+{ord(character):04X}"


def on_one_line(text: str) -> str:
    """The text on one line, without characters that a terminal would act on; those are shown as escapes."""
    if text.isprintable():
        return text
    return "".join(map(_visible, text))


def _visible(character: str) -> str:
    if character.isprintable() or character in _JOINERS:
        return character
    # A line break of any kind, or a space of another width.
    if character.isspace():
        return " "
    return _escape(character)


def _escape(character: str) -> str:
    number = ord(character)
    return f"\\u{number:04x}" if number < 0x10000 else f"\\U{number:08x}"


def printable(text: str) -> str:
    """The text on one line and of bounded length, without characters that a terminal would act on."""
    return on_one_line(text if len(text) <= MOST_SHOWN else text[: MOST_SHOWN - 3] + "...")


def terminal(text: str) -> str:
    """One line for a terminal, which a forge may keep as its log: nothing in it is obeyed by either."""
    return _no_command(on_one_line(text))


def _no_command(line: str) -> str:
    return _COMMAND.sub(lambda found: f"{found[1] or ''}{_escape(found[0][-1])}", line)


def github_data(text: str) -> str:
    """What a workflow command says ("Workflow commands for GitHub Actions", from memory)."""
    return _no_command(text).replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def github_property(text: str) -> str:
    """One of the properties of a workflow command."""
    return github_data(text).replace(":", "%3A").replace(",", "%2C")


def as_json(value: object) -> str:
    """JSON (RFC 8259) that says the same and may go to a terminal: signs that act stand there as escapes."""
    text = json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False)
    if not text.replace("\n", "").isprintable():
        text = "".join(c if c.isprintable() or c in _KEPT else json.dumps(c)[1:-1] for c in text)
    # Two such signs stand side by side within strings only.
    return _COMMAND.sub(lambda found: _escape(found[0]), text)


def markdown(text: str) -> str:
    """Text that stays text on the page of a forge: its flavour of Markdown, HTML, links and mentions.

    Plain words stay as they are. All else is in spans of code: a forge looks for its own signs in the
    finished text, where neither a backslash nor an entity is left, and passes over code.
    """
    shown: list[str] = []
    odd: list[str] = []
    for number, word in enumerate(printable(text).split()):
        calm = _CALM.fullmatch(word) and not _HASH.fullmatch(word)
        if calm and not (number == 0 and _LIST.fullmatch(word)):
            shown += [*_code(odd), word]
            odd = []
        else:
            odd.append(word)
    return " ".join([*shown, *_code(odd)])


def _code(words: list[str]) -> list[str]:
    """The words as one span of code, if there are any; a table's sign cannot be in one."""
    return ["&#124;".join(map(_span, " ".join(words).split("|")))] if words else []


def _span(text: str) -> str:
    if not text.strip():
        return text
    fence = "`" * (max(map(len, _MARKED.findall(text)), default=0) + 1)
    # One space at both ends is taken off again (CommonMark 0.31, section 6.1).
    pad = " " if text[0] in "` " or text[-1] in "` " else ""
    return f"{fence}{pad}{text}{pad}{fence}"
