"""A whole tree of programme files: read, validated, references resolved, every fault collected."""

from . import raw
from .entries import Catalogue, Entry, ProgrammeEntry, VersionEntry
from .files import RESERVED
from .load import Loaded, load, load_from

__all__ = [
    "RESERVED",
    "Catalogue",
    "Entry",
    "Loaded",
    "ProgrammeEntry",
    "VersionEntry",
    "load",
    "load_from",
    "raw",
]
