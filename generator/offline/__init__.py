"""What lets a site work without a network and be installed: lists for the worker, and manifests."""

from generator.offline.kept import OFF, Kept, Phase, kept, lists
from generator.offline.manifest import manifests

__all__ = ["OFF", "Kept", "Phase", "kept", "lists", "manifests"]
