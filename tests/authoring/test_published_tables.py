"""The table of a phase against RFC 4180, section 2 (from memory), and an independent reader of such tables."""

import csv
import io
from pathlib import Path

import pytest
from phasepress.authoring.from_table import phase_from_table
from phasepress.authoring.table import as_table
from phasepress.reading.catalogue import VersionEntry, load

from tests.fixtures.phases import TWO_LEVELS, day, planted, sets, version

SETTING = 'one "big" step, then up'


@pytest.fixture
def phase(tmp_path: Path) -> VersionEntry:
    """Two weeks with a setting that has quotes and a comma."""
    station = f"squat, sets: 2, reps: {{starter: [8, 9], other: 10}}, setting: '{SETTING}'"
    tree = planted(tmp_path, {"1.0": version(day(sets(station)), weeks=2)}, TWO_LEVELS)
    return load(tree).catalogue.programmes["trial"].versions[0]


def test_every_record_ends_in_cr_and_lf_and_has_as_many_fields_as_the_headings(phase: VersionEntry) -> None:
    """1 and 4."""
    text = as_table(phase)
    assert text.endswith("\r\n")
    assert text.count("\n") == text.count("\r\n") == 3
    assert len({len(row) for row in csv.reader(io.StringIO(text, newline=""), strict=True)}) == 1


def test_a_field_with_commas_and_quotes_is_quoted_and_its_quotes_are_doubled(phase: VersionEntry) -> None:
    """6 and 7, as in the example "aaa","b""bb","ccc"."""
    text = as_table(phase)
    assert text.count(',"one ""big"" step, then up",') == 2
    read = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    assert [row["setting"] for row in read] == [SETTING] * 2


@pytest.mark.parametrize("end", ["\r\n", ""], ids=["with a last line break", "without"])
@pytest.mark.parametrize("quoting", [csv.QUOTE_ALL, csv.QUOTE_MINIMAL], ids=["all quoted", "some quoted"])
def test_the_standards_choices_of_quotes_and_of_a_last_line_break_change_nothing(
    end: str, quoting: int, phase: VersionEntry
) -> None:
    """2 and 5."""
    again = io.StringIO(newline="")
    writer = csv.writer(again, quoting=quoting, lineterminator="\r\n")  # type: ignore[arg-type]
    writer.writerows(csv.reader(io.StringIO(as_table(phase), newline="")))
    saved = again.getvalue().removesuffix("\r\n") + end
    starts = phase.model.starts
    assert phase_from_table(saved.encode(), phase, starts, "") == phase_from_table(
        as_table(phase).encode(), phase, starts, ""
    )


def test_a_line_break_in_a_field_is_read_as_a_space(phase: VersionEntry) -> None:
    """6 allows one, as "b CRLF bb"; a setting is one line."""
    broken = as_table(phase).replace("step, then", "step,\r\nthen")
    text, _ = phase_from_table(broken.encode(), phase, phase.model.starts, "")
    assert r'setting: "one \"big\" step, then up"' in text
