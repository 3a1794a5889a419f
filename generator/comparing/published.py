"""The check `published`: what was published is still what it was.

A version's plan is frozen with everything that it rests on: its own file, the tempo of an exercise, a
routine, a default. Words may be mended.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from ..computing.fingerprint import fingerprint, resolved
from ..computing.resolve import sessions
from ..judging import too_much
from ..reading.catalogue import Catalogue, Loaded, VersionEntry
from ..reading.escaping import printable
from ..reading.findings import Fault, Finding, listed
from .base import Base
from .causes import cause
from .changes import Change, changes

CHECK = "published"


def published(base: Base, here: Loaded, root: Path) -> Iterator[Finding]:
    """An error for each version of the base that is gone or has another plan here, in the tree at `root`."""
    if not base.exists:
        yield from _no_folder(base, root)
        return
    yield from _not_compared(base, root)
    unreadable = {(programme, name) for programme, name, _ in here.unreadable_versions} | {*here.unopened}
    other = _other_files(base.catalogue, here.catalogue)
    if heavy := _too_much_work(base, here):
        yield heavy
    for programme in base.catalogue.programmes.values():
        entry = here.catalogue.programmes.get(programme.id)
        for version in programme.versions:
            now = entry.version(version.name) if entry else None
            if now is None:
                if (programme.id, version.name) not in unreadable:
                    yield _gone(base, version, root)
            elif not (heavy or _rests_on_the_same(version, now, base.catalogue, other)):
                yield from _changed(base, version, here.catalogue, now)


def _too_much_work(base: Base, here: Loaded) -> Finding | None:
    """The error of a tree, here or there, in which it would take too long to compare what differs."""
    for where, catalogue in (("here", here.catalogue), (f"at {base.ref}", base.catalogue)):
        for version, fault in too_much(catalogue):
            message = f"{version.programme} {version.name} {where} is too much work, so no plan was compared"
            hint = f"{fault.message} {where}; {fault.hint}"
            return version.document.finding(Fault(CHECK, fault.path, message, hint))
    return None


def _no_folder(base: Base, root: Path) -> Iterator[Finding]:
    """Nothing to compare with; whether that is so because the folder was moved, `base.gone` tells."""
    place = str(root / "club.yaml")
    for tree, versions in base.gone:
        message = f"{base.ref} has {listed(versions, 'and')} in {tree}, which are gone here"
        why = f"{base.ref} has no folder {root} to compare with"
        hint = f"{why}: give the folder back its name; one that is to be renamed, rename on {base.ref} itself"
        yield Finding(CHECK, "error", place, 1, 1, "", printable(message), printable(hint))
    if not base.gone:
        message = f"{base.ref} has no folder {root}: nothing that was published there was compared"
        hint = "right for the first merge of a club, and for no other"
        yield Finding(CHECK, "warning", place, 1, 1, "", printable(message), hint)


def _other_files(one: Catalogue, other: Catalogue) -> frozenset[tuple[str, str]]:
    """Exercises and routines, by kind and id, that are not the same to the byte in both trees."""
    found = set()
    for kind in ("exercises", "routines"):
        ours, theirs = getattr(one, kind), getattr(other, kind)
        for name in ours.keys() | theirs.keys():
            if (
                name not in ours
                or name not in theirs
                or ours[name].document.text != theirs[name].document.text
            ):
                found.add((kind, name))
    return frozenset(found)


def _rests_on_the_same(
    was: VersionEntry, now: VersionEntry, catalogue: Catalogue, other: frozenset[tuple[str, str]]
) -> bool:
    """Whether a version has the same file, levels, exercises and routines: then its plan need not be made."""
    if was.document.text != now.document.text or [x.id for x in was.levels] != [x.id for x in now.levels]:
        return False
    days = was.model.days
    routines = {name for day in days for name in (day.warm_up, day.cool_down) if name is not None}
    blocks = [block for day in days for block in day.blocks]
    blocks += [block for name in routines for block in catalogue.routine(name).blocks]
    exercises = {name for block in blocks for station in block.stations for name in station.exercise.values()}
    used = {("routines", name) for name in routines} | {("exercises", name) for name in exercises}
    return used.isdisjoint(other)


def _not_compared(base: Base, root: Path) -> Iterator[Finding]:
    """What the base has in a form that cannot be read now: that its plan is the same is not known."""
    names: dict[str, list[str]] = {}
    for programme, name in base.unreadable:
        names.setdefault(programme, []).append(name)
    for programme, own in names.items():
        first = base.first_error
        why = f"there, {first.file}:{first.line}:{first.column}: {first.message}" if first else "there"
        message = f"{listed(own, 'and')} cannot be read at {base.ref} and was not compared ({why})"
        hint = "look yourself that no dose or time of it has changed; the plan on its page tells"
        file = str(root / programme / f"{own[0]}.yaml")
        yield Finding(CHECK, "warning", file, 1, 1, programme, message, hint)


def _gone(base: Base, version: VersionEntry, root: Path) -> Finding:
    path = root / version.programme / f"{version.name}.yaml"
    message = (
        f"{version.programme} {version.name} is published at {base.ref} and is gone here; "
        "printed sheets and bookmarks lead to it"
    )
    hint = f"put {path.name} back; if {base.ref} has it since you branched off, merge {base.ref} first"
    return Finding(CHECK, "error", str(path), 1, 1, f"{version.programme} {version.name}", message, hint)


def _changed(base: Base, was: VersionEntry, catalogue: Catalogue, now: VersionEntry) -> Iterator[Finding]:
    old, new = list(sessions(base.catalogue, was)), list(sessions(catalogue, now))
    before, after = fingerprint(resolved(was, old)), fingerprint(resolved(now, new))
    if before == after:
        return
    found = changes(was, old, now, new)
    first = found[0] if found else Change("", "", 0, "", "", "plan", before, after)
    owner, path, hint = cause(base.catalogue, was, catalogue, now, first)
    programme = catalogue.programmes[now.programme]
    edition = max(one.edition for one in programme.versions if one.phase == now.phase) + 1
    copy = f"copy {now.name}.yaml to {now.phase}.{edition}.yaml and change that"
    fix = f"put it back{hint}; for another dose, {copy}"
    message = (
        f"{now.programme} {now.name} is published at {base.ref} and has another plan here; "
        f"the first difference: {told(first)}"
    )
    at = " ".join(filter(None, (now.programme, now.name, first.day, first.level)))
    yield replace(owner.finding(Fault(CHECK, path, message, fix)), at=at)


def told(change: Change) -> str:
    """A difference in the words of the files: `legs, starter, week 1, A1 wall-sit: hold from 20 s to 25 s`"""
    station = " ".join(filter(None, (change.place, change.exercise)))
    week = f"week {change.week}" if change.week else ""
    where = ", ".join(filter(None, (change.day, change.level, week, station)))
    what = f"{change.what} from {change.before} to {change.after}"
    return f"{where}: {what}" if where else what
