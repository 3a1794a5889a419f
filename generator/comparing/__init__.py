"""What changed between two versions or two trees, and whether what was published is still what it was."""

from .base import Base, base_at
from .merge import Merge, Merged
from .published import published
from .versions import Comparison, Side, compare, previous, side

__all__ = [
    "Base",
    "Comparison",
    "Merge",
    "Merged",
    "Side",
    "base_at",
    "compare",
    "previous",
    "published",
    "side",
]
