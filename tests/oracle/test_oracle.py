"""The outside check of time and volume: the command line against a second, independent computation.

`oracle.py` shares no code with the generator. Here the two are given the same trees, random ones and the
demo club, and must agree on every figure of every session and on every segment.
"""

import json
import random
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner
from phasepress.cli import main

from tests.samples import every

from . import oracle

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "programmes"
SEEDS = every(range(36), few=12)
SEEDS_WITH_ORDERS = every(SEEDS[:12], few=4)
ORDERS_PER_SEED = 3
CLOSE = 1e-6


# --- asking the command --------------------------------------------------------------------------------


def phasepress(tree, *words):
    """What the command prints as JSON for a tree."""
    run = CliRunner().invoke(main, ["--programmes", str(tree), *words, "--format", "json"])
    assert run.exit_code == 0, f"{' '.join(words)} ended with {run.exit_code}:\n{run.output}{run.exception!r}"
    return json.loads(run.stdout)


@cache
def read(tree):
    """The files of a tree, read once: nothing here writes into them."""
    return oracle.read_tree(tree)


def by_session(answer):
    """{(programme, version, day, level, week): figures} of a report; no session may come twice."""
    pairs = [
        ((version["programme"], version["version"], one["day"], one["level"], one["week"]), one)
        for version in answer["versions"]
        for one in version["sessions"]
    ]
    assert len(dict(pairs)) == len(pairs), "a session is reported twice"
    return dict(pairs)


# --- comparing -----------------------------------------------------------------------------------------

NAMES = ["seconds", "work_seconds", "sets", "reps", "tension_seconds", "load_volume_kg", "density"]


def flat(figures):
    """{name: number} of a session's figures; a pattern that is not trained counts as absent."""
    found = {name: figures[name] for name in NAMES}
    found |= {f"contacts {key}": figures["contacts"][key] for key in ("all", "low", "medium", "high")}
    for pattern, parts in figures["patterns"].items():
        if parts["sets"]:
            found |= {f"{pattern} {key}": parts[key] for key in ("sets", "reps", "tension_seconds")}
    return found


def differences(printed, expected):
    """The names whose numbers differ, with both numbers."""
    printed, expected = flat(printed), flat(expected)
    return {
        name: (printed.get(name), float(expected.get(name, -1)))
        for name in printed.keys() | expected.keys()
        if name not in printed or name not in expected or abs(printed[name] - float(expected[name])) > CLOSE
    }


def compare_reports(tree):
    printed, expected = (
        by_session(phasepress(tree, "report")),
        by_session(oracle.report(read(tree))),
    )
    assert printed.keys() == expected.keys()
    wrong = {key: differences(printed[key], expected[key]) for key in expected}
    assert {key: found for key, found in wrong.items() if found} == {}


def told(segment):
    """What a segment must say. Labels, side and reps are told for work alone, and no reps for work that a
    time cap cuts off, since nobody can say how many of them were done."""
    length, kind = float(segment["length"]), segment["kind"]
    said = {"start": round(float(segment["start"]), 6), "length": round(length, 6), "kind": kind}
    if kind == "work":
        said |= {key: segment[key] for key in ("block", "station", "exercise", "round")}
        said |= {"side": segment["side"] or None, "reps": segment["reps"] or 0}
    return said


def compare_order(tree, key):
    programme, version, day, level, week = key
    words = ["order", programme, version, day, "--level", level, "--week", str(week)]
    printed = phasepress(tree, *words)
    expected = oracle.order(read(tree), *key)
    assert abs(printed["seconds"] - float(expected["seconds"])) <= CLOSE
    assert len(printed["segments"]) == len(expected["segments"])
    for theirs, ours in zip(printed["segments"], expected["segments"], strict=True):
        theirs, cut, ours = told(theirs), ours.get("cut"), told(ours)
        if cut:
            theirs.pop("reps", None), ours.pop("reps", None)
        assert theirs == ours


# --- the two computations agree ------------------------------------------------------------------------


@pytest.mark.parametrize("seed", SEEDS)
def test_the_report_of_a_random_tree_has_the_figures_of_the_oracle(grown, seed):
    compare_reports(grown(seed))


@pytest.mark.parametrize("seed", SEEDS_WITH_ORDERS)
def test_the_running_orders_of_a_random_tree_are_those_of_the_oracle(grown, seed):
    tree = grown(seed)
    sessions = sorted(by_session(oracle.report(read(tree))))
    for key in random.Random(seed).sample(sessions, min(ORDERS_PER_SEED, len(sessions))):
        compare_order(tree, key)


def test_the_report_of_the_demo_club_has_the_figures_of_the_oracle():
    compare_reports(DEMO)


def test_a_running_order_of_every_day_of_the_demo_club_is_that_of_the_oracle():
    sessions = by_session(oracle.report(read(DEMO)))
    assert sessions, "the demo club trains"
    for key in every({key[:3]: key for key in sessions}.values(), few=8):
        compare_order(DEMO, key)


# --- the comparison itself notices ---------------------------------------------------------------------


def test_a_figure_that_is_off_by_a_little_is_noticed(grown):
    figures = next(iter(by_session(oracle.report(read(grown(SEEDS[0])))).values()))
    assert differences(figures, figures) == {}
    for name in NAMES:
        assert list(differences({**figures, name: figures[name] + Fraction(1, 1000)}, figures)) == [name]
