"""Where what is about children may be written: where nothing publishes it, by a build or by git."""

from __future__ import annotations

import os
from pathlib import Path

from ..reading.git_tree import is_kept

MARK = ".phasepress-site"
"""An empty file in every built site, by which a later build knows that it may replace the folder."""


class NotPrivateError(Exception):
    """A place that may be published; in words without its name."""


def must_be_private(target: Path, tree: Path) -> None:
    """Raise NotPrivateError where a file would come into the programme files, a built site, or a repository."""
    if target.is_symlink() or target.is_dir():
        raise NotPrivateError("it is a folder or a link; name a file, such as reviews/review.html")
    real = Path(os.path.realpath(target))
    if not real.parent.is_dir():
        raise NotPrivateError("there is no such folder; make it first, such as reviews/")
    if real.is_relative_to(os.path.realpath(tree)):
        raise NotPrivateError("it lies in the programme files, which are published; name a place outside")
    if any((folder / MARK).exists() for folder in real.parents):
        raise NotPrivateError("it lies in a built site, which is published; name a place outside")
    if is_kept(real):
        told = "it lies in a repository, and git would keep it"
        raise NotPrivateError(f"{told}; name a place outside, or a folder that .gitignore keeps out, as reviews/")
