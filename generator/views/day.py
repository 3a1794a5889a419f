"""The day page: every level and week of one day, of which the script shows one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from generator.catalogue import VersionEntry
from generator.checks.registry import SessionFacts
from generator.drawing import trace
from generator.findings import listed
from generator.model import Day, Exercise
from generator.resolve import PlannedBlock, PlannedStation
from generator.views import words
from generator.views.base import Link, Site, Variant
from generator.views.safety import growth_line
from generator.views.session import session_ribbon

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class SessionRow:
    """One level and week: where its sheet is, how long it takes, what it looks like."""

    cell: int
    level: str
    week: int
    address: str
    minutes: str
    ribbon: str


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
    setup: tuple[str, ...]
    cues: tuple[str, ...]
    faults: tuple[str, ...]
    cautions: tuple[str, ...]
    easier: tuple[Link, ...]
    harder: tuple[Link, ...]
    instead: tuple[tuple[str, Link], ...]


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


def day_page(site: Site, version: VersionEntry, day: Day, facts: Sequence[SessionFacts]) -> DayPage:
    """`facts` are the day's sessions by level and week."""
    cells = _Cells(version, facts)
    return DayPage(
        day.title,
        words.weekdays(day.on),
        tuple((level.id, level.name, level.who or "") for level in version.levels),
        version.model.weeks,
        version.model.starts.isoformat(),
        listed(kit_words(site, facts), "and"),
        growth_line(one.plan for one in facts),
        tuple(_session_row(version, index, one) for index, one in enumerate(facts)),
        tuple(_blocks(site, cells)),
    )


def kit_words(site: Site, facts: Iterable[SessionFacts]) -> list[str]:
    """The things that the sessions need, each once, in the order they are met."""
    found: dict[str, None] = {}
    for one in facts:
        for block in one.plan.blocks:
            for station in block.stations:
                found.update(dict.fromkeys(site.catalogue.exercise(station.exercise).needs))
    return list(found)


def _session_row(version: VersionEntry, index: int, facts: SessionFacts) -> SessionRow:
    plan = facts.plan
    level = next(level.name for level in version.levels if level.id == plan.level)
    address = f"{plan.level}/week-{plan.week}/"
    minutes = words.minutes(facts.order.seconds)
    return SessionRow(index, level, plan.week, address, minutes, session_ribbon(facts))


class _Cells:
    """The sessions of a day, numbered by level and week."""

    def __init__(self, version: VersionEntry, facts: Sequence[SessionFacts]) -> None:
        self.facts = facts
        self._levels = [level.name for level in version.levels]
        self._weeks = version.model.weeks

    def variants(self, said: Iterable[tuple[int, tuple[str, str]]]) -> tuple[Variant, ...]:
        """What is said in each cell, each text once with the cells that it holds for."""
        return tuple(
            Variant(text, note, self.attribute(cells), self.label(cells))
            for (text, note), cells in _grouped(said).items()
            if text
        )

    def attribute(self, cells: Sequence[int]) -> str:
        """The numbers for the page's `data-for`; nothing when it holds for all."""
        return "" if len(cells) == len(self.facts) else " ".join(map(str, cells))

    def label(self, cells: Sequence[int]) -> str:
        """`Starter: weeks 1 and 4; Steady: all weeks`; nothing when it holds for all."""
        if len(cells) == len(self.facts):
            return ""
        by_level: dict[str, list[int]] = {}
        for cell in cells:
            by_level.setdefault(self._levels[cell // self._weeks], []).append(cell % self._weeks + 1)
        whole = {name: self._in_words(numbers) for name, numbers in by_level.items()}
        if len(whole) == len(self._levels) and len(set(whole.values())) == 1:
            return f"All levels: {next(iter(whole.values()))}"
        return "; ".join(f"{name}: {text}" for name, text in whole.items())

    def _in_words(self, numbers: list[int]) -> str:
        return "all weeks" if len(numbers) == self._weeks else words.weeks(numbers)


def _grouped(said: Iterable[tuple[int, T]]) -> dict[T, list[int]]:
    groups: dict[T, list[int]] = {}
    for cell, what in said:
        groups.setdefault(what, []).append(cell)
    return groups


def _blocks(site: Site, cells: _Cells) -> Iterable[BlockView]:
    """The union of the blocks of all cells, in the order of the file."""
    seen: set[str] = set()
    for (section, label, _), in_cells in _by_place(cells).items():
        said = [(cell, (words.block_title(block), "")) for cell, block in in_cells]
        mark = "" if label in seen else label
        seen.add(label)
        yield BlockView(mark, section, cells.variants(said), tuple(_stations(site, cells, in_cells)))


_Place = tuple[str, str, int]
"""Section, label, and for a routine's blocks, which share a label, the number of the first station."""


def _by_place(cells: _Cells) -> dict[_Place, list[tuple[int, PlannedBlock]]]:
    found: dict[_Place, list[tuple[int, PlannedBlock]]] = {}
    for cell, facts in enumerate(cells.facts):
        for block in facts.plan.blocks:
            first = _number(block.stations[0].label) if block.section != "day" else 0
            found.setdefault((block.section, block.label, first), []).append((cell, block))
    order = {"warm-up": 0, "day": 1, "cool-down": 2}
    return dict(sorted(found.items(), key=lambda item: (order[item[0][0]], item[0][1], item[0][2])))


def _number(label: str) -> int:
    return int(label.split()[-1])


def _stations(
    site: Site, cells: _Cells, in_cells: list[tuple[int, PlannedBlock]]
) -> Iterable[StationView]:
    by_label: dict[str, list[tuple[int, PlannedBlock, PlannedStation]]] = {}
    for cell, block in in_cells:
        for station in block.stations:
            by_label.setdefault(station.label, []).append((cell, block, station))
    for label in sorted(by_label, key=lambda name: (len(name), name)):
        by_exercise = _grouped((index, s.exercise) for index, (_, _, s) in enumerate(by_label[label]))
        exercised = (
            _exercised(site, cells, exercise, [by_label[label][index] for index in indices])
            for exercise, indices in by_exercise.items()
        )
        yield StationView(label.split()[-1], tuple(exercised))


def _exercised(
    site: Site, cells: _Cells, exercise_id: str, held: list[tuple[int, PlannedBlock, PlannedStation]]
) -> Exercised:
    exercise = site.catalogue.exercise(exercise_id)
    numbers = [cell for cell, _, _ in held]
    return Exercised(
        cells.attribute(numbers),
        cells.label(numbers),
        exercise.name,
        f"exercises/{exercise_id}/",
        cells.variants((cell, _dose(exercise, block, station)) for cell, block, station in held),
        tuple(_traces(cells, held)),
        cells.variants((cell, (site.load_words(station.load), "")) for cell, _, station in held),
        exercise.setup,
        exercise.cues,
        exercise.faults,
        exercise.cautions,
        tuple(map(site.option_link, exercise.easier)),
        tuple(map(site.option_link, exercise.harder)),
        tuple(without(site, exercise)),
    )


def without(site: Site, exercise: Exercise) -> Iterable[tuple[str, Link]]:
    """What to do without each piece of equipment."""
    for word, option in exercise.instead.items():
        yield word, site.option_link(option)


def _dose(exercise: Exercise, block: PlannedBlock, station: PlannedStation) -> tuple[str, str]:
    amount, beside = words.dose(station, counted=exercise.measure == "reps")
    if block.kind == "straight sets":
        beside = "; ".join(part for part in (words.sets(station), beside) if part)
    return amount, beside


def _traces(
    cells: _Cells, held: list[tuple[int, PlannedBlock, PlannedStation]]
) -> Iterable[tuple[str, str, str, str]]:
    """Drawing, words, cells and label of each tempo."""
    tempos = {station.tempo.written: station.tempo for _, _, station in held if station.tempo}
    said = [(cell, (s.tempo.written, words.tempo(s.tempo))) for cell, _, s in held if s.tempo]
    for variant in cells.variants(said):
        yield trace(tempos[variant.words]), f"{variant.words}: {variant.note}", variant.cells, variant.label
