"""Whether git keeps what is written somewhere."""

from __future__ import annotations

import os
from pathlib import Path

from .clone import clones_above
from .program import HistoryError, git


def is_kept(path: Path) -> bool:
    """Whether a file at `path`, which need not be there, is kept by git, or would be with the next `git add`.

    Where git cannot say so, the answer is yes. `path` names no link.
    """
    whole = Path(os.path.abspath(path))
    try:
        clone = next(clones_above(whole.parent), None)
        if clone is None:
            return False
        if git(clone, "ls-files", "-z", "--", str(whole)):
            return True
        return not git(clone, "check-ignore", "--", str(whole))
    except HistoryError:
        # It also fails, with nothing to say, where the file is one that is not ignored.
        return True
