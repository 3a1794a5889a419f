"""What an editor shows over a key."""

import pytest
from phasepress.reading.model import KINDS, json_schema
from phasepress.reading.model.hovers import HOVERS

OF_FIGURES = {"Figure", "Position", "Mark"}
"""Their keys are explained in the format's own chapter, with drawings."""


def keys(kind: str) -> dict[str, object]:
    """Every key of a file of this kind, below its mapping's name."""
    schema = json_schema(kind)  # type: ignore[arg-type]
    nodes = {kind: schema, **{name: one for name, one in schema.get("$defs", {}).items()}}
    return {
        f"{name}.{key}": value
        for name, node in nodes.items()
        if name not in OF_FIGURES
        for key, value in node.get("properties", {}).items()
    }


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_key_has_a_text_over_it(kind: str) -> None:
    assert [key for key, value in keys(kind).items() if "description" not in value] == []  # type: ignore[operator]


def test_a_text_has_an_example_or_all_words_and_says_what_holds_without_the_key() -> None:
    for key, text in HOVERS.items():
        assert "Example: " in text or key == "kind", key
        assert len(text) <= 200, key


def test_units_are_said_where_there_are_some() -> None:
    for key, unit in {
        "mass": "Kilograms",
        "load": "Kilograms",
        "distance": "Metres",
        "rest": "Seconds",
    }.items():
        assert HOVERS[key].startswith(unit)
