"""What is loaded, and whether a home has it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.amounts import written
from generator.checks.limits import COMMON_PRACTICE
from generator.checks.registry import Facts, Raised, check
from generator.findings import listed


@check("kit")
def loads_without_a_recipe(facts: Facts) -> Iterator[Raised]:
    """A load that nothing in the club's kit makes up."""
    if facts.catalogue.club is None:
        # What the kit holds is not known, and the club's own file says why.
        return
    missing: dict[str, set[str]] = {}
    for session in facts.sessions:
        for block in session.plan.blocks:
            for station in block.stations:
                if station.load and facts.kit.recipe(station.load) is None:
                    missing.setdefault(session.plan.day, set()).add(f"{written(station.load)} kg")
    for day, loads in missing.items():
        message = f"{day}: no recipe of the club's kit comes to {listed(sorted(loads), 'or')}"
        hint = "choose another load, or add an item to kit: in club.yaml"
        yield Raised("warning", message, facts.day_path(day), COMMON_PRACTICE, day, day, hint)
