"""The version page, the programme page and the archive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ...comparing import Comparison
from ...computing.facts import ComputedSession, loads_of
from ...computing.fingerprint import fingerprint, resolved
from ...reading.catalogue import ProgrammeEntry, VersionEntry
from . import words
from .base import Link, Newer, Site, day_address, session_address, version_address
from .changed import ChangeView, change_view
from .day import kit_words
from .safety import growth_line


@dataclass(frozen=True, slots=True)
class Minutes:
    """Estimated minutes of one day: level names, and by week the minutes with the address of the sheet."""

    day: str
    levels: tuple[tuple[str, tuple[Link, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLink:
    """A day of a version; `takes` says how long, over all levels and weeks."""

    title: str
    address: str
    weekdays: str
    takes: str


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionPage:
    """One published version."""

    programme: str
    programme_title: str
    name: str
    phase: str
    number: int
    aim: str
    dates: str
    weeks: int
    address: str
    plan: str
    changes: str
    days: tuple[DayLink, ...]
    minutes: tuple[Minutes, ...]
    levels: tuple[tuple[str, str], ...]
    kit: tuple[str, ...]
    loads: tuple[str, ...]
    growth: str
    newer: Newer | None
    change: ChangeView | None


def version_page(
    site: Site,
    programme: ProgrammeEntry,
    version: VersionEntry,
    facts: Sequence[ComputedSession],
    newer: Newer | None,
    compared: Comparison | None,
) -> VersionPage:
    """`facts` are all sessions of the version, `newer` is its banner; `compared` is with the one before."""
    model = version.model
    return VersionPage(
        programme=programme.id,
        programme_title=programme.model.title,
        name=version.name,
        phase=model.phase,
        number=version.phase,
        aim=model.aim,
        dates=f"{words.on_day(model.starts)} to {words.on_day(version.ends)}",
        weeks=model.weeks,
        address=version_address(version),
        plan=fingerprint(resolved(version, (one.plan for one in facts))),
        changes=model.changes or "",
        days=tuple(day_links(site, version, facts)),
        minutes=tuple(_minutes(version, facts)),
        levels=tuple((level.name, level.who or "") for level in version.levels),
        kit=tuple(kit_words(site, facts)),
        loads=tuple(map(site.load_words, loads_of(facts))),
        growth=growth_line(one.plan for one in facts),
        newer=newer,
        change=change_view(compared) if compared else None,
    )


def day_links(site: Site, version: VersionEntry, facts: Sequence[ComputedSession]) -> list[DayLink]:
    """The days of a version, with the range of their minutes over levels and weeks."""
    links = []
    for day in version.model.days:
        own = [one.order for one in facts if one.plan.day == day.id]
        address = day_address(version, day.id)
        links.append(
            DayLink(
                title=day.title,
                address=address,
                weekdays=site.weekdays.said(version, day),
                takes=words.without_timer([o.seconds for o in own], [o.by_hand for o in own]),
            )
        )
    return links


def _minutes(version: VersionEntry, facts: Sequence[ComputedSession]) -> list[Minutes]:
    days = []
    for day in version.model.days:
        levels = []
        for level in version.levels:
            own = [f for f in facts if f.plan.day == day.id and f.plan.level == level.id]
            weeks = (Link(words.minutes(f.order.seconds), session_address(version, f.plan)) for f in own)
            levels.append((level.name, tuple(weeks)))
        days.append(Minutes(day.title, tuple(levels)))
    return days
