"""What the program prints, and how it ends: every line goes through the door for terminals."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, NoReturn

import click

from ..reading.escaping import as_json, terminal

if TYPE_CHECKING:
    # Whoever has some of these to print has loaded them; --version and --help need none.
    from ..judging import Checked
    from ..reading.findings import Finding

ERRORS, MISUSE = 1, 2
"""The exit status for findings that are errors, and for a call that is wrong."""
_COLOURS = {"error": "red", "warning": "yellow", "note": "cyan"}


def misuse(message: str) -> NoReturn:
    """End: the call itself is wrong, or cannot be done."""
    say(f"phasepress: {message}", err=True)
    sys.exit(MISUSE)


def say(line: str, err: bool = False) -> None:
    """Print one line, whatever authors and arguments put into it."""
    click.echo(terminal(line), err=err)


def say_made(text: str) -> None:
    """Print what `escaping` has been through already."""
    click.echo(text)


def say_json(value: object) -> None:
    """Print what programs read."""
    say_made(as_json(value))


def print_findings(
    checked: Checked, only: str | None = None, err: bool = False, accepted: bool = False
) -> None:
    """Print findings, or only those of one severity; what was accepted if asked for."""
    for finding in checked.findings:
        if only in (None, finding.severity):
            print_finding(finding, err)
    for finding, reason in checked.accepted if accepted else ():
        say(f"accepted {finding.check} at {finding.at}: {finding.message}", err)
        say(f"    because {reason}", err)
    say(summary(checked), err)


def print_finding(finding: Finding, err: bool) -> None:
    """Print one finding, with its hint."""
    severity = click.style(finding.severity, fg=_COLOURS[finding.severity])
    place = terminal(f"{finding.file}:{finding.line}:{finding.column}")
    click.echo(f"{place}: {severity} {terminal(f'{finding.check}: {finding.message}')}", err=err)
    if finding.hint:
        say(f"    {finding.hint}", err)


def summary(checked: Checked) -> str:
    """How many findings there are, in words."""
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
