"""QR codes of addresses, as SVG (ISO/IEC 18004): error correction M, a quiet zone of four modules. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

import segno

QUIET = 4
"""Modules of white on each side, as ISO/IEC 18004 asks of every symbol of Model 2."""
MOST = 400
"""Bytes of an address of which a code is drawn. A longer one has modules too small for a folded sheet."""
_MASK = 2
"""One of the eight patterns of the standard, for all. An encoder shall try each and take the one that scores
best; that takes five times as long (6 ms, not 1.2), for thousands of sheets. The pattern is written into the
symbol, so that a reader reads any. Of the eight this one scores best over many sheets, 4 % off their best."""


def symbol(address: str, *, label: str, module_mm: str) -> str:
    """The code of an address; nothing for one that is longer than MOST bytes.

    `label` says in words what it is, ready for an attribute; `module_mm` is the side of a module in mm.
    """
    if len(address.encode()) > MOST:
        return ""
    # A higher level that needs no more modules is taken: it costs nothing.
    code: Any = segno.make(address, error="m", micro=False, mask=_MASK, boost_error=True)
    side = len(code.matrix) + 2 * QUIET
    width = f"{side * float(module_mm):g}mm"
    return (
        f'<svg class="qr" width="{width}" viewBox="0 0 {side} {side}" role="img" '
        f'aria-label="{label}"><path d="{"".join(_runs(code.matrix))}"/></svg>'
    )


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
