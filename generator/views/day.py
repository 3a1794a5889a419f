"""The day page: every level and week of one day, of which the script shows one."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import TypeVar

from generator.catalogue import VersionEntry
from generator.checks.registry import SessionFacts
from generator.drawing import trace
from generator.findings import listed
from generator.model import AnyBlock, Day, Exercise
from generator.resolve import PlannedBlock, PlannedStation
from generator.views import words
from generator.views.base import Link, Site, Variant, is_trained
from generator.views.safety import growth_line

K = TypeVar("K")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True, eq=False)
class How:
    """How an exercise is done: the same wherever it stands, so it is made once and known again by itself."""

    setup: tuple[str, ...]
    cues: tuple[str, ...]
    faults: tuple[str, ...]
    cautions: tuple[str, ...]
    easier: tuple[Link, ...]
    harder: tuple[Link, ...]
    instead: tuple[tuple[str, Link], ...]


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class StationView:
    """A place in a block; `mark` is its label."""

    mark: str
    exercises: tuple[Exercised, ...]


@dataclass(frozen=True, slots=True)
class BlockView:
    """A block, or one block of a routine; `mark` is empty for a routine's further blocks."""

    mark: str
    section: str
    titles: tuple[Variant, ...]
    stations: tuple[StationView, ...]


@dataclass(frozen=True, slots=True)
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
        self._hows: dict[str, How] = {}

    def page(
        self, version: VersionEntry, day: Day, facts: Sequence[SessionFacts], ribbons: Sequence[str]
    ) -> DayPage:
        """`facts` are the day's sessions by level and week, `ribbons` what they look like."""
        return DayPage(
            day.title,
            words.weekdays(day.on),
            tuple((level.id, level.name, level.who or "") for level in version.levels),
            version.model.weeks,
            version.model.starts.isoformat(),
            listed(kit_words(self._site, facts), "and"),
            growth_line(one.plan for one in facts),
            tuple(_session_rows(version, facts, ribbons)),
            tuple(self._blocks(_Cells(version, day, facts))),
        )

    def _blocks(self, cells: _Cells) -> Iterable[BlockView]:
        """The union of the blocks of all cells, in the order of the file."""
        seen: set[str] = set()
        for (section, label, _), in_cells in self._by_place(cells).items():
            said = [(cell, (words.block_title(block), "")) for cell, block in in_cells]
            mark = "" if label in seen else label
            seen.add(label)
            yield BlockView(mark, section, cells.variants(said), tuple(self._stations(cells, in_cells)))

    def _by_place(self, cells: _Cells) -> dict[_Place, list[tuple[int, PlannedBlock]]]:
        routines = {
            section: self._site.catalogue.routine(name).blocks
            for section, name in (("warm-up", cells.day.warm_up), ("cool-down", cells.day.cool_down))
            if name
        }
        found: dict[_Place, list[tuple[int, PlannedBlock]]] = {}
        for cell, facts in enumerate(cells.facts):
            for block in facts.plan.blocks:
                blocks = routines.get(block.section)
                position = _position(blocks, block.stations[0].label) if blocks else 0
                found.setdefault((block.section, block.label, position), []).append((cell, block))
        return dict(sorted(found.items(), key=lambda item: (_SECTIONS.index(item[0][0]), *item[0][1:])))

    def _stations(self, cells: _Cells, in_cells: list[tuple[int, PlannedBlock]]) -> Iterable[StationView]:
        by_label: dict[str, list[_Held]] = {}
        for cell, block in in_cells:
            for station in block.stations:
                by_label.setdefault(station.label, []).append((cell, block, station))
        for label in sorted(by_label, key=lambda name: (len(name), name)):
            by_exercise = _grouped((held[2].exercise, held) for held in by_label[label])
            exercised = (self._exercised(cells, name, held) for name, held in by_exercise.items())
            yield StationView(label.split()[-1], tuple(exercised))

    def _exercised(self, cells: _Cells, exercise_id: str, held: list[_Held]) -> Exercised:
        exercise = self._site.catalogue.exercise(exercise_id)
        load_words = self._site.load_words
        among = tuple(cell for cell, _, _ in held)
        return Exercised(
            cells.attribute(among),
            cells.label(among),
            exercise.name,
            f"exercises/{exercise_id}/",
            cells.variants((cell, _dose(exercise, block, station)) for cell, block, station in held),
            tuple(_traces(cells, held)),
            cells.variants((cell, (load_words(station.load), "")) for cell, _, station in held),
            self._how(exercise_id, exercise),
        )

    def _how(self, exercise_id: str, exercise: Exercise) -> How:
        if exercise_id not in self._hows:
            self._hows[exercise_id] = How(
                exercise.setup,
                exercise.cues,
                exercise.faults,
                exercise.cautions,
                tuple(map(self._site.option_link, exercise.easier)),
                tuple(map(self._site.option_link, exercise.harder)),
                tuple(without(self._site, exercise)),
            )
        return self._hows[exercise_id]


def kit_words(site: Site, facts: Iterable[SessionFacts]) -> list[str]:
    """The things that the sessions need, each once, in the order they are met."""
    found: dict[str, None] = {}
    for one in facts:
        for block in one.plan.blocks:
            for station in block.stations:
                found.update(dict.fromkeys(site.catalogue.exercise(station.exercise).needs))
    return list(found)


def _session_rows(
    version: VersionEntry, facts: Sequence[SessionFacts], ribbons: Sequence[str]
) -> Iterable[SessionRow]:
    names = {level.id: level.name for level in version.levels}
    for cell, (one, ribbon) in enumerate(zip(facts, ribbons, strict=True)):
        plan = one.plan
        address = f"{plan.level}/week-{plan.week}/"
        yield SessionRow(
            cell,
            is_trained(plan),
            names[plan.level],
            plan.week,
            address,
            words.minutes(one.order.seconds),
            ribbon,
        )


class _Cells:
    """The sessions of a day, numbered by level and week."""

    def __init__(self, version: VersionEntry, day: Day, facts: Sequence[SessionFacts]) -> None:
        self.day, self.facts = day, facts
        self._levels = [level.name for level in version.levels]
        self._weeks = version.model.weeks
        self._labels: dict[tuple[int, ...], str] = {}

    def variants(self, said: Iterable[tuple[int, tuple[str, str]]]) -> tuple[Variant, ...]:
        """What is said in each cell, each text once with the cells that it holds for."""
        return tuple(
            [
                Variant(text, note, self.attribute(cells), self.label(tuple(cells)))
                for (text, note), cells in _grouped((what, cell) for cell, what in said).items()
                if text
            ]
        )

    def attribute(self, cells: Sequence[int]) -> str:
        """The numbers for the page's `data-for`; nothing when it holds for all."""
        return "" if len(cells) == len(self.facts) else " ".join(map(str, cells))

    def label(self, cells: tuple[int, ...]) -> str:
        """`Starter: weeks 1 and 4; Steady: all weeks`; nothing when it holds for all."""
        if len(cells) == len(self.facts):
            return ""
        if cells not in self._labels:
            self._labels[cells] = self._label(cells)
        return self._labels[cells]

    def _label(self, cells: tuple[int, ...]) -> str:
        by_level = _grouped((self._levels[cell // self._weeks], cell % self._weeks + 1) for cell in cells)
        whole = {name: self._in_words(numbers) for name, numbers in by_level.items()}
        if len(whole) == len(self._levels) and len(set(whole.values())) == 1:
            return f"All levels: {next(iter(whole.values()))}"
        return "; ".join(f"{name}: {text}" for name, text in whole.items())

    def _in_words(self, numbers: list[int]) -> str:
        return "all weeks" if len(numbers) == self._weeks else words.weeks(numbers)


def _grouped(pairs: Iterable[tuple[K, T]]) -> dict[K, list[T]]:
    groups: dict[K, list[T]] = {}
    for key, value in pairs:
        groups.setdefault(key, []).append(value)
    return groups


_Held = tuple[int, PlannedBlock, PlannedStation]
"""A station with the cell and the block that have it."""
_Place = tuple[str, str, int]
"""Section, label, and among a routine's blocks, which share a label, the position in the routine."""
_SECTIONS = ("warm-up", "day", "cool-down")


def _position(blocks: Sequence[AnyBlock], station_label: str) -> int:
    """Which block of a routine has this station: stations are numbered through all of its blocks."""
    ends = list(accumulate(len(block.stations) for block in blocks))
    return bisect_left(ends, int(station_label.split()[-1]))


def without(site: Site, exercise: Exercise) -> Iterable[tuple[str, Link]]:
    """What to do without each piece of equipment."""
    for word, option in exercise.instead.items():
        yield word, site.option_link(option)


def _dose(exercise: Exercise, block: PlannedBlock, station: PlannedStation) -> tuple[str, str]:
    amount, beside = words.dose(station, counted=exercise.measure == "reps")
    if block.kind == "straight sets":
        beside = "; ".join(part for part in (words.sets(station), beside) if part)
    return amount, beside


def _traces(cells: _Cells, held: list[_Held]) -> Iterable[tuple[str, str, str, str]]:
    """Drawing, words, cells and label of each tempo."""
    tempos = {station.tempo.written: station.tempo for _, _, station in held if station.tempo}
    said = [(cell, (s.tempo.written, words.tempo(s.tempo))) for cell, _, s in held if s.tempo]
    for variant in cells.variants(said):
        yield trace(tempos[variant.words]), f"{variant.words}: {variant.note}", variant.cells, variant.label
