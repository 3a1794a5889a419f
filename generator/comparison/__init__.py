"""What changed between two versions or two trees, and whether what was published is still what it was."""

from generator.comparison.base import Base, base_at
from generator.comparison.merge import Merge, Merged
from generator.comparison.published import published
from generator.comparison.versions import Comparison, Side, compare, previous, side

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
