"""`phasepress pins`: the versions that go with this phasepress, into the club's requirements.txt."""

from __future__ import annotations

from pathlib import Path

import click

from ..authoring.club import PINS, PINS_BEGIN, pins
from ..publishing import switching
from .options import programmes_option
from .saying import say


@click.command("pins")
@programmes_option
def command(tree: Path) -> None:
    """Write requirements.txt anew: what this phasepress needs, with hashes.

    It is run in a club's repository after tool.txt was changed and installed.
    """
    to = tree.absolute().parent / PINS
    if not (to.parent / "mkdocs.yml").is_file():
        raise click.UsageError(f"there is no mkdocs.yml in {to.parent}: run this in a club's repository")
    try:
        before = to.read_bytes() if to.exists() else b""
        if before and not before.startswith(PINS_BEGIN.encode()):
            raise click.UsageError(f"{to.name} was not written by this command; move it away first")
        content = pins()
        if content != before:
            switching.replace_file(to, content)
    except OSError as error:
        raise click.UsageError(f"cannot write {to}: {error.strerror}; nothing was changed") from None
    said = "was right already" if content == before else "was written; install it, and run phasepress check"
    say(f"{to.name} {said}")
