"""Which files a tree has: one place for every name, everything else is a finding."""

from __future__ import annotations

import errno
import os
import re
import stat
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from generator.findings import Finding, nearest, printable, shown
from generator.model import ID_PATTERN, Kind
from generator.source import MOST_BYTES, Document, read

RESERVED = frozenset({"about", "assets", "log"})
"""Programme ids that are addresses of other pages."""
MOST_FILES = 5_000
MOST_REPEATED = 200_000
"""Bounds on a whole tree; a thousand honest versions are some 1,500 files."""
MOST_TOLD = 1_000
"""Problems of YAML that are told of a tree, and one more in each file."""
RESERVED_EXERCISES = frozenset({"figures"})
_ID = re.compile(ID_PATTERN)
_VERSION = re.compile(r"([1-9][0-9]{0,3})\.(0|[1-9][0-9]{0,3})")


@dataclass(slots=True)
class Files:
    """The documents of a tree by kind and id, not yet validated."""

    club: Document | None = None
    exercises: dict[str, Document] = field(default_factory=dict)
    routines: dict[str, Document] = field(default_factory=dict)
    programmes: dict[str, Document | None] = field(default_factory=dict)
    versions: dict[tuple[str, int, int], Document] = field(default_factory=dict)
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


def read_tree(root: Path) -> Files:
    """Read every file below `root`. Names in messages begin with `root` as it was given."""
    files = Files()
    # What versions name comes first: where there are too many files, these are not what is missing.
    for path in sorted(_listing(root, files), key=lambda path: path.name not in ("exercises", "routines")):
        if path.is_dir():
            _folder(path, files)
        elif path.name == "club.yaml":
            files.club = _document(path, files)
        else:
            _misnamed(path, files, "club.yaml, or a folder", ["club.yaml"])
    if files.club is None and not any(f.file == _name(root / "club.yaml") for f in files.findings):
        files.findings.append(_missing(root / "club.yaml", "club: and the name of the club"))
    return files


def _folder(folder: Path, files: Files) -> None:
    if folder.name == "exercises":
        _by_id(folder, files, files.exercises)
    elif folder.name == "routines":
        _by_id(folder, files, files.routines)
    elif folder.name in RESERVED:
        message = f"a programme called {folder.name}, which is the address of another page of the site"
        files.findings.append(_trouble("reference", folder, message, "rename it"))
    elif not _ID.fullmatch(folder.name):
        allowed = "exercises, routines, or a programme id of lower-case words joined by hyphens"
        _misnamed(folder, files, allowed, ["exercises", "routines"])
    else:
        _programme(folder, files)


def _by_id(folder: Path, files: Files, into: dict[str, Document]) -> None:
    for path in _listing(folder, files):
        if path.suffix == ".yaml" and _ID.fullmatch(path.stem) and not path.is_dir():
            if into is files.exercises and path.stem in RESERVED_EXERCISES:
                message = f"an exercise called {path.stem}, which is the address of another page of the site"
                files.findings.append(_trouble("reference", path, message, "rename it"))
                continue
            document = _document(path, files)
            if document:
                into[path.stem] = document
        else:
            _misnamed(path, files, "lower-case words joined by hyphens and .yaml", [])


def _programme(folder: Path, files: Files) -> None:
    files.programmes[folder.name] = None
    for path in _listing(folder, files):
        match = _VERSION.fullmatch(path.stem) if path.suffix == ".yaml" else None
        if path.name == "programme.yaml" and not path.is_dir():
            files.programmes[folder.name] = _document(path, files)
        elif match and not path.is_dir():
            document = _document(path, files)
            if document:
                files.versions[folder.name, int(match[1]), int(match[2])] = document
        else:
            _misnamed(
                path, files, "programme.yaml, or phase.edition.yaml such as 1.0.yaml", ["programme.yaml"]
            )
    if files.programmes[folder.name] is None and not (folder / "programme.yaml").exists():
        files.findings.append(_missing(folder / "programme.yaml", "title: and levels:"))


def _listing(folder: Path, files: Files) -> list[Path]:
    """Entries in order; hidden files and editors' backups belong to tools."""
    try:
        entries = sorted(folder.iterdir())
    except OSError as error:
        message = f"this folder cannot be opened: {error.strerror}"
        files.findings.append(_trouble("reference", folder, message, "make it one that everybody may open"))
        return []
    found = [path for path in entries if not path.name.startswith(".") and not path.name.endswith("~")]
    room = max(0, MOST_FILES - files.many)
    files.many += len(found)
    if len(found) > room and files.many - len(found) <= MOST_FILES:
        message = f"with it the tree has more than {MOST_FILES:,} files and folders"
        hint = "take out what is not needed, or make two trees of it; the rest is not read"
        files.findings.append(_trouble("value", found[room], message, hint))
    return found[:room]


def _document(path: Path, files: Files) -> Document | None:
    try:
        text = _bytes(path)
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


def _bytes(path: Path) -> bytes:
    """The file, or as much of it as shows that it is too long. Raises OSError, for a pipe or a device too."""
    if not stat.S_ISREG(path.stat().st_mode):
        raise OSError(errno.EINVAL, "Not a file")
    with path.open("rb") as file:
        return file.read(MOST_BYTES + 1)


def _name(path: Path) -> str:
    return printable(os.fsencode(path).decode("utf-8", "replace"))


def _trouble(check: str, path: Path, message: str, hint: str = "") -> Finding:
    return Finding(check, "error", _name(path), 1, 1, "", printable(message), printable(hint))


def _missing(path: Path, first: str) -> Finding:
    return _trouble(
        "reference", path, f"the file {path.name} is missing", f"write it, beginning with {first}"
    )


def _misnamed(path: Path, files: Files, allowed: str, known: list[str]) -> None:
    message = f"a name that means nothing here: found {shown(path.name)}, allowed {allowed}"
    hint = nearest(path.name, known) or _better_name(path) or "rename it, or take it out"
    files.findings.append(_trouble("reference", path, message, hint))


def _better_name(path: Path) -> str:
    """A hint for the usual slips: .yml, capitals, spaces, a version without its edition."""
    version = re.fullmatch(r"0*([1-9][0-9]*)(?:\.0*([0-9]+))?", path.stem)
    name = f"{version[1]}.{version[2] or 0}" if version else ""
    name = name or re.sub(r"[^a-z0-9]+", "-", path.stem.lower()).strip("-")
    if not (_ID.fullmatch(name) or _VERSION.fullmatch(name)):
        return ""
    if path.is_dir():
        return f"rename it to {name}"
    return f"rename it to {name}.yaml" if path.suffix in (".yaml", ".yml") else ""
