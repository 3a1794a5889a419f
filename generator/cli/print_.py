"""A version on paper, as one PDF file."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import click

from ..publishing import mkdocs_door as building
from ..publishing import pdf as printing
from ..publishing import switching
from ..publishing.assets import assets
from ..publishing.booklet import PAPERS, Choice, NothingPlannedError, pack
from ..publishing.look import look_of
from ..publishing.typeface import NoTypefaceError
from ..reading.catalogue import VersionEntry
from .options import programmes_option
from .saying import misuse, progress, say
from .trees import must_be_known, sound_tree, version_of, warn_of


@click.command("print")
@click.argument("programme")
@click.argument("version")
@click.option(
    "--to", type=click.Path(path_type=Path), required=True, metavar="FILE.pdf", help="Where it goes."
)
@click.option(
    "--level", "levels", multiple=True, metavar="L", help="Id of a level; may be repeated.  [default: all]"
)
@click.option(
    "--week", "weeks", multiple=True, type=int, metavar="W", help="A week; may be repeated.  [default: all]"
)
@click.option("--paper", type=click.Choice(list(PAPERS)), default="a4", show_default=True)
@programmes_option
def command(
    tree: Path,
    programme: str,
    version: str,
    to: Path,
    levels: tuple[str, ...],
    weeks: tuple[int, ...],
    paper: str,
) -> None:
    """Print a version as one PDF file: cover, days, session sheets and exercise cards.

    A Chromium does the printing. A file that is there is replaced by a complete one or not at all.
    """
    _may_be_written(to)
    catalogue = sound_tree(tree).catalogue
    entry = version_of(catalogue, programme, version)
    choice = _choice(entry, levels, weeks)
    try:
        site_url = building.public_address(tree)
        made = pack(catalogue, assets(look=look_of(catalogue)), site_url, entry, choice, paper)
        with progress("printing") as step:
            done = printing.printed(made, os.environ, step)
    except NothingPlannedError:
        misuse(f"nothing is planned in {entry.name} for this choice of levels and weeks; nothing was printed")
    except (building.BuildFailedError, NoTypefaceError, printing.NotPrintedError) as error:
        misuse(str(error))
    _replace(to, done.content)
    for title in done.longer:
        say(f"takes more than one page: {title}", err=True)
    say(f"{to} has {done.pages} pages")
    warn_of(site_url, catalogue)


def _may_be_written(to: Path) -> None:
    """What can be known before the work of printing; the rest shows when the file is written."""
    if to.suffix.lower() != ".pdf":
        misuse(f"--to {to} is not the name of a PDF file; write it like pack.pdf")
    if to.is_dir():
        misuse(f"{to} is a folder; name a file in it, such as {to / 'pack.pdf'}")
    if not to.parent.is_dir():
        misuse(f"there is no folder {to.parent} to write {to.name} into; make it first")
    if not os.access(to.parent, os.W_OK):
        misuse(f"cannot write into {to.parent}: {os.strerror(errno.EACCES)}")


def _choice(entry: VersionEntry, levels: tuple[str, ...], weeks: tuple[int, ...]) -> Choice:
    """What is named, in the order of the version; everything where nothing is named."""
    ids = [one.id for one in entry.levels]
    for level in levels:
        must_be_known("level", level, ids)
    for week in weeks:
        must_be_known("week", str(week), [str(one) for one in entry.weeks])
    return Choice(
        tuple(one for one in ids if one in levels or not levels),
        tuple(one for one in entry.weeks if one in weeks or not weeks),
    )


def _replace(to: Path, content: bytes) -> None:
    try:
        switching.replace_file(to, content)
    except OSError as error:
        misuse(f"cannot write {to}: {error.strerror}; nothing was changed")
