"""Exercise pages and their index."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from ...drawing.ribbon import trace
from ...reading.catalogue import VersionEntry
from ...reading.model import Exercise
from . import safety, words
from .base import Link, Site, day_address, exercise_address
from .figures import Angles, FigureView, PairView, Picture, angles, balance_words, large, on_what, share_words
from .stations import without

_SIDES = {
    "both": "both sides at once",
    "each": "one side, then the other",
    "alternating": "left and right in turn",
}
_LANDINGS = {"low": "soft, low landings", "medium": "medium landings", "high": "hard landings"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ExercisePage:
    """One exercise, with its ladder both ways."""

    id: str
    name: str
    pattern: str
    works: tuple[str, ...]
    needs: tuple[str, ...]
    sides: str
    landing: str
    tempo: str
    trace: str
    setup: tuple[str, ...]
    cues: tuple[str, ...]
    faults: tuple[str, ...]
    cautions: tuple[str, ...]
    growth: str
    easier: tuple[Link, ...]
    harder: tuple[Link, ...]
    instead: tuple[tuple[str, Link], ...]
    used_in: tuple[Link, ...]
    figure: FigureView | None
    large: Picture | None
    pair: PairView | None
    share: str
    carried_by: str
    balance: str
    angles: tuple[Angles, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexEntry:
    """An exercise in the index; `found_by` is the lower-case text that the search looks in; `still` an SVG."""

    name: str
    address: str
    about: str
    found_by: str
    still: str


@dataclass(frozen=True, slots=True)
class SheetEntry:
    """An exercise on the page of all figures."""

    name: str
    address: str
    figure: FigureView


class ExerciseViews:
    """All exercise pages of a site, with the links among them worked out once."""

    def __init__(self, site: Site) -> None:
        """`site` is the tree that is being shown."""
        self._site = site

    @cached_property
    def _steps(self) -> Mapping[str, Mapping[str, list[Link]]]:
        """Exercise id → easier and harder ways that other exercises' files name."""
        steps: dict[str, dict[str, list[Link]]] = {
            name: {"easier": [], "harder": []} for name in self._site.catalogue.exercises
        }
        for name, entry in self._site.catalogue.exercises.items():
            for way, back in (("easier", "harder"), ("harder", "easier")):
                for option in getattr(entry.model, way):
                    if option.exercise in steps:
                        steps[option.exercise][back].append(self._site.exercise_link(name))
        return steps

    @cached_property
    def _uses(self) -> Mapping[str, dict[str, Link]]:
        """Exercise id → the days of current editions that have it, by address."""
        uses: dict[str, dict[str, Link]] = {name: {} for name in self._site.catalogue.exercises}
        for programme in self._site.catalogue.programmes.values():
            for version in programme.newest_editions():
                for name, link in self._days(programme.model.title, version):
                    uses[name][link.address] = link
        return uses

    def _days(self, title: str, version: VersionEntry) -> list[tuple[str, Link]]:
        found = []
        for day in version.model.days:
            routines = [self._site.catalogue.routine(name) for name in (day.warm_up, day.cool_down) if name]
            blocks = [*day.blocks, *(block for routine in routines for block in routine.blocks)]
            names = {name for b in blocks for station in b.stations for name in station.exercise.values()}
            note = f"{title}, phase {version.phase}"
            link = Link(day.title, day_address(version, day.id), note)
            found += [(name, link) for name in sorted(names)]
        return found

    def page(self, exercise_id: str) -> ExercisePage:
        """The page of one exercise. Raises KeyError."""
        exercise = self._site.catalogue.exercise(exercise_id)
        figure = self._figure(exercise_id)
        return ExercisePage(
            id=exercise_id,
            name=exercise.name,
            pattern=exercise.pattern,
            works=exercise.works,
            needs=exercise.needs,
            sides=_SIDES[exercise.sides],
            landing=_LANDINGS.get(exercise.landing, ""),
            tempo=_rep_words(exercise),
            trace=trace(exercise.tempo, exercise.begins_with) if exercise.tempo else "",
            setup=exercise.setup,
            cues=exercise.cues,
            faults=exercise.faults,
            cautions=exercise.cautions,
            growth=safety.GROWTH if safety.lands(exercise) else "",
            easier=self._ladder(exercise_id, "easier"),
            harder=self._ladder(exercise_id, "harder"),
            instead=tuple(without(self._site, exercise)),
            used_in=tuple(self._uses[exercise_id].values()),
            figure=figure,
            large=large(figure.moves or figure.strip) if figure else None,
            pair=self._site.figures.pair(exercise_id),
            share=share_words(exercise),
            carried_by=on_what(exercise),
            balance=balance_words(exercise),
            angles=tuple(angles(exercise)),
        )

    def _figure(self, exercise_id: str) -> FigureView | None:
        """The figure in the exercise's own tempo."""
        exercise = self._site.catalogue.exercise(exercise_id)
        return self._site.figures.view(exercise_id, exercise.tempo, exercise.rep_seconds(None))

    def figures(self) -> list[SheetEntry]:
        """Every exercise that has a figure, by name."""
        names = ((entry.model.name, name) for name, entry in self._site.catalogue.exercises.items())
        found = ((name, address, self._figure(address)) for name, address in sorted(names))
        return [SheetEntry(name, exercise_address(id_), figure) for name, id_, figure in found if figure]

    def _ladder(self, exercise_id: str, way: str) -> tuple[Link, ...]:
        own = [self._site.option_link(o) for o in getattr(self._site.catalogue.exercise(exercise_id), way)]
        named = {link.address for link in own}
        return (*own, *(link for link in self._steps[exercise_id][way] if link.address not in named))

    def index(self) -> dict[str, Sequence[IndexEntry]]:
        """Entries by pattern, both in alphabetical order."""
        by_pattern: dict[str, list[IndexEntry]] = {}
        for name, entry in self._site.catalogue.exercises.items():
            by_pattern.setdefault(entry.model.pattern, []).append(self._index_entry(name, entry.model))
        return {
            pattern: sorted(by_pattern[pattern], key=lambda entry: entry.name.lower())
            for pattern in sorted(by_pattern)
        }

    def _index_entry(self, exercise_id: str, exercise: Exercise) -> IndexEntry:
        needs = f"needs {', '.join(exercise.needs)}" if exercise.needs else ""
        about = " · ".join(part for part in (", ".join(exercise.works), needs) if part)
        found_by = " ".join((exercise.name, exercise.pattern, *exercise.works, *exercise.needs)).lower()
        return IndexEntry(
            name=exercise.name,
            address=exercise_address(exercise_id),
            about=about,
            found_by=found_by,
            still=self._site.figures.still(exercise_id),
        )


def _rep_words(exercise: Exercise) -> str:
    if exercise.tempo:
        parts = f", in each of {exercise.parts} positions" if exercise.parts > 1 else ""
        return f"{exercise.tempo.written}: {words.tempo(exercise.tempo, exercise.begins_with)}{parts}"
    if exercise.seconds_per_rep:
        return f"about {exercise.seconds_per_rep} s for a rep"
    return ""
