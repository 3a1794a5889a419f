"""Is it sound? One small function per check, and one door that runs them all."""

from generator.checks import computed, dates, length, load, volume
from generator.checks.limits import RULES, SOURCES, Rule, Source
from generator.checks.run import Checked, check

__all__ = ["MODULES", "RULES", "SOURCES", "Checked", "Rule", "Source", "check"]

MODULES = (computed, dates, length, load, volume)
"""Importing a module registers its checks; name a new one here."""
