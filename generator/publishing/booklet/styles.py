"""What stands around every page of a pack: the title of its part above, programme and number below."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ...telling.views.papers import PAPERS, PART, room

_ISOLATE, _POP = "\u2068", "\u2069"


def isolated(text: str) -> str:
    """The text so that its direction does not disorder what is around it: a first strong isolate, UAX #9."""
    return f"{_ISOLATE}{text}{_POP}"


def page_styles(titles: Sequence[str], foot: str, paper: str) -> str:
    """CSS paged media: the page `pN` for the part with the Nth of the titles, numbered from 0.

    A part without a title keeps the margins that it has by itself.
    """
    wide, high = PAPERS[paper]
    rules = [
        f"@page{{size:{wide}mm {high}mm;"
        f"@bottom-left{{content:{_string(foot)}}}"
        '@bottom-right{content:counter(page) " of " counter(pages)}}',
        f":root{{--high:{room(PAPERS[paper], PART).height - 1:.1f}mm}}",
    ]
    for number, title in enumerate(titles):
        head = f"margin:{PART.above}mm {PART.beside}mm;@top-left{{content:{_string(title)}}}" if title else ""
        rules.append(f"@page p{number}{{{head}}}.p{number}{{page:p{number}}}")
    return "\n".join(rules)


def _string(text: str) -> str:
    """A CSS string: what is not a plain letter or digit is written as its number (CSS Syntax 3, 4.3.7)."""
    escaped = re.sub(r"[^A-Za-z0-9]", lambda sign: f"\\{ord(sign[0]):x} ", text)
    return f'"{escaped}"'


def as_parts(css: bytes) -> bytes:
    """The styles of whole pages for parts of one: what they say of the body holds for the part."""
    return re.sub(rb"\bbody\.(?=day|session)", b"section.", css)
