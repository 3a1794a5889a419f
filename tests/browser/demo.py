"""What the pages of a tree must say, worked out from its files by the oracle, not by the generator."""

import re
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from phasepress.publishing.pages import PAGES

from tests.oracle import oracle

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "programmes"


@dataclass(frozen=True)
class Row:
    """A station of a session. `total` is said beside the dose, `load` is in kg, `times` are clock times."""

    label: str
    exercise: str
    name: str
    dose: str
    total: str
    tempo: str
    load: Fraction
    cue: str
    cautions: tuple[str, ...]
    times: tuple[str, ...]


class Tree:
    """A tree of programme files as plain data."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.files = oracle.read_tree(folder)
        self.club: dict[str, Any] = oracle.load(folder / "club.yaml")

    @cached_property
    def programmes(self) -> dict[str, dict[str, Any]]:
        """`programme.yaml` by programme id."""
        return {name: oracle.load(self.folder / name / "programme.yaml") for name in self._names}

    @property
    def _names(self) -> list[str]:
        return sorted(self.files["programmes"])

    @cached_property
    def versions(self) -> list["Version"]:
        """Every version, oldest first within its programme."""
        names = [
            (programme, name) for programme in self._names for name in self.files["programmes"][programme]
        ]
        order = sorted(names, key=lambda pair: (pair[0], *map(int, pair[1].split("."))))
        return [Version(self, programme, name) for programme, name in order]

    def version(self, programme: str, name: str) -> "Version":
        return next(v for v in self.versions if (v.programme, v.name) == (programme, name))

    def phases(self, programme: str) -> list["Version"]:
        """The newest edition of each phase, by the day it starts."""
        newest = {v.name.split(".")[0]: v for v in self.versions if v.programme == programme}
        return sorted(newest.values(), key=lambda version: version.starts)

    @cached_property
    def days(self) -> list["Day"]:
        return [day for version in self.versions for day in version.days]

    @cached_property
    def sessions(self) -> list["Session"]:
        return [session for day in self.days for session in day.sessions]


class Version:
    """One published version."""

    def __init__(self, tree: Tree, programme: str, name: str) -> None:
        self.tree, self.programme, self.name = tree, programme, name
        self.plan = tree.files["programmes"][programme][name]
        self.address = f"{programme}/{name}/"

    def __repr__(self) -> str:
        return f"{self.programme} {self.name}"

    @property
    def phase(self) -> str:
        return self.plan["phase"]

    @property
    def heading(self) -> str:
        return f"Phase {self.name.split('.')[0]}: {self.phase}"

    @property
    def starts(self) -> date:
        return self.plan["starts"]

    @property
    def weeks(self) -> int:
        return self.plan["weeks"]

    @property
    def ends(self) -> date:
        """The last day of the last week, a Sunday."""
        return self.starts + timedelta(days=7 * self.weeks - 1)

    @cached_property
    def levels(self) -> dict[str, str]:
        """Names by id, in the order of the programme."""
        known = self.tree.programmes[self.programme]["levels"]
        return {level["id"]: level["name"] for level in known if level["id"] in self.plan["levels"]}

    @cached_property
    def days(self) -> list["Day"]:
        return [Day(self, day) for day in self.plan["days"]]

    @property
    def superseded(self) -> bool:
        return self.tree.phases(self.programme) and self not in self.tree.phases(self.programme)

    @property
    def next_starts(self) -> date | None:
        """When the phase that follows starts, if one does."""
        later = [v.starts for v in self.tree.phases(self.programme) if v.starts > self.starts]
        return min(later, default=None)


class Day:
    """One day of a version."""

    def __init__(self, version: Version, plan: dict[str, Any]) -> None:
        self.version, self.plan = version, plan
        self.title = plan["title"]
        self.address = f"{version.address}{plan['id']}/"
        self._sessions: dict[tuple[str, int], Session] = {}

    def __repr__(self) -> str:
        return f"{self.version} {self.plan['id']}"

    @property
    def cells(self) -> list[tuple[str, int]]:
        """(level id, week) of each session."""
        return [(level, week) for level in self.version.levels for week in range(1, self.version.weeks + 1)]

    @property
    def sessions(self) -> list["Session"]:
        return [self.session(level, week) for level, week in self.cells]

    def session(self, level: str, week: int) -> "Session":
        """The same one each time: the oracle walks it once."""
        return self._sessions.setdefault((level, week), Session(self, level, week))


class Session:
    """One level and week of a day."""

    def __init__(self, day: Day, level: str, week: int) -> None:
        self.day, self.level, self.week = day, level, week
        self.version = day.version
        self.level_name = self.version.levels[level]
        self.address = f"{day.address}{level}/week-{week}/"

    def __repr__(self) -> str:
        return f"{self.day} {self.level} week {self.week}"

    @cached_property
    def _walk(self) -> oracle.Session:
        return oracle.Session(self.version.tree.files, self.level, self.week).walk(self.day.plan)

    @property
    def minutes(self) -> int:
        """Whole minutes, rounded up."""
        return -int(-self._walk.clock // 60)

    @property
    def by_hand(self) -> int:
        """Whole minutes without the timer at most: changeovers doubled, rests a quarter longer (chapter 3 of the design),
        but for blocks that last as long as they say."""
        kinds = {block["label"]: block["kind"] for block in self._walk.blocks_of(self.day.plan)}
        more = Fraction(0)
        for part in self.segments:
            after = part["kind"] == "rest" and part["station"] is None and part["round"] is None
            if kinds.get(part["block"]) not in ("every minute", "time cap", "timed rounds") or after:
                more += part["length"] * {"changeover": 1, "rest": Fraction(1, 4)}.get(part["kind"], 0)
        return -int(-(self._walk.clock + more) // 60)

    @cached_property
    def blocks(self) -> list[tuple[str, list[Row]]]:
        """Label and rows of each block; a routine's blocks share its label."""
        return [
            (block["label"], [self._row(station) for station in block["stations"]])
            for block in self._walk.blocks_of(self.day.plan)
        ]

    @cached_property
    def rows(self) -> list[Row]:
        return [row for _, rows in self.blocks for row in rows]

    def row(self, label: str) -> Row:
        """The station of this label. Raises StopIteration where it is left out."""
        return next(row for row in self.rows if row.label == label)

    @property
    def work(self) -> list[dict[str, Any]]:
        """The work segments."""
        return [part for part in self._walk.segments if part["kind"] == "work"]

    @property
    def segments(self) -> list[dict[str, Any]]:
        return self._walk.segments

    def _row(self, station: dict[str, Any]) -> Row:
        exercise = self.version.tree.files["exercises"][station["exercise"]]
        amount, total = dose(exercise, station)
        return Row(
            station["label"],
            station["exercise"],
            exercise["name"],
            amount,
            total,
            station.get("tempo", exercise.get("tempo", "")) if "reps" in station else "",
            oracle.number(station.get("load", "0 kg")),
            exercise["cues"][0],
            tuple(exercise["cautions"]),
            tuple(self._times(station["label"])),
        )

    def _times(self, label: str) -> list[str]:
        starts: dict[int, Fraction] = {}
        for part in self.work:
            if part["station"] == label:
                starts.setdefault(part["round"], part["start"])
        return [clock(starts[turn]) for turn in sorted(starts)]


def dose(exercise: dict[str, Any], station: dict[str, Any]) -> tuple[str, str]:
    """The dose in words, and the total of both sides in words where there are two."""
    two_sides = " each side" if exercise["sides"] == "each" else ""
    if "reps" in station:
        if exercise["sides"] == "both":
            return f"{station['reps']} reps", ""
        return f"{station['reps']} each side", f"{2 * station['reps']} in total"
    if "distance" in station:
        return station["distance"], ""
    length = oracle.seconds(station.get("hold") or station["work"])
    total = f"{length_words(2 * length)} in total" if two_sides else ""
    return f"{'hold ' if 'hold' in station else ''}{length_words(length)}{two_sides}", total


def length_words(seconds: Fraction) -> str:
    minutes, rest = divmod(seconds, 60)
    return " ".join([f"{minutes} min"] * bool(minutes) + [f"{float(rest):g} s"] * bool(rest))


def clock(seconds: Fraction) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"


def recipe_kg(club: dict[str, Any], words: str) -> Fraction:
    """What `2 × large bottle + 1 × ream of A4 paper` weighs by the club's kit; a litre of water is 1 kg."""
    masses = {thing["item"]: thing.get("mass") or thing["holds"] for thing in club["kit"]}
    parts = [re.fullmatch(r"(\d+) × (.+)", part) for part in words.split(" + ")]
    assert all(parts), f"no recipe: {words}"
    return sum((int(p[1]) * oracle.number(masses[p[2]]) for p in parts if p), Fraction(0))


def near(kg: Fraction, target: Fraction) -> bool:
    """Within ±0.25 kg or ±5 %."""
    return abs(kg - target) <= max(Fraction(1, 4), target / 20)


def cells_named(label: str, levels: list[str], weeks: int) -> set[tuple[str, int]]:
    """(level name, week) of each session that `Starter: weeks 1 and 4; Steady: all weeks` names."""
    named = set()
    for part in (label or "All levels: all weeks").split("; "):
        who, _, when = part.rpartition(": ")
        numbers = range(1, weeks + 1) if when == "all weeks" else _weeks_named(when)
        named |= {(level, week) for level in (levels if who == "All levels" else [who]) for week in numbers}
    return named


def _weeks_named(text: str) -> list[int]:
    assert re.match(r"weeks? \d", text), f"not a list of weeks: {text}"
    runs = re.findall(r"(\d+)(?: to (\d+))?", text)
    return [week for first, last in runs for week in range(int(first), int(last or first) + 1)]


@cache
def demo() -> Tree:
    """The demo club."""
    return Tree(DEMO)


@cache
def kinds() -> dict[str, str]:
    """An address of each kind of page of the demo: of the oldest version, and of the day with the most sessions."""
    tree = demo()
    oldest = next(version for version in tree.versions if version.superseded)
    day = max(tree.days, key=lambda one: len(one.cells))
    session = day.sessions[-2]
    laddered = [id for id, one in tree.files["exercises"].items() if one.get("easier") and one.get("harder")]
    old = {"programme": oldest.programme, "version": oldest.name, "exercise": sorted(laddered)[0]}
    wide = {
        "programme": day.version.programme,
        "version": day.version.name,
        "day": day.plan["id"],
        "level": session.level,
        "week": session.week,
    }
    found = {kind.name: kind.address.at(**(wide if "day" in kind.address.names else old)) for kind in PAGES}
    return {**found, "older session": oldest.days[0].sessions[0].address, "missing": "404.html"}
