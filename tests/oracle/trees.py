"""Seeded random programmes trees, well formed by every rule, for trying two computations on each other.

`write_tree(folder, seed)` writes real YAML files; the same seed gives the same tree. The trees are no
sensible training: they are meant to reach every corner of the time and volume rules. All content is invented.
"""

from datetime import date, timedelta
from pathlib import Path
from random import Random

from .tree_blocks import Blocks, maybe, tempo
from .yaml_text import document

PATTERNS = [
    "squat",
    "lunge",
    "hinge",
    "push",
    "pull",
    "brace",
    "rotate",
    "jump",
    "land",
    "carry",
    "locomotion",
    "mobility",
]
FIRST = ["slow", "low", "high", "quiet", "long", "short", "wide", "narrow", "soft", "firm", "half", "full"]
SECOND = ["reach", "sit", "press", "row", "step", "hop", "crawl", "lift", "turn", "stand", "walk", "bridge"]
THINGS = ["bag", "hand towel", "stair rail", "chair", "wall"]
LEVELS = {"starter": "beginner", "steady": "intermediate", "strong": "advanced"}
WEEKDAYS = ["mon", "tue or wed", "thu", "fri or sat", "sun"]
LIMITS = {"session": "45 min", "sessions per week": 3, "week step": "25 %"}
FIRST_MONDAY = date(2027, 1, 11)


def write_tree(folder, seed):
    """Write the tree of this seed into `folder` (made if need be); gives the folder."""
    rng = Random(seed)
    exercises = make_exercises(rng)
    routines = make_routines(rng, exercises)
    files = {"club.yaml": club(rng)}
    files |= {f"exercises/{name}.yaml": one for name, one in exercises.items()}
    files |= {f"routines/{name}.yaml": one for name, one in routines.items()}
    for name in ["home-strength", "court-ready"][: rng.randint(1, 2)]:
        files |= programme_files(rng, name, exercises, routines)
    for place, content in files.items():
        path = Path(folder) / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(document(content, rng), encoding="utf-8")
    return Path(folder)


def sentences(rng, low, high):
    forms = ["{} and calm {}, part {}.", "{} at first: then {} {} more.", "Keep it {} in the {}, go to {}."]
    count = rng.randint(low, high)
    return [rng.choice(forms).format(rng.choice(FIRST), rng.choice(SECOND), n) for n in range(count)]


def club(rng):
    kit = [
        {"item": "small bottle", "holds": "0.5 l"},
        {"item": "large bottle", "holds": "2 l"},
        {"item": "ream of A4 paper", "mass": "2.5 kg"},
    ]
    return {
        "club": "Fennmouth Juniors",
        "sport": "handball",
        "contact": "strength@club.example",
        "language": "en",
        "cautions": ["Stop if something hurts, and tell an adult.", *sentences(rng, 0, 1)],
        "kit": kit[: rng.randint(1, 3)],
    }


# --- exercises -----------------------------------------------------------------------------------------


def make_exercises(rng):
    """All patterns and at least four exercises of each measure, from the easiest to the hardest."""
    names = rng.sample([f"{first}-{second}" for first in FIRST for second in SECOND], 24)
    measures = ["reps"] * 12 + ["hold", "time", "distance"] * 4
    rng.shuffle(measures)
    return {
        name: exercise(rng, name, PATTERNS[place % len(PATTERNS)], measure) | ladder(rng, names, place)
        for place, (name, measure) in enumerate(zip(names, measures, strict=True))
    }


def exercise(rng, name, pattern, measure):
    sides = ["both", "each"] if measure == "hold" else ["both", "each", "alternating"]
    return {
        "name": name.replace("-", " ").title(),
        "pattern": pattern,
        **maybe(rng, 0.5, lambda: {"works": ["thighs", "trunk"]}),
        "sides": rng.choice(sides),
        "measure": measure,
        **rep_keys(rng, measure),
        **maybe(rng, 0.6, lambda: {"loadable": rng.random() < 0.7}),
        "setup": sentences(rng, 1, 2),
        "cues": sentences(rng, 2, 6),
        **maybe(rng, 0.5, lambda: {"faults": sentences(rng, 1, 2)}),
        "cautions": sentences(rng, 1, 2),
    }


def rep_keys(rng, measure):
    """How long a rep is and what lands in it, for exercises that have reps; some timed ones have none."""
    if measure in ("hold", "distance") or (measure == "time" and rng.random() < 0.3):
        return {}
    keys = (
        {"tempo": tempo(rng)} if rng.random() < 0.6 else {"seconds per rep": rng.choice([1, 2, 3, 1.5, 2.5])}
    )
    keys |= maybe(rng, 0.4, lambda: {"parts": rng.randint(1, 3)})
    landing = rng.choice(["none", "low", "medium", "high"])
    if landing == "none":
        return keys | maybe(rng, 0.4, lambda: {"contacts": 0, "landing": "none"})
    return keys | {"contacts": rng.randint(1, 2), "landing": landing}


def ladder(rng, names, place):
    """Options that only ever lead down to easier or up to harder ones, and what to do without a thing."""
    keys = {}
    if place > 0 and rng.random() < 0.5:
        keys["easier"] = [{"exercise": rng.choice(names[:place]), "how": "hold a chair back"}]
    if place < len(names) - 1 and rng.random() < 0.5:
        keys["harder"] = [{"exercise": rng.choice(names[place + 1 :])}, {"how": "with closed eyes"}]
    if rng.random() < 0.3:
        keys["needs"] = rng.sample(THINGS, 2)
        if place > 0:
            keys["instead"] = {keys["needs"][0]: rng.choice(names[:place])}
    return keys


# --- routines and programmes ---------------------------------------------------------------------------


def make_routines(rng, exercises):
    def routine(name, kind):
        blocks = Blocks(rng, exercises)
        return {"name": name, "kind": kind, "blocks": [blocks.block() for _ in range(rng.randint(1, 2))]}

    return {
        "home-warm-up": routine("Home warm-up", "warm-up"),
        "hall-warm-up": routine("Hall warm-up", "warm-up"),
        "easy-down": routine("Easy down", "cool-down"),
    }


def programme_files(rng, name, exercises, routines):
    levels = list(LEVELS)[: rng.randint(1, 3)]
    files = {f"{name}/programme.yaml": programme(rng, name, levels)}
    starts = FIRST_MONDAY
    for phase in range(1, rng.randint(1, 3) + 1):
        for edition in range(rng.randint(1, 2)):
            made = version(rng, exercises, levels, starts, edition)
            files[f"{name}/{phase}.{edition}.yaml"] = made
        # Only the newest edition of a phase holds its weeks free.
        starts += timedelta(weeks=made["weeks"] + rng.randint(0, 2))
    return files


def programme(rng, name, levels):
    return {
        "title": name.replace("-", " ").title(),
        "summary": "Invented to try the arithmetic.",
        "audience": {"ages": [13, 16]},
        "levels": [
            {"id": level, "name": level.title(), "experience": LEVELS[level], "who": "a made-up group"}
            for level in levels
        ],
        **maybe(rng, 0.6, lambda: {"limits": {key: LIMITS[key] for key in rng.sample(list(LIMITS), 2)}}),
    }


def version(rng, exercises, levels, starts, edition):
    weeks = rng.randint(1, 5)
    levels = sorted(rng.sample(levels, rng.randint(1, len(levels))), key=list(LEVELS).index)
    blocks = Blocks(rng, exercises, levels, weeks)
    changes = (
        {"changes": "Doses changed."} if edition else maybe(rng, 0.5, lambda: {"changes": "First published."})
    )
    return {
        "phase": "Groundwork",
        "aim": "Own the positions.",
        "starts": starts.isoformat(),
        "weeks": weeks,
        "levels": levels,
        **maybe(rng, 0.3, lambda: {"match days": ["sat"]}),
        **changes,
        "days": [
            day(rng, blocks, name) for name in ["legs-and-pull", "push", "all-round"][: rng.randint(1, 3)]
        ],
    }


def day(rng, blocks, name):
    return {
        "id": name,
        "title": name.replace("-", " ").title(),
        "on": rng.sample(WEEKDAYS, rng.randint(1, 2)),
        "warm-up": rng.choice(["home-warm-up", "hall-warm-up"]),
        **maybe(rng, 0.5, lambda: {"cool-down": "easy-down"}),
        "blocks": [blocks.block() for _ in range(rng.randint(1, 4))],
    }
