"""Which files a tree has: one place for every name, everything else is a finding."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import NamedTuple

from ..addresses import reserved
from ..escaping import printable
from ..findings import Finding, nearest, shown
from ..model import ID_PATTERN, Kind
from ..pictures import SUFFIXES, NoPictureError, Picture, picture
from ..source import MOST_BYTES, Document, read
from ..tree import Kind as EntryKind
from ..tree import Tree

MEDIA = "media"
"""The folder of a club's own pictures."""
README = "README.md"
"""What people read beside `club.yaml`, on the web page of a forge too; it is never opened here."""
RESERVED = reserved("programme") | {MEDIA}
"""Programme ids that are addresses of other pages, or the folder of pictures."""
MOST_FILES = 5_000
MOST_REPEATED = 200_000
"""Bounds on a whole tree; a thousand honest versions are some 1,500 files."""
MOST_TOLD = 1_000
"""Problems of YAML that are told of a tree, and one more in each file."""
RESERVED_EXERCISES = reserved("exercise")
_ID = re.compile(ID_PATTERN)
_VERSION = re.compile(r"([1-9][0-9]{0,3})\.(0|[1-9][0-9]{0,3})")


@dataclass(slots=True)
class Files:
    """The documents of a tree by kind and id, not yet validated. `unopened`: versions without any text."""

    tree: Tree
    club: Document | None = None
    exercises: dict[str, Document] = field(default_factory=dict)
    routines: dict[str, Document] = field(default_factory=dict)
    programmes: dict[str, Document | None] = field(default_factory=dict)
    versions: dict[tuple[str, int, int], Document] = field(default_factory=dict)
    unopened: list[tuple[str, str]] = field(default_factory=list)
    media: dict[str, Picture] = field(default_factory=dict)
    no_pictures: set[str] = field(default_factory=set)
    """Names in `media/` of which it is told already why they are no pictures."""
    findings: list[Finding] = field(default_factory=list)
    many: int = 0
    repeated: int = 0
    """Files and folders so far, and the values that aliases stand for in them."""

    def documents(self) -> Iterator[tuple[Kind, Document]]:
        """Every document with its kind."""
        if self.club:
            yield "club", self.club
        for exercise in self.exercises.values():
            yield "exercise", exercise
        for routine in self.routines.values():
            yield "routine", routine
        for programme in self.programmes.values():
            if programme:
                yield "programme", programme
        for version in self.versions.values():
            yield "version", version


class _Entry(NamedTuple):
    path: Path
    kind: EntryKind

    @property
    def is_folder(self) -> bool:
        return self.kind == "folder"

    def is_yaml(self, name: re.Pattern[str]) -> re.Match[str] | None:
        """Whether this may be a file of this name and `.yaml`; one that cannot be read is told when it is."""
        return name.fullmatch(self.path.stem) if self.path.suffix == ".yaml" and not self.is_folder else None


def read_tree(tree: Tree) -> Files:
    """Read every file of a tree. Names in messages begin with its root."""
    files = Files(tree)
    # What versions name comes first: where there are too many files, these are not what is missing.
    listed = _listing(tree.root, files)
    for entry in sorted(listed, key=lambda entry: entry.path.name not in ("exercises", "routines")):
        if entry.is_folder:
            _folder(entry, files)
        elif entry.path.name == "club.yaml":
            files.club = _document(entry.path, files)
        elif entry.path.name != README:
            _misnamed(entry, files, "club.yaml, or a folder", ["club.yaml"])
    if files.club is None:
        _is_missing(tree.root / "club.yaml", "club: and the name of the club", files)
    return files


def linked(path: Path) -> Finding:
    """The error for a link: what it leads to is neither read nor told, wherever that is."""
    message = "a link, where a file or folder itself is to be"
    return _trouble("reference", path, message, "put what it leads to in its place, or take it out")


def _folder(entry: _Entry, files: Files) -> None:
    folder = entry.path
    if folder.name == "exercises":
        _by_id(folder, files, files.exercises)
    elif folder.name == "routines":
        _by_id(folder, files, files.routines)
    elif folder.name == MEDIA:
        _media(folder, files)
    elif folder.name in RESERVED:
        message = f"a programme called {folder.name}, which is the address of another page of the site"
        files.findings.append(_trouble("reference", folder, message, "rename it"))
    elif not _ID.fullmatch(folder.name):
        allowed = "exercises, routines, media, or a programme id of lower-case words joined by hyphens"
        _misnamed(entry, files, allowed, ["exercises", "routines", MEDIA])
    else:
        _programme(folder, files)


def _by_id(folder: Path, files: Files, into: dict[str, Document]) -> None:
    for entry in _listing(folder, files):
        path = entry.path
        if entry.is_yaml(_ID):
            if into is files.exercises and path.stem in RESERVED_EXERCISES:
                message = f"an exercise called {path.stem}, which is the address of another page of the site"
                files.findings.append(_trouble("reference", path, message, "rename it"))
                continue
            document = _document(path, files)
            if document:
                into[path.stem] = document
        else:
            _misnamed(entry, files, "lower-case words joined by hyphens and .yaml", [])


def _media(folder: Path, files: Files) -> None:
    for entry in _listing(folder, files):
        path = entry.path
        if entry.is_folder:
            hint = "put its pictures beside it, or take it out"
            files.findings.append(_trouble("reference", path, "a folder, where only pictures are read", hint))
            continue
        if path.suffix not in SUFFIXES or not _ID.fullmatch(path.stem):
            _misnamed(entry, files, "lower-case words joined by hyphens and .png or .jpg", [])
            continue
        try:
            files.media[path.name] = picture(path.name, files.tree.content(path, MOST_BYTES + 1))
            continue
        except OSError as error:
            hint = "make it a plain file that everybody may read"
            files.findings.append(_trouble("picture", path, f"cannot be read: {error.strerror}", hint))
        except NoPictureError as error:
            files.findings.append(_trouble("picture", path, error.message, error.hint))
        files.no_pictures.add(path.name)


def unused(path: Path) -> Finding:
    """The note for a picture that no page shows."""
    hint = "take it out of the folder, or name it: in club.yaml as crest, or among the photos of an exercise"
    return replace(_trouble("unused", path, "a picture that no page shows", hint), severity="note")


def _programme(folder: Path, files: Files) -> None:
    files.programmes[folder.name] = None
    entries = _listing(folder, files)
    for entry in entries:
        match = entry.is_yaml(_VERSION)
        if entry.path.name == "programme.yaml" and not entry.is_folder:
            files.programmes[folder.name] = _document(entry.path, files)
        elif match:
            document = _document(entry.path, files)
            if document:
                files.versions[folder.name, int(match[1]), int(match[2])] = document
            else:
                files.unopened.append((folder.name, match[0]))
        else:
            allowed = "programme.yaml, or phase.edition.yaml such as 1.0.yaml"
            copied = re.match(r"([1-9][0-9]*)\.[0-9]+[^0-9].*\.ya?ml$", entry.path.name)
            hint = _next_edition(copied[1], [other.path.name for other in entries]) if copied else ""
            _misnamed(entry, files, allowed, ["programme.yaml"], hint)
    if files.programmes[folder.name] is None:
        _is_missing(folder / "programme.yaml", "title: and levels:", files)


def _next_edition(phase: str, names: Iterable[str]) -> str:
    """How to call a copy of a version, such as `1.0 (copy).yaml`."""
    taken = (re.match(rf"{phase}\.([0-9]{{1,6}})\.yaml$", name) for name in names)
    edition = max((int(one[1]) for one in taken if one), default=-1) + 1
    return f"rename it to {phase}.{edition}.yaml, if it is the next edition, or take it out"


def _listing(folder: Path, files: Files) -> list[_Entry]:
    """Entries in order, less links, each of which is an error; hidden files and backups belong to tools."""
    try:
        entries = files.tree.entries(folder)
    except OSError as error:
        message = f"this folder cannot be opened: {error.strerror}"
        files.findings.append(_trouble("reference", folder, message, "make it one that everybody may open"))
        return []
    own = sorted(name for name in entries if not name.startswith(".") and not name.endswith("~"))
    room = max(0, MOST_FILES - files.many)
    files.many += len(own)
    if len(own) > room and files.many - len(own) <= MOST_FILES:
        message = f"with it the tree has more than {MOST_FILES:,} files and folders"
        hint = "take out what is not needed, or make two trees of it; the rest is not read"
        files.findings.append(_trouble("value", folder / own[room], message, hint))
    found = [_Entry(folder / name, entries[name]) for name in own[:room]]
    files.findings += [linked(entry.path) for entry in found if entry.kind == "link"]
    return [entry for entry in found if entry.kind != "link"]


def _document(path: Path, files: Files) -> Document | None:
    """The file, or as much of it as shows that it is too long."""
    try:
        text = files.tree.content(path, MOST_BYTES + 1)
    except OSError as error:
        hint = "make it a plain file that everybody may read"
        files.findings.append(_trouble("yaml", path, f"cannot be read: {error.strerror}", hint))
        return None
    document = read(_name(path), text)
    files.repeated += document.repeated
    if document.repeated and files.repeated > MOST_REPEATED:
        message = f"with it the aliases of the whole tree stand for more than {MOST_REPEATED:,} values"
        hint = "write out what is repeated less often, and take the rest out"
        document.problems.insert(0, _trouble("value", path, message, hint))
        document.data, document.complete = None, False
    # The first fault of a file is always told: nothing is passed over in silence.
    del document.problems[max(1, MOST_TOLD - len(files.findings)) :]
    files.findings.extend(document.problems)
    return document


def _name(path: Path) -> str:
    return printable(os.fsencode(path).decode("utf-8", "replace"))


def _trouble(check: str, path: Path, message: str, hint: str = "") -> Finding:
    return Finding(check, "error", _name(path), 1, 1, "", printable(message), printable(hint))


def _is_missing(path: Path, first: str, files: Files) -> None:
    """An error for a file that is not there; one that is there and cannot be read is told already."""
    if not any(finding.file == _name(path) for finding in files.findings):
        hint = f"write it, beginning with {first}"
        files.findings.append(_trouble("reference", path, f"the file {path.name} is missing", hint))


def _misnamed(entry: _Entry, files: Files, allowed: str, known: list[str], better: str = "") -> None:
    name = entry.path.name
    message = f"a name that means nothing here: found {shown(name)}, allowed {allowed}"
    hint = better or nearest(name, known) or _better_name(entry) or "rename it, or take it out"
    files.findings.append(_trouble("reference", entry.path, message, hint))


def _better_name(entry: _Entry) -> str:
    """A hint for the usual slips: .yml, capitals, spaces, a version without its edition."""
    path = entry.path
    version = re.fullmatch(r"0*([1-9][0-9]*)(?:\.0*([0-9]+))?", path.stem)
    name = f"{version[1]}.{version[2] or 0}" if version else ""
    name = name or re.sub(r"[^a-z0-9]+", "-", path.stem.lower()).strip("-")
    if not (_ID.fullmatch(name) or _VERSION.fullmatch(name)):
        return ""
    if entry.is_folder:
        return f"rename it to {name}"
    return f"rename it to {name}.yaml" if path.suffix in (".yaml", ".yml") else ""
