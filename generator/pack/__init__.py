"""A pack of paper: one document with everything of a version that is printed."""

from generator.pack.document import Bookmark, NothingPlannedError, Pack, pack
from generator.views.pack import Choice
from generator.views.papers import PAPERS

__all__ = ["PAPERS", "Bookmark", "Choice", "NothingPlannedError", "Pack", "pack"]
