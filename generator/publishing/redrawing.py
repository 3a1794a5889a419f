"""A preview's short way: where the file of one exercise alone was saved, its page alone is made anew.

All other pages are behind then. They are made when one of them is asked for.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path, PurePosixPath
from typing import Any

from ..reading.addresses import Address
from .overlay import App
from .scopes import OfExercise
from .site import Page, Renderer, write

Stamps = Mapping[str, tuple[int, int]]
"""When each file was written, and its size in bytes, by its path."""
_FOLDER = "exercises"


def stamps(watched: Iterable[Path]) -> Stamps:
    """Of files, and of every file in folders. One that goes away meanwhile is left out."""
    found = {}
    for top in watched:
        inside = (Path(folder, name) for folder, _, names in os.walk(top) for name in names)
        for path in inside if top.is_dir() else [top]:
            with suppress(OSError):
                state = path.lstat()
                found[str(path)] = state.st_mtime_ns, state.st_size
    return found


def changed(before: Stamps, now: Stamps) -> set[str]:
    """The paths of files that were written, came or went."""
    return {path for path in before.keys() | now.keys() if before.get(path) != now.get(path)}


def only_exercise(tree: Path, paths: set[str]) -> str:
    """The id of the exercise whose file is all that has changed; nothing where anything else has."""
    if len(paths) != 1:
        return ""
    path = Path(*paths)
    return path.stem if path.parent == tree / _FOLDER and path.suffix == ".yaml" else ""


def is_of_an_exercise(page: Page) -> bool:
    """Whether a page is one of those that can be made alone."""
    return page.themed and PurePosixPath(page.address).parent.as_posix() == _FOLDER


def redrawn(renderer: Renderer, site: Path, exercise: str, pages: Mapping[str, Page]) -> Page | None:
    """Write the page of an exercise, and its figures, into a site whose `pages` are known by their address.

    None, and nothing written, where more than its content differs: then the frame around it does too.
    """
    address = Address.EXERCISE.at(exercise=exercise)
    of = OfExercise(top=renderer.top, exercise=exercise)
    known = pages.get(address)
    if known is None or exercise not in renderer.catalogue.exercises:
        return None
    page = next(page for page in renderer.made("exercise", of) if page.address == address)
    file = site / address / page.file
    if replace(page, text="") != replace(known, text=""):
        return None
    before, content, after = file.read_text(encoding="utf-8").partition(known.text)
    if not content or known.text in after:
        return None
    write_figures(renderer, site)
    file.write_text(before + page.text + after, encoding="utf-8")
    return page


def write_figures(renderer: Renderer, site: Path) -> None:
    """Write the figures that the pages made so far ask for."""
    for name, picture in renderer.site.figures.files.items():
        write(site / name, picture)


def caught_up(app: App, catch_up: Callable[[str], int]) -> App:
    """A server that answers when what it gives is not behind (WSGI). `catch_up` makes what stands at a path,
    where it is, and gives the number of times that anything there has changed.

    What is saved while a page is read makes the answer an old one; the browser takes it for the newest and
    would wait for the next save. So it is read again.
    """

    def answer(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        said: list[tuple[Any, ...]] = []
        path = environ.get("PATH_INFO", "")
        changes = catch_up(path)
        while True:
            said.clear()
            body = list(app(environ, lambda *told: said.append(told)))
            before, changes = changes, catch_up(path)
            if changes == before:
                start(*said[0])
                return body

    return answer
