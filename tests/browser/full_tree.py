"""A small tree of sheets, days and cards that are as full as a pack may get: long names, both directions, four blocks."""

from pathlib import Path
from typing import Any

from tests.site import trees

PROGRAMME, VERSION = "full", "1.0"
CLUB = "מועדון הנוער של עמק האלונים"
TITLE = "Kräftigungsübungsprogramm für den Nachwuchs in der Wettkampfvorbereitungszeit"
PHASE = "Ausdauergrundlagenvorbereitungsabschnitt mit allem, was dazugehört"
DAY = "Donauschleusenwärterhäuschentag mit vier Blöcken und sehr vielen Stationen"
LEVELS = ("Zweite Saison und zwei Abschnitte gut gemacht", "מתקדמים", "Strong")
STATIONS, ROUNDS, WEEKS = 8, 5, 7
NAMES = (
    "Donauschleusenwärterhäuschenkniebeuge mit Rucksack",
    "כפיפת ברכיים עם תיק גב (2 ק״ג) ליד הקיר",
    "Slow split squat with the rear foot on the lowest stair of the house",
    "تمرين الضغط على الحائط مع توقف قصير في الأسفل",
    "Rindfleischetikettierungsüberwachungsaufgabenübertragungsgesetzesliegestütz",
    "Push-up",
    "Hop",
    "Lean against the wall and slide down until the knees are over the ankles",
)
LONG = (
    "Keep the whole foot on the floor, push the knee out over the little toe and breathe out on the way up, "
    "then wait for one full count before you begin the next one."
)
RIGHT_TO_LEFT = "שמרו על הגב ישר ונשמו החוצה בדרך למעלה, ואז חכו ספירה אחת לפני החזרה הבאה."
CAUTION = "Feuchtigkeitsundurchlässigkeitsunterlage: stop when the mat slides, and dry it before you go on."


def write(folder: Path) -> Path:
    """The tree; gives the folder."""
    tree: trees.Tree = {
        "club.yaml": {
            "club": CLUB,
            "language": "he",
            "cautions": ["התאמנו רק כשמבוגר נמצא בבית.", LONG],
            "kit": [{"item": "Zweiliterwasserflasche mit Schraubverschluss", "holds": "2 l"}],
        },
        "routines/wake-up.yaml": {
            "name": "Wake up",
            "kind": "warm-up",
            "blocks": [trees.circuit(*({"exercise": f"e{n}", "reps": 6} for n in (6, 7)))],
        },
        f"{PROGRAMME}/programme.yaml": {
            "title": TITLE,
            "levels": [
                {"id": f"l{number}", "name": name, "experience": "beginner", "who": LONG}
                for number, name in enumerate(LEVELS, 1)
            ],
        },
        f"{PROGRAMME}/{VERSION}.yaml": trees.phase(
            _day(), phase=PHASE, aim=f"{RIGHT_TO_LEFT} {LONG}", weeks=WEEKS, levels=["l1", "l2", "l3"]
        ),
    }
    for number, name in enumerate(NAMES, 1):
        tree[f"exercises/e{number}.yaml"] = _exercise(name)
    return trees.write(tree, folder)


def _exercise(name: str) -> dict[str, Any]:
    return trees.exercise(
        name,
        sides="each",
        needs=["Zweiliterwasserflasche", "תיק גב", "wall"],
        loadable=True,
        tempo="3-1-1-0",
        setup=[LONG, RIGHT_TO_LEFT, "Stand tall."],
        cues=[RIGHT_TO_LEFT, LONG, "Breathe.", "Stay tall."],
        faults=[LONG, "The heel lifts: take a longer step."],
        cautions=[CAUTION, RIGHT_TO_LEFT],
    )


def _stations(many: int, **more: Any) -> list[dict[str, Any]]:
    return [{"exercise": f"e{number}", **more} for number in range(1, many + 1)]


def _day() -> dict[str, Any]:
    by_level = {"l1": [5, 6, 5, 6, 6, 7, 8], "l2": 7, "l3": [12, 10, 12, 10, 12, 10, 12]}
    sets = {"l1": [2, 3, 2, 3, 2, 2, 1], "l2": 5, "l3": [8, 10, 8, 8, 8, 8, 8]}
    blocks = [
        trees.circuit(*_stations(STATIONS, reps=by_level, load="4 kg"), rounds=ROUNDS),
        {
            "kind": "straight sets",
            "stations": _stations(
                3, reps=5, sets=sets, tempo={"l1": ["3-1-1-0", *6 * ["2-0-1-0"]], "other": "2-0-1-0"}
            ),
        },
        {"kind": "every minute", "minutes": 4, "stations": _stations(2, reps=4)},
        {"kind": "timed rounds", "lasts": "5 min", "stations": _stations(2, reps=4)},
    ]
    return trees.day("everything", *blocks, title=DAY, on=["mon", "wed or thu"])
