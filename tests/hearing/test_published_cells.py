"""Tables and times as two standards write them, by the standards' own examples (from memory, by section)."""

from datetime import UTC, datetime

import pytest
from phasepress.hearing.cells import UnsureError, moment
from phasepress.hearing.csv_file import BrokenTableError, rows

# --- RFC 4180, section 2: comma-separated values ------------------------------------------------------------------------

TABLES = {
    "1, a line break after each record": ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    "2, none after the last": ("aaa,bbb,ccc\r\nzzz,yyy,xxx", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    "4, spaces belong to a field": ("aaa, bbb ,ccc\r\n", [["aaa", " bbb ", "ccc"]]),
    "5, quoted or not": ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    "6, a line break in a field": ('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "b\r\nbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    "7, a quote in a field": ('"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]),
}  # fmt: skip


@pytest.mark.parametrize("rule", TABLES)
def test_a_table_is_read_as_the_standards_example_says(rule: str) -> None:
    text, expected = TABLES[rule]
    assert [row.cells for row in rows(text)] == expected


def test_a_row_is_told_by_the_line_on_which_it_begins() -> None:
    text, _ = TABLES["6, a line break in a field"]
    assert [row.line for row in rows(text)] == [1, 3]


def test_a_quote_that_is_not_doubled_is_damage() -> None:
    """Section 2, 7: a quote in a field has to be doubled."""
    with pytest.raises(BrokenTableError, match="line 1"):
        list(rows('"aaa","b"bb","ccc"'))


# --- RFC 3339, section 5.8: times (reference: Python's own reader of them) ------------------------------------------------

TIMES = ["1985-04-12T23:20:50.52Z", "1996-12-19T16:39:57-08:00", "1937-01-01T12:00:27.87+00:20"]


@pytest.mark.parametrize("text", TIMES)
def test_a_moment_is_read_as_the_reference_reads_it(text: str) -> None:
    assert moment(text) == pytest.approx(datetime.fromisoformat(text).timestamp() * 1000, abs=0.5)


def test_two_ways_to_write_one_moment_are_one() -> None:
    """ "This represents 39 minutes and 57 seconds after the 16th hour of December 19th, 1996 with an offset of -08:00
    from UTC. Note that this is equivalent to 1996-12-20T00:39:57Z"."""
    assert moment(TIMES[1]) == moment("1996-12-20T00:39:57Z")
    assert moment(TIMES[1]) == datetime(1996, 12, 20, 0, 39, 57, tzinfo=UTC).timestamp() * 1000


@pytest.mark.parametrize("text", ["1990-12-31T23:59:60Z", "1990-12-31T15:59:60-08:00"])
def test_a_leap_second_is_told_and_not_taken_for_another(text: str) -> None:
    """Two more examples of the section, which no device writes: it counts days of 86,400 s (ECMA-262)."""
    with pytest.raises(UnsureError, match="no calendar has"):
        moment(text)
    with pytest.raises(ValueError, match="second"):
        datetime.fromisoformat(text)
