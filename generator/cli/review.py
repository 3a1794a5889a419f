"""What was done against what was planned, from the logs that athletes sent."""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from ..hearing.as_json import review_json
from ..hearing.files import NoNamesError, Readers, names_of, paths_in
from ..hearing.paper import template
from ..hearing.plans import Plans, UnplannedError
from ..hearing.review import Choice, Review, review
from ..hearing.text import review_text
from ..publishing import switching
from ..publishing.private import NotPrivateError, must_be_private
from ..publishing.review_page import review_page
from ..reading.catalogue import Catalogue
from ..reading.escaping import as_json, printable, terminal
from .options import programmes_option
from .saying import ERRORS, misuse, progress, say, say_json, say_made
from .trees import loaded_tree, must_be_known, version_of


@click.command("review")
@click.argument("given", nargs=-1, metavar="FILE|FOLDER...")
@click.option("--programme", metavar="P", help="Sessions of this programme alone.")
@click.option("--since", metavar="DATE", help="Sessions from this date on, such as 2027-01-11.")
@click.option("--until", metavar="DATE", help="Sessions up to this date, itself included.")
@click.option("--anonymous", is_flag=True, help="A1, A2 ... in place of names, and no notes.")
@click.option("--names", metavar="NAMES.csv", help="A table with two columns: file, name.")
@click.option("--to", metavar="REVIEW.html", help="Write it there, as HTML unless --format says otherwise.")
@click.option("--format", "shape", type=click.Choice(["text", "html", "json"]), help="[default: text]")
@click.option("--template", "paper", is_flag=True, help="Print a table to fill in, for PROGRAMME VERSION.")
@programmes_option
def command(
    tree: Path,
    given: tuple[str, ...],
    programme: str | None,
    since: str | None,
    until: str | None,
    anonymous: bool,
    names: str | None,
    to: str | None,
    shape: str | None,
    paper: bool,
) -> None:
    """Hold what was done against what was planned, for the coach alone.

    FILE and FOLDER hold logs as athletes send them: JSON, CSV, the filled-in template, in any mixture.
    Whose a file is, its name says up to the first dot. Nothing is sent, and no copy is kept.

    With --template, PROGRAMME and VERSION stand in place of files: a table for those who train from paper.

    Exit status: 1 where nothing could be used.
    """
    catalogue = loaded_tree(tree).catalogue
    if paper:
        if to is not None:
            misuse("--template is printed; write it into a file with > paper.csv")
        _print_template(catalogue, given)
        return
    choice = Choice(programme, _date("--since", since), _date("--until", until), anonymous)
    if programme is not None:
        must_be_known("programme", programme, catalogue.programmes)
    target = Path(to) if to is not None else None
    if target is not None:
        _may_be_written(target, tree)
    found = _reviewed(catalogue, [Path(one) for one in given], names, choice)
    _hand_over(found, catalogue, shape or ("text" if target is None else "html"), target)
    if not found.used:
        sys.exit(ERRORS)


def _print_template(catalogue: Catalogue, given: Sequence[str]) -> None:
    if len(given) != 2:
        misuse("--template needs a programme and a version: phasepress review --template home-strength 2.0")
    version = version_of(catalogue, *given)
    try:
        say_made(template(Plans(catalogue).template(version)).removesuffix("\r\n"))
    except UnplannedError as error:
        misuse(str(error))


def _date(option: str, text: str | None) -> date | None:
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        misuse(f"{option}: found {printable(text)!r}, allowed a date such as 2027-01-11")


# What is said on the way of errors may end in a forge's log, or in a report of a fault: no name of a file is
# in it.


def _may_be_written(target: Path, tree: Path) -> None:
    try:
        must_be_private(target, tree)
    except NotPrivateError as error:
        misuse(f"--to: {error}; nothing was written")


def _reviewed(catalogue: Catalogue, given: Sequence[Path], names: str | None, choice: Choice) -> Review:
    if not given:
        misuse("name the files or folders with the logs, such as: phasepress review logs")
    for number, path in enumerate(given, 1):
        if not path.exists():
            misuse(f"file or folder {number} of {len(given)} is not there")
    known: dict[str, str] = {}
    if names is not None:
        try:
            known = names_of(Path(names))
        except NoNamesError as error:
            misuse(f"--names: {error}")
    plans = Plans(catalogue)
    readers = Readers(plans.versions, known)
    paths = list(paths_in(given, [Path(names)] if names else []))
    files = []
    with progress("reading") as step:
        for number, (path, name) in enumerate(paths, 1):
            files.append(readers.read(path, name))
            step(number, len(paths))
    return review(plans, files, choice, time.time() * 1000)


def _hand_over(found: Review, catalogue: Catalogue, shape: str, target: Path | None) -> None:
    if target is None:
        if shape == "json":
            say_json(review_json(found))
        elif shape == "html":
            say_made(review_page(found, catalogue))
        else:
            for line in review_text(found, catalogue):
                say(line)
        return
    if shape == "json":
        whole = f"{as_json(review_json(found))}\n"
    elif shape == "html":
        whole = review_page(found, catalogue)
    else:
        whole = "".join(f"{terminal(line)}\n" for line in review_text(found, catalogue))
    try:
        switching.replace_file(target, whole.encode("utf-8", "replace"))
    except OSError as error:
        misuse(f"--to: it cannot be written: {error.strerror}; nothing was changed")
    say(f"the review of {len(found.athletes)} athletes is written. It is about children: keep it to yourself")
