"""The next phase or edition of a programme, or a new one."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import date, timedelta
from pathlib import Path
from typing import NamedTuple

import click

from ..authoring import (
    Comment,
    NothingToTrainError,
    UncopyableError,
    WrongReviewError,
    comments,
    first_phase,
    new_programme,
    next_edition,
    next_phase,
)
from ..authoring.exercise import like, new_exercise
from ..authoring.from_table import TableError, phase_of_table
from ..judging import check
from ..publishing import switching
from ..reading.addresses import reserved
from ..reading.catalogue import RESERVED, Catalogue, ProgrammeEntry, VersionEntry, load_from
from ..reading.findings import Finding, nearest
from ..reading.model import ID_PATTERN, LONGEST_ID
from .options import F, programmes_option
from .saying import ERRORS, misuse, print_finding, say
from .trees import checked_tree, must_be_known, version_of
from .writing import Changed, is_no_link

_NO_PROGRAMME = RESERVED | {"exercises", "routines"}


def review_option(function: F) -> F:
    """A review whose questions become comments of an edition."""
    told = "A review in JSON: its questions become comments beside the doses of a new edition."
    kind = click.Path(path_type=Path)
    return click.option("--review", type=kind, metavar="REVIEW.json", help=told)(function)


@click.command("new")
@click.argument("programme")
@click.option("--from", "source", metavar="VERSION", help="The version to copy.  [default: the newest]")
@click.option("--phase", is_flag=True, help="Make the next phase, after all others.  [default]")
@click.option("--edition", is_flag=True, help="Make the next edition of the copied phase instead.")
@click.option("--starts", metavar="DATE", help="Monday of week 1 of a new phase, such as 2027-01-11.")
@click.option("--title", metavar="TEXT", help="Title of a new programme.")
@review_option
@programmes_option
def command(
    tree: Path,
    programme: str,
    source: str | None,
    phase: bool,
    edition: bool,
    starts: str | None,
    title: str | None,
    review: Path | None = None,
    table: Path | None = None,
) -> None:
    """Write the next phase, the next edition, or a new programme.

    For a PROGRAMME that exists, its newest version (or the one named by --from) is copied, comments and all.
    The next phase begins on the Monday after the last phase ends; what was accepted for the copied phase is
    kept as a comment, since it was weighed for that. The next edition (--edition) has the same dates and
    doses and says in "changes" that nothing is changed yet: change a dose, and say there what and why.

    For a PROGRAMME that does not exist, a programme with one level and a first phase of two days is written,
    from the exercises and routines that are there.

    No file is ever overwritten, and what is written passes check.
    """
    wanted = _Wanted(tree, programme, source, _monday(starts), title, review, table)
    if phase and edition:
        misuse("--phase and --edition exclude each other")
    if review and not edition:
        misuse("--review is for a new edition: its questions are about doses that are published")
    if edition and starts:
        misuse("an edition keeps the dates of its phase; leave --starts out")
    _write_new(wanted, edition=edition)


class _Wanted(NamedTuple):
    """What `new` was asked for."""

    root: Path
    programme: str
    source: str | None
    starts: date | None
    title: str | None
    review: Path | None
    table: Path | None = None


def _monday(text: str | None) -> date | None:
    if text is None:
        return None
    with suppress(ValueError):
        day = date.fromisoformat(text)
        if day.weekday() == 0:
            return day
    misuse(f"--starts: found {text!r}, allowed a Monday such as 2027-01-11")


def _write_new(wanted: _Wanted, *, edition: bool) -> None:
    is_no_link(wanted.root)
    before = checked_tree(wanted.root)
    catalogue = before.catalogue
    folder = wanted.root / wanted.programme
    try:
        if wanted.programme in catalogue.programmes:
            name, text, told = _next_version(catalogue, wanted, edition=edition)
            files = {name: text}
        else:
            _may_be_new(catalogue, wanted, edition=edition)
            title = wanted.title or wanted.programme.replace("-", " ").capitalize()
            files = new_programme(catalogue, title, wanted.starts or next_monday())
            told = f"a new programme, {title}"
    except UncopyableError as error:
        misuse(str(error))
    except NothingToTrainError as error:
        misuse(f"{error}; copy some from the demo of this repository, or write them first")
    written = _written(folder, files)
    _undone_with_errors(wanted.root, written, before.findings)
    for path in [folder / name for name in files]:
        say(f"wrote {path}")
    say(f"{told}; now change it, and run phasepress check")


def write_exercise(root: Path, exercise: str, other: str | None, name: str | None) -> None:
    """Write a new exercise, as a copy of an `other` where one is named."""
    is_no_link(root, root / "exercises")
    before = checked_tree(root)
    if (
        not re.fullmatch(ID_PATTERN, exercise)
        or len(exercise) > LONGEST_ID
        or exercise in reserved("exercise")
    ):
        misuse(f"{exercise!r} cannot be the id of an exercise, allowed lower-case words joined by hyphens")
    name = name or exercise.replace("-", " ").capitalize()
    text = new_exercise(exercise, name)
    if other:
        must_be_known("exercise", other, before.catalogue.exercises)
        try:
            text = like(before.catalogue.exercises[other].document, name)
        except UncopyableError as error:
            misuse(str(error))
    written = _written(root / "exercises", {f"{exercise}.yaml": text})
    _undone_with_errors(root, written, before.findings)
    say(f"wrote {written}; now change it, name it in a station or an option, and run phasepress check")


def _undone_with_errors(root: Path, written: Path, known: Iterable[Finding]) -> None:
    """Take back what was written where it does not pass check."""
    try:
        found = checked_tree(root).findings
        faults = [finding for finding in found if finding.severity == "error" and finding not in set(known)]
        if faults:
            for finding in faults:
                print_finding(finding, err=True)
            misuse("what would have been written does not pass check; nothing was written")
    except BaseException:
        _undo(written)
        raise


def _next_version(catalogue: Catalogue, wanted: _Wanted, *, edition: bool) -> tuple[str, str, str]:
    """Name and text of a file, and what it is."""
    programme = catalogue.programmes[wanted.programme]
    if wanted.title:
        misuse(f"there is a programme {programme.id} already; --title is for a new one")
    if not programme.versions:
        if wanted.source or edition:
            misuse(f"{programme.id} has no version that can be copied; see phasepress check")
        name, text = first_phase(catalogue, programme, wanted.starts or next_monday())
        return name, text, f"{programme.id} 1.0, a first phase"
    source = programme.versions[-1]
    if wanted.source:
        source = version_of(catalogue, programme.id, wanted.source)
    if edition:
        asked = _questions(wanted.review, source)
        name, text = next_edition(programme, source, asked)
        told = f" with {len(asked)} questions of the review as comments" if wanted.review else ""
        return name, text, f"{programme.id} {Path(name).stem}, a copy of {source.name}{told}"
    if wanted.table:
        return _from_a_table(programme, source, wanted, wanted.table)
    name, text = next_phase(programme, source, wanted.starts)
    other = f"for another edition of {source.name}, add --edition"
    return (
        name,
        text,
        f"{programme.id} {Path(name).stem}, a new phase with the days of {source.name} ({other})",
    )


def _questions(review: Path | None, source: VersionEntry) -> list[Comment]:
    """The questions of a review about the copied version."""
    try:
        return [] if review is None else comments(review.read_bytes(), source)
    except OSError as error:
        misuse(f"--review: it cannot be opened: {error.strerror}")
    except WrongReviewError as error:
        misuse(f"--review: {error}")


def _from_a_table(
    programme: ProgrammeEntry, source: VersionEntry, wanted: _Wanted, table: Path
) -> tuple[str, str, str]:
    """The next phase with the days of a version and the stations of a table; faults are told by cell."""
    try:
        content = table.read_bytes()
        name, text, rows = phase_of_table(programme, source, wanted.starts, content)
    except OSError as error:
        misuse(f"cannot read {table}: {error.strerror}")
    except TableError as error:
        for fault in error.faults:
            say(f"{table}: {fault}", err=True)
        sys.exit(ERRORS)
    after = check(load_from(Changed(wanted.root, wanted.root / programme.id / name, text.encode())))
    wrong = [
        f"row {rows[one.line]}: {one.message}; {one.hint}"
        for one in after.findings
        if one.severity == "error" and one.file.endswith(f"{programme.id}/{name}") and one.line in rows
    ]
    for fault in wrong:
        say(f"{table}: {fault}", err=True)
    if wrong:
        sys.exit(ERRORS)
    return name, text, f"{programme.id} {Path(name).stem}, a new phase with the stations of {table}"


def _may_be_new(catalogue: Catalogue, wanted: _Wanted, *, edition: bool) -> None:
    """Whether a programme of this id may be begun; a slip in the name of one that exists may not."""
    name = wanted.programme
    hint = nearest(name, catalogue.programmes)
    if (wanted.root / name).exists():
        misuse(f"{wanted.root / name} is there and cannot be read; see phasepress check")
    if wanted.source or edition:
        misuse(f"there is no programme {name!r} to copy from" + (f"; {hint}" if hint else ""))
    if hint and not wanted.title:
        misuse(f"there is no programme {name!r}; {hint} For a new one by this name, add --title TEXT")
    if not re.fullmatch(ID_PATTERN, name) or len(name) > LONGEST_ID or name in _NO_PROGRAMME:
        misuse(f"{name!r} cannot be the id of a programme, allowed lower-case words joined by hyphens")


def next_monday() -> date:
    """The Monday after today, on which what is new begins unless somebody says otherwise."""
    today = date.today()
    return today + timedelta(days=7 - today.weekday())


def _written(folder: Path, files: Mapping[str, str]) -> Path:
    """Write the files of a new programme, or one more of one that is there; what is new is all there or not.

    Gives what was written, a folder or a file.
    """
    contents = {name: text.encode() for name, text in files.items()}
    written = folder
    try:
        if len(contents) == 1:
            ((name, content),) = contents.items()
            written = folder / name
            switching.create_file(written, content)
        else:
            switching.create_folder(folder, contents)
    except OSError as error:
        misuse(f"cannot write {written}: {error.strerror}; nothing was written")
    return written


def _undo(written: Path) -> None:
    if written.is_dir():
        switching.remove_folder(written)
    else:
        written.unlink(missing_ok=True)
