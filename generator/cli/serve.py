"""The live preview."""

from __future__ import annotations

import signal
from pathlib import Path

import click

from ..publishing import mkdocs_door as building
from ..publishing.stopping import Stopped
from .options import programmes_option
from .saying import misuse
from .trees import loaded_tree


@click.command("serve")
@programmes_option
@click.option(
    "--at", default="127.0.0.1:8000", show_default=True, metavar="HOST:PORT", help="Where to serve it."
)
def command(tree: Path, at: str) -> None:
    """Preview the site; a saved file is on the screen within a second.

    Errors stand over the last good page, with file and line, until they are mended; where there is none yet,
    they are the page.
    """
    loaded_tree(tree)
    try:
        building.serve(tree, at)
    except Stopped as stop:
        # Ctrl-C is how a preview is ended.
        if stop.number != signal.SIGINT:
            raise
    except building.BuildFailedError as error:
        misuse(str(error))
