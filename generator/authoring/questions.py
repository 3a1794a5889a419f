"""Questions of a review as comments of the next edition, each beside the dose that it is about.

A review may be anybody's file: of it come numbers, words of ours, and the step of the ladder on one line.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, NamedTuple

from ..hearing.questions import place_in
from ..hearing.words import question_words
from ..reading.catalogue import VersionEntry
from ..reading.escaping import printable, without_forbidden

_MOST = 160
"""Characters of a step of a ladder."""


class WrongReviewError(Exception):
    """A file that is no review in JSON; in words."""


class Comment(NamedTuple):
    """A line of comment and the line before which it goes, from 1."""

    line: int
    text: str


def comments(content: bytes, source: VersionEntry) -> list[Comment]:
    """The questions of a review about this version. Raises WrongReviewError."""
    try:
        review = json.loads(content)
        questions = review["questions"]
        found = list(_comments(questions, source))
    except (ValueError, RecursionError, LookupError, TypeError, AttributeError, StopIteration, RuntimeError):
        how = "write one with phasepress review logs --format json --to reviews/review.json"
        raise WrongReviewError(f"it is no review in JSON; {how}") from None
    if not found and questions:
        others = sorted({printable(f"{one['programme']} {one['version']}") for one in questions})
        raise WrongReviewError(
            f"it has no question about {source.programme} {source.name}, only about {', '.join(others)[:200]}"
        )
    return found


def _comments(questions: list[dict[str, Any]], source: VersionEntry) -> Iterator[Comment]:
    for one in questions:
        if (one["programme"], one["version"]) == (source.programme, source.name):
            line = place_in(source, one["day"], one["station"])
            yield Comment(line, _words(one, source))


def _words(one: dict[str, Any], source: VersionEntry) -> str:
    met, changed = int(one["met"]), int(one["changed"])
    level = next(level.id for level in source.levels if level.id == one["level"])
    told = question_words(one["why"], changed, met)
    ladder = ""
    if isinstance(one["step"], str):
        which = "A harder step" if one["why"] == "too easy" else "An easier step"
        ladder = f" {which}: {printable(without_forbidden(one['step'])[:_MOST])}"
    return f"# asked by the review of {source.name}, {level}: {told}.{ladder}"
