"""A whole tree of programme files: read, validated, references resolved, every fault collected."""

from generator.catalogue import walk
from generator.catalogue.entries import Catalogue, Entry, ProgrammeEntry, VersionEntry
from generator.catalogue.files import RESERVED
from generator.catalogue.load import Loaded, load, load_from

__all__ = [
    "RESERVED",
    "Catalogue",
    "Entry",
    "Loaded",
    "ProgrammeEntry",
    "VersionEntry",
    "load",
    "load_from",
    "walk",
]
