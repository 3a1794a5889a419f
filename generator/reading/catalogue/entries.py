"""What a tree holds once it is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any, Generic, TypeVar

from ..model import Club, Exercise, FileModel, Level, Programme, Routine, Version
from ..pictures import Picture
from ..source import Document

M = TypeVar("M", bound=FileModel)


@dataclass(frozen=True, slots=True)
class Entry(Generic[M]):
    """One readable file: its id, its model and the text it came from."""

    id: str
    model: M
    document: Document


@dataclass(frozen=True, slots=True)
class VersionEntry:
    """One published version. `levels` are those of the phase, in the programme's order."""

    programme: str
    phase: int
    edition: int
    model: Version
    document: Document
    levels: tuple[Level, ...]

    @property
    def name(self) -> str:
        """`N.E`, as in the file name and the address."""
        return f"{self.phase}.{self.edition}"

    @property
    def weeks(self) -> range:
        """Week numbers, from 1."""
        return range(1, self.model.weeks + 1)

    @property
    def ends(self) -> date:
        """The Sunday of the last week."""
        return self.model.starts + timedelta(days=7 * self.model.weeks - 1)


@dataclass(frozen=True, slots=True)
class ProgrammeEntry:
    """One programme and its readable versions, oldest first."""

    id: str
    model: Programme
    document: Document
    versions: tuple[VersionEntry, ...]
    _by_name: dict[str, VersionEntry] = field(init=False, repr=False, compare=False, default_factory=dict)

    def __post_init__(self) -> None:
        """Versions are asked for by name, and there may be a thousand."""
        self._by_name.update((version.name, version) for version in self.versions)

    def newest_editions(self) -> list[VersionEntry]:
        """The newest edition of each phase, by the day it starts."""
        newest = {version.phase: version for version in self.versions}
        return sorted(newest.values(), key=lambda version: (version.model.starts, version.phase))

    def version(self, name: str) -> VersionEntry | None:
        """The version `N.E`, or None."""
        return self._by_name.get(name)


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Everything in the tree that can be read; what cannot be read is missing here and is a finding."""

    club: Entry[Club] | None
    exercises: Mapping[str, Entry[Exercise]] = field(default_factory=dict)
    routines: Mapping[str, Entry[Routine]] = field(default_factory=dict)
    programmes: Mapping[str, ProgrammeEntry] = field(default_factory=dict)
    crest: Picture | None = None
    photos: Mapping[str, Picture] = field(default_factory=dict)
    """By the name of their file in `media/`, those that exercises show."""
    routines_planned: dict[tuple[str, str], Any] = field(default_factory=dict, repr=False)
    """Routines by section and id as `resolve` plans them, kept for the sessions that share their blocks."""

    def exercise(self, exercise_id: str) -> Exercise:
        """The exercise with this id. Raises KeyError."""
        return self.exercises[exercise_id].model

    def routine(self, routine_id: str) -> Routine:
        """The routine with this id. Raises KeyError."""
        return self.routines[routine_id].model
