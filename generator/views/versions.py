"""The version page, the programme page and the archive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.catalogue import ProgrammeEntry, VersionEntry
from generator.checks.registry import SessionFacts
from generator.plan import fingerprint, resolved
from generator.views import words
from generator.views.base import Link, Newer, Site, version_address
from generator.views.day import kit_words
from generator.views.safety import growth_line

MOST_PHASES = 8
"""Phases among which the browser finds the current one; earlier ones are in the archive."""


@dataclass(frozen=True, slots=True)
class Minutes:
    """Estimated minutes of one day: level names, and by week the minutes with the address of the sheet."""

    day: str
    levels: tuple[tuple[str, tuple[Link, ...]], ...]


@dataclass(frozen=True, slots=True)
class DayLink:
    """A day of a version."""

    title: str
    address: str
    weekdays: str
    minutes: str


@dataclass(frozen=True, slots=True)
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


def version_page(
    site: Site,
    programme: ProgrammeEntry,
    version: VersionEntry,
    facts: Sequence[SessionFacts],
    newer: Newer | None,
) -> VersionPage:
    """`facts` are all sessions of the version, `newer` is its banner."""
    model = version.model
    loads = sorted({s.load for one in facts for b in one.plan.blocks for s in b.stations if s.load})
    return VersionPage(
        programme.id,
        programme.model.title,
        version.name,
        model.phase,
        version.phase,
        model.aim,
        f"{words.on_day(model.starts)} to {words.on_day(version.ends)}",
        model.weeks,
        version_address(version),
        fingerprint(resolved(version, (one.plan for one in facts))),
        model.changes or "",
        tuple(day_links(version, facts)),
        tuple(_minutes(version, facts)),
        tuple((level.name, level.who or "") for level in version.levels),
        tuple(kit_words(site, facts)),
        tuple(map(site.load_words, loads)),
        growth_line(one.plan for one in facts),
        newer,
    )


def day_links(version: VersionEntry, facts: Sequence[SessionFacts]) -> list[DayLink]:
    """The days of a version, with the range of their minutes over levels and weeks."""
    links = []
    for day in version.model.days:
        lengths = [one.order.seconds for one in facts if one.plan.day == day.id]
        address = f"{version_address(version)}{day.id}/"
        links.append(DayLink(day.title, address, words.weekdays(day.on), words.minutes_between(lengths)))
    return links


def _minutes(version: VersionEntry, facts: Sequence[SessionFacts]) -> list[Minutes]:
    days = []
    for day in version.model.days:
        levels = []
        for level in version.levels:
            own = [f for f in facts if f.plan.day == day.id and f.plan.level == level.id]
            address = f"{version_address(version)}{day.id}/{level.id}/week-"
            weeks = (Link(words.minutes(f.order.seconds), f"{address}{f.plan.week}/") for f in own)
            levels.append((level.name, tuple(weeks)))
        days.append(Minutes(day.title, tuple(levels)))
    return days


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class ProgrammePage:
    """The page that is bookmarked: the current phase and the way to its days."""

    id: str
    title: str
    summary: str
    audience: str
    levels: tuple[tuple[str, str], ...]
    growth: str
    phases: tuple[PhaseView, ...]


def phase_view(version: VersionEntry, facts: Sequence[SessionFacts], *, newest: bool) -> PhaseView:
    """The phase of a version, for the programme's page."""
    model = version.model
    return PhaseView(
        version.phase,
        model.phase,
        model.aim,
        f"{words.on_day(model.starts)} to {words.on_day(version.ends)}",
        model.starts.isoformat(),
        model.weeks,
        version_address(version),
        tuple(day_links(version, facts)),
        growth_line(one.plan for one in facts),
        newest,
    )


def programme_page(programme: ProgrammeEntry, phases: Sequence[PhaseView]) -> ProgrammePage:
    """`phases` in the order of their dates, at most MOST_PHASES."""
    model = programme.model
    ages = model.audience.ages if model.audience else ()
    return ProgrammePage(
        programme.id,
        model.title,
        model.summary or "",
        f"Ages {ages[0]} to {ages[1]}" if ages else "",
        tuple((level.name, level.who or "") for level in model.levels),
        next((phase.growth for phase in phases if phase.growth), ""),
        tuple(phases),
    )


@dataclass(frozen=True, slots=True)
class ArchiveRow:
    """A version in the archive. `difference` compares the estimated minutes with the version before."""

    name: str
    phase: str
    dates: str
    address: str
    plan: str
    changes: str
    difference: str


def archive_row(page: VersionPage, difference: str) -> ArchiveRow:
    """The archive's line of a version."""
    return ArchiveRow(page.name, page.phase, page.dates, page.address, page.plan, page.changes, difference)


@dataclass(frozen=True, slots=True)
class Totals:
    """What the archive compares: sessions, minutes, sets and landings of a whole version, all levels."""

    sessions: int
    seconds: float
    sets: int
    contacts: int


def totals(facts: Sequence[SessionFacts]) -> Totals:
    """Means over the sessions of a version, so that versions of different length compare."""
    many = max(len(facts), 1)
    return Totals(
        len(facts),
        float(sum(one.figures.seconds for one in facts)) / many,
        round(sum(one.figures.work.sets for one in facts) / many),
        round(sum(one.figures.contacts for one in facts) / many),
    )


def difference(before: Totals | None, now: Totals) -> str:
    """How a mean session differs from that of the version before."""
    minutes = round(now.seconds / 60)
    mean = f"A mean session: {minutes} min, {now.sets} sets, {now.contacts} landings (estimates)"
    if before is None:
        return f"{mean}."
    changes = (
        (round((now.seconds - before.seconds) / 60), "min"),
        (now.sets - before.sets, "sets"),
        (now.contacts - before.contacts, "landings"),
    )
    told = [f"{change:+d} {unit}".replace("-", "−") for change, unit in changes if change]
    against = f"{', '.join(told)} against" if told else "about the same on average as"
    return f"{mean}; {against} the version before."
