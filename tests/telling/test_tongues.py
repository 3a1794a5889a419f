"""Each key below which a club writes what people read is known as one in the club's language."""

from collections.abc import Iterator
from typing import Any

from phasepress.reading.model import KINDS, json_schema
from phasepress.telling.tongues import OWN_KEYS

# Free text that no page has as the club's words: a name or a check of ours, an address, and two below `tempo words`.
NOT_READ = {"at", "check", "contact", "lifting", "lowering"}


def free_text(node: Any, key: str = "") -> Iterator[str]:
    """The keys below which stands text of any words: what may not be in it is named sign by sign."""
    if isinstance(node, list):
        for one in node:
            yield from free_text(one, key)
    elif isinstance(node, dict):
        if str(node.get("pattern", "")).startswith("^[^"):
            yield key
        for name, below in node.get("properties", {}).items():
            yield from free_text(below, name)
        for name in ("patternProperties", "$defs"):
            yield from free_text(list(node.get(name, {}).values()), key)
        for name in ("items", "anyOf", "oneOf", "allOf", "additionalProperties"):
            yield from free_text(node.get(name), key)


def test_what_a_club_writes_is_in_its_language() -> None:
    found = {key for kind in KINDS for key in free_text(json_schema(kind))}
    assert found - NOT_READ <= OWN_KEYS
    assert found > NOT_READ | {"cues", "cautions", "if hurt", "side is"}
