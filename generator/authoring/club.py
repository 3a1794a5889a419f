"""A club's own repository: what is the club's, and nothing of the tool but which one it is.

The texts lie in `club/`, as they are written but for a few gaps, `@NAME@` and the like.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Literal, NamedTuple

from ..judging import check
from ..reading.catalogue import load_from
from ..reading.escaping import markdown
from ..reading.findings import Finding
from ..reading.git_tree import Committed
from ..reading.shipped import LOCK, library
from .programme import new_programme, quoted
from .tool import Tool

Forge = Literal["github", "gitlab"]
PINS = "requirements.txt"
PINS_BEGIN = "# Written by `phasepress pins`, after a change of tool.txt once more. Not for editing.\n"
NAME = "Example Juniors"
"""Of a club whose coach has not said it yet."""
_GAP = re.compile("@([A-Z_]+)@")
_TEXTS = Path(__file__).resolve().parent / "club"
_TREE = "programmes"
_FIRST, _FIRST_TITLE = "first-strength", "First strength"
_PLACES = {
    "README.md": "README.md",
    "mkdocs.yml": "mkdocs.yml",
    "CODEOWNERS": "CODEOWNERS",
    "gitignore": ".gitignore",
    "club.yaml": f"{_TREE}/club.yaml",
}
"""Where each text goes."""
_WORKFLOWS = {"github": ".github/workflows/publish.yml", "gitlab": ".gitlab-ci.yml"}
# The names of menus are from memory of both forges.
_WORDS = {
    "github": {
        "REQUEST": "pull request",
        "NEW_FILE": "*Add file, Create new file*",
        "CHANGES": "in the *Summary* of the check",
        "FINDINGS": "Open *Files changed* in the pull request.",
        "SETUP": "In its settings choose Pages, Source: *GitHub Actions*.",
    },
    "gitlab": {
        "REQUEST": "merge request",
        "NEW_FILE": "*+, New file*",
        "CHANGES": "under *What this merge changes*",
        "FINDINGS": "Open the *code quality* report of the merge request.",
        "SETUP": "Nothing has to be switched on for its pages.",
    },
}


class Wishes(NamedTuple):
    """What the coach has said. `name`, `sport` and the public `address` may be empty."""

    name: str
    sport: str
    address: str
    forge: Forge
    tool: Tool


class FaultyClubError(Exception):
    """What was said makes a tree in which something is found: a name with signs that no text may hold."""

    def __init__(self, findings: list[Finding]) -> None:
        super().__init__("what would be written does not pass check")
        self.findings = findings


def new_club(wishes: Wishes, starts: date) -> dict[str, bytes]:
    """Every file of the repository by its place; the first programme begins on the Monday `starts`.

    Nothing is found in it, no note either. Raises FaultyClubError.
    """
    gaps = _gaps(wishes)
    files = {place: _filled(text, gaps) for text, place in _PLACES.items()}
    files[_WORKFLOWS[wishes.forge]] = _filled(f"{wishes.forge}.yml", gaps)
    files |= {f"{_TREE}/{place}": path.read_bytes() for place, path in library().items()}
    files |= {"tool.txt": f"{wishes.tool.line}\n".encode(), PINS: pins(), **wishes.tool.files}
    first = new_programme(load_from(_tree(files)).catalogue, _FIRST_TITLE, starts)
    files |= {f"{_TREE}/{_FIRST}/{name}": text.encode() for name, text in first.items()}
    found = check(load_from(_tree(files))).findings
    if found:
        raise FaultyClubError(found)
    return files


def pins() -> bytes:
    """What the tool needs of others, with hashes, as it was tested together: a requirements file for pip."""
    lines = LOCK.read_text(encoding="utf-8").splitlines(keepends=True)
    return "".join([PINS_BEGIN, *(line for line in lines if not line.startswith("#"))]).encode()


def _tree(files: Mapping[str, bytes]) -> Committed:
    """The tree of these files, before it lies on the disk. Schemas are for editors and are not read."""
    own = {name.removeprefix(f"{_TREE}/"): text for name, text in files.items() if name.startswith(_TREE)}
    return Committed(Path(_TREE), own)


def _gaps(wishes: Wishes) -> dict[str, str]:
    name = wishes.name or NAME
    address = f"site_url: {quoted(wishes.address)}"
    without = "# site_url: https://…   # your public address: for QR codes, calendars, feeds"
    return {
        **_WORDS[wishes.forge],
        "NAME": quoted(name),
        "TITLE": markdown(name),
        "ADDRESS": address if wishes.address else without,
        "SPORT": f"sport: {quoted(wishes.sport)}" if wishes.sport else "# sport: handball",
    }


def _filled(text: str, gaps: Mapping[str, str]) -> bytes:
    """A text with its gaps filled; what is put into one is not looked at again."""
    whole = (_TEXTS / text).read_text(encoding="utf-8")
    return _GAP.sub(lambda gap: gaps[gap[1]], whole).encode()
