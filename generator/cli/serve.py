"""The live preview."""

from __future__ import annotations

import signal
import sys
from pathlib import Path

import click

from ..publishing import plugin as building
from ..publishing.stopping import Stopped
from .options import programmes_option
from .saying import ERRORS, misuse, print_findings
from .trees import checked_tree


@click.command("serve")
@programmes_option
@click.option(
    "--at", default="127.0.0.1:8000", show_default=True, metavar="HOST:PORT", help="Where to serve it."
)
def command(tree: Path, at: str) -> None:
    """Preview the site; a saved file is on the screen within a second."""
    checked = checked_tree(tree)
    if checked.count("error"):
        print_findings(checked, err=True)
        sys.exit(ERRORS)
    try:
        building.serve(tree, at)
    except Stopped as stop:
        # Ctrl-C is how a preview is ended.
        if stop.number != signal.SIGINT:
            raise
    except building.BuildFailedError as error:
        misuse(str(error))
