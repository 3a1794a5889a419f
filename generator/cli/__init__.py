"""The commands: the only module that prints and picks exit codes."""

from __future__ import annotations

import errno
import io
import os
import re
import signal
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import IO, Any, NamedTuple, NoReturn, TextIO, TypeVar, cast

import click

from ..authoring import (
    NothingToTrainError,
    UncopyableError,
    first_phase,
    new_programme,
    next_edition,
    next_phase,
)
from ..comparing import Base, Merge, base_at, published
from ..computing.resolve import session
from ..computing.running_order import running_order
from ..judging import Checked
from ..judging import check as run_checks
from ..publishing import pdf as printing
from ..publishing import plugin as building
from ..publishing import switching
from ..publishing.assets import assets
from ..publishing.booklet import PAPERS, Choice, NothingPlannedError, pack
from ..publishing.look import look_of
from ..publishing.stopping import Stopped, heeded
from ..publishing.typeface import NoTypefaceError
from ..reading.catalogue import RESERVED, Catalogue, Loaded, VersionEntry, load
from ..reading.escaping import as_json, printable, terminal
from ..reading.findings import Finding, in_order, listed, nearest
from ..reading.git_tree import HistoryError, past
from ..reading.model import ID_PATTERN, KINDS, LONGEST_ID, json_schema
from ..reading.source import MOST_BYTES
from ..telling import findings_formats
from ..telling import report as reporting
from ..telling.feeds import PLAN_SCHEMA
from .new_club import new_verbs
from .pins import command as pins

ERRORS, MISUSE = 1, 2
F = TypeVar("F", bound=Callable[..., Any])
_NO_PROGRAMME = RESERVED | {"exercises", "routines"}
_COLOURS = {"error": "red", "warning": "yellow", "note": "cyan"}


def _programmes_option(function: F) -> F:
    return click.option(
        "--programmes",
        type=click.Path(path_type=Path),
        metavar="DIR",
        help="The tree of programme files.  [default: programmes]",
    )(function)


def _format_option(*more: str) -> Callable[[F], F]:
    shapes = click.Choice(["text", "json", *more])
    return click.option("--format", "shape", type=shapes, default="text", show_default=True)


def _base_option(told: str) -> Callable[[F], F]:
    return click.option("--base", metavar="REF", help=f"A branch, tag or commit of this checkout: {told}")


class _Program(click.Group):
    """All commands. However one ends, there is a message and a documented status, and no traceback."""

    def main(self, *args: Any, **settings: Any) -> NoReturn:
        """Run the command of these arguments, or of the command line, and leave with its exit status."""
        _open_streams()
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


class _UndoneError(click.ClickException):
    """The system refused something that the command did not expect, such as to take what it says."""

    exit_code = MISUSE

    def show(self, file: IO[Any] | None = None) -> None:
        click.echo(f"phasepress: {terminal(self.message)}", file=file, err=True)


def _open_streams() -> None:
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


@click.group(cls=_Program, context_settings={"help_option_names": ["-h", "--help"]})
@_programmes_option
@click.version_option(package_name="phasepress")
@click.pass_context
def main(context: click.Context, programmes: Path | None) -> None:
    """Check a club's training programmes and render them as a static site.

    Exit status: 0 done; 1 findings that are errors; 2 the call itself is wrong, or what it asks for could not
    be done or written; 128 and the number of the signal that stopped it, so 130 for Ctrl-C.
    """
    context.obj = programmes or Path("programmes")


@main.command()
@_programmes_option
@_base_option("what was published there must be the same here, doses and times.")
@_format_option("github", "gitlab")
@click.pass_obj
def check(default: Path, programmes: Path | None, base: str | None, shape: str) -> None:
    """List every finding in every file.

    With --base, also each version that is published there and has another plan here, or is gone. Mended words
    pass. --format github or gitlab prints the findings as these forges read them, to be shown at file and
    line of a merge request.
    """
    root = programmes or default
    loaded = _loaded(root)
    checked = _judged(loaded)
    if base is not None:
        findings = [*checked.findings, *published(_base(root, base), loaded, root)]
        checked = replace(checked, findings=in_order(findings))
    if shape == "json":
        _say_json(_findings_json(checked))
    elif shape == "gitlab":
        _say_made(findings_formats.gitlab(checked.findings))
    elif shape == "github":
        for line in findings_formats.github(checked.findings):
            _say_made(line)
        _say(_summary(checked))
    else:
        _print_findings(checked)
    sys.exit(ERRORS if checked.count("error") else 0)


@main.command()
@_programmes_option
@_base_option("only what a merge into it would change.")
@_format_option("markdown")
@click.pass_obj
def report(default: Path, programmes: Path | None, base: str | None, shape: str) -> None:
    """Print the computed figures of every session.

    With --base, what a merge changes: new versions, doses that changed in words, minutes, sets, tension,
    landings and load-volume against the version before, and findings that come and go. With --format json,
    that is added to the figures as "changes".
    """
    root = programmes or default
    checked = _sound(root)
    merge = None if base is None else Merge(_base(root, base), checked)
    if shape == "json":
        changes = {} if merge is None else {"changes": reporting.merge_json(merge)}
        _say_json({**reporting.report(checked.catalogue), **changes})
        return
    if shape == "markdown" and merge is None:
        _misuse("--format markdown shows what a merge changes; add --base REF, such as --base main")
    if merge is None:
        lines = reporting.report_text(checked.catalogue)
    else:
        lines = (reporting.merge_markdown if shape == "markdown" else reporting.merge_text)(merge)
    for line in lines:
        _say(line)


@main.command()
@click.argument("programme")
@click.argument("version")
@click.argument("day")
@click.option("--level", required=True, metavar="L", help="Id of a level of the phase.")
@click.option("--week", required=True, type=int, metavar="W", help="Week of the phase, from 1.")
@_programmes_option
@_format_option()
@click.pass_obj
def order(
    default: Path,
    programme: str,
    version: str,
    day: str,
    level: str,
    week: int,
    programmes: Path | None,
    shape: str,
) -> None:
    """Print the running order of one session as a timetable."""
    catalogue = _sound(programmes or default).catalogue
    entry = _version(catalogue, programme, version)
    days = {one.id: one for one in entry.model.days}
    _known("day", day, days)
    _known("level", level, [one.id for one in entry.levels])
    _known("week", str(week), [str(one) for one in entry.weeks])
    running = running_order(session(catalogue, days[day], level, week))
    if shape == "json":
        _say_json(reporting.order(running))
    else:
        names = {name: exercise.model.name for name, exercise in catalogue.exercises.items()}
        for line in reporting.order_text(running, names):
            _say(line)


@main.command()
@_programmes_option
@click.option(
    "--to",
    type=click.Path(path_type=Path),
    default=Path("site"),
    show_default=True,
    metavar="DIR",
    help="Where the site goes.",
)
@click.pass_obj
def build(default: Path, programmes: Path | None, to: Path) -> None:
    """Check, then build the whole site; a build that fails leaves the old one."""
    tree = programmes or default
    switching.recover(to.absolute())
    checked = _checked(tree)
    _print_findings(checked, err=True)
    if checked.count("error"):
        _say("the site was not built", err=True)
        sys.exit(ERRORS)
    try:
        with progress("building") as step:
            public = building.build(checked, tree, to, step, lambda: _waits(to))
    except building.BuildFailedError as error:
        _misuse(str(error))
    _say(f"the site is in {to}")
    if not public:
        needs = "QR codes, calendars, feeds and the sitemap name whole addresses and were left out"
        _say(f"mkdocs.yml has no site_url: {needs}", err=True)


def _waits(to: Path) -> None:
    _say(f"another build into {to} is under way; this one waits for it", err=True)


@main.command()
@_programmes_option
@click.option(
    "--at", default="127.0.0.1:8000", show_default=True, metavar="HOST:PORT", help="Where to serve it."
)
@click.pass_obj
def serve(default: Path, programmes: Path | None, at: str) -> None:
    """Preview the site; a saved file is on the screen within a second."""
    tree = programmes or default
    checked = _checked(tree)
    if checked.count("error"):
        _print_findings(checked, err=True)
        sys.exit(ERRORS)
    try:
        building.serve(tree, at)
    except Stopped as stop:
        # Ctrl-C is how a preview is ended.
        if stop.number != signal.SIGINT:
            raise
    except building.BuildFailedError as error:
        _misuse(str(error))


@main.command("print")
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
@_programmes_option
@click.pass_obj
def print_(
    default: Path,
    programme: str,
    version: str,
    to: Path,
    levels: tuple[str, ...],
    weeks: tuple[int, ...],
    paper: str,
    programmes: Path | None,
) -> None:
    """Print a version as one PDF file: cover, days, session sheets and exercise cards.

    A Chromium does the printing. A file that is there is replaced by a complete one or not at all.
    """
    _may_be_written(to)
    tree = programmes or default
    catalogue = _sound(tree).catalogue
    entry = _version(catalogue, programme, version)
    choice = _choice(entry, levels, weeks)
    try:
        site_url = building.public_address(tree)
        made = pack(catalogue, assets(look=look_of(catalogue)), site_url, entry, choice, paper)
        with progress("printing") as step:
            done = printing.printed(made, os.environ, step)
    except NothingPlannedError:
        _misuse(
            f"nothing is planned in {entry.name} for this choice of levels and weeks; nothing was printed"
        )
    except (building.BuildFailedError, NoTypefaceError, printing.NotPrintedError) as error:
        _misuse(str(error))
    _replace(to, done.content)
    for title in done.longer:
        _say(f"takes more than one page: {title}", err=True)
    _say(f"{to} has {done.pages} pages")


@click.command("new")
@click.argument("programme")
@click.option("--from", "source", metavar="VERSION", help="The version to copy.  [default: the newest]")
@click.option("--phase", is_flag=True, help="Make the next phase, after all others.  [default]")
@click.option("--edition", is_flag=True, help="Make the next edition of the copied phase instead.")
@click.option("--starts", metavar="DATE", help="Monday of week 1 of a new phase, such as 2027-01-11.")
@click.option("--title", metavar="TEXT", help="Title of a new programme.")
@_programmes_option
@click.pass_obj
def new(
    default: Path,
    programme: str,
    source: str | None,
    phase: bool,
    edition: bool,
    starts: str | None,
    title: str | None,
    programmes: Path | None,
) -> None:
    """Write the next phase, the next edition, or a new programme.

    For a PROGRAMME that exists, its newest version (or the one named by --from) is copied, comments and all.
    The next phase begins on the Monday after the last phase ends; what was accepted for the copied phase is
    kept as a comment, since it was weighed for that. The next edition (--edition) has the same dates and
    doses and says in "changes" that nothing is changed yet: change a dose, and say there what and why.

    For a PROGRAMME that does not exist, a programme with one level and a first phase of two days is written,
    from the exercises and routines that are there.

    No file is ever overwritten, and what is written passes check.
    """
    root = programmes or default
    wanted = _Wanted(root, programme, source, _monday(starts), title)
    if phase and edition:
        _misuse("--phase and --edition exclude each other")
    if edition and starts:
        _misuse("an edition keeps the dates of its phase; leave --starts out")
    _write_new(wanted, edition=edition)


main.add_command(new_verbs(new))
main.add_command(pins)


@main.command()
@_programmes_option
@click.option(
    "--to",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="DIR",
    help="[default: .schema in the tree]",
)
@click.pass_obj
def schema(default: Path, programmes: Path | None, to: Path | None) -> None:
    """Write the JSON Schema of every file kind, for editors, and that of the site's plan.json."""
    tree = programmes or default
    if to is None and not tree.is_dir():
        _misuse(f"no folder of programme files at {tree}; name another with --programmes DIR")
    folder = to or tree / ".schema"
    if to is None:
        _is_no_link(tree, folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for kind in KINDS:
            content = f"{as_json(json_schema(kind))}\n".encode()
            switching.replace_file(folder / f"{kind}.schema.json", content)
        switching.replace_file(folder / "plan.schema.json", f"{as_json(PLAN_SCHEMA)}\n".encode())
    except OSError as error:
        _misuse(f"cannot write to {folder}: {error.strerror}")
    _say(f"{len(KINDS) + 1} schemas written to {folder}")


def _may_be_written(to: Path) -> None:
    """What can be known before the work of printing; the rest shows when the file is written."""
    if to.suffix.lower() != ".pdf":
        _misuse(f"--to {to} is not the name of a PDF file; write it like pack.pdf")
    if to.is_dir():
        _misuse(f"{to} is a folder; name a file in it, such as {to / 'pack.pdf'}")
    if not to.parent.is_dir():
        _misuse(f"there is no folder {to.parent} to write {to.name} into; make it first")
    if not os.access(to.parent, os.W_OK):
        _misuse(f"cannot write into {to.parent}: {os.strerror(errno.EACCES)}")


def _choice(entry: VersionEntry, levels: tuple[str, ...], weeks: tuple[int, ...]) -> Choice:
    """What is named, in the order of the version; everything where nothing is named."""
    ids = [one.id for one in entry.levels]
    for level in levels:
        _known("level", level, ids)
    for week in weeks:
        _known("week", str(week), [str(one) for one in entry.weeks])
    return Choice(
        tuple(one for one in ids if one in levels or not levels),
        tuple(one for one in entry.weeks if one in weeks or not weeks),
    )


def _replace(to: Path, content: bytes) -> None:
    try:
        switching.replace_file(to, content)
    except OSError as error:
        _misuse(f"cannot write {to}: {error.strerror}; nothing was changed")


def _is_no_link(*paths: Path) -> None:
    """What is written into a tree stays in it."""
    for path in paths:
        if path.is_symlink():
            _misuse(f"{path} is a link, and nothing is written through one; put the folder itself there")


class _Wanted(NamedTuple):
    """What `new` was asked for."""

    root: Path
    programme: str
    source: str | None
    starts: date | None
    title: str | None


def _monday(text: str | None) -> date | None:
    if text is None:
        return None
    with suppress(ValueError):
        day = date.fromisoformat(text)
        if day.weekday() == 0:
            return day
    _misuse(f"--starts: found {text!r}, allowed a Monday such as 2027-01-11")


def _write_new(wanted: _Wanted, *, edition: bool) -> None:
    _is_no_link(wanted.root)
    before = _checked(wanted.root)
    catalogue, known = before.catalogue, set(before.findings)
    folder = wanted.root / wanted.programme
    try:
        if wanted.programme in catalogue.programmes:
            name, text, told = _next_version(catalogue, wanted, edition=edition)
            files = {name: text}
        else:
            _may_be_new(catalogue, wanted, edition=edition)
            title = wanted.title or wanted.programme.replace("-", " ").capitalize()
            files = new_programme(catalogue, title, wanted.starts or _next_monday())
            told = f"a new programme, {title}"
    except UncopyableError as error:
        _misuse(str(error))
    except NothingToTrainError as error:
        _misuse(f"{error}; copy some from the demo of this repository, or write them first")
    written = _written(folder, files)
    try:
        found = _checked(wanted.root).findings
        faults = [finding for finding in found if finding.severity == "error" and finding not in known]
        if faults:
            for finding in faults:
                _print_finding(finding, err=True)
            _misuse("what would have been written does not pass check; nothing was written")
    except BaseException:
        _undo(written)
        raise
    for path in [folder / name for name in files]:
        _say(f"wrote {path}")
    _say(f"{told}; now change it, and run phasepress check")


def _next_version(catalogue: Catalogue, wanted: _Wanted, *, edition: bool) -> tuple[str, str, str]:
    """Name and text of a file, and what it is."""
    programme = catalogue.programmes[wanted.programme]
    if wanted.title:
        _misuse(f"there is a programme {programme.id} already; --title is for a new one")
    if not programme.versions:
        if wanted.source or edition:
            _misuse(f"{programme.id} has no version that can be copied; see phasepress check")
        name, text = first_phase(catalogue, programme, wanted.starts or _next_monday())
        return name, text, f"{programme.id} 1.0, a first phase"
    source = programme.versions[-1]
    if wanted.source:
        source = _version(catalogue, programme.id, wanted.source)
    if edition:
        name, text = next_edition(programme, source)
        return name, text, f"{programme.id} {Path(name).stem}, a copy of {source.name}"
    name, text = next_phase(programme, source, wanted.starts)
    other = f"for another edition of {source.name}, add --edition"
    return (
        name,
        text,
        f"{programme.id} {Path(name).stem}, a new phase with the days of {source.name} ({other})",
    )


def _may_be_new(catalogue: Catalogue, wanted: _Wanted, *, edition: bool) -> None:
    """Whether a programme of this id may be begun; a slip in the name of one that exists may not."""
    name = wanted.programme
    hint = nearest(name, catalogue.programmes)
    if (wanted.root / name).exists():
        _misuse(f"{wanted.root / name} is there and cannot be read; see phasepress check")
    if wanted.source or edition:
        _misuse(f"there is no programme {name!r} to copy from" + (f"; {hint}" if hint else ""))
    if hint and not wanted.title:
        _misuse(f"there is no programme {name!r}; {hint} For a new one by this name, add --title TEXT")
    if not re.fullmatch(ID_PATTERN, name) or len(name) > LONGEST_ID or name in _NO_PROGRAMME:
        _misuse(f"{name!r} cannot be the id of a programme, allowed lower-case words joined by hyphens")


def _next_monday() -> date:
    today = date.today()
    return today + timedelta(days=7 - today.weekday())


def _written(folder: Path, files: Mapping[str, str]) -> Path:
    """Write the files of a new programme, or one more of one that is there; what is new is all there or not.

    Gives what was written, a folder or a file.
    """
    contents = {name: text.encode() for name, text in files.items()}
    written = folder
    try:
        if len(contents) == 1:
            ((name, content),) = contents.items()
            written = folder / name
            switching.create_file(written, content)
        else:
            switching.create_folder(folder, contents)
    except OSError as error:
        _misuse(f"cannot write {written}: {error.strerror}; nothing was written")
    return written


def _undo(written: Path) -> None:
    if written.is_dir():
        switching.remove_folder(written)
    else:
        written.unlink(missing_ok=True)


def _loaded(root: Path) -> Loaded:
    try:
        return load(root)
    except NotADirectoryError as error:
        _misuse(f"{error}; name another with --programmes DIR")


def _checked(root: Path) -> Checked:
    return _judged(_loaded(root))


def _judged(loaded: Loaded) -> Checked:
    with progress("checking") as step:
        return run_checks(loaded, step)


def _base(root: Path, ref: str) -> Base:
    """What `root` holds at the commit `ref`."""
    try:
        return base_at(ref, past(root, ref, MOST_BYTES))
    except HistoryError as error:
        _misuse(str(error))


def _sound(root: Path) -> Checked:
    """The tree without errors; with errors, they are printed and the command ends."""
    checked = _checked(root)
    if checked.count("error"):
        _print_findings(checked, only="error", err=True)
        sys.exit(ERRORS)
    return checked


def _version(catalogue: Catalogue, programme: str, version: str) -> VersionEntry:
    _known("programme", programme, catalogue.programmes)
    entry = catalogue.programmes[programme].version(version)
    if entry is None:
        _known("version", version, [one.name for one in catalogue.programmes[programme].versions])
        raise AssertionError("a version is known by its name")
    return entry


def _known(what: str, word: str, known: Iterable[str]) -> None:
    words = list(known)
    if word not in words:
        hint = nearest(word, words)
        _misuse(f"unknown {what} {word!r}, allowed {listed(words)}" + (f"; {hint}" if hint else ""))


def _misuse(message: str) -> NoReturn:
    _say(f"phasepress: {message}", err=True)
    sys.exit(MISUSE)


def _say(line: str, err: bool = False) -> None:
    """Print one line, whatever authors and arguments put into it."""
    click.echo(terminal(line), err=err)


def _say_made(text: str) -> None:
    """Print what `escaping` has been through already."""
    click.echo(text)


def _say_json(value: object) -> None:
    _say_made(as_json(value))


def _findings_json(checked: Checked) -> dict[str, object]:
    return {
        "findings": [finding.as_json() for finding in checked.findings],
        "errors": checked.count("error"),
        "warnings": checked.count("warning"),
    }


def _print_findings(checked: Checked, only: str | None = None, err: bool = False) -> None:
    for finding in checked.findings:
        if only in (None, finding.severity):
            _print_finding(finding, err)
    for finding, reason in checked.accepted if only is None else ():
        _say(f"accepted {finding.check} at {finding.at}: {finding.message}", err)
        _say(f"    because {reason}", err)
    _say(_summary(checked), err)


def _print_finding(finding: Finding, err: bool) -> None:
    severity = click.style(finding.severity, fg=_COLOURS[finding.severity])
    place = terminal(f"{finding.file}:{finding.line}:{finding.column}")
    click.echo(f"{place}: {severity} {terminal(f'{finding.check}: {finding.message}')}", err=err)
    if finding.hint:
        _say(f"    {finding.hint}", err)


def _summary(checked: Checked) -> str:
    counts = [(checked.count(word), word) for word in ("error", "warning", "note")]
    words = [f"{many or 'no'} {word}{'' if many == 1 else 's'}" for many, word in counts]
    accepted = f"; {len(checked.accepted)} accepted" if checked.accepted else ""
    return f"{', '.join(words)}{accepted}"


@contextmanager
def progress(label: str) -> Any:
    """A bar on the terminal, and nothing at all elsewhere."""
    if not sys.stderr.isatty():
        yield lambda done, of: None
        return
    with click.progressbar(length=1, label=label, file=sys.stderr) as bar:

        def step(done: int, of: int) -> None:
            bar.length = max(of, 1)
            bar.update(done - bar.pos)

        yield step
        bar.update((bar.length or 1) - bar.pos)
