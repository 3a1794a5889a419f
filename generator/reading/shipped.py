"""Where what comes along with the code lies: inside the package as installed, beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parents[1]
IN_CHECKOUT = not (_PACKAGE / "theme_overrides").is_dir()
"""Whether the code runs from a checkout, where whoever changes the theme wants to see it."""
THEME = (_PACKAGE.parent if IN_CHECKOUT else _PACKAGE) / "theme_overrides"
LOCK = _PACKAGE.parent / "requirements.lock" if IN_CHECKOUT else _PACKAGE / "locked" / "requirements.lock"
"""Everything that a build needs of others, in versions that were tested together, with hashes."""
LIBRARY = _PACKAGE.parent / "programmes" if IN_CHECKOUT else _PACKAGE / "library"
LIBRARY_FOLDERS = ("exercises", "routines", ".schema")
"""What of `LIBRARY` every club may begin with; in a checkout the demo's own files lie beside it."""


def library() -> dict[str, Path]:
    """The exercise library, the routines and the schemas for editors: every file by its place in a tree."""
    return {
        path.relative_to(LIBRARY).as_posix(): path
        for folder in LIBRARY_FOLDERS
        for path in sorted((LIBRARY / folder).iterdir())
        if path.suffix in (".yaml", ".json")
    }
