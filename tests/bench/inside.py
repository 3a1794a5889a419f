"""What is measured inside a process of its own, so that nothing is warm from another measurement.

`python inside.py checking|sheets TREE ROUNDS` prints one JSON object: processor seconds of both sides, each the
lowest of its rounds, and how much there was to do. The sides take turns.
"""

import json
import re
import sys
import time
from itertools import islice
from pathlib import Path

import yaml
from jinja2 import Environment
from phasepress.computing.phases import computed_sessions
from phasepress.judging import check
from phasepress.publishing.assets import assets
from phasepress.publishing.site import Renderer
from phasepress.reading.catalogue import load
from phasepress.telling.views.session import session_ribbon

SITE = "https://club.example/training/"
BATCH = 100
"""Pages after which the sides take turns."""
SHEET = re.compile(r"/week-\d+/\Z")
BARE = Environment(autoescape=True).from_string("{% for line in lines %}{{ line }}{% endfor %}")


class Clock:
    """Adds up the processor seconds of what it is given to do."""

    def __init__(self):
        """Nothing is spent yet."""
        self.seconds = 0.0

    def __call__(self, work, *arguments):
        """What `work` gives."""
        begun = time.process_time()
        made = work(*arguments)
        self.seconds += time.process_time() - begun
        return made


def checking(tree, ours, theirs):
    """Loading and checking the tree, beside reading the same files as YAML and no more."""
    files = sorted(tree.rglob("*.yaml"))
    ours(lambda: check(load(tree)))
    theirs(lambda: [yaml.load(path.read_bytes(), Loader=yaml.CSafeLoader) for path in files])
    return {"files": len(files)}


def sheets(tree, ours, theirs):
    """Words, pictures and templates of the session pages, beside a bare template that passes on as many bytes.

    The plans and running orders of the one side and the lines of the other are there before.
    """
    catalogue = load(tree).catalogue
    pages = Renderer(catalogue, assets(), SITE).pages()
    many = written = 0
    ribbons(catalogue, ours)
    while batch := [page.text for page in islice(iter(lambda: sheet(ours, pages), None), BATCH)]:
        texts = [["x" * len(line.encode()) for line in text.splitlines(keepends=True)] for text in batch]
        bare = theirs(lambda texts: [BARE.render(lines=lines) for lines in texts], texts)
        if list(map(len, bare)) != [len(text.encode()) for text in batch]:
            raise AssertionError("both sides write as many bytes")
        many, written = many + len(batch), written + sum(map(len, bare))
    return {"pages": many, "bytes": written}


def ribbons(catalogue, ours):
    """Draw the ribbons of all sessions: in a build they are drawn with the day page, and once for both pages."""
    for programme in catalogue.programmes.values():
        for version in programme.versions:
            for facts in computed_sessions(catalogue, version):
                _ = facts.order.segments
                ours(session_ribbon, facts)


def sheet(ours, pages):
    """The next session page, or None; the time of other pages is not counted."""
    while True:
        apart = Clock()
        page = apart(next, pages, None)
        if page is None or SHEET.search(page.address):
            ours.seconds += apart.seconds
            return page


def main(what, tree, rounds):
    """Measure, and print the lowest of each side."""
    measured = []
    for _ in range(int(rounds)):
        ours, theirs = Clock(), Clock()
        facts = {"checking": checking, "sheets": sheets}[what](Path(tree), ours, theirs)
        measured.append((ours.seconds, theirs.seconds))
    lowest = [min(side) for side in zip(*measured, strict=True)]
    print(json.dumps({"ours": lowest[0], "theirs": lowest[1], **facts}))


if __name__ == "__main__":
    main(*sys.argv[1:])
