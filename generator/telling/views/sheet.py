"""What a printed sheet has above and below its blocks, and how large its type may be with that."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from ...drawing.ribbon import HEIGHT, WIDTH
from ...reading.catalogue import VersionEntry
from ...reading.model import Day
from . import safety
from .base import Site
from .faces import Face
from .papers import Paper
from .type_size import ANYWHERE, Grid, Setting, paragraph, size

_RIBBON = 0.6
"""The share of the page's width that the ribbon takes."""
_BELOW_MM = 22.5
"""What stands below the blocks: date, effort, note, version."""
_GAPS_MM = 3.0
CREST_MM = 11
"""The crest beside the title; there are 2 mm beside it."""
_KEY = f"Times count from your start, 0:00, on any kitchen clock. work hold rest and change{20 * ' .'}"


class Notes(NamedTuple):
    """What may stand above the blocks: the caution for growing knees, the banner of an older version, and
    beside the title a code of so many mm and a crest."""

    growth: str
    banner: str
    code_mm: float = 0
    crest: bool = False


class Heading(NamedTuple):
    """The line over every page of a sheet, its title, and the line below that."""

    run: str
    title: str
    lead: str


def heading(site: Site, version: VersionEntry, day: Day, who: str, takes: str) -> Heading:
    """The heading as the page has it; `who` is level and week, `takes` as `words.without_timer` says it."""
    programme = site.catalogue.programmes[version.programme].model.title
    phase = f"phase {version.phase} {version.model.phase}"
    run = " · ".join([site.club_name, programme, phase, day.title, who])
    return Heading(run, day.title, f"{who} · {takes} (estimate)")


def sheet_size(
    site: Site, head: Heading, notes: Notes, grids: Sequence[Grid], setting: Setting = ANYWHERE
) -> str:
    """The class of the largest type in which the sheet stands on one page of each paper."""
    above = [_above(site, head, notes, paper, setting.face) for paper in setting.rooms]
    return size(above, grids, _BELOW_MM, setting)


def _above(site: Site, head: Heading, notes: Notes, paper: Paper, face: Face) -> float:
    """Millimetres from the top to the first block."""
    crest = CREST_MM + 2 if notes.crest else 0
    beside = paper.width - notes.code_mm - crest - 2
    title = paragraph(head.title, 16, beside, face, bold=True) + paragraph(
        head.lead, 9, beside, face, bold=True
    )
    title += _RIBBON * paper.width * HEIGHT / WIDTH + paragraph(_KEY, 7.2, beside, face) + 0.8
    stop = sum(paragraph(text, 7.2, paper.width - 6.5, face) for text in _stop(site, notes.growth))
    older = f"{notes.banner} Go to the current one" if notes.banner else ""
    banner = paragraph(older, 7.2, paper.width, face) + 2.5 if older else 0
    run = paragraph(head.run, 7.2, paper.width, face)
    return run + max(title, notes.code_mm, crest) + stop + banner + _GAPS_MM


def _stop(site: Site, growth: str) -> list[str]:
    """The paragraphs of the stop rule, as on the page."""
    hurt = f"{safety.HURT} {site.if_hurt}" if site.if_hurt else ""
    rest = [hurt, *site.cautions, growth, safety.last_line(site.signed)]
    return [safety.STOP, " ".join(text for text in rest if text)]
