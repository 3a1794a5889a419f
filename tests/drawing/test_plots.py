"""Plots are to scale, say in ink what is outside, and stay readable with one week or a year of them."""

import re
from collections.abc import Iterator
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from phasepress.drawing import plots
from phasepress.drawing.plots import GUTTER, WIDTH, Column, Dot, Limit, Row

Box = tuple[str, float, float, float, float]
"""Class, left, top, width and height of a bar or box."""


def drawn(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def boxes(svg: str) -> Iterator[Box]:
    for path in drawn(svg).iter("path"):
        found = re.fullmatch(r"M([\d.-]+) ([\d.-]+)h([\d.]+)v([\d.]+)h-[\d.]+z", path.attrib["d"])
        if found:
            left, top, wide, high = map(float, found.groups())
            yield path.attrib["class"], left, top, wide, high


def bars(svg: str, fill: str = "f") -> list[Box]:
    return [box for box in boxes(svg) if box[0] == fill]


def words(svg: str) -> list[str]:
    return [text.text or "" for text in drawn(svg).iter("text")]


def weeks(*amounts: float, outside: frozenset[int] = frozenset()) -> list[Column]:
    return [Column((("f", each),), str(each), number in outside) for number, each in enumerate(amounts, 1)]


def test_columns_are_as_high_as_their_amounts_and_stand_on_one_foot() -> None:
    found = bars(plots.columns(weeks(10, 20, 40), [], 40, "label", 80))
    assert [high for *_, high in found] == [20, 40, 80]
    assert len({top + high for _, _, top, _, high in found}) == 1


def test_a_limit_lies_at_the_height_of_its_amount() -> None:
    svg = plots.columns(weeks(30, 45), [Limit(45, "limit 45")], 45, "label", 60)
    (line,) = [path for path in drawn(svg).iter("path") if path.attrib["class"] == "l"]
    at = float(re.findall(r"M\S+ (\S+?)H", line.attrib["d"])[0])
    assert at == bars(svg)[1][2]
    assert "limit 45" in words(svg)


def test_parts_stand_on_each_other() -> None:
    (svg,) = [plots.columns([Column((("o", 10), ("h", 20), ("s", 10)), "40")], [], 40, "label", 40)]
    low, medium, high = bars(svg, "o")[0], bars(svg, "h")[0], bars(svg, "s")[0]
    assert medium[2] + medium[4] == low[2]
    assert high[2] + high[4] == medium[2]


def test_what_is_outside_has_its_number_in_a_solid_box() -> None:
    svg = plots.columns(weeks(30, 48, outside=frozenset({2})), [Limit(45, "limit 45")], 48, "label")
    (inside,) = [text for text in drawn(svg).iter("text") if text.text == "30"]
    (outside,) = [text for text in drawn(svg).iter("text") if text.text == "48"]
    assert "class" not in inside.attrib
    assert outside.attrib["class"] == "i"
    (box,) = bars(svg, "s")
    assert box[1] < float(outside.attrib["x"]) < box[1] + box[3]


@pytest.mark.parametrize("many", [1, 6, 12, 26, 52])
def test_any_number_of_weeks_stays_between_gutter_and_edge_without_touching(many: int) -> None:
    found = sorted(
        bars(plots.columns(weeks(*range(100, 100 + many)), [], 152, "label")), key=lambda box: box[1]
    )
    assert len(found) == many
    assert found[0][1] >= GUTTER
    assert found[-1][1] + found[-1][3] <= WIDTH
    assert all(left[1] + left[3] < right[1] for left, right in pairwise(found))


@pytest.mark.parametrize("many", [6, 12, 26, 52])
def test_numbers_of_weeks_never_overlap(many: int) -> None:
    svg = drawn(plots.columns(weeks(*([100] * many)), [], 100, "label"))
    lines: dict[str, list[tuple[float, float]]] = {}
    for text in svg.iter("text"):
        if "class" not in text.attrib:
            half = len(text.text or "") * plots.LETTER / 2
            x = float(text.attrib["x"])
            lines.setdefault(text.attrib["y"], []).append((x - half, x + half))
    for spans in lines.values():
        spans.sort()
        assert all(one[1] <= other[0] + 1.5 for one, other in pairwise(spans))


def test_without_room_for_its_number_what_is_outside_is_marked_all_the_same() -> None:
    svg = plots.columns(weeks(*([100] * 52), outside=frozenset({7})), [], 100, "label")
    assert "100" not in words(svg)
    assert len(bars(svg, "s")) == 1


def test_names_of_lines_that_lie_close_stand_below_each_other() -> None:
    svg = drawn(plots.columns(weeks(10), [Limit(100, "to 100"), Limit(99, "start 99")], 100, "label"))
    one, other = (float(t.attrib["y"]) for t in svg.iter("text") if t.text in ("to 100", "start 99"))
    assert other - one >= plots.LINE


def test_rows_without_changes_share_a_scale_and_rows_with_them_have_their_own() -> None:
    def heights(below: list[tuple[str, bool]]) -> list[float]:
        rows = [Row("one", weeks(10, 5), below), Row("other", weeks(2, 1), below)]
        return [high for *_, high in bars(plots.rows(rows, "label", 20))]

    assert heights([]) == [20, 10, 4, 2]
    assert heights([("", False), ("−50%", False)]) == [20, 10, 20, 10]


def test_the_week_before_the_phase_stands_in_the_gutter_with_a_dashed_line() -> None:
    row = Row("sets", weeks(10), [("+25%", True)], Column((("d", 8),), "8"))
    svg = plots.rows([row], "label", 20)
    (before,) = bars(svg, "d")
    assert before[1] + before[3] < GUTTER
    assert before[4] == 16
    assert {"8", "10", "+25%"} <= set(words(svg))


def test_ratios_lie_on_their_lines_and_what_has_no_other_side_at_the_edge() -> None:
    dots = [
        Dot(1, "4:4", False),
        Dot(2, "4:2", False),
        Dot(0.5, "2:4", False),
        Dot(float("inf"), "4:0", True),
        Dot(0, "0:4", True),
        Dot(None, "0:0", False),
    ]
    svg = drawn(plots.ratios([("2 : 1 push", "2 : 1 pull", dots)], 2, "label"))
    even, twice, half, edge, bottom = (float(dot.attrib["cy"]) for dot in svg.iter("circle"))
    lines = [
        float(re.findall(r"M\S+ (\S+?)H", path.attrib["d"])[0])
        for path in svg.iter("path")
        if path.attrib["class"] in "bl"
    ]
    assert [even, twice, half] == pytest.approx(lines, abs=0.05)
    assert edge < twice < even < half < bottom
    assert [dot.attrib["class"] for dot in svg.iter("circle")] == ["o", "o", "o", "s", "s"]


def test_a_plot_is_an_image_with_its_label() -> None:
    svg = drawn(plots.columns(weeks(1), [], 1, "Minutes by week: 1"))
    assert svg.attrib["role"] == "img"
    assert svg.attrib["aria-label"] == "Minutes by week: 1"
