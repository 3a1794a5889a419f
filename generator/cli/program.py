"""What holds for every verb: it is loaded when it is called, and ends with a message and a known status."""

from __future__ import annotations

import io
import os
import signal
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from importlib import import_module
from typing import IO, Any, NamedTuple, NoReturn, TextIO, cast

import click

from ..publishing.stopping import Stopped, heeded
from ..reading.escaping import printable, terminal
from .saying import MISUSE, misuse


class Extra(NamedTuple):
    """What a verb needs beyond what every installation has: its packages, and how to get them."""

    brings: frozenset[str]
    how: str


class Verb(NamedTuple):
    """A verb that is not loaded yet: its file in this wing, whose `command` it is, and its first sentence."""

    module: str
    help: str
    extra: Extra | None = None


class Program(click.Group):
    """All commands. However one ends, there is a message and a documented status, and no traceback.

    A verb is loaded when it is called: click's documentation, "Complex Applications", "Lazily Loading
    Subcommands". So each needs no more time to start than what it uses itself.
    """

    def __init__(self, *args: Any, verbs: Mapping[str, Verb], **settings: Any) -> None:
        """`verbs` has every verb by its name."""
        listed = {name: click.Command(name, help=verb.help) for name, verb in verbs.items()}
        super().__init__(*args, **{**settings, "commands": listed})
        self._verbs = verbs

    def main(self, *args: Any, **settings: Any) -> NoReturn:
        """Run the command of these arguments, or of the command line, and leave with its exit status."""
        open_streams()
        try:
            with heeded():
                status = self._status(*args, **{**settings, "standalone_mode": False})
        except Stopped as stop:
            status = _stopped(stop)
        sys.exit(status)

    def _status(self, *args: Any, **settings: Any) -> int | None:
        try:
            return cast(int | None, super().main(*args, **settings))
        except click.ClickException as error:
            _last_words(error.show)
            return error.exit_code
        except click.Abort:
            return _stopped(Stopped(signal.SIGINT))

    def make_context(self, *args: Any, **settings: Any) -> click.Context:
        """Read the arguments; --help and --version are answered here."""
        with _told():
            return super().make_context(*args, **settings)

    def invoke(self, context: click.Context) -> Any:
        """Run the command."""
        with _told():
            return super().invoke(context)

    def get_command(self, context: click.Context, name: str) -> click.Command | None:
        """The verb of this name, whose file is loaded now."""
        if name not in self._verbs:
            return None
        verb = self._verbs[name]
        try:
            module = import_module(f".{verb.module}", __package__)
        except ModuleNotFoundError as error:
            if verb.extra and (error.name or "").partition(".")[0] in verb.extra.brings:
                misuse(f"{name} needs more than is installed: {verb.extra.how}")
            raise
        return cast(click.Command, module.command)

    def format_commands(self, context: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of verbs, as click writes it, without loading one for it."""
        limit = formatter.width - 6 - max(map(len, self.commands))
        rows = [(name, one.get_short_help_str(limit)) for name, one in sorted(self.commands.items())]
        with formatter.section("Commands"):
            formatter.write_dl(rows)


class _UndoneError(click.ClickException):
    """The system refused something that the command did not expect, such as to take what it says."""

    exit_code = MISUSE

    def show(self, file: IO[Any] | None = None) -> None:
        click.echo(f"phasepress: {terminal(self.message)}", file=file, err=True)


def open_streams() -> None:
    """A stream that is closed from the start takes all and keeps nothing; what is opened next must not get
    its number. One that is open takes the name of every file, in whatever encoding it is.
    """
    sys.stdout = sys.stdout or open(os.devnull, "w")  # noqa: SIM115
    sys.stderr = sys.stderr or open(os.devnull, "w")  # noqa: SIM115
    if isinstance(sys.stdout, io.TextIOWrapper) and sys.stdout.errors == "strict":
        sys.stdout.reconfigure(errors="backslashreplace")


@contextmanager
def _told() -> Iterator[None]:
    """Complaints about a wrong call quote it, and no terminal must obey them."""
    try:
        yield
    except click.ClickException as error:
        raise _WrongCallError(error) from None
    except OSError as error:
        raise _UndoneError(_why(error)) from None


class _WrongCallError(click.UsageError):
    """A complaint of click, in words that may be printed as they are."""

    exit_code = MISUSE

    def __init__(self, error: click.ClickException) -> None:
        super().__init__(terminal(error.format_message()), getattr(error, "ctx", None))


def _why(error: OSError) -> str:
    try:
        os.getcwd()
    except OSError:
        return "the folder in which the command was started is gone"
    if error.filename is None:
        return f"what there was to say could not be written: {error.strerror or error}"
    return f"{printable(str(error.filename))}: {error.strerror}"


def _stopped(stop: Stopped) -> int:
    _last_words(lambda file: click.echo(f"phasepress: stopped by {stop}", file=file))
    return stop.status


def _last_words(say: Callable[[IO[Any]], None]) -> None:
    """Say it where it can be said; best where messages go."""
    said = False
    for stream in (sys.stderr, sys.stdout):
        try:
            # What could not be written before is tried once more here; if it stayed, Python would complain.
            stream.flush()
            if not said:
                say(stream)
                said = True
        except OSError:
            _to_nowhere(stream)


def _to_nowhere(stream: TextIO) -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
