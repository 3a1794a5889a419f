"""The tree that a verb works on, read and checked; where that cannot be, the command ends."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

from ..judging import Checked
from ..judging import check as run_checks
from ..reading.catalogue import Catalogue, Loaded, VersionEntry, load
from ..reading.findings import listed, nearest
from ..reading.public_address import warning
from .saying import ERRORS, misuse, print_findings, progress, say


def loaded_tree(root: Path) -> Loaded:
    """Every file of the tree; without a tree, the command ends."""
    try:
        return load(root)
    except NotADirectoryError as error:
        misuse(f"{error}; name another with --programmes DIR")


def checked_tree(root: Path) -> Checked:
    """The tree and every finding in it."""
    return judged(loaded_tree(root))


def judged(files: Loaded) -> Checked:
    """Every finding in a tree, with a bar on the terminal."""
    with progress("checking") as step:
        return run_checks(files, step)


def sound_tree(root: Path) -> Checked:
    """The tree without errors; with errors, they are printed and the command ends."""
    return sound(loaded_tree(root))


def sound(files: Loaded) -> Checked:
    """The same of files that are read already."""
    checked = judged(files)
    if checked.count("error"):
        print_findings(checked, only="error", err=True)
        sys.exit(ERRORS)
    return checked


def version_of(catalogue: Catalogue, programme: str, version: str) -> VersionEntry:
    """The version of these names; where there is none, the command ends."""
    must_be_known("programme", programme, catalogue.programmes)
    entry = catalogue.programmes[programme].version(version)
    if entry is None:
        must_be_known("version", version, [one.name for one in catalogue.programmes[programme].versions])
        raise AssertionError("a version is known by its name")
    return entry


def must_be_known(what: str, word: str, words: Iterable[str]) -> None:
    """End the command where the word is none of the known ones."""
    words = list(words)
    if word not in words:
        hint = nearest(word, words)
        misuse(f"unknown {what} {word!r}, allowed {listed(words)}" + (f"; {hint}" if hint else ""))


def warn_of(address: str, catalogue: Catalogue) -> None:
    """Say it where the public address that was just used is one of nobody's."""
    told = warning(address, catalogue.club.model.club if catalogue.club else "")
    if told:
        say(told, err=True)
