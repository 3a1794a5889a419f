"""How large the type of a printed sheet may be, so that the whole sheet still stands on one page. Pure.

An estimate in millimetres, made at build because a printed page cannot measure itself without script. A page
of the site counts on the widest of the usual typefaces and on the smaller room of all papers, so that what it
lets pass fits; a pack has one typeface and one paper. The sizes and the room that a row takes are those of
the print rules in `paper.css`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from .faces import USUAL, Face
from .papers import PAPERS, SHEET, Paper, room

POINT = 25.4 / 72
"""Millimetres."""
MARKS = ("t", "l")
"""What the class of a size begins with: on the first paper of a setting, and on the second (`paper.css`)."""


class Type(NamedTuple):
    """A size of type: its mark, and the points of names and times, further words, cues and easier ways.

    Cues and easier ways are read with the sheet in the hand. `still` is the height of a drawing, `aside`
    that of one in warm-up and cool-down, in mm; there `all_ways` says whether there are easier ways too.
    """

    mark: str
    names: float
    words: float
    cues: float
    ways: float
    still: float
    aside: float
    all_ways: bool = True


class Setting(NamedTuple):
    """What is printed with: the typeface, and the room within the margins of every paper that it may be."""

    face: Face
    rooms: tuple[Paper, ...]


SIZES = (
    Type("10", 28, 12, 12, 11, 19, 19),
    Type("9", 24, 11, 11, 10, 17, 17),
    Type("8", 20.5, 10, 10, 9.5, 15, 15),
    Type("7", 17.5, 9.5, 9.5, 9.5, 13, 13),
    Type("6", 15, 8.6, 9, 9, 11, 11),
    Type("5", 13.6, 8.2, 9, 9, 9.5, 9.5),
    Type("4", 12.7, 7.8, 9, 8.5, 9, 9),
    Type("3", 12, 7.6, 9, 8, 8, 8),
    Type("w", 11.5, 7.4, 9, 8, 8, 0),
    Type("r", 12.5, 7.8, 9.5, 8.5, 9, 0, False),
    Type("q", 12, 7.6, 9, 8, 8.5, 0, False),
    Type("s", 11.5, 7.4, 9, 7.6, 8, 0, False),
    Type("z", 11.5, 7, 9, 7.2, 7, 0, False),
    Type("m", 11, 7.2, 9, 7.4, 7.5, 0, False),
    Type("o", 10.5, 7, 9, 7.2, 7, 0, False),
    Type("n", 10.5, 7, 9, 7.2, 0, 0, False),
    Type("2", 10, 7, 9, 7.2, 0, 0, False),
    Type("1", 10, 7, 8, 7, 0, 0, False),
)
"""From the one that is tried first. What gives way, in this order: the size of all; drawings of warm-up and
cool-down, then their easier ways, since they are the same every time; the names; all drawings; cues below 9
points. Stop rule, cautions and the easier ways of the day's own stations never do."""
ANYWHERE = Setting(USUAL, tuple(room(paper, SHEET) for paper in PAPERS.values()))
"""A page of the site, of which nobody knows who will print it."""
ON_MORE_PAGES = "3"
"""What is too full for one page is set in a size that can be read from afar, on as many pages as it takes."""
STACKED = 2
"""From so many columns on, a time has its box below it."""

_NAME_LINE, _LINE = 1.12, 1.2
_AROUND = 0.8
"""mm above and below a row, and the line between it and the next."""
_BESIDE = 1.35
"""How wide a still and what parts it from the words are, in its own heights (`paper.css`)."""
_MANY = 13
_SLACK = 1.5
"""mm: pieces of two sizes in one line make it a little higher than the taller one is."""
_SURE = 0.99
"""The share of a line that is counted on: browsers round widths of cells to pixels."""


class Words(NamedTuple):
    """A piece of a row in one size: bold or not, in the type of names, of cues or of neither; `whole` is not
    broken."""

    text: str
    large: bool
    bold: bool = False
    whole: bool = False
    cue: bool = False
    way: bool = False


class Grid(NamedTuple):
    """A block: its title (nothing where it goes on), columns, digits of the longest time, and rows.

    `drawn` is whether its rows have stills, `aside` whether it is of warm-up or cool-down.
    """

    title: str
    columns: int
    digits: int
    rows: tuple[tuple[Words, ...], ...]
    drawn: bool = False
    aside: bool = False


def size(above: Sequence[float], grids: Sequence[Grid], below: float, setting: Setting = ANYWHERE) -> str:
    """The classes of the largest type with which the sheet fits on each paper, such as `t4 l3`.

    `above` (for each paper) and `below` are the heights of what stands before and after the blocks, in mm.
    """
    papers = zip(MARKS, above, setting.rooms, strict=False)
    return " ".join([f"{mark}{_size(top, grids, below, paper, setting.face)}" for mark, top, paper in papers])


def _size(above: float, grids: Sequence[Grid], below: float, paper: Paper, face: Face) -> str:
    for kind in SIZES:
        # A name may take a line more than was thought; among many rows of small type the errors cancel out.
        slack = kind.names * POINT * _NAME_LINE if kind.names > _MANY else _SLACK
        high = above + sum(_grid(grid, kind, paper.width, face) for grid in grids) + below + slack
        if high <= paper.height:
            return kind.mark
    return ON_MORE_PAGES


@lru_cache(maxsize=4096)
def _grid(grid: Grid, kind: Type, width: float, face: Face) -> float:
    digit = 0.7 * grid.digits + 0.4
    stacked = grid.columns >= STACKED
    cell = digit + (0.4 if stacked else 1.5)
    still = 0.0 if not grid.drawn else kind.aside if grid.aside else kind.still
    room = _SURE * (width - grid.columns * cell * kind.names * POINT - 1 - _BESIDE * still)
    least = kind.names * POINT * (_NAME_LINE + (1.0 if stacked else 0)) if grid.columns else 0.0
    head = paragraph(grid.title, 8, room, face, bold=True) + 2.2 if grid.title else 3.8
    return head + sum(max(_row(row, kind, room, face), least, still) + _AROUND for row in _rows(grid, kind))


def _rows(grid: Grid, kind: Type) -> Iterable[tuple[Words, ...]]:
    if kind.all_ways or not grid.aside:
        return grid.rows
    return [tuple([words for words in row if not words.way]) for row in grid.rows]


@lru_cache(maxsize=16384)
def _row(row: tuple[Words, ...], kind: Type, room: float, face: Face) -> float:
    """The height of what stands in the first column."""
    height = line = at = 0.0
    for words in row:
        points = _points(words, kind)
        tall = points * POINT * (_NAME_LINE if words.large else _LINE)
        for word in [words.text] if words.whole else words.text.split():
            wide = points * POINT * _ems(word, words.bold, face)
            gap = points * POINT * _ems(" ", words.bold, face) if at else 0
            if at and at + gap + wide > room:
                height, line, at, gap = height + line, 0.0, 0.0, 0.0
            lines, at = divmod(at + gap + wide, room)
            # A word that is longer than a line is broken.
            height += lines * tall
            line = max(line, tall)
    return height + line


def _points(words: Words, kind: Type) -> float:
    if words.large:
        return kind.names
    return kind.cues if words.cue else kind.ways if words.way else kind.words


def paragraph(text: str, points: float, room: float, face: Face, *, bold: bool = False) -> float:
    """The height of a text of its own, in mm, broken into lines of at most `room` mm."""
    return _row(
        (Words(text, large=False, bold=bold),), Type("", points, points, points, points, 0, 0), room, face
    )


@lru_cache(maxsize=16384)
def _ems(text: str, bold: bool, face: Face) -> float:
    return face.ems(text, bold=bold)


def digits(times: Iterable[str]) -> int:
    """How many digits the longest of some clock times has."""
    return max((len(time) - 1 for time in times), default=4)
