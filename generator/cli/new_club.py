"""`phasepress new` and its verbs: `new club`, `new programme`, `new phase`, `new edition`,
`new exercise`.

`new PROGRAMME`, as it was before there were verbs, is one more, without a name.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import click

from ..authoring.club import FaultyClubError, Forge, Wishes, new_club
from ..authoring.tool import UnknownToolError, installed_tool, tool_from
from ..publishing import switching
from ..reading.findings import nearest
from . import new
from .options import programmes_option
from .saying import say

_OPTIONS = {"ignore_unknown_options": True, "allow_interspersed_args": False}
_starts = click.option("--starts", metavar="DATE", help="Monday of week 1, such as 2027-01-11.")
_source = click.option(
    "--from", "source", metavar="VERSION", help="The version to copy.  [default: the newest]"
)


class _New(click.Group):
    """Verbs, and whatever else comes after `new`, which is the name of a programme."""

    without_a_verb: click.Command

    def resolve_command(
        self, context: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The verb; where the first word is none, all of them are for `new PROGRAMME`."""
        if args and args[0] in self.commands:
            return super().resolve_command(context, args)
        return "", self.without_a_verb, args


def new_verbs(without_a_verb: click.Command) -> click.Group:
    """The verb `new`; `without_a_verb` is `new PROGRAMME`, by which the others write phases and editions."""
    group = _New(
        "new", help=_HELP, context_settings=_OPTIONS, commands=[club, programme, phase, edition, exercise]
    )
    group.without_a_verb = without_a_verb
    return group


_HELP = """Begin a club's repository, a programme, a phase, an edition or an exercise.

Nothing that is there is overwritten, and what is written passes check.

`new PROGRAMME` without a verb writes the next phase of a programme (with --edition, the next edition), or
a new programme; `new phase`, `new edition` and `new programme` say which of the three is meant.
"""


@click.command("club")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--name", default="", metavar="TEXT", help="Name of the club.")
@click.option("--sport", default="", metavar="TEXT", help="Its sport.")
@click.option("--address", default="", metavar="URL", help="Public address of the site, such as https://…/")
@click.option("--forge", type=click.Choice(["github", "gitlab"]), default="github", show_default=True)
@click.option(
    "--tool",
    metavar="WHEEL",
    help="The wheel of phasepress that the club uses: a file, or https://…whl#sha256=…  "
    "[default: what this one was installed from]",
)
def club(folder: Path, name: str, sport: str, address: str, forge: Forge, tool: str | None) -> None:
    """Make a club's own repository in a new FOLDER.

    It has the exercise library, a small programme, settings, pins, the workflow of the forge by which a merge
    publishes, and a README for the coach. It passes check and builds.
    """
    try:
        used = tool_from(tool) if tool else installed_tool()
    except UnknownToolError as error:
        how = "name its wheel with --tool FILE.whl or --tool https://…whl#sha256=…"
        raise click.UsageError(f"{error}; {how}") from None
    wishes = Wishes(" ".join(name.split()), " ".join(sport.split()), _public(address), forge, used)
    try:
        files = new_club(wishes, new.next_monday())
    except FaultyClubError as error:
        told = "; ".join(f"{one.message}: {one.hint}" for one in error.findings)
        raise click.UsageError(f"{error}, and nothing was written: {told}") from None
    to = folder.absolute()
    with _told(folder):
        switching.create_folder(to, files)
    said = f"{folder} is a club's repository, with {len(files)} files; its README.md says what comes next"
    say(said)


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    """What the system refuses, in words; nothing was written then."""
    try:
        yield
    except FileExistsError:
        raise click.UsageError(f"{folder} is there already; name a new folder") from None
    except FileNotFoundError:
        raise click.UsageError(f"there is no folder {folder.parent} to write into; make it first") from None
    except OSError as error:
        raise click.UsageError(f"cannot write {folder}: {error.strerror}; nothing was written") from None


def _public(address: str) -> str:
    """The address with a slash at its end."""
    if not address:
        return ""
    try:
        parts = urlsplit(address)
        plain = parts.hostname and not (parts.username or parts.password or parts.query or parts.fragment)
        good = plain and parts.scheme in ("http", "https") and address.isprintable() and " " not in address
    except ValueError:
        good = False
    if not good:
        raise click.UsageError(
            f"--address: found {address!r}, allowed one such as https://club.example/training/"
        )
    return f"{address.rstrip('/')}/"


@click.command("programme")
@click.argument("programme")
@click.option("--title", metavar="TEXT", help="Its title.")
@_starts
@programmes_option
@click.pass_context
def programme(
    context: click.Context, programme: str, title: str | None, starts: str | None, tree: Path
) -> None:
    """Begin a programme that passes check at once."""
    if programme in _known(tree):
        how = f"phasepress new phase {programme} goes on with it"
        raise click.UsageError(f"there is a programme {programme} already; {how}")
    title = title or programme.replace("-", " ").capitalize()
    _write(context, tree, programme=programme, title=title, starts=starts)


@click.command("phase")
@click.argument("programme")
@_source
@_starts
@click.option(
    "--table",
    type=click.Path(path_type=Path),
    metavar="FILE.csv",
    help="Take the stations from a table, such as phasepress report --table writes; the days stay.",
)
@programmes_option
@click.pass_context
def phase(
    context: click.Context,
    programme: str,
    source: str | None,
    starts: str | None,
    table: Path | None,
    tree: Path,
) -> None:
    """Write the next phase as a copy, after all others; comments are kept, what was accepted is one.

    With --table, its stations and weeks are those of the table, in which faults are told by row and column.
    """
    _there(tree, programme)
    _write(context, tree, programme=programme, source=source, phase=True, starts=starts, table=table)


@click.command("edition")
@click.argument("programme")
@_source
@new.review_option
@programmes_option
@click.pass_context
def edition(
    context: click.Context, programme: str, source: str | None, review: Path | None, tree: Path
) -> None:
    """Write the next edition of a phase as a copy: change a dose in it, and say what and why."""
    _there(tree, programme)
    _write(context, tree, programme=programme, source=source, edition=True, review=review)


@click.command("exercise")
@click.argument("exercise_id", metavar="ID")
@click.option("--like", "other", metavar="ID", help="An exercise to copy.")
@click.option("--name", metavar="TEXT", help="Its name.")
@programmes_option
def exercise(exercise_id: str, other: str | None, name: str | None, tree: Path) -> None:
    """Write an exercise file with every key, and a line of what belongs there."""
    new.write_exercise(tree, exercise_id, other, name)


def _write(context: click.Context, tree: Path, **words: Any) -> None:
    """Do as `new PROGRAMME` does; what is not said is what it has by default."""
    assert isinstance(context.parent, click.Context)
    group = context.parent.command
    assert isinstance(group, _New)
    context.invoke(group.without_a_verb, tree=tree, **words)


def _known(tree: Path) -> list[str]:
    return sorted(path.parent.name for path in tree.glob("*/programme.yaml"))


def _there(tree: Path, wanted: str) -> None:
    known = _known(tree)
    if wanted not in known:
        hint = nearest(wanted, known) or f"begin it with phasepress new programme {wanted}"
        raise click.UsageError(f"there is no programme {wanted!r} to copy from; {hint}")


command = new_verbs(new.command)
