"""A programme of invented sessions that are far fuller than the demo's, to see what gives way."""

import shutil
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from tests.browser import long_cases
from tests.browser.demo import DEMO
from tests.fixtures.settings import beside

CROWDED, TWIN = "crowded", "twin"
STATIONS, ROUNDS = 8, 4
LONG_CUE = (
    "Keep the whole foot on the floor, push the knee out over the little toe and breathe out on the way up, "
    "then wait for one full count before you begin the next one."
)
CRAMPED = "Donauschleusenwärterhäuschenkniebeuge mit Rucksack"


def write(folder: Path, twin_of: str, version: str) -> Path:
    """The demo's tree with one version of one programme, a copy of that, a crowded programme, and that of long cases.

    The demo's other versions would be most of what is built, and no test reads them here.
    """
    programmes = {file.parent.name for file in DEMO.glob("*/programme.yaml")}
    tree = beside(Path(shutil.copytree(DEMO, folder, ignore=shutil.ignore_patterns(*programmes))))
    for name in (twin_of, TWIN):
        (tree / name).mkdir()
        for file in ("programme.yaml", f"{version}.yaml"):
            shutil.copy(DEMO / twin_of / file, tree / name)
    for number in range(1, STATIONS + 1):
        _save(tree / "exercises" / f"crowded-{number}.yaml", _exercise(number))
    long_cases.write(tree)
    (tree / CROWDED).mkdir()
    _save(tree / CROWDED / "programme.yaml", _programme())
    _save(tree / CROWDED / "1.0.yaml", _version())
    return tree


def _save(file: Path, content: dict[str, Any]) -> None:
    with file.open("w", encoding="utf-8") as text:
        YAML().dump(content, text)


def _exercise(number: int) -> dict[str, Any]:
    name = (
        CRAMPED if number == 1 else f"Slow split squat with the rear foot on the lowest stair, way {number}"
    )
    return {
        "name": name,
        "pattern": "lunge",
        "works": ["thighs", "glutes"],
        "sides": "each",
        "measure": "reps",
        "tempo": "3-1-1-0",
        "needs": ["bag"],
        "loadable": True,
        "setup": ["Stand with your back to the stairs."],
        "cues": [LONG_CUE, "Stay tall."],
        "faults": ["The heel lifts: take a longer step."],
        "cautions": ["Hold on to the rail."],
    }


def _programme() -> dict[str, Any]:
    return {
        "title": "Everything at once, for those who want to see what a sheet of paper can hold",
        "levels": [
            {"id": "first", "name": "Second season and two phases done well", "experience": "beginner"},
            {"id": "second", "name": "Strong", "experience": "beginner"},
        ],
    }


def _stations(**more: Any) -> list[dict[str, Any]]:
    return [
        {"exercise": f"crowded-{number}", "reps": 5, "load": "4.5 kg", **more}
        for number in range(1, STATIONS + 1)
    ]


def _version() -> dict[str, Any]:
    blocks = [
        {"kind": "circuit", "rounds": ROUNDS, "stations": _stations()},
        {"kind": "straight sets", "stations": _stations(sets=ROUNDS)},
        {"kind": "circuit", "rounds": ROUNDS, "stations": _stations()},
    ]
    many = [{"kind": "circuit", "rounds": {"first": 14, "second": [14, 0]}, "stations": _stations()[:2]}]
    routines = {"warm-up": "home-warm-up", "cool-down": "easy-down"}
    routines = {
        kind: name for kind, name in routines.items() if (DEMO / "routines" / f"{name}.yaml").exists()
    }
    return {
        "phase": "Everything in one phase, from the first step to the last",
        "aim": "See what gives way.",
        "starts": "2027-03-01",
        "weeks": 2,
        "levels": ["first", "second"],
        "days": [
            {
                "id": "long",
                "title": "A day with three blocks of eight stations",
                "on": ["mon"],
                **routines,
                "blocks": blocks,
            },
            {
                "id": "many-rounds",
                "title": "A day with many rounds",
                "on": ["thu"],
                **routines,
                "blocks": many,
            },
        ],
    }
