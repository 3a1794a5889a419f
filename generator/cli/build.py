"""The whole site of a tree, into a folder."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from ..publishing import mkdocs_door as building
from ..publishing import switching
from .options import programmes_option
from .saying import ERRORS, misuse, print_findings, progress, say
from .trees import checked_tree, warn_of


@click.command("build")
@programmes_option
@click.option(
    "--to",
    type=click.Path(path_type=Path),
    default=Path("site"),
    show_default=True,
    metavar="DIR",
    help="Where the site goes.",
)
def command(tree: Path, to: Path) -> None:
    """Check, then build the whole site; a build that fails leaves the old one."""
    switching.recover(to.absolute())
    checked = checked_tree(tree)
    print_findings(checked, err=True)
    if checked.count("error"):
        say("the site was not built", err=True)
        sys.exit(ERRORS)
    try:
        with progress("building") as step:
            public = building.build(checked, tree, to, step, lambda: _waits(to))
    except building.BuildFailedError as error:
        misuse(str(error))
    say(f"the site is in {to}")
    if not public:
        needs = "QR codes, calendars, feeds and the sitemap name whole addresses and were left out"
        say(f"mkdocs.yml has no site_url: {needs}", err=True)
    warn_of(public, checked.catalogue)


def _waits(to: Path) -> None:
    say(f"another build into {to} is under way; this one waits for it", err=True)
