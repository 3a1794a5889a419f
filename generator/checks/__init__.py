"""Is it sound? One small function per check, and one door that runs them all."""

from generator.checks import audience, balance, computed, dates, doses, landings, length, load, steps
from generator.checks.limits import RULES, Rule
from generator.checks.run import Checked, check
from generator.checks.sources import SOURCES, Source

__all__ = ["MODULES", "RULES", "SOURCES", "Checked", "Rule", "Source", "check"]

MODULES = (computed, length, dates, doses, landings, load, steps, balance, audience)
"""Importing a module registers its checks; name a new one here."""
