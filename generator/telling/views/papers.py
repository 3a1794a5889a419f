"""The papers that are printed on, and how much of a page the margins of its styles leave."""

from __future__ import annotations

from typing import NamedTuple


class Paper(NamedTuple):
    """Width and height in mm."""

    width: float
    height: float


class Margins(NamedTuple):
    """mm above and below, and at each side."""

    above: float
    beside: float


PAPERS = {"a4": Paper(210, 297), "letter": Paper(215.9, 279.4)}
"""ISO 216; ANSI/ASME Y14.1, size A."""
SHEET = Margins(8, 11)
"""Around a page of the site, as `sheet.css` has them."""
PART = Margins(9, 11)
"""Around a page that a pack alone has: there is a line above and below it."""


def room(paper: Paper, margins: Margins) -> Paper:
    """What the margins leave."""
    return Paper(paper.width - 2 * margins.beside, paper.height - 2 * margins.above)
