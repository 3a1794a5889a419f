"""The wall poster: the way from a changing room to a programme."""

from __future__ import annotations

from dataclasses import dataclass

from . import safety
from .base import Site
from .programmes import ProgrammePage
from .type_size import ANYWHERE, paragraph

STEPS = (
    ("Open it", "Point the camera of a phone at the code, or type the address."),
    ("Find your level", "Not sure which one is yours? Take the easier one, and ask your coach."),
    ("Begin with the warm-up", "Do the first session while your coach or another adult watches."),
)
PARENTS = (
    "For parents: what this is, and what to watch for in a first session. The programme's page leads there."
)
LASTING = "The address stays the same. It always leads to the phase that you train now."
_CODE_MM = 84
_GAPS_MM = 26
_CREST_MM = 28
"""The room beside the title for the crest, 26 mm square."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PosterPage:
    """The poster of a programme. `days` are those of its newest phase, each with when and how long.

    `address` is its public one in pieces, between which a line may break; nothing where none is known.
    `size` is the class of its type.
    """

    title: str
    about: str
    address: tuple[str, ...]
    steps: tuple[tuple[str, str], ...]
    phase: str
    days: tuple[tuple[str, str], ...]
    lasting: str
    growth: str
    size: str


def poster_page(site: Site, page: ProgrammePage, site_url: str) -> PosterPage:
    """The poster of a programme whose page is given; `site_url` is the public address, or empty."""
    address = f"{site_url}{page.id}/".partition("://")[2] if site_url else ""
    pieces = tuple(f"{piece}/" for piece in address.rstrip("/").split("/")) if address else ()
    phase, days = _days(page)
    return PosterPage(
        title=page.title,
        about=page.audience,
        address=pieces,
        steps=STEPS,
        phase=phase,
        days=days,
        lasting=LASTING,
        growth=page.growth,
        size=_size(site, page, address),
    )


def _days(page: ProgrammePage) -> tuple[str, tuple[tuple[str, str], ...]]:
    newest = next((phase for phase in page.phases if phase.newest), None)
    if newest is None:
        return "", ()
    phase = f"Phase {newest.number}, {newest.phase}, {newest.dates}"
    return phase, tuple((day.title, f"{day.weekdays}, {day.takes}") for day in newest.days)


_SIZES = (("p4", 52, 20, 12), ("p3", 46, 19, 11), ("p2", 34, 16, 9.5), ("p1", 25, 13.5, 8))
"""Class, and the points of title, steps and address, cautions."""


def _size(site: Site, page: ProgrammePage, address: str) -> str:
    """The largest that fits on a page of each paper, by the same estimate as for sheets."""
    hurt = f"{safety.HURT} {site.if_hurt}" if site.if_hurt else ""
    cautions = [safety.STOP, hurt, *site.cautions, page.growth, safety.last_line(site.signed)]
    crest = _CREST_MM if site.catalogue.crest else 0
    face = ANYWHERE.face
    for mark, title, steps, small in _SIZES:
        heights = []
        for paper in ANYWHERE.rooms:
            room = paper.width - _CODE_MM - 6
            beside = sum(paragraph(f"{a} {b}", steps, room - 9, face) + 3 for a, b in STEPS)
            head = paragraph(page.title, title, paper.width - crest, face, bold=True)
            head += sum(
                paragraph(text, 13, paper.width - crest, face) for text in (site.club_name, page.audience)
            )
            high = max(head, crest)
            high += max(beside + steps, _CODE_MM + 12)
            high += paragraph(address.replace("/", "/ "), steps, paper.width, face, bold=True)
            phase, days = _days(page)
            lines = [phase, *(f"{title}: {when}" for title, when in days), PARENTS]
            high += sum(paragraph(text, small, paper.width, face) + 1 for text in lines)
            high += sum(paragraph(text, small, paper.width - 8, face) for text in cautions) + _GAPS_MM
            heights.append(high <= paper.height)
        if all(heights):
            return mark
    return _SIZES[-1][0]
