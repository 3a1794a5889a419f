"""`python tests/bench/bench.py [--all]`: what checking, building and rendering cost, beside something well known.

Prints ratios from one run on one machine; it is no test and ends well whatever they are. Trees of 10 and 100
versions take a minute or two; `--all` adds 1,000. Everything is written into a temporary folder.
"""

import argparse
import tempfile
from pathlib import Path

import builds
import hearing
import preview
import sounds
from children import cost, inside
from trees import DEMO, plant

FEW, MANY, MOST = 10, 100, 1000
"""Versions of the trees."""
ROUNDS = {FEW: 3, MANY: 2, MOST: 1}
PATIENCE = 180
"""Seconds; a build beside ours that would take longer is reckoned from the smaller ones."""

# Goals: at most this many times what stands beside it; for the last two MB and seconds.
CHECK, BUILD, GROWTH, SHEETS = 10, 0.25, 1.2, 3
MEMORY, PREVIEW = 300, 1
START, CHECK_DEMO = 0.25, 1
REVIEW, REVIEW_MEMORY = 5, 300
"""Seconds and MB of a review of 9,000 sessions."""
CUES = {"median": 10, "99th percentile": 50}
"""Milliseconds from the running order."""


def main():
    """Measure everything, line by line."""
    parser = argparse.ArgumentParser(description="Measure checking, building and rendering.")
    parser.add_argument("--all", action="store_true", help=f"also {MOST:,} versions: some ten minutes")
    sizes = (FEW, MANY, MOST) if parser.parse_args().all else (FEW, MANY)
    print("All of one run. Seconds are of the processor, the lowest of the rounds: trust the ratios.")
    with tempfile.TemporaryDirectory(prefix="phasepress-bench-") as name:
        folder = Path(name)
        trees = {versions: plant(folder / f"tree-{versions}", versions) for versions in sizes}
        starting(folder)
        checking(trees)
        sheets(trees)
        building(trees, folder)
        reviewing(folder)
        previewing(folder)
        sounding(folder)


def title(text):
    """A comparison begins."""
    print(f"\n{text}")
    line("", "ours", "beside", "ratio", "goal")


def line(what, ours, theirs="", ratio="", goal="", met=None):
    """One measurement in finished words."""
    verdict = {None: "", True: "met", False: "NOT MET"}[met]
    print(f"  {what:<32}{ours:>12}{theirs:>12}{ratio:>9}   {goal:<14} {verdict}".rstrip(), flush=True)


def compared(what, ours, theirs, goal=None, mark=""):
    """A line of two times; the goal is for the first to be at most so many times the second."""
    ratio = ours / theirs
    told = (f"at most {goal:g} ×", ratio <= goal) if goal else ()
    line(what, f"{ours:.2f} s", f"{theirs:.2f} s{mark}", f"{ratio:.2f} ×", *told)


def starting(folder):
    """Goals: a verb loads only what it needs."""
    title("Start the program")
    check = ("check", "--programmes", DEMO)
    for words, goal in ((("--version",), START), (("--help",), START), (check, CHECK_DEMO)):
        seconds = min(cost(folder, "-m", "phasepress", *words)[0] for _ in range(ROUNDS[FEW]))
        told = f"under {goal:g} s"
        line(" ".join(words[:1]), f"{seconds:.2f} s", "", "", told, seconds < goal)


def checking(trees):
    """Goal: a few times what reading the YAML takes."""
    title("Load and check every file, beside reading the same files with CSafeLoader and no more")
    for versions, tree in trees.items():
        found = inside("checking", tree, ROUNDS[versions])
        compared(f"{versions:,} versions, {found['files']:,} files", found["ours"], found["theirs"], CHECK)


def sheets(trees):
    """Goal: no more than three times a template that does nothing."""
    title("Session pages from page data and templates, beside a bare loop over lines of as many bytes")
    for versions, tree in trees.items():
        found = inside("sheets", tree, ROUNDS[versions])
        compared(f"{versions:,} versions, {found['pages']:,} pages", found["ours"], found["theirs"], SHEETS)


def building(trees, folder):
    """Goal: a quarter of the time of plain pages, as long a page however many there are, in little memory."""
    title("Build the whole site, beside as many pages of plain Markdown in the theme's fastest setting")
    ours, theirs = {}, {}
    for versions, tree in trees.items():
        one, other = built_in_turn(folder, tree, versions, theirs)
        ours[versions], theirs[versions] = one, other
        # Of so few pages most of the time is spent on starting.
        goal = None if versions == FEW else BUILD
        mark = "" if isinstance(other, builds.Site) else "*"
        compared(f"{versions:,} versions, {one.pages:,} pages", one.seconds, other.seconds, goal, mark)
    notes(ours, theirs)
    growth(ours)
    for versions, site in ours.items():
        memory = f"{site.megabytes:.0f} MB"
        line(
            f"peak of memory, {versions:,} versions",
            memory,
            "",
            "",
            f"under {MEMORY} MB",
            site.megabytes < MEMORY,
        )


def built_in_turn(folder, tree, versions, smaller):
    """Our site and the plain one; the plain one only reckoned where it would take too long."""
    ours, theirs = [], []
    for _ in range(ROUNDS[versions]):
        ours.append(builds.ours(folder, tree))
        reckoned = builds.reckoned(ours[0].pages, smaller.values())
        if versions == MOST and reckoned.seconds > PATIENCE:
            return ours[0], reckoned
        theirs.append(builds.beside(folder, ours[0].pages))
    return builds.lowest(ours), builds.lowest(theirs)


def notes(ours, theirs):
    """How long the pages of both sides are, and what was reckoned."""
    for whose, site in (("ours", ours[MANY]), ("the plain ones", theirs[MANY])):
        print(f"  a page of {whose}: {site.bytes / 1000:.1f} kB, {site.words / 1000:.1f} kB of it words")
    if any(isinstance(site, builds.Reckoned) for site in theirs.values()):
        print(f"  * would take over {PATIENCE} s; reckoned from the smaller sites in a straight line")


def growth(ours):
    """Processor time of a page, start-up left out, as the tree grows tenfold."""
    if MOST not in ours:
        return
    few, many, most = (ours[versions] for versions in (FEW, MANY, MOST))
    before = (many.seconds - few.seconds) / (many.pages - few.pages)
    after = (most.seconds - many.seconds) / (most.pages - many.pages)
    told = (f"{after * 1000:.2f} ms", f"{before * 1000:.2f} ms", f"{after / before:.2f} ×")
    line(f"a page more, from {MANY:,} versions on", *told, f"at most {GROWTH:g} ×", after / before <= GROWTH)


def reviewing(folder):
    """Goals: a large squad's three years while the coach waits, in little memory."""
    title("Review the logs of a squad")
    sessions, megabytes = hearing.plant(folder / "logs", DEMO)
    call = ("-m", "phasepress", "review", folder / "logs", "--programmes", DEMO, "--format", "json")
    costs = [cost(folder, *call) for _ in range(ROUNDS[FEW])]
    seconds, memory = min(one for one, _ in costs), max(one for _, one in costs)
    what = f"{sessions:,} sessions in {megabytes:.0f} MB"
    line(what, f"{seconds:.2f} s", "", "", f"at most {REVIEW} s", seconds <= REVIEW)
    line("peak of memory", f"{memory:.0f} MB", "", "", f"at most {REVIEW_MEMORY} MB", memory <= REVIEW_MEMORY)


def previewing(folder):
    """Goal: what is saved is on the screen within a second, by the clock on the wall."""
    title("Preview of the demo: from saving a file until the page has what was saved")
    waited = preview.seconds(folder, ROUNDS[FEW])
    line("a version's file", f"{waited:.2f} s", "", "", f"within {PREVIEW} s", waited <= PREVIEW)


def sounding(folder):
    """Goal: cues are heard when the running order says, on a slow and busy phone too."""
    title(f"Guided session, processor {sounds.SLOWER} × slower and busy: from the running order to the sound")
    errors = sounds.errors(folder)
    figures = zip(CUES.items(), sounds.median_and_99th(errors), strict=True)
    for (what, goal), milliseconds in figures:
        told = (f"{milliseconds:.1f} ms", "", "", f"at most {goal} ms", milliseconds <= goal)
        line(f"{what} of {len(errors)} cues", *told)


if __name__ == "__main__":
    main()
