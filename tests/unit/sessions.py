"""One session written as YAML and taken the whole way: files, catalogue, running order, figures."""

from pathlib import Path
from textwrap import dedent, indent

from generator.catalogue import load
from generator.checks import check
from generator.checks.registry import SessionFacts
from generator.checks.run import session_facts

EXERCISE = """\
name: Trial
setup: [Stand.]
cues: [One., Two.]
cautions: [Stop if it hurts.]
"""
PROGRAMME = """\
title: Trial
levels: [{id: starter, name: Starter, experience: beginner}]
"""
VERSION = """\
phase: Trial
aim: To be tried.
starts: 2027-01-11
weeks: 1
days:
  - id: day
    title: Day
    on: [mon]
    warm-up: ready
"""


def routine(kind: str, blocks: str) -> str:
    """A routine file of these blocks."""
    return f"name: Trial\nkind: {kind}\nblocks:\n{_indented(blocks, 2)}"


def exercise(keys: str) -> str:
    """An exercise file: `sides: both, measure: hold` and the like, with the rest made up."""
    pattern = "" if "pattern:" in keys else "pattern: squat\n"
    return EXERCISE + pattern + keys.replace(", ", "\n") + "\n"


def _indented(text: str, by: int) -> str:
    return indent(dedent(text).strip() + "\n", " " * by)


NOTHING = "- {kind: circuit, rounds: 0, stations: [{exercise: rest, hold: 1 s}]}"


def written(
    to: Path, blocks: str, exercises: dict[str, str], warm_up: str = NOTHING, cool_down: str = ""
) -> Path:
    """A tree with one session of `blocks`; exercises by id, with what is not said in EXERCISE."""
    day = VERSION + ("    cool-down: easy\n" if cool_down else "") + f"    blocks:\n{_indented(blocks, 6)}"
    files = {
        "club.yaml": "club: Fennmouth Juniors\nkit: [{item: bottle, holds: 1 l}]\n",
        "exercises/rest.yaml": exercise("sides: both, measure: hold"),
        "routines/ready.yaml": routine("warm-up", warm_up),
        "routines/easy.yaml": routine("cool-down", cool_down or NOTHING),
        "trial/programme.yaml": PROGRAMME,
        "trial/1.0.yaml": day,
    }
    for name, text in exercises.items():
        files[f"exercises/{name}.yaml"] = exercise(text)
    for name, text in files.items():
        path = to / "programmes" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return to / "programmes"


def session(
    to: Path, blocks: str, exercises: dict[str, str], warm_up: str = NOTHING, cool_down: str = ""
) -> SessionFacts:
    """The session of such a tree, which must have no errors."""
    checked = check(load(written(to, blocks, exercises, warm_up, cool_down)))
    assert [str(each) for each in checked.findings if each.severity == "error"] == []
    (facts,) = session_facts(checked.catalogue, checked.catalogue.programmes["trial"].versions[0])
    return facts
