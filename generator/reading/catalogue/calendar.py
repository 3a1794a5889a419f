"""Phases in time: those of one programme never overlap."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from itertools import groupby
from typing import NamedTuple

from ..findings import Fault
from . import raw

Key = tuple[str, int, int]
"""Programme id, phase, edition."""


class _Span(NamedTuple):
    starts: date
    ends: date
    key: Key


def overlaps(versions: Mapping[Key, object]) -> Iterator[tuple[Key, Fault]]:
    """`dates` faults between the newest editions of a programme's phases, at the later start."""
    newest = {
        (programme, phase): (programme, phase, edition) for programme, phase, edition in sorted(versions)
    }
    spans = [span for key in newest.values() if (span := _span(key, versions[key]))]
    for _, group in groupby(sorted(spans, key=_programme), _programme):
        own = sorted(group)
        last = own[0]
        for span in own[1:]:
            if span.starts <= last.ends:
                name = f"{last.key[1]}.{last.key[2]}"
                message = f"starts: this phase starts while {name} runs, which ends on {last.ends}"
                monday = last.ends + timedelta(days=1)
                yield span.key, Fault("dates", ("starts",), message, f"start on {monday} or later")
            last = max(last, span, key=lambda span: span.ends)


def _programme(span: _Span) -> str:
    return span.key[0]


def _span(key: Key, data: object) -> _Span | None:
    starts, weeks = raw.mapping(data).get("starts"), raw.mapping(data).get("weeks")
    if not isinstance(starts, str) or type(weeks) is not int or not 1 <= weeks <= 52:
        return None
    try:
        first = date.fromisoformat(starts)
        return _Span(first, first + timedelta(days=7 * weeks - 1), key)
    except (ValueError, OverflowError):
        return None
