"""Trees of any number of versions for measuring: the demo's exercises and routines under invented programmes.

`plant(folder, versions)` writes real files; a larger tree begins with the files of a smaller one. Ten versions
make a programme: five phases of four weeks, each in two editions. A version has the shape and about the size of
a demo version: two days of three blocks with warm-up and cool-down, for two levels. The doses are no sensible
training.
"""

import shutil
from datetime import date, timedelta
from pathlib import Path
from random import Random

DEMO = Path(__file__).resolve().parents[2] / "programmes"
VERSIONS_PER_PROGRAMME, EDITIONS, WEEKS = 10, 2, 4
LEVELS = ("starter", "steady")


def pages_per_version(weeks: int = WEEKS) -> int:
    """The version, its numbers, its kit card, its two days, and for each day and level what the guided session shows
    and a sheet a week."""
    return 3 + 2 * (1 + len(LEVELS) * (1 + weeks))


FIRST_MONDAY = date(2027, 1, 11)
WEEKDAYS = (("mon", "thu"), ("tue", "fri"), ("sun", "wed or thu"))

# Exercises of the demo that fill a place in a block; with two names the first is the starters'.
JUMPS = (
    ("quick-drop", "jump-and-freeze"),
    ("stop-step", "forward-jump"),
    ("ankle-bounce", "step-off-landing"),
)
LEGS = (("chair-squat", "bag-squat"), ("split-squat", "step-back"), ("hip-hinge", "bag-hinge"))
ARMS = (
    ("wall-push-up", "worktop-push-up"),
    ("lying-towel-pull", "bag-row"),
    ("worktop-push-up", "floor-push-up"),
)
TRUNK = ("front-plank", "side-plank", "side-plank-knees", "wall-sit", "towel-foot-row")
EASY = ("dead-bug", "shoulder-tap", "glute-bridge")

QUALITIES = ("calm", "quiet", "tall", "steady", "patient", "light", "firm", "careful", "square", "smooth")
THINGS = ("hips", "feet", "landings", "shoulders", "knees", "back", "breath", "hands", "heels", "trunk")


def plant(folder: Path, versions: int, weeks: int = WEEKS) -> Path:
    """Write a tree with that many versions of so many weeks into `folder`, made if need be; gives the folder."""
    random = Random(0)
    folder.mkdir(parents=True, exist_ok=True)
    for name in ("exercises", "routines", "media"):
        shutil.copytree(DEMO / name, folder / name)
    shutil.copy(DEMO / "club.yaml", folder)
    # Its address, for codes and feeds.
    shutil.copy(DEMO.parent / "mkdocs.yml", folder.parent)
    for first in range(0, versions, VERSIONS_PER_PROGRAMME):
        own = folder / f"programme-{first // VERSIONS_PER_PROGRAMME + 1}"
        own.mkdir()
        (own / "programme.yaml").write_text(_programme(random), encoding="utf-8")
        for number in range(min(VERSIONS_PER_PROGRAMME, versions - first)):
            phase, edition = number // EDITIONS, number % EDITIONS
            text = _version(random, phase, edition, weeks)
            (own / f"{phase + 1}.{edition}.yaml").write_text(text, encoding="utf-8")
    return folder


def sentence(random: Random) -> str:
    """A plain sentence; there are ten thousand and more of them."""
    return (
        f"Keep the {random.choice(THINGS)} {random.choice(QUALITIES)} and the {random.choice(THINGS)} "
        f"{random.choice(QUALITIES)} until part {random.randint(2, 99)}."
    )


def _programme(random: Random) -> str:
    title = f"{random.choice(QUALITIES).capitalize()} {random.choice(THINGS)} {random.randint(2, 999)}"
    return f"""\
title: {title}
summary: {sentence(random)}
audience: {{ages: [13, 15]}}
levels:
  - {{id: starter, name: Starter, experience: beginner, who: {sentence(random)}}}
  - {{id: steady, name: Steady, experience: intermediate, who: {sentence(random)}}}
limits: {{session: 60 min, sessions per week: 3}}
"""


def _version(random: Random, phase: int, edition: int, weeks: int) -> str:
    starts = FIRST_MONDAY + timedelta(weeks=WEEKS * phase)
    changes = f"changes: {sentence(random)}\n" if edition else ""
    days = "".join(_day(random, index, on, weeks) for index, on in enumerate(random.choice(WEEKDAYS)))
    return f"""\
phase: {random.choice(QUALITIES).capitalize()} {random.choice(THINGS)}
aim: {sentence(random)}
starts: {starts}
weeks: {weeks}
levels: [{", ".join(LEVELS)}]
match days: [sat]
{changes}days:
{days}"""


def _day(random: Random, index: int, on: str, weeks: int) -> str:
    title = f"{random.choice(QUALITIES).capitalize()} {random.choice(THINGS)}"
    last = _time_cap(random) if index else _every_minute(random, weeks)
    return f"""\
  - id: day-{index + 1}
    title: {title}
    on: [{on}]
    warm-up: {random.choice(("home-warm-up", "landing-warm-up"))}
    cool-down: {random.choice(("easy-down", "ankles-and-hips-down"))}
    blocks:
      - kind: straight sets
        changeover: 30 s
        rest after: 75 s
        stations:
          - {{exercise: {_by_level(random.choice(JUMPS))}, sets: 2, reps: {_reps(random, 3, 4, weeks)}, rest: 75 s}}
          - {{exercise: {random.choice(EASY)}, sets: {_by_week(random, 1, 2, weeks)}, reps: {_reps(random, 6, 8, weeks)}, rest: 60 s}}
      - kind: circuit
        rounds: {_by_week(random, 2, 3, weeks)}
        rest: 75 s
        changeover: {random.choice((15, 20))} s
        rest after: 75 s
        stations:
          - {{exercise: {_by_level(random.choice(LEGS))}, reps: {_reps(random, 6, 9, weeks)}}}
          - {{exercise: {_by_level(random.choice(ARMS))}, reps: {_reps(random, 8, 11, weeks)}}}
          - {{exercise: {random.choice(TRUNK)}, hold: {_holds(random, weeks)}}}
{last}"""


def _every_minute(random: Random, weeks: int) -> str:
    return f"""\
      - kind: every minute
        minutes: {random.choice((4, 6))}
        stations:
          - {{exercise: bag-hinge, reps: {_reps(random, 6, 9, weeks)}, load: {{starter: 3 kg, steady: {random.choice((4, 5))} kg}}}}
          - {{exercise: towel-chop, reps: {random.choice((5, 6))}}}
"""


def _time_cap(random: Random) -> str:
    return f"""\
      - kind: timed rounds
        lasts: {random.choice((4, 5, 6))} min
        changeover: 15 s
        stations:
          - {{exercise: suitcase-carry, distance: 20 m, takes: 30 s, load: {{starter: 3 kg, steady: 4 kg}}}}
          - {{exercise: {random.choice(TRUNK)}, hold: 20 s}}
          - {{exercise: wall-push-up, reps: {random.choice((8, 9))}}}
"""


def _by_level(names: tuple[str, str]) -> str:
    return f"{{starter: {names[0]}, steady: {names[1]}}}"


def _reps(random: Random, least: int, most: int, weeks: int) -> str:
    return f"{{starter: {_by_week(random, least, most, weeks)}, steady: {_by_week(random, least + 1, most + 1, weeks)}}}"


def _holds(random: Random, weeks: int) -> str:
    rows = (", ".join(f"{random.choice((15, 20, 25))} s" for _ in range(weeks)) for _ in LEVELS)
    return "{" + ", ".join(f"{level}: [{row}]" for level, row in zip(LEVELS, rows, strict=True)) + "}"


def _by_week(random: Random, least: int, most: int, weeks: int) -> str:
    return f"[{', '.join(str(random.randint(least, most)) for _ in range(weeks))}]"
