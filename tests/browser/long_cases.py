"""Sessions that may well be trained and are hard to set: long names, long words, right to left, many rounds."""

from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

LONG = "long-cases"
NAMES = (
    "Einbeinige Kniebeuge mit dem Rucksack vor der Brust",
    "Polvennostokävelykyykkyhyppyharjoitus",
    "כפיפת ברכיים עם תיק צמוד לחזה",
    "ثني الركبتين مع حمل الحقيبة أمام الصدر",
    "Arbeitsunfähigkeitsbescheinigungsheberückwärts",
    "Slow split squat with the rear foot on the lowest stair",
    "Приседание на одной ноге возле спинки стула",
    "Sit",
)
"""Invented: a name in each of several languages, compounds longer than the column, and the shortest."""
CUE = "Keep the whole foot on the floor and push the knee out over the little toe, all the way up."
THINGS = (
    "bag",
    "Küchenstuhl mit gerader Lehne",
    "מגבת גדולה",
    "broom handle",
    "lowest stair with a firm rail",
)
LEVELS = ("Second season and two phases done well", "מתקדמים", "Fortgeschrittene mit Wettkampferfahrung")


def write(tree: Path) -> None:
    """Adds the programme and its exercises to a tree that has the demo's routines."""
    for number, name in enumerate(NAMES, 1):
        _save(tree / "exercises" / f"long-{number}.yaml", _exercise(number, name))
    (tree / LONG).mkdir()
    _save(tree / LONG / "programme.yaml", _programme())
    _save(tree / LONG / "1.0.yaml", _version())


def _save(file: Path, content: dict[str, Any]) -> None:
    with file.open("w", encoding="utf-8") as text:
        YAML().dump(content, text)


def _exercise(number: int, name: str) -> dict[str, Any]:
    return {
        "name": name,
        "pattern": "squat",
        "sides": "each",
        "measure": "reps",
        "tempo": "3-1-1-0",
        "needs": [THINGS[number % len(THINGS)], THINGS[(number + 1) % len(THINGS)]],
        "loadable": True,
        "setup": ["Stand with your back to the stairs."],
        "cues": [CUE, "Stay tall."],
        "cautions": ["Hold on to the rail."],
    }


def _programme() -> dict[str, Any]:
    return {
        "title": "Kräftigungsprogramm für Nachwuchsmannschaften, תוכנית כוח לבית",
        "levels": [
            {"id": f"level-{number}", "name": name, "experience": "beginner"}
            for number, name in enumerate(LEVELS, 1)
        ],
    }


def _stations(first: int, last: int, **more: Any) -> list[dict[str, Any]]:
    return [
        {"exercise": f"long-{number}", "reps": 5, "load": "4.5 kg", **more}
        for number in range(first, last + 1)
    ]


def _day(id_: str, title: str, on: str, *blocks: dict[str, Any]) -> dict[str, Any]:
    return {"id": id_, "title": title, "on": [on], "warm-up": "home-warm-up", "blocks": list(blocks)}


def _version() -> dict[str, Any]:
    return {
        "phase": "Grundlagenausdauerkräftigung",
        "aim": "See what a sheet can hold.",
        "starts": "2027-03-01",
        "weeks": 1,
        "levels": ["level-1", "level-2", "level-3"],
        "days": [
            _day(
                "five-rounds",
                "Acht Stationen in fünf Runden",
                "mon",
                {"kind": "circuit", "rounds": 5, "stations": _stations(1, 8)},
            ),
            _day(
                "four-blocks",
                "ארבעה חלקים ביום אחד",
                "wed",
                {"kind": "circuit", "rounds": 2, "stations": _stations(1, 3)},
                {"kind": "straight sets", "stations": _stations(4, 5, sets=3)},
                {"kind": "every minute", "minutes": 6, "stations": _stations(6, 6)},
                {"kind": "timed rounds", "lasts": "6 min", "stations": _stations(7, 8)},
            ),
            _day("short", "Kurz", "fri", {"kind": "straight sets", "stations": _stations(8, 8, sets=2)}),
        ],
    }
