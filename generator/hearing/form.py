"""The form of a log, said once: for this reader, for the schema in every site, and for tests of the
browser's import.

A record is one session. Form 2 added `utc` and `reports`; form 1 is read as form 2 without them. Keys that
are not known here are passed over.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

NAME = "phasepress log"
FORMS = (1, 2)
MOST_STATIONS = 20_000
"""Finished sets of one session, as in js/log/transfer.js."""
MOST_SAFE = 2**53 - 1
LAST_MOMENT = 864 * 10**13 - 8 * 864 * 10**5
"""Milliseconds from 1970: a week and a day less than a browser's dates reach (ECMAScript 2023, 21.4.1.1)."""
HURTS, TOO_HARD = "hurts", "too hard"
_DAY_OF_MINUTES = 24 * 60
Schema = dict[str, Any]


class Kind(NamedTuple):
    """What a value has to be: a test, words for a message, and the same as JSON Schema."""

    fits: Callable[[Any], bool]
    words: str
    schema: Schema


def _is_number(value: object) -> bool:
    return type(value) in (int, float) and abs(value) <= 1.7976931348623157e308  # type: ignore[arg-type]


def _is_whole(value: Any) -> bool:
    return _is_number(value) and value == math.floor(value) and abs(value) <= MOST_SAFE


def _or_nothing(kind: Kind) -> Kind:
    fits, words, schema = kind
    nothing = {"anyOf": [schema, {"type": "null"}]}
    return Kind(lambda value: value is None or fits(value), f"{words}, or nothing", nothing)


_ID = re.compile("[A-Za-z0-9_-]{1,64}")
TEXT = Kind(lambda value: isinstance(value, str), "text", {"type": "string"})
AMOUNT = Kind(
    lambda value: _is_number(value) and value >= 0, "a number from 0 up", {"type": "number", "minimum": 0}
)
COUNT = Kind(
    lambda value: _is_whole(value) and value >= 0,
    "a whole number from 0 up",
    {"type": "integer", "minimum": 0, "maximum": MOST_SAFE},
)
MOMENT = Kind(
    lambda value: _is_number(value) and abs(value) <= LAST_MOMENT,
    "a time (in JSON milliseconds since 1970, in CSV such as 2027-01-11T17:03:22Z)",
    {"type": "number", "minimum": -LAST_MOMENT, "maximum": LAST_MOMENT},
)
IDENTIFIER = Kind(
    lambda value: isinstance(value, str) and _ID.fullmatch(value) is not None,
    "letters, digits and hyphens, at most 64",
    {"type": "string", "pattern": "^[A-Za-z0-9_-]{1,64}$"},
)
EFFORT = _or_nothing(
    Kind(
        lambda value: _is_whole(value) and 0 <= value <= 10,
        "a whole number from 0 to 10",
        {"type": "integer", "minimum": 0, "maximum": 10},
    )
)
OFFSET = _or_nothing(
    Kind(
        lambda value: _is_whole(value) and abs(value) <= _DAY_OF_MINUTES,
        "a whole number of minutes, at most a day",
        {"type": "integer", "minimum": -_DAY_OF_MINUTES, "maximum": _DAY_OF_MINUTES},
    )
)
WHY = Kind(
    lambda value: value in (HURTS, TOO_HARD) and isinstance(value, str),
    f'"{HURTS}" or "{TOO_HARD}"',
    {"enum": [HURTS, TOO_HARD]},
)

STATION: dict[str, Kind] = {
    "label": TEXT,
    "exercise": TEXT,
    "name": TEXT,
    "round": COUNT,
    "dose": TEXT,
    "reps": _or_nothing(AMOUNT),
    "way": TEXT,
}
"""Every key of a finished station; `way` is the easier way that was chosen, or empty."""
REPORT: dict[str, Kind] = {
    "station": TEXT,
    "where": TEXT,
    "why": WHY,
    "note": TEXT,
    "time": _or_nothing(MOMENT),
}
"""Every key of a stop that the coach has to hear of. `station` is a label, `where` says where it hurts."""
UNSAID: dict[str, Any] = {"station": "", "where": "", "note": "", "time": None}
"""What stands for a key that a report does not have."""
RECORD: dict[str, Kind] = {
    "id": IDENTIFIER,
    "address": TEXT,
    "programme": TEXT,
    "version": TEXT,
    "plan": TEXT,
    "day": TEXT,
    "title": TEXT,
    "level": TEXT,
    "week": COUNT,
    "planned": AMOUNT,
    "started": MOMENT,
    "ended": _or_nothing(MOMENT),
    "seconds": AMOUNT,
    "effort": EFFORT,
    "note": TEXT,
    "utc": OFFSET,
}
"""Every key of a record but `v`, `stations` and `reports`. `planned` and `seconds` are seconds, `utc`
minutes."""
ADDED: dict[str, Any] = {"utc": None, "reports": []}
"""What stands for what form 2 added, where a record does not have it."""


def fault(record: object) -> str:
    """What is wrong with a record, such as `week is not a whole number from 0 up`, or nothing."""
    if not isinstance(record, dict):
        return "it is not a record"
    if not (_is_number(record.get("v")) and record["v"] in FORMS):
        return f"v is not {' or '.join(map(str, FORMS))}"
    stations, reports = record.get("stations"), record.get("reports", ADDED["reports"])
    for name, value in (("stations", stations), ("reports", reports)):
        if not isinstance(value, list):
            return f"{name} is not a list"
    return (
        keys_fault({**ADDED, **record}, RECORD)
        or _first_fault("station", stations or [], STATION, {})
        or _first_fault("report", reports, REPORT, UNSAID)
    )


def keys_fault(values: Mapping[str, Any], keys: Mapping[str, Kind], where: str = "") -> str:
    """The first key whose value does not fit, and what it has to be."""
    for key, kind in keys.items():
        if not kind.fits(values.get(key, _ABSENT)):
            return f"{where}{key} is not {kind.words}"
    return ""


_ABSENT = object()


def _first_fault(name: str, entries: list[Any], keys: Mapping[str, Kind], unsaid: Mapping[str, Any]) -> str:
    for number, entry in enumerate(entries, 1):
        if not isinstance(entry, dict):
            return f"{name} {number} is not a {name}"
        wrong = keys_fault({**unsaid, **entry} if unsaid else entry, keys, f"{name} {number}: ")
        if wrong:
            return wrong
    return ""


def schema() -> Schema:
    """The JSON Schema of a log's file."""
    station = _object(STATION, list(STATION), "A finished set of a station.")
    report = _object(REPORT, ["why"], "A stop because something hurts, or because it is too hard.")
    record = _object(RECORD, [key for key in RECORD if key not in ADDED], "A session.")
    record["required"] += ["v", "stations"]
    record["properties"] |= {
        "v": {"enum": list(FORMS)},
        "stations": {"type": "array", "items": {"$ref": "#/$defs/station"}, "maxItems": MOST_STATIONS},
        "reports": {"type": "array", "items": {"$ref": "#/$defs/report"}},
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A log of training sessions, as the page Your log saves it",
        "type": "object",
        "required": ["format", "version", "sessions"],
        "properties": {
            "format": {"const": NAME},
            "version": {"enum": list(FORMS)},
            "sessions": {"type": "array", "items": {"$ref": "#/$defs/session"}},
        },
        "$defs": {"session": record, "station": station, "report": report},
    }


def _object(keys: Mapping[str, Kind], required: list[str], description: str) -> Schema:
    properties = {key: dict(kind.schema) for key, kind in keys.items()}
    return {
        "type": "object", "description": description, "required": required, "properties": properties
    }  # fmt: skip
