"""What is measured inside a process of its own, so that nothing is warm from another measurement.

`python inside.py check|sheets TREE ROUNDS` prints one JSON object with the processor seconds of both sides, each
the lowest of its rounds; the sides take turns.
"""

import json
import sys
import time
from collections.abc import Callable, Iterator
from itertools import chain
from pathlib import Path

import yaml
from jinja2 import Environment

from generator.catalogue import load
from generator.checks import check
from generator.render import Page, Renderer, assets

SITE = "https://club.example/training/"
BARE = "{% for line in lines %}{{ line }}{% endfor %}"


def checking(tree: Path, rounds: int) -> dict[str, float]:
    """Loading and checking the tree, beside reading the same files as YAML and no more."""
    files = sorted(tree.rglob("*.yaml"))

    def read() -> None:
        for path in files:
            yaml.load(path.read_bytes(), Loader=yaml.CSafeLoader)

    ours, theirs = _lowest(rounds, lambda: check(load(tree)), read)
    return {"ours": ours, "theirs": theirs}


def sheets(tree: Path, rounds: int) -> dict[str, float]:
    """Page data and templates of all session pages, beside a template that only passes on as many bytes."""
    catalogue = load(tree).catalogue
    renderer = Renderer(catalogue, assets(), SITE)
    ready = list(renderer.sheets_prepared())
    pages = [sheet().text for sheet in ready]
    bare = Environment(autoescape=True).from_string(BARE)
    lines = [["x" * len(line.encode()) for line in page.splitlines(keepends=True)] for page in pages]
    written = sum(len(bare.render(lines=one)) for one in lines)
    assert written == sum(len(page.encode()) for page in pages)

    def loop() -> None:
        for one in lines:
            bare.render(lines=one)

    def render() -> None:
        for sheet in ready:
            sheet()

    ours, theirs = _lowest(rounds, render, loop)
    return {"ours": ours, "theirs": theirs, "pages": len(pages), "bytes": written}
