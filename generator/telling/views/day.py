"""The day page: every level and week of one day, of which the script shows one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

from ...computing.facts import ComputedSession, exercises_of
from ...reading.catalogue import VersionEntry
from ...reading.findings import listed
from ...reading.model import Day
from . import words
from .base import Site, Variant, session_below_day
from .cells import Cells
from .places import by_place
from .safety import growth_line
from .stations import StationView, StationViews


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionRow:
    """One level and week: where its sheet is, how long it takes, what it looks like.

    `trained` is false where the file leaves out every block of the day.
    """

    cell: int
    trained: bool
    level: str
    week: int
    address: str
    minutes: str
    ribbon: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockView:
    """A block, or one block of a routine; `mark` is empty for a routine's further blocks."""

    mark: str
    section: str
    titles: tuple[Variant, ...]
    stations: tuple[StationView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPage:
    """One page for all levels and weeks of a day."""

    title: str
    weekdays: str
    levels: tuple[tuple[str, str, str], ...]
    weeks: int
    starts: str
    kit: str
    growth: str
    sessions: tuple[SessionRow, ...]
    blocks: tuple[BlockView, ...]


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
        return DayPage(
            title=day.title,
            weekdays=words.weekdays(day.on),
            levels=tuple((level.id, level.name, level.who or "") for level in version.levels),
            weeks=version.model.weeks,
            starts=version.model.starts.isoformat(),
            kit=listed(kit_words(self._site, facts), "and"),
            growth=growth_line(one.plan for one in facts),
            sessions=tuple(_session_rows(version, facts, ribbons)),
            blocks=tuple(self._blocks(Cells(version, day, facts))),
        )

    def _blocks(self, cells: Cells) -> Iterable[BlockView]:
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
                stations=tuple(self._stations.of_block(cells, in_cells)),
            )


def kit_words(site: Site, facts: Iterable[ComputedSession]) -> list[str]:
    """The things that the sessions need, each once, in the order they are met."""
    needs = (site.catalogue.exercise(exercise_id).needs for exercise_id in exercises_of(facts))
    return list(dict.fromkeys(chain.from_iterable(needs)))


def _session_rows(
    version: VersionEntry, facts: Sequence[ComputedSession], ribbons: Sequence[str]
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
            minutes=words.minutes(one.order.seconds),
            ribbon=ribbon,
        )
