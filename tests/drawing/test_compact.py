"""A figure made small for the guided session, read again by what the docstring says, is the figure of the file."""

import re
from functools import cache
from xml.etree import ElementTree

import pytest
from phasepress.drawing.compact import compact
from phasepress.drawing.mannequin import draw
from phasepress.drawing.mannequin.sides import shown
from phasepress.drawing.mannequin.tempo import schedule

from tests.fixtures.demo_files import demo_exercises
from tests.fixtures.small_figures import SVG, made_small, plain
from tests.samples import every

DEMO = demo_exercises()


@cache
def drawn(name: str) -> str:
    """The file of an exercise in its own tempo."""
    exercise = DEMO[name]
    seen = shown(exercise)
    rep = exercise.rep_seconds(None)
    return draw.moving(
        seen.move, schedule(seen.move.figure, exercise.tempo, rep and rep * seen.reps), "x"
    ).text


MOVING = [name for name, one in DEMO.items() if (seen := shown(one)) and seen.move.ways]


def in_the_file(svg: str) -> tuple[list[str], list[tuple[str, list[str]]]]:
    """The times, and what is drawn from back to front: its class, and its path at each time."""
    tree = ElementTree.fromstring(svg)
    times: list[str] = []
    lines: dict[str, list[str]] = {}
    for path in tree.iter(f"{SVG}path"):
        moves = path.find(f"{SVG}animate")
        if moves is not None:
            times = moves.attrib["keyTimes"].split(";")
        lines[path.get("id", "")] = [path.attrib["d"]] if moves is None else moves.attrib["values"].split(";")
    uses = [(one.attrib["class"], lines[one.attrib["href"][1:]]) for one in tree.iter(f"{SVG}use")]
    return times, [(kind, line if len(line) > 1 else line * len(times)) for kind, line in uses]


@pytest.mark.parametrize("name", every(MOVING, few=12))
def test_every_line_is_where_the_file_has_it_at_every_time_that_is_kept(name: str) -> None:
    svg = drawn(name)
    times, lines = in_the_file(svg)
    kept, small = made_small(compact(svg, 0.0))
    assert (kept[0], kept[-1]) == (times[0], times[-1])
    assert [kind for kind, _ in small] == [kind for kind, _ in lines]
    at = [times.index(one) for one in kept[:-1]] + [len(times) - 1]
    for (_, one), (_, other) in zip(small, lines, strict=True):
        assert [plain(path) for path in one] == [plain(other[index]) for index in at]


@pytest.mark.parametrize("name", every(MOVING, few=12))
def test_a_small_figure_needs_no_escape_in_json_and_is_well_formed(name: str) -> None:
    [signs] = re.findall(r'data-f="([^"]*)"', compact(drawn(name), 0.0))
    assert len(signs) > 100
    assert not set(signs) & set("\"\\<&'")
    assert signs.isascii()
