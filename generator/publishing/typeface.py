"""The typeface of a pack, from the package that brings it: the same letters on every machine.

FiraGO has Latin, Greek, Cyrillic, Arabic, Hebrew, Thai, Georgian and Devanagari. Other scripts are written in
what the system has. SIL Open Font License 1.1.
"""

from __future__ import annotations

from collections.abc import Callable

try:
    # It has no types.
    from pymupdf_fonts import myfont  # type: ignore[import-untyped]
except ModuleNotFoundError:
    myfont = None

_NAMES = {"regular.ttf": "figo", "italic.ttf": "figit", "bold.ttf": "figbo"}


class NoTypefaceError(Exception):
    """The package that has the typeface is not installed; the text says how to install it."""


def files() -> dict[str, bytes]:
    """The font files by the names that the styles of a pack give them. Raises NoTypefaceError."""
    font: Callable[[str], bytes] | None = myfont
    if font is None:
        raise NoTypefaceError(
            "what is printed is set in a typeface that is not installed: pip install 'phasepress[print]'"
        )
    return {file: font(name) for file, name in _NAMES.items()}
