"""The page for parents: what a programme is, who answers for it, and what they can watch for."""

from __future__ import annotations

from dataclasses import dataclass

from ...reading.catalogue import ProgrammeEntry
from . import safety
from .base import Site
from .programmes import PhaseView, ProgrammePage

WATCH = (
    "The back stays long, the breath goes on.",
    "The last rep looks like the first. When it does not, the set is over.",
)
"""What a layperson can see in a first session."""
LANDINGS = "Landings are quiet, and knees point the way the toes do."
FIRST = (
    "Be in the room for the first session of a phase: a dry floor, space all round, furniture that does not "
    "slide."
)
EASIER = (
    "An easier way is always allowed, and nobody has to ask for it. The session offers it where there is one."
)
HURTS = (
    "Stop, and do not start again that day. Nobody trains through pain. Sore muscles a day or two "
    "later are usual; pain in a joint, or pain that stays, is a reason to ask."
)
EMERGENCY = (
    "Call your local emergency number (112 in Europe) at once: hard blow to the head, chest pain, trouble "
    "breathing, fainting, a leg or an arm out of shape or of no use."
)
"""Stands open on the page."""
SAME_DAY = (
    "Team training and matches come first. On such a day leave the session out, or do it hours apart "
    "from training if the coach agrees. Jumps are for rested legs."
)
MISSED = (
    "Nothing has to be made up, and two sessions are never done in one. After two weeks away, start a "
    "week or more earlier: the programme's page keeps that. After an illness or an injury, ask before "
    "the first session."
)
PRIVACY = (
    "No account, no advertising, nothing that follows anybody. What your child logs stays in the "
    "browser of this device until your child sends it to the coach."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ParentsPage:
    """`about` are sentences on the programme, `days` those of its newest phase, each with its minutes."""

    id: str
    title: str
    about: tuple[str, ...]
    days: tuple[tuple[str, str, str], ...]
    answers: tuple[str, ...]
    growth: str


def parents_page(site: Site, programme: ProgrammeEntry, page: ProgrammePage) -> ParentsPage:
    """Of the programme whose `page` is given."""
    club = site.catalogue.club.model if site.catalogue.club else None
    newest = next((phase for phase in page.phases if phase.newest), None)
    answers = (
        f"{safety.SIGNED} {site.signed}." if site.signed else "",
        f"Questions: {club.contact}." if club and club.contact else "Questions: ask your child's coach.",
    )
    return ParentsPage(
        id=page.id,
        title=page.title,
        about=tuple(_about(site, page)),
        days=_days(newest) if newest else (),
        answers=tuple(text for text in answers if text),
        growth=page.growth,
    )


def _about(site: Site, page: ProgrammePage) -> list[str]:
    ages = f", for {page.audience[0].lower()}{page.audience[1:]}" if page.audience else ""
    return [
        f"Strength sessions from {site.club_name} to do at home{ages}. They stand beside team training.",
        "Each begins with a warm-up. The coach plans them, phase by phase, for the level of your child.",
    ]


def _days(phase: PhaseView) -> tuple[tuple[str, str, str], ...]:
    return tuple((day.title, day.weekdays, day.takes) for day in phase.days)
