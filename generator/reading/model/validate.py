"""Plain data to a frozen model, or to all that is wrong with it in words a coach can act on."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from ..findings import Fault, Path, bounded, listed, nearest, shown
from .base import FileModel
from .places import elsewhere
from .schemas import KINDS, Kind, first_value, known_keys
from .version import BLOCK_KINDS, AnyBlock

_ANY_BLOCK: TypeAdapter[AnyBlock] = TypeAdapter(AnyBlock)


def validate(kind: Kind, data: object) -> tuple[FileModel | None, list[Fault]]:
    """The model of a file of this kind, or None and the faults of its keys and values."""
    try:
        return KINDS[kind].model_validate(data), []
    except ValidationError as error:
        wrong = (details for details in error.errors(include_url=False) if not _follows(details))
        return None, bounded(fault for details in wrong for fault in _faults(kind, data, details))


def block_alone(data: object) -> AnyBlock | None:
    """The model of one block when it can be read by itself, whatever is wrong elsewhere in the file."""
    try:
        return _ANY_BLOCK.validate_python(data)
    except ValidationError:
        return None


def _follows(error: ErrorDetails) -> bool:
    """Whether a list is too short only because its entries, each reported by itself, were not counted."""
    return error["type"] == "too_short" and len(error["input"]) >= error["ctx"]["min_length"]


def _faults(kind: Kind, data: object, error: ErrorDetails) -> Iterator[Fault]:
    location = error["loc"]
    path = _path_in_file(location)
    if error["type"] == "parts":
        for part in error["ctx"]["parts"]:
            name = _name((*path, *part.path))
            message = f"{name}: {part.message}" if part.message.startswith("found") else part.message
            yield Fault(part.check, (*path, *part.path), message, part.hint, part.at_key)
    elif error["type"] == "extra_forbidden":
        yield _unknown_key(kind, data, list(known_keys(kind, location[:-1])), path)
    elif error["type"] == "literal_error" and location[-1] == "[key]":
        allowed, hint = _choice(error)
        yield Fault("key", path, f"unknown key {shown(path[-1])}, allowed {allowed}", hint, at_key=True)
    elif error["type"] == "missing":
        key = str(path[-1])
        yield _missing(path[:-1], key, first_value(known_keys(kind, location[:-1]).get(key, {})))
    elif error["type"] in ("union_tag_not_found", "union_tag_invalid"):
        yield _wrong_kind(data, path)
    else:
        message, hint = _wrong_value(error)
        if path and error["input"] is None:
            hint = "write it after the colon, or take the key out"
            if isinstance(path[-1], int):
                hint = "write it after the hyphen, in quotes if it holds a #, or take the entry out"
        yield Fault("value", path, f"{_name(path)}: {message}", hint)


def _wrong_kind(data: object, path: Path) -> Fault:
    """A block without a kind, or with one that is none of the four."""
    block: Any = _at(data, path)
    if "kind" not in block:
        return _missing(path, "kind", f"and one of {listed(BLOCK_KINDS)}")
    kind = block["kind"]
    hint = nearest(kind, BLOCK_KINDS) or "write one of these kinds"
    message = f"kind: found {shown(kind)}, allowed {listed(BLOCK_KINDS)}"
    return Fault("value", (*path, "kind"), message, hint)


def _path_in_file(location: tuple[str | int, ...]) -> Path:
    """The error's location without what pydantic puts in it: the kind after each block, and `[key]`."""
    added = {index for index in range(2, len(location)) if location[index - 2] == "blocks"}
    return tuple(step for index, step in enumerate(location) if index not in added and step != "[key]")


def _unknown_key(kind: Kind, data: object, known: list[str], path: Path) -> Fault:
    key = str(path[-1])
    hint = _of_straight_sets(path) or elsewhere(kind, key) or nearest(key, known)
    if not hint and _at(data, path) is None:
        hint = _AFTER_A_COMMA if " " in key.strip() and not key[0].isdigit() else _NO_VALUE
    message = f"unknown key {shown(key)}, allowed {listed(sorted(known))}"
    return Fault("key", path, message, hint or "take it out", at_key=True)


def _of_straight_sets(path: Path) -> str:
    """A hint for what only a station of straight sets has."""
    at_a_station = len(path) > 2 and path[-3] == "stations"
    return _SAID_AT_THE_BLOCK.get(str(path[-1]), "") if at_a_station else ""


_SAID_AT_THE_BLOCK = {
    "sets": "the block says how often, by rounds: or minutes:; only in straight sets has a station sets:",
    "rest": "the block says rest:; only in straight sets has a station its own",
}


_AFTER_A_COMMA = 'a comma begins a new key inside { }: put text with a comma in quotes, "..."'
_NO_VALUE = "take it out; decimals take a point, such as 2.5, and text with a comma takes quotes"


def _at(data: object, path: Path) -> object:
    here: Any = data
    for step in path:
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def _missing(parent: Path, key: str, value: str) -> Fault:
    if key == "warm-up":
        message = "a day without a warm-up (common practice, no source: every session starts with one)"
        return Fault("warm-up", parent, message, "add warm-up: and the id of a routine")
    where = f" in {_name(parent)}" if parent else ""
    return Fault("key", parent, f"missing key {key}{where}", f"add {key}: {value}".rstrip())


def _wrong_value(error: ErrorDetails) -> tuple[str, str]:
    """Message and hint for what pydantic itself judges."""
    raw = error["input"]
    explain = EXPLAIN.get(error["type"])
    if explain is None:
        return f"found {shown(raw)}, {error['msg'][:1].lower()}{error['msg'][1:]}", "write another value"
    allowed, hint = explain(error)
    found = _how_many(len(raw)) if error["type"] in ("too_short", "too_long") else shown(raw)
    return f"found {found}, allowed {allowed}", hint


def _choice(error: ErrorDetails) -> tuple[str, str]:
    words = re.findall(r"'([^']*)'", str(error["ctx"]["expected"]))
    return listed(words), nearest(error["input"], words) or "write one of these words"


def _text(error: ErrorDetails) -> tuple[str, str]:
    if isinstance(error["input"], dict):
        return "text", 'a colon makes a mapping of it: put the text in quotes, "..."'
    if isinstance(error["input"], list):
        return "text", "write one text, without [ ] and hyphens"
    return "text", 'put it in quotes: "..."'


_MAPPING = ("a mapping", "write lines of key: value")
_LIST = ("a list", "write [...], or a line with a hyphen for each entry")
EXPLAIN: dict[str, Callable[[ErrorDetails], tuple[str, str]]] = {
    "literal_error": _choice,
    "string_type": _text,
    "string_too_short": lambda e: ("text that is not empty", "write something, or take the key out"),
    "string_too_long": lambda e: (f"text of at most {e['ctx']['max_length']} characters", "write it shorter"),
    "bool_type": lambda e: ("true or false", "yes, no, on and off are plain words in YAML 1.2"),
    "tuple_type": lambda e: _LIST,
    "dict_type": lambda e: _MAPPING,
    "model_type": lambda e: _MAPPING,
    "model_attributes_type": lambda e: _MAPPING,
    "too_short": lambda e: (f"at least {_how_many(e['ctx']['min_length'])}", "add what is missing"),
    "too_long": lambda e: (f"at most {_how_many(e['ctx']['max_length'])}", "take some out"),
}


def _how_many(length: int) -> str:
    return f"{length} {'entry' if length == 1 else 'entries'}"


def _name(path: Path) -> str:
    """How a message calls the value at `path`: its key, and which entry of a list."""
    if not path:
        return "the file"
    keys = [step for step in path if isinstance(step, str)]
    name = keys[-1] if keys else "the file"
    if len(keys) > 1 and isinstance(path[-1], str) and isinstance(path[-2], str):
        name = f"{keys[-2]}, {keys[-1]}"
    return f"{name}, entry {path[-1] + 1}" if isinstance(path[-1], int) else name
