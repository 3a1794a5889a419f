"""The day page: every level and week of one day, of which the script shows one."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, chain

from ...computing.facts import ComputedSession, exercises_of
from ...computing.resolve import PlannedBlock, PlannedStation
from ...drawing.ribbon import trace
from ...reading.catalogue import VersionEntry
from ...reading.findings import in_weeks, listed
from ...reading.model import Day, Exercise
from . import words
from .base import Link, Site, Variant, exercise_address, session_below_day
from .figures import FigureView
from .safety import growth_line


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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class How:
    """How an exercise is done: the same wherever it stands, so it is made once and known again by itself."""

    setup: tuple[str, ...]
    cues: tuple[str, ...]
    faults: tuple[str, ...]
    cautions: tuple[str, ...]
    easier: tuple[Link, ...]
    harder: tuple[Link, ...]
    instead: tuple[tuple[str, Link], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Exercised:
    """An exercise at a station, with its doses for the sessions that have it there."""

    cells: str
    label: str
    name: str
    address: str
    doses: tuple[Variant, ...]
    traces: tuple[tuple[str, str, str, str], ...]
    loads: tuple[Variant, ...]
    how: How
    figures: tuple[tuple[FigureView, str], ...]


@dataclass(frozen=True, slots=True)
class StationView:
    """A place in a block; `mark` is its label."""

    mark: str
    exercises: tuple[Exercised, ...]


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


Place = tuple[str, str, int]
"""Section, label, and among a routine's blocks, which share a label, the position in the routine."""


class DayViews:
    """All day pages of a site, with the words of its exercises made once."""

    def __init__(self, site: Site) -> None:
        """`site` is the tree that is being shown."""
        self._site = site
        self._hows: dict[str, How] = {}

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
            blocks=tuple(self._blocks(_Cells(version, day, facts))),
        )

    def _blocks(self, cells: _Cells) -> Iterable[BlockView]:
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
                stations=tuple(self._stations(cells, in_cells)),
            )

    def _stations(self, cells: _Cells, in_cells: list[tuple[int, PlannedBlock]]) -> Iterable[StationView]:
        in_sets = in_cells[0][1].kind == "straight sets"
        places: dict[str, dict[str, _Held]] = {}
        for cell, block in in_cells:
            for station in block.stations:
                held = places.setdefault(station.label, {}).setdefault(station.exercise, {})
                held.setdefault(station, []).append(cell)
        for label in sorted(places, key=lambda name: (len(name), name)):
            exercised = [self._exercised(cells, name, held, in_sets) for name, held in places[label].items()]
            yield StationView(label.split()[-1], tuple(exercised))

    def _exercised(self, cells: _Cells, exercise_id: str, held: _Held, in_sets: bool) -> Exercised:
        exercise = self._site.catalogue.exercise(exercise_id)
        load_words = self._site.load_words
        among = tuple(sorted(chain.from_iterable(held.values())))
        return Exercised(
            cells=cells.attribute(among),
            label=cells.label(among),
            name=exercise.name,
            address=exercise_address(exercise_id),
            doses=cells.variants(
                (_dose(exercise, station, in_sets), those) for station, those in held.items()
            ),
            traces=tuple(_traces(cells, held, exercise.begins_with)),
            loads=cells.variants(((load_words(station.load), ""), those) for station, those in held.items()),
            how=self._how(exercise_id, exercise),
            figures=tuple(self._figures(cells, exercise_id, held)),
        )

    def _figures(self, cells: _Cells, exercise_id: str, held: _Held) -> Iterable[tuple[FigureView, str]]:
        """The figure in each tempo of the station, with the cells that have it."""
        views: dict[str, FigureView] = {}
        said = []
        for station, those in held.items():
            view = self._site.figures.view(exercise_id, station.tempo, station.rep)
            if view:
                file = (view.moves or view.strip).address
                views[file] = view
                said.append(((file, ""), those))
        for variant in cells.variants(said):
            yield views[variant.words], variant.cells

    def _how(self, exercise_id: str, exercise: Exercise) -> How:
        if exercise_id not in self._hows:
            self._hows[exercise_id] = How(
                setup=exercise.setup,
                cues=exercise.cues,
                faults=exercise.faults,
                cautions=exercise.cautions,
                easier=tuple(map(self._site.option_link, exercise.easier)),
                harder=tuple(map(self._site.option_link, exercise.harder)),
                instead=tuple(without(self._site, exercise)),
            )
        return self._hows[exercise_id]


def by_place(
    site: Site, day: Day, facts: Sequence[ComputedSession]
) -> dict[Place, list[tuple[int, PlannedBlock]]]:
    """The union of the blocks of a day's sessions, in the order of the file; each block with the position of
    its session in `facts`."""
    ends = dict(_ends(site, day))
    found: dict[Place, list[tuple[int, PlannedBlock]]] = {}
    for cell, one in enumerate(facts):
        for block in one.plan.blocks:
            position = _position(block, ends[block.section]) if block.section in ends else 0
            found.setdefault((block.section, block.label, position), []).append((cell, block))
    return dict(sorted(found.items(), key=lambda item: (_SECTIONS.index(item[0][0]), *item[0][1:])))


def _ends(site: Site, day: Day) -> Iterable[tuple[str, list[int]]]:
    """For each routine the number of the last station of each of its blocks."""
    for section, name in (("warm-up", day.warm_up), ("cool-down", day.cool_down)):
        if name:
            blocks = site.catalogue.routine(name).blocks
            yield section, list(accumulate(len(block.stations) for block in blocks))


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


class _Cells:
    """The sessions of a day, numbered in their order: by level and week."""

    def __init__(self, version: VersionEntry, day: Day, facts: Sequence[ComputedSession]) -> None:
        self.day, self.facts = day, facts
        names = {level.id: level.name for level in version.levels}
        self._whose = tuple((names[one.plan.level], one.plan.week) for one in facts)

    def variants(self, said: Iterable[tuple[tuple[str, str], list[int]]]) -> tuple[Variant, ...]:
        """Words and a note with the cells that say so: each text once, with all of its cells."""
        groups: dict[tuple[str, str], list[int]] = {}
        for what, those in said:
            groups.setdefault(what, []).extend(those)
        found = [(text, note, tuple(sorted(those))) for (text, note), those in groups.items() if text]
        return tuple(
            [Variant(text, note, self.attribute(those), self.label(those)) for text, note, those in found]
        )

    def attribute(self, cells: tuple[int, ...]) -> str:
        """The numbers for the page's `data-for`; nothing when it holds for all."""
        return "" if len(cells) == len(self.facts) else " ".join(map(str, cells))

    def label(self, cells: tuple[int, ...]) -> str:
        """`Starter: weeks 1 and 4; Steady: all weeks`; nothing when it holds for all."""
        return "" if len(cells) == len(self.facts) else _label(self._whose, cells)


@lru_cache(maxsize=4096)
def _label(whose: tuple[tuple[str, int], ...], cells: tuple[int, ...]) -> str:
    """`whose` has the level and week of every cell."""
    of_all, of_these = _by_level(whose), _by_level(whose[cell] for cell in cells)
    whole = {
        name: "all weeks" if weeks == of_all[name] else in_weeks(weeks) for name, weeks in of_these.items()
    }
    if len(whole) == len(of_all) and len(set(whole.values())) == 1:
        return f"All levels: {next(iter(whole.values()))}"
    return "; ".join(f"{name}: {text}" for name, text in whole.items())


def _by_level(whose: Iterable[tuple[str, int]]) -> dict[str, list[int]]:
    weeks: dict[str, list[int]] = {}
    for name, week in whose:
        weeks.setdefault(name, []).append(week)
    return weeks


_Held = dict[PlannedStation, list[int]]
"""The doses of an exercise at one place, each with the cells that have it."""
_SECTIONS = ("warm-up", "day", "cool-down")


def _position(block: PlannedBlock, ends: Sequence[int]) -> int:
    """Which block of a routine this is: stations are numbered through all of its blocks."""
    return bisect_left(ends, int(block.stations[0].label.split()[-1]))


def without(site: Site, exercise: Exercise) -> Iterable[tuple[str, Link]]:
    """What to do without each piece of equipment."""
    for word, option in exercise.instead.items():
        yield word, site.option_link(option)


def _dose(exercise: Exercise, station: PlannedStation, in_sets: bool) -> tuple[str, str]:
    amount, beside = words.dose(station, counted=exercise.measure == "reps")
    if in_sets:
        beside = "; ".join(part for part in (words.sets(station), beside) if part)
    return amount, beside


def _traces(cells: _Cells, held: _Held, begins: str) -> Iterable[tuple[str, str, str, str]]:
    """Drawing, words, cells and label of each tempo."""
    tempos = {station.tempo.written: station.tempo for station in held if station.tempo}
    said = (((s.tempo.written, words.tempo(s.tempo, begins)), own) for s, own in held.items() if s.tempo)
    for variant in cells.variants(said):
        drawn = trace(tempos[variant.words], begins)
        yield drawn, f"{variant.words}: {variant.note}", variant.cells, variant.label
