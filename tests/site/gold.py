"""Gold pages: one of each shape, kept as text, so that a change of markup is seen before it is published.

`python -m tests.site.accept_gold` takes the pages as they are now; the difference is then read in the diff.
"""

import difflib
import re
from pathlib import Path

from .conftest import ROOT
from .pages import Site

GOLD = ROOT / "tests" / "data" / "gold"
PAGES = {
    "day.html": "home/1.1/legs/",
    "session.html": "home/1.1/legs/starter/week-1/",
    "version.html": "home/1.1/",
    "numbers.html": "home/1.1/numbers/",
    "exercise.html": "exercises/bag-row/",
}
"""File → address in the site of the good tree."""
HOW = "if it is meant: python -m tests.site.accept_gold"


def normal(markup: str) -> str:
    """The markup without what says nothing of its shape: names of styles and scripts, spaces between lines."""
    markup = re.sub(r"(assets/[\w/]+)\.[0-9a-f]{8}\.", r"\1.########.", markup)
    lines = (line.strip() for line in markup.splitlines())
    return "".join(f"{line}\n" for line in lines if line)


def faults(site: Site, folder: Path = GOLD) -> list[str]:
    """Every gold page that the site's differs from, with the lines that differ."""
    kept = {path.name for path in folder.glob("*")}
    found = [f"{name} is no gold page; remove it" for name in sorted(kept - PAGES.keys())]
    for name, address in PAGES.items():
        if name not in kept:
            found.append(f"{name} is missing; {HOW}")
            continue
        old, new = (folder / name).read_text(encoding="utf-8"), normal(site[address].markup)
        changes = difflib.unified_diff(old.splitlines(), new.splitlines(), name, address, lineterm="", n=1)
        if old != new:
            found.append("\n".join([f"{name} has changed; {HOW}", *changes]))
    return found


def accept(site: Site, folder: Path = GOLD) -> list[str]:
    """Keep the site's pages as the gold ones; gives the names of those that are new or changed."""
    folder.mkdir(parents=True, exist_ok=True)
    changed = []
    for name, address in PAGES.items():
        path, text = folder / name, normal(site[address].markup)
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.write_text(text, encoding="utf-8")
            changed.append(name)
    return changed
