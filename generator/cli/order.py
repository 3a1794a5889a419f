"""The running order of one session as a timetable."""

from __future__ import annotations

from pathlib import Path

import click

from ..computing.resolve import session
from ..computing.running_order import running_order
from ..telling import report as reporting
from .options import format_option, programmes_option
from .saying import say, say_json
from .trees import must_be_known, sound_tree, version_of


@click.command("order")
@click.argument("programme")
@click.argument("version")
@click.argument("day")
@click.option("--level", required=True, metavar="L", help="Id of a level of the phase.")
@click.option("--week", required=True, type=int, metavar="W", help="Week of the phase, from 1.")
@programmes_option
@format_option()
def command(
    tree: Path,
    programme: str,
    version: str,
    day: str,
    level: str,
    week: int,
    shape: str,
) -> None:
    """Print the running order of one session as a timetable."""
    catalogue = sound_tree(tree).catalogue
    entry = version_of(catalogue, programme, version)
    days = {one.id: one for one in entry.model.days}
    must_be_known("day", day, days)
    must_be_known("level", level, [one.id for one in entry.levels])
    must_be_known("week", str(week), [str(one) for one in entry.weeks])
    running = running_order(session(catalogue, days[day], level, week))
    if shape == "json":
        say_json(reporting.order(running))
    else:
        names = {name: exercise.model.name for name, exercise in catalogue.exercises.items()}
        for line in reporting.order_text(running, names):
            say(line)
