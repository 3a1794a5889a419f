"""QR codes of addresses, as SVG (ISO/IEC 18004): error correction M, a quiet zone of four modules. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any, NamedTuple

import segno

QUIET = 4
"""Modules of white on each side, as ISO/IEC 18004 asks of every symbol of Model 2."""
SHEET_MM = 0.6
POSTER_MM = 2.0
"""The side of a module on paper. A phone a hand's length away needs some 0.4 mm (common practice, no source);
what a copier and a crumpled sheet take away comes on top. A poster is read from a step away."""
MOST = 400
"""Bytes of an address of which a code is drawn. A longer one has modules too small for a folded sheet."""
_MASK = 2
"""One of the eight patterns of the standard, for all. An encoder shall try each and take the one that scores
best; that takes five times as long (6 ms, not 1.2), for thousands of sheets. The pattern is written into the
symbol, so that a reader reads any. Of the eight this one scores best over many sheets, 4 % off their best."""


class Code(NamedTuple):
    """A code as SVG and its side in mm, white included; without an address it is empty and takes no room."""

    svg: str = ""
    side: float = 0


def symbol(address: str, *, label: str, module_mm: float) -> Code:
    """The code of an address; an empty one where that is longer than MOST bytes.

    `label` says in words what it is, ready for an attribute; `module_mm` is the side of a module in mm.
    """
    if len(address.encode()) > MOST:
        return Code()
    # A higher level that needs no more modules is taken: it costs nothing.
    code: Any = segno.make(address, error="m", micro=False, mask=_MASK, boost_error=True)
    side = len(code.matrix) + 2 * QUIET
    svg = (
        f'<svg class="qr" width="{side * module_mm:.4g}mm" viewBox="0 0 {side} {side}" role="img" '
        f'aria-label="{label}"><path d="{"".join(_runs(code.matrix))}"/></svg>'
    )
    return Code(svg, side * module_mm)


def _runs(matrix: Sequence[Sequence[int]]) -> Iterator[str]:
    """The dark modules as strokes along the middle of each row, from where the one before it ended."""
    x, y = 0, 0
    yield "M0 .5"
    for row, modules in enumerate(matrix, QUIET):
        column = QUIET
        for dark, run in groupby(modules):
            length = len(list(run))
            if dark:
                yield f"m{column - x} {row - y}h{length}"
                x, y = column + length, row
            column += length
