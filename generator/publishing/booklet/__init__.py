"""A pack of paper: one document with everything of a version that is printed."""

from ...telling.views.pack_choice import Choice
from ...telling.views.papers import PAPERS
from .document import Bookmark, NothingPlannedError, Pack, pack

__all__ = ["PAPERS", "Bookmark", "Choice", "NothingPlannedError", "Pack", "pack"]
