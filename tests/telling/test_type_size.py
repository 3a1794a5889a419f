"""How large a sheet's type may be: more to print never makes it larger, and what does not fit says so."""

import re

from hypothesis import given
from hypothesis import strategies as st
from phasepress.telling.views.faces import PACK, USUAL
from phasepress.telling.views.papers import PAPERS, SHEET, room
from phasepress.telling.views.type_size import (
    ANYWHERE,
    MARKS,
    ON_MORE_PAGES,
    SIZES,
    Grid,
    Setting,
    Words,
    digits,
    paragraph,
    size,
)

from tests.conftest import ROOT

ORDER = [kind.mark for kind in SIZES]
ABOVE, BELOW = [50.0, 50.0], 20.0


def grid(rows: int, name: str = "Side plank", columns: int = 1) -> Grid:
    row = (
        Words(name, large=True, bold=True),
        Words("8 each side", large=True),
        Words("16 in total", large=False),
    )
    return Grid("A Circuit: 2 rounds", columns, 4, (row,) * rows)


def marks(classes: str) -> list[str]:
    """The marks of sizes in classes such as `t10 l9`: one for each paper, in the order of the papers."""
    assert [one[0] for one in classes.split()] == list(MARKS[: len(classes.split())])
    return [one[1:] for one in classes.split()]


def test_few_stations_have_the_largest_type() -> None:
    assert marks(size(ABOVE, [grid(1)], BELOW)) == [ORDER[0]] * 2


def test_what_fits_in_no_size_goes_on_in_one_that_is_read_from_afar() -> None:
    assert marks(size(ABOVE, [grid(200)], BELOW)) == [ON_MORE_PAGES] * 2
    assert next(kind.names for kind in SIZES if kind.mark == ON_MORE_PAGES) >= 12


@given(st.integers(1, 30), st.integers(1, 30), st.integers(1, 6))
def test_more_rows_never_have_larger_type_until_the_page_is_full(few: int, more: int, columns: int) -> None:
    sizes = [marks(size(ABOVE, [grid(rows, columns=columns)], BELOW)) for rows in (few, few + more)]
    heights = 15.0 * (few + more)
    if heights < min(paper.height for paper in ANYWHERE.rooms):
        for smaller, larger in zip(*sizes, strict=True):
            assert ORDER.index(smaller) <= ORDER.index(larger)


@given(st.text(min_size=1, max_size=200), st.floats(7, 30), st.floats(20, 190))
def test_a_text_is_at_least_one_line_and_never_lower_in_a_narrower_room(
    text: str, points: float, room: float
) -> None:
    line = 1.2 * points * 25.4 / 72
    height = paragraph(text, points, room, USUAL)
    assert height >= (line - 1e-9 if text.split() else 0)
    assert paragraph(text, points, room / 2, USUAL) >= height - 1e-9


def test_a_word_longer_than_its_line_is_counted_with_all_its_lines() -> None:
    line = 1.2 * 10 * 25.4 / 72
    assert paragraph("w" * 100, 10, 100, USUAL) >= 3 * line


def test_signs_of_full_width_are_wider_than_letters() -> None:
    assert paragraph("訓" * 60, 10, 150, USUAL) > paragraph("a" * 60, 10, 150, USUAL)


def test_the_digits_of_a_long_session_are_counted() -> None:
    assert digits(["0:00", "9:59", "100:05", ""]) == 5
    assert digits([]) == 4


def test_the_styles_have_every_size_and_no_other() -> None:
    styles = (ROOT / "theme_overrides/css/paper.css").read_text(encoding="utf-8")
    units = "--name:{}pt;--words:{}pt;--cue:{}pt;--way:{}pt;--still:{}mm;--aside:{}mm;--ways:{}"
    for paper in MARKS:
        found = re.findall(rf"^\.{paper}([a-z]|\d+)\{{(.+)\}}$", styles, re.MULTILINE)
        expected = [
            (
                kind.mark,
                units.format(*(f"{one:g}" for one in kind[1:-1]), "inline" if kind.all_ways else "none"),
            )
            for kind in SIZES
        ]
        assert found == expected


def test_cues_have_nine_points_in_all_sizes_but_the_last_and_eight_there() -> None:
    assert min(kind.cues for kind in SIZES[:-1]) == 9
    assert SIZES[-1].cues == 8


def test_warm_up_and_cool_down_give_way_before_the_stations_of_the_day() -> None:
    without = [
        [kind.mark for kind in SIZES if not getattr(kind, name)] for name in ("aside", "all_ways", "still")
    ]
    assert len(without[0]) > len(without[1]) > len(without[2]) > 0


def test_drawings_take_room_beside_the_words_and_as_much_height_as_they_have() -> None:
    bare = [grid(8)] * 3
    drawn = [one._replace(drawn=True) for one in bare]
    assert ORDER.index(marks(size(ABOVE, drawn, BELOW))[0]) >= ORDER.index(marks(size(ABOVE, bare, BELOW))[0])


def test_what_warm_up_and_cool_down_leave_out_is_not_counted() -> None:
    way = Words("Easier: " + "hold on to the wall, " * 14, large=False, way=True)
    rows = tuple((*row, way) for row in grid(9).rows)
    full = Grid("warm-up Once through", 1, 4, rows)
    sizes = [
        [
            ORDER.index(marks(size(ABOVE, [one, grid(more)], BELOW))[0])
            for one in (full, full._replace(aside=True))
        ]
        for more in range(1, 22)
    ]
    assert all(aside <= day for day, aside in sizes)
    assert any(aside < day for day, aside in sizes)


def test_the_margins_of_the_styles_are_those_that_are_counted_on() -> None:
    styles = (ROOT / "theme_overrides/css/sheet.css").read_text(encoding="utf-8")
    (margins,) = re.findall(r"@page\{margin:(\d+)mm (\d+)mm\}", styles)
    assert tuple(map(int, margins)) == SHEET
    assert list(PAPERS.values()) == [(210, 297), (215.9, 279.4)]
    assert ANYWHERE.rooms == tuple(room(paper, SHEET) for paper in PAPERS.values())


@given(st.integers(1, 30), st.integers(1, 6))
def test_a_pack_has_no_smaller_type_than_a_page_that_any_machine_prints(rows: int, columns: int) -> None:
    grids = [grid(rows, columns=columns)]
    (pack,) = marks(size(ABOVE[:1], grids, BELOW, Setting(PACK, ANYWHERE.rooms[:1])))
    page = marks(size(ABOVE, grids, BELOW))[0]
    assert page == ON_MORE_PAGES or ORDER.index(pack) <= ORDER.index(page)
