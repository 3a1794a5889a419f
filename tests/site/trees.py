"""Small programme trees made in the test that needs them: plain data by file name, written as YAML.

The writing is JSON, which YAML 1.2 reads as it stands. All content is invented.
"""

import json
from copy import deepcopy
from pathlib import Path
from typing import Any

from tests.fixtures.settings import beside

Data = dict[str, Any]
Tree = dict[str, Data]


def exercise(name: str, **more: Any) -> Data:
    """A two-sided exercise in reps; `more` adds keys or replaces them."""
    return {
        "name": name,
        "pattern": "squat",
        "sides": "both",
        "measure": "reps",
        "tempo": "2-0-1-0",
        "setup": ["Stand tall."],
        "cues": ["Go slowly.", "Breathe."],
        "cautions": ["Stop when your knees ache."],
    } | more


def circuit(*stations: Data, **more: Any) -> Data:
    return {"kind": "circuit", "rounds": 1, "stations": list(stations)} | more


def day(name: str, *blocks: Data, **more: Any) -> Data:
    return {
        "id": name,
        "title": name.replace("-", " ").capitalize(),
        "on": ["mon"],
        "warm-up": "wake-up",
        "blocks": list(blocks),
    } | more


def phase(*days: Data, starts: str = "2031-01-06", **more: Any) -> Data:
    return {"phase": "Begin", "aim": "Learn.", "starts": starts, "weeks": 2, "days": list(days)} | more


def small() -> Tree:
    """One programme of one phase with one day, for two levels; a fresh copy for each caller."""
    return deepcopy(_SMALL)


def write(tree: Tree, folder: Path) -> Path:
    """Write the files of a tree into `folder`, which is made, and settings beside it; gives the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    beside(folder)
    for name, data in tree.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(json.dumps(data, ensure_ascii=False, indent=1), encoding="utf-8")
    return folder


_SMALL: Tree = {
    "club.yaml": {"club": "Small Club", "kit": [{"item": "bottle", "holds": "1 l"}]},
    "exercises/sit.yaml": exercise("Sit down"),
    "exercises/lean.yaml": exercise("Lean", pattern="brace", measure="hold", sides="each"),
    "routines/wake-up.yaml": {
        "name": "Wake up",
        "kind": "warm-up",
        "blocks": [circuit({"exercise": "sit", "reps": 10})],
    },
    "plan/programme.yaml": {
        "title": "The plan",
        "levels": [
            {"id": "new", "name": "New", "experience": "beginner"},
            {"id": "used", "name": "Used", "experience": "intermediate"},
        ],
    },
    "plan/1.0.yaml": phase(
        day("legs", circuit({"exercise": "sit", "reps": 8}, {"exercise": "lean", "hold": "20 s"}))
    ),
}
del _SMALL["exercises/lean.yaml"]["tempo"]
