"""Texts to begin with: the next edition or phase as a copy, or a new programme. Writes no file."""

from .copies import next_edition, next_phase
from .programme import NothingToTrainError, first_phase, new_programme
from .questions import Comment, WrongReviewError, comments
from .text import UncopyableError

__all__ = [
    "Comment",
    "NothingToTrainError",
    "UncopyableError",
    "WrongReviewError",
    "comments",
    "first_phase",
    "new_programme",
    "next_edition",
    "next_phase",
]
