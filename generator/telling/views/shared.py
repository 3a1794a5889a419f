"""What pages, scripts and styles know from Python: written for them at build."""

from __future__ import annotations

import json

from ...drawing.mannequin.ink import every_style
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
_FIGURE = (
    "svg{--i:var(--ink);--p:var(--paper);--s:var(--soft);display:block;width:100%;height:100%}"
    f"div{{height:100%}}.mirrored{{transform:scaleX(-1)}}{every_style()}"
)
WRITTEN = {
    "css/figure.css": _FIGURE,
    "js/shared.js": "".join(
        f"export const {name} = {json.dumps(value, ensure_ascii=False)};\n" for name, value in _SHARED.items()
    ),
}
"""Scripts and styles that are not in the theme folder, by the names that they would have there.

`js/shared.d.ts` there has their types."""
