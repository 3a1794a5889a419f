"""The cover of a pack, with the list of its sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ...computing.facts import ComputedSession, loads_of
from ...reading.catalogue import ProgrammeEntry, VersionEntry
from . import words
from .base import Link, Newer, Site, day_address, session_address
from .day import kit_words
from .pack_choice import Choice, columns, whose
from .safety import growth_line
from .versions import DayLink, VersionPage, day_links


class Listed(NamedTuple):
    """A day and level in the list of sheets. A sheet is its minutes and address; no address, no session."""

    level: str
    sheets: tuple[Link, ...]


class ListedDay(NamedTuple):
    """The sheets of a day, at most COLUMNS weeks of them; `address` is that of the day."""

    day: str
    address: str
    weeks: tuple[int, ...]
    levels: tuple[Listed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What the pack is, for whom, and what it needs. `part` says which levels and weeks, if not all."""

    about: VersionPage
    part: str
    ages: str
    days: tuple[DayLink, ...]
    levels: tuple[tuple[str, str], ...]
    kit: tuple[str, ...]
    loads: tuple[str, ...]
    growth: str
    replaced: Newer | None
    listed: tuple[ListedDay, ...]


def cover(
    site: Site,
    programme: ProgrammeEntry,
    version: VersionEntry,
    about: VersionPage,
    facts: Sequence[ComputedSession],
    choice: Choice,
) -> Cover:
    """`facts` are the chosen sessions, `about` is the page of the whole version."""
    ages = programme.model.audience.ages if programme.model.audience else ()
    return Cover(
        about=about,
        part=whose(version, choice),
        ages=f"ages {ages[0]} to {ages[1]}" if ages else "",
        days=tuple(day_links(site, version, facts)),
        levels=tuple((level.name, level.who or "") for level in version.levels if level.id in choice.levels),
        kit=tuple(kit_words(site, facts)),
        loads=tuple(map(site.load_words, loads_of(facts))),
        growth=growth_line(one.plan for one in facts),
        replaced=about.newer if about.newer and not about.newer.until else None,
        listed=tuple(_listed(version, facts, choice)),
    )


def _listed(version: VersionEntry, facts: Sequence[ComputedSession], choice: Choice) -> Iterator[ListedDay]:
    for day in version.model.days:
        address = day_address(version, day.id)
        for weeks in columns(choice.weeks):
            rows = []
            for level in version.levels:
                if level.id in choice.levels:
                    own = [f for f in facts if (f.plan.day, f.plan.level) == (day.id, level.id)]
                    found = {f.plan.week: _sheet(version, f) for f in own}
                    rows.append(Listed(level.name, tuple(found[week] for week in weeks)))
            yield ListedDay(day.title, address, weeks, tuple(rows))


def _sheet(version: VersionEntry, facts: ComputedSession) -> Link:
    plan = facts.plan
    address = session_address(version, plan) if plan.is_trained else ""
    return Link(words.minutes(facts.order.seconds), address)
