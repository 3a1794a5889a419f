"""The version page, the programme page and the archive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter

from ...comparing import Comparison
from ...comparing.totals import Row
from ...comparing.words import HEADINGS, by_day, level_names, parts, row_names, step
from ...computing.facts import ComputedSession, loads_of
from ...computing.fingerprint import fingerprint, resolved
from ...reading.catalogue import ProgrammeEntry, VersionEntry
from . import words
from .base import Link, Newer, Site, day_address, session_address, version_address
from .day import kit_words
from .safety import growth_line

MOST_PHASES = 8
"""Phases among which the browser finds the current one; earlier ones are in the archive."""


@dataclass(frozen=True, slots=True)
class Minutes:
    """Estimated minutes of one day: level names, and by week the minutes with the address of the sheet."""

    day: str
    levels: tuple[tuple[str, tuple[Link, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLink:
    """A day of a version."""

    title: str
    address: str
    weekdays: str
    minutes: str


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
        days=tuple(day_links(version, facts)),
        minutes=tuple(_minutes(version, facts)),
        levels=tuple((level.name, level.who or "") for level in version.levels),
        kit=tuple(kit_words(site, facts)),
        loads=tuple(map(site.load_words, loads_of(facts))),
        growth=growth_line(one.plan for one in facts),
        newer=newer,
        change=change_view(compared) if compared else None,
    )


def day_links(version: VersionEntry, facts: Sequence[ComputedSession]) -> list[DayLink]:
    """The days of a version, with the range of their minutes over levels and weeks."""
    links = []
    for day in version.model.days:
        lengths = [one.order.seconds for one in facts if one.plan.day == day.id]
        address = day_address(version, day.id)
        links.append(
            DayLink(
                title=day.title,
                address=address,
                weekdays=words.weekdays(day.on),
                minutes=words.minutes_between(lengths),
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


@dataclass(frozen=True, slots=True, kw_only=True)
class PhaseView:
    """A phase on its programme's page. The browser opens the one whose dates hold today."""

    number: int
    phase: str
    aim: str
    dates: str
    starts: str
    weeks: int
    address: str
    days: tuple[DayLink, ...]
    growth: str
    newest: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammePage:
    """The page that is bookmarked: the current phase and the way to its days."""

    id: str
    title: str
    summary: str
    audience: str
    levels: tuple[tuple[str, str], ...]
    growth: str
    phases: tuple[PhaseView, ...]
    feeds: str


def phase_view(version: VersionEntry, facts: Sequence[ComputedSession], *, newest: bool) -> PhaseView:
    """The phase of a version, for the programme's page."""
    model = version.model
    return PhaseView(
        number=version.phase,
        phase=model.phase,
        aim=model.aim,
        dates=f"{words.on_day(model.starts)} to {words.on_day(version.ends)}",
        starts=model.starts.isoformat(),
        weeks=model.weeks,
        address=version_address(version),
        days=tuple(day_links(version, facts)),
        growth=growth_line(one.plan for one in facts),
        newest=newest,
    )


def programme_page(programme: ProgrammeEntry, phases: Sequence[PhaseView], site_url: str) -> ProgrammePage:
    """`phases` in the order of their dates, at most MOST_PHASES. `site_url` is the public address; feeds need
    it, and something that is published."""
    model = programme.model
    ages = model.audience.ages if model.audience else ()
    return ProgrammePage(
        id=programme.id,
        title=model.title,
        summary=model.summary or "",
        audience=f"Ages {ages[0]} to {ages[1]}" if ages else "",
        levels=tuple((level.name, level.who or "") for level in model.levels),
        growth=next((phase.growth for phase in phases if phase.growth), ""),
        phases=tuple(phases),
        feeds=f"{site_url}{programme.id}/" if site_url and phases else "",
    )


Cells = tuple[tuple[str, str], ...]
"""Totals of one level before and now, each with its difference and percentage, or nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """A version against the one before it.

    `days` are titles with sentences, `more` is a long list of them; `table` has days with their levels and
    the differences in the order of `headings`; `weeks` is a line a level.
    """

    before: Link
    days: tuple[tuple[str, tuple[str, ...]], ...]
    more: tuple[str, ...]
    headings: tuple[str, ...]
    table: tuple[tuple[str, tuple[tuple[str, Cells], ...]], ...]
    weeks: tuple[tuple[str, str], ...]


def change_view(compared: Comparison) -> ChangeView:
    """The finished words of a comparison."""
    days, levels = row_names(compared), level_names(compared)
    told = list(by_day(compared))
    more = told.pop()[1] if compared.steps and compared.steps.lines else ()
    rows = [row for row in compared.rows if row.figures]
    return ChangeView(
        before=Link(f"version {compared.before.name}", version_address(compared.before)),
        days=tuple((title, lines) for title, lines in told),
        more=more,
        headings=tuple(HEADINGS.values()),
        table=tuple(
            (days[day], tuple((levels[row.level], _cells(row)) for row in own))
            for day, own in groupby(rows, attrgetter("day"))
        ),
        weeks=tuple((levels[row.level], _week(row)) for row in rows if not row.day),
    )


def _cells(row: Row) -> Cells:
    return tuple(parts(name, row.figures[name]) for name in HEADINGS)


_CALLED = {"seconds": "time"}


def _week(row: Row) -> str:
    """How a mean week of a level differs, in one line."""
    figures = row.figures
    if any(difference.before is None or difference.now is None for difference in figures.values()):
        return "not trained before" if figures["seconds"].before is None else "not trained any more"
    told = ((_CALLED.get(name, HEADINGS[name].lower()), step(name, figures[name])) for name in HEADINGS)
    return ", ".join(f"{name} {words}" for name, words in told if words) or "as much as before"


MOST_LINES = 10
"""Sentences of one version in the archive; the rest is on its own page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ArchiveRow:
    """A version in the archive, with what differs from the one before. `left` counts sentences not shown."""

    name: str
    phase: str
    dates: str
    address: str
    plan: str
    changes: str
    change: ChangeView | None
    lines: tuple[str, ...]
    left: int


def archive_row(page: VersionPage) -> ArchiveRow:
    """The archive's line of a version."""
    told = page.change.days if page.change else ()
    lines = [f"{title}: {line}" if title else line for title, own in told for line in own]
    left = max(len(lines) - MOST_LINES, 0) + (len(page.change.more) if page.change else 0)
    return ArchiveRow(
        name=page.name,
        phase=page.phase,
        dates=page.dates,
        address=page.address,
        plan=page.plan,
        changes=page.changes,
        change=page.change,
        lines=tuple(lines[:MOST_LINES]),
        left=left,
    )
