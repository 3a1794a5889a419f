"""Slips that would be told many times, or as something else: each is told once, where it was made."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from ..findings import Fault, Finding, Path, shown
from ..source import Document
from ..source.scalars import plain

_STUCK = re.compile(rb"[{,] *[a-z][a-z -]*:[^\s:/]")
_STUCK_KEY = re.compile(r"([a-z][a-z -]*):([^\s:/].*)")
_COMMA = re.compile(rb"[0-9] *, *[0-9]")
_REST_OF_A_NUMBER = re.compile(r"([0-9]{1,3})( ?(?:kg|min|s|m|l|%))?")
_MISSING = re.compile(r"(?:exercise|easier|harder|instead): unknown exercise (\".*\")$")
MOST_PLACES = 12
"""Places that one message names."""


def slips_in_braces(document: Document) -> Iterator[Fault]:
    """`load: 2,5 kg`, where the comma begins a key `5 kg`, and `rest:60 s`, which is one key without a value.

    The data is mended in place, so that nothing else is told of it.
    """
    begun = _COMMA.search(document.text) or _STUCK.search(document.text)
    waiting: list[tuple[object, Path]] = [(document.data, ())] if begun else []
    while waiting:
        here, path = waiting.pop()
        if isinstance(here, dict):
            yield from _in(here, path)
            waiting += [
                (value, (*path, key)) for key, value in here.items() if isinstance(value, dict | list)
            ]
        elif isinstance(here, list):
            waiting += [
                (value, (*path, at)) for at, value in enumerate(here) if isinstance(value, dict | list)
            ]


def _in(mapping: dict[str, object], path: Path) -> Iterator[Fault]:
    for key in [key for key, value in mapping.items() if value is None]:
        stuck = _STUCK_KEY.fullmatch(key)
        if stuck and stuck[1] not in mapping:
            message = f"no space after the colon of {shown(stuck[1])}"
            yield Fault("key", (*path, key), message, f"write {stuck[1]}: {stuck[2]}", at_key=True)
            mapping[stuck[1]] = plain(stuck[2])
            del mapping[key]
    keys = list(mapping)
    for before, key in pairwise(keys):
        rest = _REST_OF_A_NUMBER.fullmatch(key) if mapping.get(key, "") is None else None
        whole = mapping.get(before)
        if rest and type(whole) is int:
            point = f"{whole}.{key}"
            name = f"{path[-1]}, {before}" if path and isinstance(path[-1], str) else before
            yield Fault(
                "value", (*path, before), f"{name}: found {whole},{key}, with a comma", f"write {point}"
            )
            mapping[before] = point if rest[2] else float(point)
            del mapping[key]


def missing_once(findings: Sequence[Finding]) -> list[Finding]:
    """Findings, with one for an exercise that is not there and is named more than once."""
    named: dict[str, list[Finding]] = {}
    for finding in findings:
        missing = _MISSING.match(finding.message) if finding.check == "reference" else None
        if missing:
            named.setdefault(missing[1], []).append(finding)
    several = {word: own for word, own in named.items() if len(own) > 1}
    firsts = {own[0]: _all_places(word, own) for word, own in several.items()}
    others = {finding for own in several.values() for finding in own[1:]}
    return [firsts.get(finding, finding) for finding in findings if finding not in others]


def _all_places(word: str, findings: Sequence[Finding]) -> Finding:
    told = [f"{finding.file}:{finding.line}" for finding in findings[1 : MOST_PLACES + 1]]
    more = len(findings) - 1 - len(told)
    also = ", ".join([*told, *([f"{more} more places"] if more > 0 else [])])
    message = f"{findings[0].message}, which is named in {also} too"
    hint = f"write exercises/{word.strip(chr(34))}.yaml, or name another one in all these places"
    return replace(findings[0], message=message, hint=hint)
