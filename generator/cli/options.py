"""Options that several verbs have."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from ..reading.club_folder import TREE, NotOursError, tree_above
from .saying import misuse

F = TypeVar("F", bound=Callable[..., Any])
_PROGRAMMES = {
    "type": click.Path(path_type=Path),
    "metavar": "DIR",
    "help": "The tree of programme files.  [default: programmes, here or in a folder above]",
}


def programmes_option(function: F) -> F:
    """The tree of a verb, as its argument `tree`; `--programmes` may stand before the verb too."""
    return click.option("--programmes", "tree", callback=_tree, **_PROGRAMMES)(function)  # type: ignore[arg-type]


def default_option(function: F) -> F:
    """The tree where the verb itself names none."""
    return click.option("--programmes", **_PROGRAMMES)(function)  # type: ignore[arg-type]


def _tree(context: click.Context, option: click.Parameter, named: Path | None) -> Path:
    return named or context.obj or _found()


def _found() -> Path:
    """The tree of the club in whose folder the command was started, named as from there."""
    try:
        above = tree_above(Path.cwd())
    except NotOursError as error:
        misuse(str(error))
    return Path(os.path.relpath(above)) if above else Path(TREE)


def format_option(*more: str) -> Callable[[F], F]:
    """The shape of the output: for people, for programs, or one of `more`."""
    shapes = click.Choice(["text", "json", *more])
    return click.option("--format", "shape", type=shapes, default="text", show_default=True)


def base_option(told: str) -> Callable[[F], F]:
    """What is compared with; `told` says what for."""
    return click.option("--base", metavar="REF", help=f"A branch, tag or commit of this checkout: {told}")
