"""What pages and scripts both know: said in Python, and written for the scripts at build."""

from __future__ import annotations

import json

from ...drawing.ribbon import BAR, WIDTH
from ...reading.model import DAY_NAMES
from .words import EFFORT, MONTHS

_LETTERS = 3
"""Of the name of a weekday or a month, where there is little room."""
_SHARED = {
    "EFFORT": EFFORT,
    "DAYS": [name[:_LETTERS] for name in DAY_NAMES],
    "MONTHS": [name[:_LETTERS] for name in MONTHS],
    "RIBBON": {"width": WIDTH, "bar": BAR},
}
WRITTEN = {
    "js/shared.js": "".join(
        f"export const {name} = {json.dumps(value, ensure_ascii=False)};\n" for name, value in _SHARED.items()
    )
}
"""Scripts that are not in the theme folder, by the names that they would have there.

`js/shared.d.ts` there has their types."""
