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

_RIBBON_MM = 90
"""How wide the ribbon is, and what stands below it; to its left are title, level and week."""
_BELOW_MM = 22.8
"""What stands below the blocks: date, effort, note, version."""
_CODE_WORDS_MM = 3.0
"""What the code has below it."""
_GAPS_MM = 3.0
_AROUND_STOP_MM = 7.5
"""Beside the words of the stop rule, with the few of the second paragraph that are bold."""
CREST_MM = 11
"""The crest beside the title; there are 2 mm beside it."""
_KEY = f"Times count from your start, 0:00, on any kitchen clock. work hold rest and change{20 * ' .'}"


class Notes(NamedTuple):
    """What may stand above the blocks: the caution for growing knees, the banner of an older version, and
    beside the title a code of so many mm and a crest; and the coach's line for the day."""

    growth: str
    banner: str
    code_mm: float = 0
    crest: bool = False
    says: str = ""


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
    wide = paper.width - (notes.code_mm + 2 if notes.code_mm else 0)
    crest = CREST_MM + 2 if notes.crest else 0
    beside = wide - _RIBBON_MM - crest - 3
    title = max(paragraph(head.title, 14, beside, face, bold=True), _RIBBON_MM * HEIGHT / WIDTH)
    title += max(paragraph(head.lead, 9, beside, face, bold=True), paragraph(_KEY, 7.2, _RIBBON_MM, face))
    first, rest = _stop(site, notes.growth)
    within = wide - _AROUND_STOP_MM
    stop = paragraph(first, 7.2, within, face, bold=True) + paragraph(rest, 7.2, within, face) + 1
    says = paragraph(notes.says, 9, wide, face, bold=True) + 0.5 if notes.says else 0
    beside_code = max(title, crest) + stop + says + _GAPS_MM
    older = f"{notes.banner} Go to the current one" if notes.banner else ""
    banner = paragraph(older, 7.2, paper.width, face) + 2.5 if older else 0
    run = paragraph(head.run, 7.2, paper.width, face)
    return run + banner + max(beside_code, notes.code_mm + _CODE_WORDS_MM)


def _stop(site: Site, growth: str) -> tuple[str, str]:
    """The paragraphs of the stop rule, as on the page."""
    hurt = f"{safety.HURT} {site.if_hurt}" if site.if_hurt else ""
    rest = [hurt, *site.cautions, growth, safety.last_line(site.signed)]
    return safety.STOP, " ".join(text for text in rest if text)
