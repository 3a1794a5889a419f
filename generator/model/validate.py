"""Plain data to a frozen model, or to all that is wrong with it in words a coach can act on."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from generator.findings import Fault, Path, listed, nearest, shown
from generator.model.base import FileModel
from generator.model.schemas import KINDS, Kind, known_keys
from generator.model.version import AnyBlock

_ANY_BLOCK: TypeAdapter[AnyBlock] = TypeAdapter(AnyBlock)


def validate(kind: Kind, data: object) -> tuple[FileModel | None, list[Fault]]:
    """The model of a file of this kind, or None and every fault of its keys and values."""
    try:
        return KINDS[kind].model_validate(data), []
    except ValidationError as error:
        return None, [fault for details in error.errors() for fault in _faults(kind, data, details)]


def block_alone(data: object) -> AnyBlock | None:
    """The model of one block when it can be read by itself, whatever is wrong elsewhere in the file."""
    try:
        return _ANY_BLOCK.validate_python(data)
    except ValidationError:
        return None


def _faults(kind: Kind, data: object, error: ErrorDetails) -> Iterator[Fault]:
    location = error["loc"]
    path = _path_in_file(data, location)
    if error["type"] == "parts":
        for part in error["ctx"]["parts"]:
            name = _name((*path, *part.path))
            message = f"{name}: {part.message}" if part.message.startswith("found") else part.message
            yield Fault(part.check, (*path, *part.path), message, part.hint, part.at_key)
    elif error["type"] == "extra_forbidden":
        yield _unknown_key(known_keys(kind, location[:-1]), path)
    elif error["type"] in ("missing", "union_tag_not_found"):
        key = "kind" if error["type"] == "union_tag_not_found" else str(path[-1])
        yield from _missing(data, path if error["type"] == "union_tag_not_found" else path[:-1], key)
    else:
        message, hint = _wrong_value(error)
        yield Fault("value", path, f"{_name(path)}: {message}", hint)


def _path_in_file(data: object, location: tuple[str | int, ...]) -> Path:
    """The error's location without the names of block kinds that pydantic puts in it."""
    path: list[str | int] = []
    here: Any = data
    for step in location:
        if isinstance(here, dict) and step not in here and here.get("kind") == step:
            continue
        if step == "[key]":
            continue
        path.append(step)
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            here = None
    return tuple(path)


def _unknown_key(known: list[str], path: Path) -> Fault:
    hint = nearest(path[-1], known)
    message = f"unknown key {shown(str(path[-1]))}, allowed {listed(sorted(known))}"
    return Fault("key", path, message, hint or "take it out, or see the format in the README", at_key=True)


def _missing(data: object, parent: Path, key: str) -> Iterator[Fault]:
    if key == "warm-up":
        message = "a day without a warm-up (common practice, no source: every session starts with one)"
        yield Fault("warm-up", parent, message, "add warm-up: and the id of a routine")
        return
    here: Any = data
    for step in parent:
        here = here[step]
    where = f" in {_name(parent)}" if parent else ""
    if isinstance(here, dict):
        yield Fault("key", parent, f"missing key {key}{where}", f"add {key}:")


def _wrong_value(error: ErrorDetails) -> tuple[str, str]:
    found = shown(error["input"])
    explain = _EXPLAIN.get(error["type"])
    if explain is None:
        return f"found {found}, {error['msg'][:1].lower()}{error['msg'][1:]}", ""
    allowed, hint = explain(error)
    return f"found {found}, allowed {allowed}", hint


def _choice(error: ErrorDetails) -> tuple[str, str]:
    expected = error["ctx"].get("expected") or error["ctx"].get("expected_tags", "")
    words = re.findall(r"'([^']*)'", str(expected))
    found = error["ctx"].get("tag", error["input"])
    return listed(words), nearest(found, words)


def _text(error: ErrorDetails) -> tuple[str, str]:
    single = isinstance(error["input"], int | float)
    return "text", 'put it in quotes: "..."' if single else ""


_EXPLAIN: dict[str, Callable[[ErrorDetails], tuple[str, str]]] = {
    "literal_error": _choice,
    "union_tag_invalid": _choice,
    "string_type": _text,
    "string_too_short": lambda e: ("text that is not empty", "write something, or take the key out"),
    "string_too_long": lambda e: (f"text of at most {e['ctx']['max_length']} characters", "write it shorter"),
    "string_pattern_mismatch": lambda e: (f"text of the form {e['ctx']['pattern']}", ""),
    "int_type": lambda e: ("a whole number", ""),
    "bool_type": lambda e: ("true or false", "YAML 1.2 knows true and false; yes and no are words"),
    "greater_than_equal": lambda e: (f"{e['ctx']['ge']} or more", ""),
    "less_than_equal": lambda e: (f"{e['ctx']['le']} or less", ""),
    "tuple_type": lambda e: ("a list", "write [ ... ] or one line with a hyphen for each entry"),
    "dict_type": lambda e: ("a mapping", "write key: value lines"),
    "model_type": lambda e: ("a mapping", "write key: value lines"),
    "model_attributes_type": lambda e: ("a mapping", "write key: value lines"),
    "too_short": lambda e: (_how_many("at least", e["ctx"]["min_length"]), ""),
    "too_long": lambda e: (_how_many("at most", e["ctx"]["max_length"]), ""),
}


def _how_many(bound: str, length: int) -> str:
    return f"{bound} {length} {'entry' if length == 1 else 'entries'}"


def _name(path: Path) -> str:
    """How a message calls the value at `path`: its key, and which entry of a list."""
    if not path:
        return "the file"
    keys = [step for step in path if isinstance(step, str)]
    name = keys[-1] if keys else "the file"
    if len(keys) > 1 and isinstance(path[-1], str) and isinstance(path[-2], str):
        name = f"{keys[-2]}, {keys[-1]}"
    return f"{name}, entry {path[-1] + 1}" if isinstance(path[-1], int) else name
