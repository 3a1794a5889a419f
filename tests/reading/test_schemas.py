"""The JSON Schemas that editors use say what the models say, tried with a reference validator."""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from phasepress.reading.model import KINDS, Kind, json_schema
from phasepress.reading.source import read
from ruamel.yaml import YAML

from tests.fixtures import trees

DEMO = Path(__file__).resolve().parents[2] / "programmes"


def kind_of(file: Path) -> Kind:
    """Which schema a file of a tree has, by its name alone."""
    if file.parent.name in ("exercises", "routines"):
        return "exercise" if file.parent.name == "exercises" else "routine"
    if file.name in ("club.yaml", "programme.yaml"):
        return "club" if file.name == "club.yaml" else "programme"
    return "version"


def plain(file: Path) -> Any:
    """The file as a reference library for YAML 1.2 reads it; that one makes dates, which JSON has not."""
    return json.loads(json.dumps(YAML(typ="safe", pure=True).load(file.read_text("utf-8")), default=str))


def complaints(kind: Kind, data: Any) -> list[str]:
    return [error.message for error in Draft202012Validator(json_schema(kind)).iter_errors(data)]


FILES = [
    file
    for tree in (DEMO, trees.GOOD)
    for file in sorted(tree.rglob("*.yaml"))
    if ".schema" not in file.parts
]


@pytest.mark.parametrize("kind", KINDS)
def test_each_schema_is_one_of_the_draft_that_it_names(kind: Kind) -> None:
    assert json_schema(kind)["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(json_schema(kind))


@pytest.mark.parametrize("file", FILES, ids=lambda file: f"{file.parent.name}/{file.name}")
def test_every_good_file_fits_its_schema(file: Path) -> None:
    assert complaints(kind_of(file), plain(file)) == []


@pytest.mark.parametrize("file", FILES, ids=lambda file: f"{file.parent.name}/{file.name}")
def test_the_reference_library_reads_the_same_data_as_we_do(file: Path) -> None:
    assert read(file.name, file.read_bytes()).data == plain(file)


# Fault folders whose fault lies within one file and is no matter of order, of sums or of the calendar.
ALONE = [
    "key-missing", "key-missing-in-a-list", "key-unknown", "key-unknown-after-a-comma", "value-empty-amount",
    "key-missing-kind-of-block", "value-nothing", "value-ages-as-one", "value-duration", "value-file-is-a-list",
    "value-file-is-empty", "value-how-many", "value-id", "value-language", "value-list", "value-mapping",
    "value-mass-and-distance", "value-no-unit", "value-seconds-per-rep", "value-tempo", "value-text",
    "value-true-or-false", "value-weekday", "value-whole-number", "value-word", "warm-up",
]  # fmt: skip
# Whether a tempo lasts any time at all is a sum and no matter of form.
NOT_OF_FORM = {"value-tempo": ["arm-raise.yaml"]}


@pytest.mark.parametrize("name", ALONE)
def test_the_schema_refuses_a_file_that_the_model_refuses(name: str) -> None:
    fault = trees.BAD / name
    passed = [
        file.name for file in sorted(fault.rglob("*.yaml")) if not complaints(kind_of(file), plain(file))
    ]
    assert passed == NOT_OF_FORM.get(name, [])


def test_nothing_that_is_left_empty_fits_where_a_value_belongs() -> None:
    for kind in KINDS:
        assert '"null"' not in json.dumps(json_schema(kind))


@pytest.mark.parametrize("kind", KINDS)
def test_the_schemas_beside_the_demo_are_those_of_the_models(kind: Kind) -> None:
    """`phasepress schema` writes them anew."""
    assert json.loads((DEMO / ".schema" / f"{kind}.schema.json").read_text("utf-8")) == json_schema(kind)


def test_the_command_writes_a_schema_for_every_kind_of_file(tmp_path: Path) -> None:
    tree = trees.copy_of_good(tmp_path)
    assert trees.run(tree, "schema").exit_code == 0
    for kind in KINDS:
        written = json.loads((tree / ".schema" / f"{kind}.schema.json").read_text("utf-8"))
        assert written == json_schema(kind)
    assert trees.check_text(tree).startswith("no errors"), "the folder of schemas is no programme"
