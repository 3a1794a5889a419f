"""A published version as the beginning of the next one."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from ..reading.catalogue import ProgrammeEntry, VersionEntry
from .questions import Comment
from .text import Text

Draft = tuple[str, str]
"""Name of a file below its programme's folder, and its text."""
AFTER_KEY = "weeks"
"""A new key goes after this one, which every version has."""


def next_edition(programme: ProgrammeEntry, source: VersionEntry, comments: Iterable[Comment] = ()) -> Draft:
    """The phase of `source` once more, with the same dates and doses, ready for the change. `changes` says
    that nothing is changed, which is true until the coach writes what is. `comments` go above lines of
    `source`. Raises UncopyableError."""
    edition = 1 + max(one.edition for one in programme.versions if one.phase == source.phase)
    text = Text(source.document)
    said = f"Copied from {source.name}; nothing is changed yet.   # say here what changed, and why"
    for line, comment in comments:
        text.remark(line, comment)
    text.write("changes", said, AFTER_KEY)
    return f"{source.phase}.{edition}.yaml", str(text)


def next_phase(programme: ProgrammeEntry, source: VersionEntry, starts: date | None) -> Draft:
    """A phase after all others with the days of `source`, from `starts` or when the last one is over.

    What was accepted for the other phase was weighed for that: it is kept as a comment. Raises
    UncopyableError.
    """
    phase = 1 + max(one.phase for one in programme.versions)
    monday = starts or max(one.ends for one in programme.newest_editions()) + timedelta(days=1)
    text = Text(source.document)
    text.redate("starts", monday.isoformat())
    text.remove("changes")
    text.comment("accept", f"Accepted for {source.name}. Take the # away from what still holds:")
    return f"{phase}.0.yaml", str(text)
