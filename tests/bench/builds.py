"""Whole builds as a user calls them, ours and one of plain Markdown pages, each in a process of its own."""

import html
import re
import shutil
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import plain
from children import cost

# What is between tags, but not what stands in the head of a page or in a script.
NO_WORDS = re.compile(r"<(head|script|style)\b.*?</\1>|<[^>]+>", re.DOTALL)


@dataclass(frozen=True)
class Site:
    """What a build costs, and what it makes: pages, and the mean bytes and characters of words of a page."""

    seconds: float
    megabytes: float
    pages: int
    bytes: float
    words: float


@dataclass(frozen=True)
class Reckoned:
    """What a build would cost."""

    seconds: float


def ours(folder: Path, tree: Path) -> Site:
    """`phasepress build`, which checks the tree first."""
    return _built(folder, "-m", "phasepress", "--programmes", tree, "build", "--to")


def beside(folder: Path, pages: int) -> Site:
    """`mkdocs build` of that many plain pages, which are written if they are not there yet."""
    source = folder / f"plain-{pages}"
    if not source.exists():
        plain.write(source, pages)
    config = source / plain.CONFIG_FILE
    return _built(folder, "-m", "mkdocs", "build", "--quiet", "--config-file", config, "--site-dir")


def reckoned(pages: int, sites: list[Site]) -> Reckoned:
    """Seconds of that many pages on the straight line through two smaller sites; 0 without them."""
    seconds = 0.0
    for few, many in pairwise(sites):
        a_page = (many.seconds - few.seconds) / (many.pages - few.pages)
        seconds = many.seconds + (pages - many.pages) * a_page
    return Reckoned(seconds)


def lowest(sites: list[Site]) -> Site:
    """The one that was built in the fewest seconds."""
    return min(sites, key=lambda site: site.seconds)


def _built(folder: Path, *arguments) -> Site:
    site = folder / "site"
    shutil.rmtree(site, ignore_errors=True)
    seconds, megabytes = cost(folder, *arguments, site)
    texts = [path.read_text(encoding="utf-8") for path in site.rglob("index.html")]
    written = sum(len(text.encode()) for text in texts)
    return Site(seconds, megabytes, len(texts), written / len(texts), sum(map(_words, texts)) / len(texts))


def _words(text: str) -> int:
    return len(" ".join(html.unescape(NO_WORDS.sub(" ", text)).split()))
