"""The page of a programme, and its phases."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ...computing.facts import ComputedSession
from ...reading.catalogue import ProgrammeEntry, VersionEntry
from . import words
from .base import Site, version_address
from .safety import growth_line
from .today import phase_plan, programme_plan
from .versions import DayLink, day_links

MOST_PHASES = 8
"""Phases among which the browser finds the current one; earlier ones are in the archive."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhaseView:
    """A phase on its programme's page; the browser opens today's, by its `plan`."""

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
    plan: dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammePage:
    """The page that is bookmarked: the current phase and the way to its days."""

    id: str
    title: str
    summary: str
    audience: str
    ages: tuple[int, ...]
    levels: tuple[tuple[str, str], ...]
    growth: str
    phases: tuple[PhaseView, ...]
    feeds: str
    today: str


def phase_view(
    site: Site, version: VersionEntry, facts: Sequence[ComputedSession], *, newest: bool
) -> PhaseView:
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
        days=tuple(day_links(site, version, facts)),
        growth=growth_line(one.plan for one in facts),
        newest=newest,
        plan=phase_plan(site, version, facts),
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
        ages=tuple(ages),
        audience=f"Ages {ages[0]} to {ages[1]}" if ages else "",
        levels=tuple((level.name, level.who or "") for level in model.levels),
        growth=next((phase.growth for phase in phases if phase.growth), ""),
        phases=tuple(phases),
        feeds=f"{site_url}{programme.id}/" if site_url and phases else "",
        today=programme_plan(programme, [phase.plan for phase in phases]),
    )
