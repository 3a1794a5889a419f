"""The day page: every level and week of one day, of which the script shows one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import chain, groupby
from operator import attrgetter

from ...computing.facts import ComputedSession, exercises_of
from ...drawing.ribbon import end
from ...reading.catalogue import VersionEntry
from ...reading.findings import listed
from ...reading.model import Day
from . import words
from .base import Site, Variant, session_below_day
from .cells import Cells
from .coach import CoachLines
from .places import by_place
from .safety import growth_line
from .stations import StationView, StationViews


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionRow:
    """One level and week: where its sheet is, when it is, how long it takes, what it looks like.

    `trained` is false where the file leaves out every block of the day. `takes` is `about 37 min, up to 42
    without the timer`; `effort` is how hard it is meant to feel, or nothing.
    """

    cell: int
    trained: bool
    level: str
    week: int
    address: str
    when: str
    takes: str
    effort: str
    ribbon: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockView:
    """A block, or one block of a routine; `mark` is empty for a routine's further blocks."""

    mark: str
    section: str
    titles: tuple[Variant, ...]
    stations: tuple[StationView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartView:
    """Warm-up, day or cool-down: how long it lasts, and its blocks."""

    section: str
    lengths: tuple[Variant, ...]
    blocks: tuple[BlockView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPage:
    """One page for all levels and weeks of a day. `says` are the coach's lines."""

    title: str
    weekdays: str
    levels: tuple[tuple[str, str, str], ...]
    weeks: int
    starts: str
    kit: str
    growth: str
    says: tuple[Variant, ...]
    sessions: tuple[SessionRow, ...]
    parts: tuple[PartView, ...]

    @property
    def blocks(self) -> tuple[BlockView, ...]:
        """Those of all parts."""
        return tuple(block for part in self.parts for block in part.blocks)


class DayViews:
    """All day pages of a site, with the words of its exercises made once."""

    def __init__(self, site: Site) -> None:
        """`site` is the tree that is being shown."""
        self._site = site
        self._stations = StationViews(site)

    def page(
        self, version: VersionEntry, day: Day, facts: Sequence[ComputedSession], ribbons: Sequence[str]
    ) -> DayPage:
        """`facts` are sessions of the day, by level and week, `ribbons` what they look like."""
        cells, lines = Cells(version, day, facts), CoachLines(self._site, day)
        return DayPage(
            title=day.title,
            weekdays=self._site.weekdays.said(version, day),
            levels=tuple((level.id, level.name, level.who or "") for level in version.levels),
            weeks=version.model.weeks,
            starts=version.model.starts.isoformat(),
            kit=listed(kit_words(self._site, facts), "and"),
            growth=growth_line(one.plan for one in facts),
            says=cells.variants(
                ((lines.of_day(one.plan), ""), [cell])
                for cell, one in enumerate(facts)
                if one.plan.is_trained
            ),
            sessions=tuple(_session_rows(version, day, lines, facts, ribbons)),
            parts=tuple(self._parts(cells, lines)),
        )

    def _parts(self, cells: Cells, lines: CoachLines) -> Iterable[PartView]:
        for section, blocks in groupby(self._blocks(cells, lines), key=attrgetter("section")):
            lengths = (((_length(one, section), ""), [cell]) for cell, one in enumerate(cells.facts))
            yield PartView(section=section, lengths=cells.variants(lengths), blocks=tuple(blocks))

    def _blocks(self, cells: Cells, lines: CoachLines) -> Iterable[BlockView]:
        """The union of the blocks of all cells, in the order of the file."""
        seen: set[str] = set()
        for (section, label, _), in_cells in by_place(self._site, cells.day, cells.facts).items():
            said = (((words.block_title(block), ""), [cell]) for cell, block in in_cells)
            mark = "" if label in seen else label
            seen.add(label)
            yield BlockView(
                mark=mark,
                section=section,
                titles=cells.variants(said),
                stations=tuple(self._stations.of_block(cells, lines, in_cells)),
            )


def kit_words(site: Site, facts: Iterable[ComputedSession]) -> list[str]:
    """The things that the sessions need, each once, in the order they are met."""
    needs = (site.catalogue.exercise(exercise_id).needs for exercise_id in exercises_of(facts))
    return list(dict.fromkeys(chain.from_iterable(needs)))


def _length(facts: ComputedSession, section: str) -> str:
    """`9 min`, of the blocks of a section; nothing where it has none."""
    own = [segment for segment in facts.order.segments if segment.block == section]
    return words.minutes(end(own) - own[0].start) if own and section != "day" else ""


def _session_rows(
    version: VersionEntry,
    day: Day,
    lines: CoachLines,
    facts: Sequence[ComputedSession],
    ribbons: Sequence[str],
) -> Iterable[SessionRow]:
    names = {level.id: level.name for level in version.levels}
    for cell, (one, ribbon) in enumerate(zip(facts, ribbons, strict=True)):
        plan = one.plan
        address = session_below_day(plan)
        yield SessionRow(
            cell=cell,
            trained=plan.is_trained,
            level=names[plan.level],
            week=plan.week,
            address=address,
            when=words.dates(day.on, version.model.starts + timedelta(weeks=plan.week - 1)),
            takes=words.without_timer([one.order.seconds], [one.order.by_hand]),
            effort=lines.effort(plan),
            ribbon=ribbon,
        )
