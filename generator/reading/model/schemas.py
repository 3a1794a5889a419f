"""The JSON Schema of every file kind, made from the models."""

from __future__ import annotations

from functools import lru_cache
from typing import Any, Literal

from pydantic.json_schema import GenerateJsonSchema
from pydantic_core.core_schema import WithDefaultSchema

from ..findings import listed
from .base import FileModel
from .club import Club, Programme
from .exercise import Exercise
from .hovers import with_hovers
from .version import Routine, Version

Kind = Literal["club", "exercise", "routine", "programme", "version"]
KINDS: dict[Kind, type[FileModel]] = {
    "club": Club,
    "exercise": Exercise,
    "routine": Routine,
    "programme": Programme,
    "version": Version,
}
Node = dict[str, Any]


class _WithoutNull(GenerateJsonSchema):
    """A key that is left out has no value; null is not its default."""

    def default_schema(self, schema: WithDefaultSchema) -> Node:
        if schema.get("default", ...) is None:
            return self.generate_inner(schema["schema"])
        return super().default_schema(schema)


@lru_cache(maxsize=8)
def json_schema(kind: Kind) -> Node:
    """JSON Schema (draft 2020-12) of one file kind."""
    schema = KINDS[kind].model_json_schema(by_alias=True, schema_generator=_WithoutNull)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **with_hovers(schema)}


def known_keys(kind: Kind, path: tuple[str | int, ...]) -> dict[str, Node]:
    """The keys that the mapping at `path` (as pydantic names it) may have, each with its schema."""
    root = json_schema(kind)
    node = _resolved(root, root)
    for step in path:
        node = _resolved(root, _child(node, step))
    keys: dict[str, Node] = node.get("properties", {})
    return keys


def first_value(schema: Node) -> str:
    """What to write after a key that is missing: its words when they are few, or an example."""
    one = schema["anyOf"][0] if "anyOf" in schema else schema
    if "enum" in one:
        return f"and one of {listed(one['enum'])}"
    if one.get("type") == "array" and "examples" in one.get("items", {}):
        return f"[{one['items']['examples'][0]}]"
    return str(one["examples"][0]) if "examples" in one else ""


def _child(node: Node, step: str | int) -> Node:
    options: list[Node] = [node, *node.get("anyOf", [])]
    for option in options:
        if isinstance(step, int) and "items" in option:
            return option["items"]  # type: ignore[no-any-return]
        found = option.get("properties", {}).get(step) or option.get("discriminator", {}).get(
            "mapping", {}
        ).get(step)
        if found is None and isinstance(option.get("additionalProperties"), dict):
            found = option["additionalProperties"]
        if found is not None:
            return {"$ref": found} if isinstance(found, str) else found
    return {}


def _resolved(root: Node, node: Node) -> Node:
    """The node behind a reference; of a choice, the one that is a mapping or a list."""
    while True:
        if "$ref" in node:
            node = root["$defs"][node["$ref"].rsplit("/", 1)[-1]]
        elif "anyOf" in node and any("$ref" in o or o.get("type") in _NESTED for o in node["anyOf"]):
            node = next(o for o in node["anyOf"] if "$ref" in o or o.get("type") in _NESTED)
        else:
            return node


_NESTED = ("object", "array")
