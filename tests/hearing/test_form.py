"""The log's schema in every site says the same as the reader: the same files are read by both, or by neither."""

import copy
import json
import random
from typing import Any

import jsonschema
import pytest
from phasepress.hearing import form
from phasepress.hearing.log import Reader

from tests.browser.log_records import any_record, of_first_form
from tests.hearing.form_cases import CASES

SCHEMA = jsonschema.Draft202012Validator(form.schema())


def in_schema(record: Any) -> bool:
    return bool(SCHEMA.is_valid({"format": "phasepress log", "version": 2, "sessions": [record]}))


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(form.schema())


@pytest.mark.parametrize("name", CASES)
def test_the_reader_takes_what_the_schema_takes_and_says_why_not(name: str) -> None:
    record, is_one = CASES[name]
    read = Reader().read(json.loads(json.dumps(record)))
    assert in_schema(record) == is_one
    assert (not isinstance(read, str)) == is_one, read
    assert is_one or read


def test_records_with_anything_that_a_record_may_hold_are_read_in_both_forms() -> None:
    chance = random.Random(3)
    reader = Reader()
    for number in range(300):
        record = any_record(chance, number)
        for one in (record, of_first_form(record)):
            assert in_schema(one)
            session = reader.read(copy.deepcopy(one))
            assert not isinstance(session, str), session
            assert [bout._asdict() for bout in session.bouts] == record["stations"]
            assert session.note == record["note"]
            told = [stop._asdict() for stop in session.stops]
            assert told == (record["reports"] if one is record else [])


def test_a_set_that_was_read_once_does_not_let_another_type_pass() -> None:
    """Python takes True for 1 and 1.0 for 1 when it looks for a key."""
    reader = Reader()
    sound, _ = CASES["sound"]
    assert not isinstance(reader.read(sound), str)
    wrong = copy.deepcopy(sound)
    wrong["stations"][0]["round"] = True
    assert "station 1: round is not" in str(reader.read(wrong))
