"""Single values that break readers: numbers, amounts with slips, and words that something would act on."""

from random import Random

SECRET = "topsecret-9f3a"
"""Stands in every file outside the tree, in content and name; nothing may ever print it."""

NUMBERS = [
    "0", "-0", "-1", "1", "2", "3", "5", "12", "52", "53", "99999", "1e400", "1e-300", ".nan", ".inf", "-.inf", "0x10",
    "0o7", "0.1", "1.5", "1_000", "1,5", "9" * 300, "9" * 301, "\u0663", "\u00bd", "1e9", "+5", "05", "2027-02-30",
    "2027-01-11", "8640000000000000", "-8640000000000000", "8639999999999999", "9007199254740993", "1e308", "0001-01-01", "9999-12-27", "true", "null", "~", "no",
]  # fmt: skip
AMOUNTS = [
    "0 s", "-1 s", "5", "5 s", "5s", "5  s", "5 S", "5 min", "1 h", "1:60", "0:00", "99:99", "240 min", "0.001 s",
    "1e9 s", "\u221e s", "5 kg", "5 lb", "2.5 kg", "0 kg", "1000000 kg", "10 m", "0 m", "10 km", "0.5 l", "50 %", "0 %",
    "9999999 %", "3-1-X-0", "3-1-X", "X-X-X-X", "0-0-0-0", "9999-0-0-0", "2\u20131\u20132\u20130", "mon", "mon or mon",
    "tue or", "1.0", "30 s or 1 min", "'1:30'",
]  # fmt: skip
WORDS = [
    "", " ", "none", "null", "other", "starter", "wall-sit", "march", "home", "__proto__", "constructor", "club.yaml",
    "::error::forged", "::add-mask::e", "##[error]forged", "%0A::error::forged", "a\n::error::forged", "a\r::stop-commands::x",
    "\x1b[2J\x1b]0;forged\x07", "a\x00b", "\x7f", "\x85::error::forged", "\u2028::error::forged", "\u2029x", "\u202eforged\u202c",
    "\u2066x", "\u2069", "\u200d\u200b\u00ad", "\ufeff", "\ufffe", "\ud800", "\U000e0001", "e\u0301" * 50, "\u05e9\u05dc\u05d5\u05dd",
    "<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "<!--", "]]>", "</style>", "{{ 7*7 }}", "{% raw %}",
    "${7*7}", "%s%n%p", "![x](http://forged.example/x)", "[x](javascript:alert(1))", "@everyone #1 :tada:",
    "www.forged.example", "http://forged.example", "| a | b |", "```", "=cmd|' /C calc'!A0", "@SUM(1)", "BEGIN:VEVENT",
    "a\r\nATTENDEE:mailto:x@forged.example", "a;b,c:d\\n", "../../outside/secret.yaml", "/etc/passwd", "file:///etc/passwd",
    "-", "?", "- a", "a: b", "#", "&a", "*a", "!x", "@x", "`", "'", '"', "\\", "\t", "---", "...", "%YAML 9.9",
    "w" * 39, "w" * 200, "long word " * 1000, "\U0001f600" * 40,
]  # fmt: skip


def scalar(rng: Random) -> object:
    """A value as data: a word, or text that stands unquoted and so may be read as anything."""
    kind = rng.randrange(3)
    return rng.choice(WORDS) if kind == 0 else Bare(rng.choice(NUMBERS if kind == 1 else AMOUNTS))


class Bare(str):
    """Text that stands in the file as it is."""
