"""The stations of a day: who does what there, in which doses, and how it is done."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain

from ...computing.resolve import PlannedBlock, PlannedStation
from ...drawing.ribbon import trace
from ...reading.model import Exercise
from . import words
from .base import Link, Site, Variant, exercise_address
from .cells import Cells
from .coach import CoachLines
from .figures import FigureView, PairView


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
    """An exercise at a station, with its doses for the sessions that have it there.

    A load is its mass, with the recipe as its note; `rests` are those between sets, `says` are the coach's
    lines, `still` is a drawing, `pair` right and not so.
    """

    cells: str
    label: str
    name: str
    address: str
    doses: tuple[Variant, ...]
    traces: tuple[tuple[str, str, str, str], ...]
    loads: tuple[Variant, ...]
    rests: tuple[Variant, ...]
    says: tuple[Variant, ...]
    how: How
    still: str
    figures: tuple[tuple[FigureView, str], ...]
    pair: PairView | None


@dataclass(frozen=True, slots=True)
class StationView:
    """A place in a block; `mark` is its label."""

    mark: str
    exercises: tuple[Exercised, ...]


_Held = dict[PlannedStation, list[int]]
"""The doses of an exercise at one place, each with the cells that have it."""


def without(site: Site, exercise: Exercise) -> Iterable[tuple[str, Link]]:
    """What to do without each piece of equipment."""
    for word, option in exercise.instead.items():
        yield word, site.option_link(option)


def _dose(exercise: Exercise, station: PlannedStation, in_sets: bool) -> tuple[str, str]:
    amount, beside = words.dose(station, counted=exercise.measure == "reps")
    if in_sets:
        beside = ", ".join(part for part in (words.how_many_sets(station), beside) if part)
    return amount, beside


def _traces(cells: Cells, held: _Held, begins: str) -> Iterable[tuple[str, str, str, str]]:
    """Drawing, words, cells and label of each tempo. The digits are the coach's: words say it all."""
    tempos = {station.tempo.written: station.tempo for station in held if station.tempo}
    said = (((s.tempo.written, words.tempo(s.tempo, begins)), own) for s, own in held.items() if s.tempo)
    for variant in cells.variants(said):
        drawn = trace(tempos[variant.words], begins)
        yield drawn, variant.note, variant.cells, variant.label


class StationViews:
    """The stations of all days of a site, with the words of its exercises made once."""

    def __init__(self, site: Site) -> None:
        """`site` is the tree that is being shown."""
        self._site = site
        self._hows: dict[str, How] = {}

    def of_block(
        self, cells: Cells, lines: CoachLines, in_cells: list[tuple[int, PlannedBlock]]
    ) -> Iterable[StationView]:
        """The union of the stations of a block, which comes with the cell in which it is."""
        in_sets = in_cells[0][1].kind == "straight sets"
        places: dict[str, dict[str, _Held]] = {}
        for cell, block in in_cells:
            for station in block.stations:
                held = places.setdefault(station.label, {}).setdefault(station.exercise, {})
                held.setdefault(station, []).append(cell)
        for label in sorted(places, key=lambda name: (len(name), name)):
            exercised = [
                self._exercised(cells, lines, name, held, in_sets) for name, held in places[label].items()
            ]
            yield StationView(label.split()[-1], tuple(exercised))

    def _exercised(
        self, cells: Cells, lines: CoachLines, exercise_id: str, held: _Held, in_sets: bool
    ) -> Exercised:
        exercise = self._site.catalogue.exercise(exercise_id)
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
            loads=cells.variants((self._load(station), those) for station, those in held.items()),
            rests=cells.variants(
                ((words.rest_between(s) if in_sets else "", ""), those) for s, those in held.items()
            ),
            says=cells.variants(
                ((lines.of_station(station.label, cells.facts[cell].plan), ""), [cell])
                for station, those in held.items()
                for cell in those
            ),
            still=self._site.figures.still(exercise_id),
            how=self._how(exercise_id, exercise),
            figures=tuple(self._figures(cells, exercise_id, held)),
            pair=self._site.figures.pair(exercise_id),
        )

    def _load(self, station: PlannedStation) -> tuple[str, str]:
        """`4 kg` and `2 × large bottle`."""
        kg, _, recipe = self._site.load_words(station.load).partition(": ")
        return kg, recipe

    def _figures(self, cells: Cells, exercise_id: str, held: _Held) -> Iterable[tuple[FigureView, str]]:
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
