"""The commands: the only wing that prints and picks exit codes. One file a verb, loaded when it is called."""

from __future__ import annotations

from pathlib import Path

import click

from .. import __version__
from .options import default_option
from .program import Extra, Program, Verb

_PRINT = Extra(frozenset({"playwright", "pypdf"}), "pip install 'phasepress[print]'")
VERBS = {
    "accept": Verb("accept", "Accept a warning or note, with the reason."),
    "build": Verb("build", "Check, then build the whole site; a build that fails leaves the old one."),
    "check": Verb("check", "List every finding in every file."),
    "new": Verb("new_club", "Begin a club's repository, a programme, a phase, an edition or an exercise."),
    "order": Verb("order", "Print the running order of one session as a timetable."),
    "pins": Verb("pins", "Write requirements.txt anew: what this phasepress needs, with hashes."),
    "print": Verb(
        "print_",
        "Print a version as one PDF file: cover, days, session sheets and exercise cards.",
        _PRINT,
    ),
    "report": Verb("report", "Print the computed figures of every session."),
    "review": Verb("review", "Hold what was done against what was planned, for the coach alone."),
    "schema": Verb(
        "schema",
        "Write the JSON Schema of every file kind, for editors, and that of the site's plan.json.",
    ),
    "serve": Verb("serve", "Preview the site; a saved file is on the screen within a second."),
}
"""Every verb by its name; what it says here is the first sentence of its own help."""


@click.group(cls=Program, verbs=VERBS, context_settings={"help_option_names": ["-h", "--help"]})
@default_option
@click.version_option(__version__)
@click.pass_context
def main(context: click.Context, programmes: Path | None) -> None:
    """Check a club's training programmes and render them as a static site.

    Exit status: 0 done; 1 findings that are errors; 2 the call itself is wrong, or what it asks for could not
    be done or written; 128 and the number of the signal that stopped it, so 130 for Ctrl-C.
    """
    context.obj = programmes
