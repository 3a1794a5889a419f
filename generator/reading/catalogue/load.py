"""One door into the tree: files in, catalogue and findings out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby, islice
from pathlib import Path as Folder
from typing import Any, TypeVar, cast

from ..findings import Fault, Finding, Path, bounded, nearest, shown
from ..model import Club, Exercise, FileModel, Kind, Programme, Routine, Version, renew, validate
from ..pictures import SUFFIXES
from ..source import Document
from ..tree import OnDisk
from ..tree import Tree as SomeFiles
from . import raw
from .calendar import Key, overlaps
from .entries import Catalogue, Entry, ProgrammeEntry, VersionEntry
from .files import MEDIA, Files, linked, read_tree, unused
from .ladder import cycles, wrong_options
from .likes import resolved
from .shapes import Phase
from .slips import missing_once, slips_in_braces
from .versions import phase_of, programme_levels, wrong_routine, wrong_version

M = TypeVar("M", bound=FileModel)
MOST_FAULTS = 1000
"""Bound on the faults that are told of a tree."""
Tree = dict[str, dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Loaded:
    """What a tree holds and what is wrong with it. `catalogue` has only what can be read and resolved."""

    catalogue: Catalogue
    findings: list[Finding]
    unreadable_versions: tuple[tuple[str, str, Document], ...] = ()
    """Programme, version name and document of each version that is not in the catalogue."""
    unopened: tuple[tuple[str, str], ...] = ()
    """Programme and name of each version of which not even a document is there."""


def load(root: Folder) -> Loaded:
    """Read the tree at `root`. Raises NotADirectoryError when there is none; never for what files hold."""
    if root.is_symlink():
        return Loaded(Catalogue(None), [linked(root)])
    if not root.is_dir():
        raise NotADirectoryError(f"no folder of programme files at {root}")
    return load_from(OnDisk(root))


def load_from(files: SomeFiles) -> Loaded:
    """Read a tree from wherever its files are. Never raises for what they hold."""
    return _Loading(read_tree(files)).run()


class _Loading:
    def __init__(self, files: Files) -> None:
        self.files = files
        self.findings = list(files.findings)
        self.models: dict[int, FileModel] = {}
        self.broken: set[int] = set()
        self.unsure_of_levels: set[int] = set()
        self.full = False
        """Whether it has been told that there are more faults than are told."""
        for kind, document in files.documents():
            self._mend_slips(document)
            self._renew(kind, document)
        own = {name: d.data for name, d in files.exercises.items() if isinstance(d.data, dict)}
        for name, fault in resolved(own):
            self._report(files.exercises[name], [fault])
        self.plain: Tree = {
            "exercises": {name: raw.mapping(d.data) for name, d in files.exercises.items()},
            "routines": {name: raw.mapping(d.data) for name, d in files.routines.items()},
            "programmes": {name: raw.mapping(d.data) if d else {} for name, d in files.programmes.items()},
        }

    def run(self) -> Loaded:
        for kind, document in self.files.documents():
            self._validate(kind, document)
        for name, document in self.files.exercises.items():
            self._report(document, bounded(wrong_options(name, self.plain["exercises"])))
        for name, fault in cycles(self.plain["exercises"]):
            self._report(self.files.exercises[name], [fault])
        self._pictures()
        self._versions_and_routines()
        for key, fault in overlaps({key: d.data for key, d in self.files.versions.items()}):
            self._report(self.files.versions[key], [fault])
        catalogue = self._catalogue()
        return Loaded(
            catalogue,
            missing_once(self.findings),
            tuple(self._left_out(catalogue)),
            tuple(self.files.unopened),
        )

    def _mend_slips(self, document: Document) -> None:
        """Slips inside braces are told once and read as they were meant: nothing else is told of them."""
        self._report(document, bounded(slips_in_braces(document)))

    def _renew(self, kind: Kind, document: Document) -> None:
        """Older words of the format become those of today, and are told."""
        room = max(0, MOST_FAULTS - len(self.findings))
        for severity, fault in islice(renew(kind, document), room):
            self.findings.append(document.finding(fault, severity))
            if severity == "error":
                self.broken.add(id(document))

    def _validate(self, kind: Kind, document: Document) -> None:
        if not document.complete or self.full:
            self.broken.add(id(document))
            return
        model, faults = validate(kind, document.data)
        if model is not None:
            self.models[id(document)] = model
        if any(fault.path[:1] == ("levels",) and fault.path[2:] in ((), ("id",)) for fault in faults):
            self.unsure_of_levels.add(id(document))
        self._report(document, faults)

    def _report(self, document: Document, faults: Iterable[Fault]) -> None:
        if self.full:
            # What is not looked at passes for broken: it is judged when the errors that are told are mended.
            self.broken.add(id(document))
        if self.full or not document.complete:
            return
        # One more than there is room for is looked for, as one breaks the file.
        room = max(0, MOST_FAULTS - len(self.findings))
        found = [document.finding(fault) for fault in islice(faults, room + 1)]
        if found:
            self.broken.add(id(document))
        self.findings.extend(found[:room])
        if len(found) > room:
            self.full = True
            message = f"up to here, more faults in the whole tree than the {MOST_FAULTS:,} told"
            self.findings.append(document.finding(Fault("value", (), message, "mend these first")))

    def _pictures(self) -> None:
        """Whether the crest and the photos are there, and whether pages show every picture that is."""
        known, shows = self.files.media, set()
        for document, path, name in self._named_pictures():
            if not isinstance(name, str) or "/" in name or not name.endswith(SUFFIXES):
                continue
            shows.add(name)
            if name not in {*known, *self.files.no_pictures}:
                message = f"{path[-1]}: found {shown(name)}, which is not in {MEDIA}/"
                hint = nearest(name, known) or f"put the picture into {MEDIA}/, or take the key out"
                self._report(document, [Fault("picture", path, message, hint)])
        for name in sorted(known.keys() - shows):
            self.findings.append(unused(self.files.tree.root / MEDIA / name))

    def _named_pictures(self) -> Iterator[tuple[Document, Path, object]]:
        """Where files name pictures, and what they write there."""
        club = self.files.club
        if club:
            yield club, ("look", "crest"), raw.mapping(raw.mapping(club.data).get("look")).get("crest")
        for document in self.files.exercises.values():
            for place in raw.entries(document.data, "photos"):
                yield document, (*place.path, "file"), place.data.get("file")

    def _versions_and_routines(self) -> None:
        uses: dict[str, list[Phase]] = {name: [] for name in self.files.routines}
        levels = {name: self._levels(name) for name in self.files.programmes}
        everywhere = dict.fromkeys(sorted({level for known in levels.values() for level in known}))
        for (programme, number, edition), document in self.files.versions.items():
            known = levels[programme]
            name = f"{programme} {number}.{edition}"
            data = raw.mapping(document.data)
            phase = phase_of(name, data, known)
            self._report(document, bounded(wrong_version(data, phase, edition, self.plain)))
            shared = phase._replace(known=everywhere, lenient=True, routine=True)
            for routine in sorted(_routines_of(data) & uses.keys()):
                uses[routine].append(shared)
        for name, document in self.files.routines.items():
            phases = list({(p.weeks, tuple(p.levels)): p for p in uses[name]}.values())
            wrong = wrong_routine(self.plain["routines"][name], phases, self.plain)
            self._report(document, bounded(wrong))

    def _levels(self, programme: str) -> list[str]:
        """Ids of a programme's levels; none where they are wrong themselves, so that nothing hangs on it."""
        document = self.files.programmes[programme]
        unsure = document is not None and id(document) in self.unsure_of_levels
        return [] if unsure else programme_levels(self.plain["programmes"][programme])

    def _entry(self, kind: type[M], name: str, document: Document | None) -> Entry[M] | None:
        if document is None or id(document) in self.broken:
            return None
        return Entry(name, cast(M, self.models[id(document)]), document)

    def _entries(self, kind: type[M], documents: dict[str, Document]) -> dict[str, Entry[M]]:
        found = {name: self._entry(kind, name, document) for name, document in documents.items()}
        return {name: entry for name, entry in found.items() if entry is not None}

    def _catalogue(self) -> Catalogue:
        exercises = self._entries(Exercise, self.files.exercises)
        routines = {
            name: entry
            for name, entry in self._entries(Routine, self.files.routines).items()
            if _exercises_of(self.plain["routines"][name]) <= exercises.keys()
        }
        programmes = {}
        by_programme = groupby(sorted(self.files.versions), key=lambda key: key[0])
        keys = {programme: list(own) for programme, own in by_programme}
        for name, document in self.files.programmes.items():
            entry = self._entry(Programme, name, document)
            if entry is not None:
                versions = tuple(self._readable(entry, keys.get(name, []), exercises.keys(), routines.keys()))
                programmes[name] = ProgrammeEntry(name, entry.model, entry.document, versions)
        club = self._entry(Club, "club", self.files.club)
        crest = self.files.media.get(club.model.look.crest or "") if club else None
        named = {photo.file for entry in exercises.values() for photo in entry.model.photos}
        photos = {name: self.files.media[name] for name in sorted(named & self.files.media.keys())}
        return Catalogue(club, exercises, routines, programmes, crest, photos)

    def _readable(
        self, programme: Entry[Programme], keys: Iterable[Key], exercises: Any, routines: Any
    ) -> Iterator[VersionEntry]:
        for owner, phase, edition in keys:
            document = self.files.versions[owner, phase, edition]
            entry = self._entry(Version, owner, document)
            data = document.data
            if entry and _exercises_of(data) <= exercises and _routines_of(data) <= routines:
                chosen = entry.model.levels
                levels = tuple(x for x in programme.model.levels if chosen is None or x.id in chosen)
                yield VersionEntry(owner, phase, edition, entry.model, document, levels)

    def _left_out(self, catalogue: Catalogue) -> Iterator[tuple[str, str, Document]]:
        for (programme, phase, edition), document in self.files.versions.items():
            entry = catalogue.programmes.get(programme)
            if entry is None or entry.version(f"{phase}.{edition}") is None:
                yield programme, f"{phase}.{edition}", document


def _exercises_of(data: object) -> set[str]:
    found = (raw.leaves(station.data.get("exercise")) for station in raw.stations(data))
    return {value for leaves in found for _, value in leaves if isinstance(value, str)}


def _routines_of(data: object) -> set[str]:
    names = (day.data.get(kind) for day in raw.days(data) for kind in ("warm-up", "cool-down"))
    return {name for name in names if isinstance(name, str)}
