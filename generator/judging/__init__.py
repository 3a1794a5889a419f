"""Is it sound? One small function per check, and one door that runs them all."""

from . import audience, balance, dates, doses, landings, leftovers, length, load, minutes, steps
from .address import address_findings
from .limits import RULES, Rule
from .run import Checked, check
from .sources import SOURCES, Source
from .work import too_much

__all__ = [
    "MODULES",
    "RULES",
    "SOURCES",
    "Checked",
    "Rule",
    "Source",
    "address_findings",
    "check",
    "too_much",
]

MODULES = (minutes, length, dates, doses, landings, load, steps, balance, audience, leftovers)
"""Importing a module registers its checks; name a new one here."""
