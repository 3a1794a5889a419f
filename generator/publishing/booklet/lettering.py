"""Letters of pictures as outlines: a picture cannot use the typeface of the document that it stands in."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ...telling.views.faces import PACK
from .outlines import OUTLINES

_SIZE = 22
"""Units of a picture, as its own styles have it."""
_SET = re.compile(f'<text x="(-?\\d+)" y="(-?\\d+)">([{"".join(OUTLINES)}]+)</text>')


def lettered(picture: bytes) -> bytes:
    """An SVG picture with the degrees of its angles drawn."""
    return _SET.sub(_drawn, picture.decode()).encode()


def _drawn(found: re.Match[str]) -> str:
    return "".join(_signs(found[3], int(found[1]), int(found[2])))


def _signs(text: str, x: float, y: int) -> Iterator[str]:
    scale = _SIZE / 1000
    for sign in text:
        place = f"translate({x:.5g} {y})scale({scale:g} {-scale:g})"
        yield f'<path style="fill:var(--i);stroke:none" transform="{place}" d="{OUTLINES[sign]}"/>'
        x += _SIZE * PACK.ems(sign, bold=True)
