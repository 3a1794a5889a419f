"""The JSON Schema (draft 2020-12) of `plan.json`; units are in the names."""

from __future__ import annotations

from typing import Any

from ...reading.model import ID_PATTERN, WEEKDAYS

Node = dict[str, Any]
COLUMNS = ("start", "length", "kind", "block", "station", "exercise", "round", "side", "reps")
"""What each value of a segment's row is; starts and lengths in seconds."""

_ID: Node = {"type": "string", "pattern": f"^{ID_PATTERN}$"}
_TEXT: Node = {"type": "string", "minLength": 1}
_WHOLE: Node = {"type": "integer", "minimum": 0}
_AMOUNT: Node = {"type": "number", "minimum": 0}


def _maybe(node: Node) -> Node:
    return {"anyOf": [node, {"type": "null"}]}


def _list(items: Node, **more: Any) -> Node:
    return {"type": "array", "items": items, **more}


def _object(properties: Node, optional: Node | None = None) -> Node:
    return {
        "type": "object",
        "properties": {**properties, **(optional or {})},
        "required": list(properties),
        "additionalProperties": False,
    }


_ROW: tuple[Node, ...] = (
    {**_AMOUNT, "description": "seconds from the start of the session"},
    {**_AMOUNT, "description": "seconds"},
    {"enum": ["work", "side change", "changeover", "rest", "wait"]},
    _TEXT,
    _maybe(_TEXT),
    _maybe(_ID),
    _maybe(_WHOLE),
    {"enum": ["left", "right", None]},
    _maybe(_WHOLE),
)
_STATION = _object(
    {"label": _TEXT, "exercise": _ID, "sides": {"enum": ["both", "each", "alternating"]}},
    {
        "reps": {**_WHOLE, "description": "per side, unless sides is both; the upper end of a range"},
        "reps_least": {**_WHOLE, "description": "the lower end, where reps are a range"},
        "hold_seconds": {**_AMOUNT, "description": "on each side where sides is each"},
        "work_seconds": {**_AMOUNT, "description": "on each side where sides is each"},
        "metres": _AMOUNT,
        "takes_seconds": _AMOUNT,
        "tempo": {
            **_TEXT,
            "description": "lowering-pause-lifting-pause, in seconds; X as fast as control allows",
        },
        "setting": {**_TEXT, "description": "how hard it is set, where no number says it"},
        "sets": _WHOLE,
        "rest_seconds": {**_AMOUNT, "description": "between sets"},
        "load_kg": _AMOUNT,
        "contacts": {**_WHOLE, "description": "landings a rep"},
        "landing": {"enum": ["none", "low", "medium", "high"]},
    },
)
_BLOCK = _object(
    {
        "label": _TEXT,
        "section": {"enum": ["warm-up", "day", "cool-down"]},
        "kind": {"enum": ["circuit", "straight sets", "every minute", "timed rounds"]},
        "rest_after_seconds": _AMOUNT,
        "stations": _list(_STATION, minItems=1),
    },
    {
        "rounds": _WHOLE,
        "minutes": _WHOLE,
        "lasts_seconds": _AMOUNT,
        "rest_seconds": {**_AMOUNT, "description": "between rounds"},
        "changeover_seconds": _AMOUNT,
    },
)
_SESSION = _object(
    {
        "day": _ID,
        "level": _ID,
        "week": {"type": "integer", "minimum": 1},
        "seconds": {**_AMOUNT, "description": "an estimate"},
        "blocks": _list(_BLOCK),
        "segments": _list(
            {"type": "array", "prefixItems": list(_ROW), "minItems": len(_ROW), "maxItems": len(_ROW)},
            description="the running order, a row for each segment",
        ),
    }
)
PLAN_SCHEMA: Node = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "The resolved plan of one published version, with its running orders",
    **_object(
        {
            "$schema": _TEXT,
            "programme": _ID,
            "title": _TEXT,
            "version": {"type": "string", "pattern": "^[1-9][0-9]*\\.(0|[1-9][0-9]*)$"},
            "phase": _TEXT,
            "plan": {
                "type": "string",
                "pattern": "^[0-9a-f]{4}(-[0-9a-f]{4}){2}$",
                "description": "fingerprint",
            },
            "starts": {"type": "string", "format": "date", "description": "the Monday of week 1"},
            "weeks": {"type": "integer", "minimum": 1},
            "notice": _TEXT,
            "cautions": _list(_TEXT, minItems=1, description="to be shown with every session"),
            "levels": _list(_object({"id": _ID, "name": _TEXT}), minItems=1),
            "days": _list(
                _object(
                    {
                        "id": _ID,
                        "title": _TEXT,
                        "on": _list(
                            _list({"enum": list(WEEKDAYS)}, minItems=1),
                            description="an entry for each session of the week: the weekdays to choose from",
                        ),
                    }
                ),
                minItems=1,
            ),
            "exercises": {
                "type": "object",
                "propertyNames": _ID,
                "additionalProperties": _TEXT,
                "description": "names by id",
            },
            "columns": {"const": list(COLUMNS)},
            "sessions": _list(_SESSION),
        }
    ),
}
