"""The computed figures, and what a merge would change."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from ..authoring.table import as_table
from ..comparing import Merge
from ..telling import report as reporting
from .base import base_of
from .options import base_option, format_option, programmes_option
from .saying import ERRORS, misuse, say, say_json
from .trees import loaded_tree, sound, version_of


@click.command("report")
@programmes_option
@base_option("only what a merge into it would change.")
@format_option("markdown")
@click.option(
    "--table",
    nargs=2,
    metavar="PROGRAMME VERSION",
    help="The stations of a version for a spreadsheet, as CSV.",
)
def command(tree: Path, base: str | None, shape: str, table: tuple[str, str] | None) -> None:
    """Print the computed figures of every session.

    With --base, what a merge changes: first what is not allowed, three sentences for those who pay or worry,
    doses in words, findings that come and go; last minutes, sets, tension, landings and load-volume against
    the version before. Where something is not allowed the exit status is 1. With --format json, that is added
    to the figures as "changes".
    """
    files = loaded_tree(tree)
    checked = sound(files)
    if table is not None:
        if base is not None or shape != "text":
            misuse("--table writes one version; leave --base and --format out")
        for line in as_table(version_of(checked.catalogue, *table)).splitlines():
            say(line)
        return
    merge = None if base is None else Merge(base_of(tree, base), checked, files, tree)
    if shape == "json":
        changes = {} if merge is None else {"changes": reporting.merge_json(merge)}
        say_json({**reporting.report(checked.catalogue), **changes})
        _end(merge)
        return
    if shape == "markdown" and merge is None:
        misuse("--format markdown shows what a merge changes; add --base REF, such as --base main")
    if merge is None:
        lines = reporting.report_text(checked.catalogue)
    else:
        lines = (reporting.merge_markdown if shape == "markdown" else reporting.merge_text)(merge)
    for line in lines:
        say(line)
    _end(merge)


def _end(merge: Merge | None) -> None:
    """What is not allowed is an error, as in `check`."""
    if merge is not None and merge.not_allowed:
        sys.exit(ERRORS)
