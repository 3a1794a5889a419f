"""The folder of a club: where `mkdocs.yml` and `programmes/` lie side by side.

Its settings may run code of the club's own (hooks of MkDocs), so not every such folder is believed.
"""

from __future__ import annotations

import os
from pathlib import Path

SETTINGS, TREE = "mkdocs.yml", "programmes"


class NotOursError(Exception):
    """A folder of somebody else lies above; the text names it, and says what to do."""


def tree_above(start: Path) -> Path | None:
    """The programme files of the club in whose folder `start` lies, if it lies in one. Raises NotOursError.

    A folder inside the programme files is none, whatever it holds: they may come from anybody.
    """
    found: Path | None = None
    for folder in (start, *start.parents):
        is_one = (folder / SETTINGS).is_file() and (folder / TREE).is_dir()
        if is_one and (found is None or start.is_relative_to(folder / TREE)):
            found = folder
    if found is None:
        return None
    if found != start and not _is_ours(found):
        told = f"{found} belongs to somebody else, and its {SETTINGS} may run code"
        raise NotOursError(f"{told}; go there first, or name the files with --programmes {found / TREE}")
    return found / TREE


def settings_of(tree: Path) -> Path | None:
    """The settings beside a tree, as its path is written: a link leads to no other ones."""
    settings = Path(os.path.abspath(tree)).parent / SETTINGS
    return settings if os.path.lexists(settings) else None


def _is_ours(folder: Path) -> bool:
    """As git asks of a repository before it reads its settings (git-config(1), safe.directory)."""
    if not hasattr(os, "getuid"):
        return True
    owners = {folder.stat().st_uid, (folder / SETTINGS).stat().st_uid}
    return owners <= {os.getuid(), 0}
