"""A second, independent computation of session time and volume.

It is the outside check of the figures that phasepress prints: it shares no code with the generator, and
is written the other way round. There is no pipeline. A `Session` is walked through once with a clock in
hand, as an athlete would do it, and whatever is done is written down and counted at that moment.

All seconds and kilograms are exact `fractions.Fraction` values. The files are taken to be well formed:
a fault in them raises whatever Python raises.
"""

import re
from fractions import Fraction
from pathlib import Path
from statistics import mean, pstdev

from ruamel.yaml import YAML

SIDE_CHANGE = Fraction(5)
LANDINGS = ("low", "medium", "high")


# --- reading the files ---------------------------------------------------------------------------------


def load(path):
    """One YAML 1.2 file as plain dicts, lists and scalars."""
    return YAML(typ="safe", pure=True).load(Path(path).read_text(encoding="utf-8"))


def read_tree(folder):
    """`{"exercises": {id: …}, "routines": {id: …}, "programmes": {id: {version: …}}}` of a programmes tree."""
    folder = Path(folder)
    return {
        "exercises": {path.stem: load(path) for path in folder.glob("exercises/*.yaml")},
        "routines": {path.stem: load(path) for path in folder.glob("routines/*.yaml")},
        "programmes": {path.parent.name: versions(path.parent) for path in folder.glob("*/programme.yaml")},
    }


def versions(folder):
    """`{"1.0": …}` of one programme folder."""
    return {path.stem: load(path) for path in folder.iterdir() if re.fullmatch(r"\d+\.\d+\.yaml", path.name)}


# --- amounts -------------------------------------------------------------------------------------------


def pick(written, level, week):
    """What a value that may vary by level, by week or by both says for this level and week (from 1)."""
    if isinstance(written, dict):
        written = written[level] if level in written else written["other"]
    if isinstance(written, list):
        written = written[week - 1]
    return written


def seconds(written):
    """`45 s`, `2 min`, `1 min 30 s` or `1:30` in seconds."""
    if ":" in written:
        minutes, rest = written.split(":")
        return 60 * Fraction(minutes) + Fraction(rest)
    pairs = re.findall(r"([\d.]+)\s*(min|s)\b", written)
    return sum((Fraction(number) * (60 if unit == "min" else 1) for number, unit in pairs), Fraction(0))


def number(written):
    """The number that an amount begins with: `2.5 kg` is 5/2, a bare 1.5 is 3/2."""
    return Fraction(re.match(r"[\d.]+", str(written)).group())


def upper_end(written):
    """A range such as `8-10` counts as its upper end."""
    return int(str(written).split("-")[-1])


def one_rep(exercise, tempo=None):
    """Seconds of one rep, or None where nothing says how long a rep is. The muscles work in all of them.

    A tempo of the station stands before anything the exercise says.
    """
    tempo = tempo or exercise.get("tempo")
    if tempo:
        counts = [Fraction(1) if count == "X" else Fraction(count) for count in tempo.split("-")]
        parts = exercise.get("parts", 1)
        return parts * sum(counts)
    if "seconds per rep" in exercise:
        return number(exercise["seconds per rep"])
    return None


# --- one bout of one station ---------------------------------------------------------------------------


def bout(exercise, station):
    """What one bout is made of and what it counts; `station` holds settled values, no weeks or levels.

    `pieces` are (kind, seconds, side, reps) in order; reps, tension and contacts are of the whole bout.
    """
    if "distance" in station:
        takes = seconds(station["takes"])
        return {"pieces": [("work", takes, None, 0)], "reps": 0, "tension": takes, "contacts": 0}
    if "reps" in station:
        return bout_of_reps(exercise, station)
    return bout_of_time(exercise, station)


def bout_of_reps(exercise, station):
    long = one_rep(exercise, station.get("tempo"))
    reps = upper_end(station["reps"])
    total = reps if exercise["sides"] == "both" else 2 * reps
    go = reps if exercise["sides"] == "each" else total
    return {
        "pieces": sided(exercise, go * long, go),
        "reps": total,
        "tension": total * long,
        "contacts": total * exercise.get("contacts", 0),
    }


def bout_of_time(exercise, station):
    length = seconds(station["hold"] if "hold" in station else station["work"])
    goes = 2 if exercise["sides"] == "each" else 1
    contacts = 0
    if "work" in station and exercise.get("contacts", 0):
        fit = length // one_rep(exercise, station.get("tempo"))
        contacts = goes * fit * exercise["contacts"]
    return {
        "pieces": sided(exercise, length, 0),
        "reps": 0,
        "tension": goes * length,
        "contacts": contacts,
    }


def sided(exercise, length, reps):
    if exercise["sides"] != "each":
        return [("work", length, None, reps)]
    return [
        ("work", length, "left", reps),
        ("side change", SIDE_CHANGE, None, 0),
        ("work", length, "right", reps),
    ]


# --- walking through a session -------------------------------------------------------------------------


class Session:
    """One session of one level and week, walked through with a clock.

    After `walk`, `segments` is the running order and `figures()` the volume. A work segment of a bout that
    a time cap cuts off carries `cut: True`; those count as time, never as volume.
    """

    def __init__(self, tree, level, week):
        self.tree, self.level, self.week = tree, level, week
        self.clock = Fraction(0)
        self.deadline = None
        self.segments = []
        self.sets = self.reps = 0
        self.tension = self.load_volume = Fraction(0)
        self.contacts = {"all": 0, "low": 0, "medium": 0, "high": 0}
        self.patterns = {}

    def walk(self, day):
        """The warm-up, the blocks of the day and the cool-down, with the rest between them."""
        rest, before = None, None
        for block in self.blocks_of(day):
            if rest is not None:
                self.spend("rest", rest, block=before["label"])
            WAYS[block["kind"]](self, block)
            self.deadline = None
            rest, before = self.duration(block, "rest after", "60 s"), block
        return self

    # What is done at all, in this level and week.

    def blocks_of(self, day):
        """The blocks that are done, each with its label and with the stations that are done."""
        written = self.routine(day["warm-up"], "warm-up")
        for place, block in enumerate(day["blocks"]):
            letter = chr(ord("A") + place)
            labels = [f"{letter}{at}" for at in range(1, len(block["stations"]) + 1)]
            written.append({**block, "label": letter, "stations": self.stations_of(block, labels)})
        if "cool-down" in day:
            written += self.routine(day["cool-down"], "cool-down")
        return [block for block in written if block["stations"] and not self.left_out(block)]

    def routine(self, name, label):
        """The blocks of a routine; its stations are numbered through from block to block."""
        blocks, used = [], 0
        for block in self.tree["routines"][name]["blocks"]:
            labels = [f"{label} {used + at}" for at in range(1, len(block["stations"]) + 1)]
            used += len(block["stations"])
            blocks.append({**block, "label": label, "stations": self.stations_of(block, labels)})
        return blocks

    def stations_of(self, block, labels):
        settled = []
        for label, station in zip(labels, block["stations"], strict=True):
            here = {key: pick(value, self.level, self.week) for key, value in station.items()}
            if not self.left_out(here):
                settled.append({**here, "label": label})
        return settled

    def left_out(self, thing):
        """Whether an amount of 0 leaves out this station or block."""
        for key in ("rounds", "sets", "minutes", "reps", "distance"):
            if key in thing and number(pick(thing[key], self.level, self.week)) == 0:
                return True
        for key in ("hold", "work", "lasts"):
            if key in thing and seconds(pick(thing[key], self.level, self.week)) == 0:
                return True
        return False

    def duration(self, thing, key, default):
        return seconds(pick(thing.get(key, default), self.level, self.week))

    def count(self, block, key):
        return int(pick(block[key], self.level, self.week))

    # The clock.

    def spend(self, kind, length, **about):
        """Let time pass, up to the cap, and write the segment down."""
        if self.deadline is not None:
            length = min(length, self.deadline - self.clock)
        if length > 0:
            blank = {"block": None, "station": None, "exercise": None, "round": None, "side": None, "reps": 0}
            self.segments.append({"start": self.clock, "length": length, "kind": kind, **blank, **about})
            self.clock += length

    def do(self, block, station, turn):
        """One bout of a station: its time, and its volume if it is finished. Gives its full seconds."""
        exercise = self.tree["exercises"][station["exercise"]]
        done = bout(exercise, station)
        about = {
            "block": block["label"],
            "station": station["label"],
            "exercise": station["exercise"],
            "round": turn,
        }
        full = sum(length for _, length, _, _ in done["pieces"])
        cut = self.deadline is not None and self.clock + full > self.deadline
        for kind, length, side, reps in done["pieces"]:
            self.spend(kind, length, side=side, reps=reps, cut=cut, **about)
        if not cut:
            self.tally(block, station, exercise, done)
        return full

    def tally(self, block, station, exercise, done):
        self.contacts["all"] += done["contacts"]
        if exercise.get("landing", "none") in LANDINGS:
            self.contacts[exercise["landing"]] += done["contacts"]
        if block["label"] in ("warm-up", "cool-down"):
            return
        self.sets += 1
        self.reps += done["reps"]
        self.tension += done["tension"]
        self.load_volume += number(station.get("load", "0 kg")) * done["reps"]
        pattern = self.patterns.setdefault(exercise["pattern"], {"sets": 0, "reps": 0, "tension_seconds": 0})
        pattern["sets"] += 1
        pattern["reps"] += done["reps"]
        pattern["tension_seconds"] += done["tension"]

    # The four kinds of block.

    def circuit(self, block):
        rest = self.duration(block, "rest", "60 s")
        between = self.duration(block, "changeover", "15 s")
        for turn in range(1, self.count(block, "rounds") + 1):
            if turn > 1:
                self.spend("rest", rest, block=block["label"])
            for place, station in enumerate(block["stations"]):
                if place > 0:
                    self.spend("changeover", between, block=block["label"])
                self.do(block, station, turn)

    def straight_sets(self, block):
        between = self.duration(block, "changeover", "30 s")
        for place, station in enumerate(block["stations"]):
            if place > 0:
                self.spend("changeover", between, block=block["label"])
            for turn in range(1, int(station["sets"]) + 1):
                if turn > 1:
                    self.spend("rest", self.duration(station, "rest", "60 s"), block=block["label"])
                self.do(block, station, turn)

    def every_minute(self, block):
        stations = block["stations"]
        for minute in range(self.count(block, "minutes")):
            station = stations[minute % len(stations)]
            used = self.do(block, station, 1 + minute // len(stations))
            self.spend("wait", 60 - used, block=block["label"])

    def timed_rounds(self, block):
        stations = block["stations"]
        between = self.duration(block, "changeover", "15 s")
        self.deadline = self.clock + self.duration(block, "lasts", None)
        bouts = 0
        while self.clock < self.deadline:
            if bouts > 0:
                self.spend("changeover", between, block=block["label"])
            if self.clock < self.deadline:
                self.do(block, stations[bouts % len(stations)], 1 + bouts // len(stations))
            bouts += 1

    # What it comes to.

    def figures(self):
        """The figures of the session, named as in the report."""
        work = sum((part["length"] for part in self.segments if part["kind"] == "work"), Fraction(0))
        return {
            "seconds": self.clock,
            "work_seconds": work,
            "sets": self.sets,
            "reps": self.reps,
            "tension_seconds": self.tension,
            "contacts": self.contacts,
            "load_volume_kg": self.load_volume,
            "density": work / self.clock if self.clock else Fraction(0),
            "patterns": self.patterns,
        }


WAYS = {
    "circuit": Session.circuit,
    "straight sets": Session.straight_sets,
    "every minute": Session.every_minute,
    "timed rounds": Session.timed_rounds,
}


# --- the two answers -----------------------------------------------------------------------------------


def order(tree, programme, version, day, level, week):
    """`{"segments": […], "seconds": …}` of one session, as the order command prints it."""
    plan = tree["programmes"][programme][version]
    chosen = next(one for one in plan["days"] if one["id"] == day)
    session = Session(tree, level, week).walk(chosen)
    return {"segments": session.segments, "seconds": session.clock}


def report(tree):
    """`{"versions": […]}` of the whole tree, as the report command prints it, without the plan's fingerprint."""
    return {
        "versions": [
            {
                "programme": programme,
                "version": version,
                "phase": plan["phase"],
                "sessions": sessions(tree, plan),
            }
            for programme, plans in sorted(tree["programmes"].items())
            for version, plan in sorted(plans.items())
        ]
    }


def sessions(tree, plan):
    """The figures of every day, level and week of one version."""
    return [
        {"day": day["id"], "level": level, "week": week, **Session(tree, level, week).walk(day).figures()}
        for day in plan["days"]
        for level in plan["levels"]
        for week in range(1, plan["weeks"] + 1)
    ]


# --- how hard a week was -------------------------------------------------------------------------------


def effort_load(minutes, effort):
    """Session load: effort on the 0–10 scale times minutes."""
    return effort * minutes


def week_spread(loads):
    """(mean, monotony) of the seven daily loads of a week; the deviation is that of the seven days themselves.

    Monotony is mean / standard deviation (Foster 1998, abstract), which leaves open whether the deviation
    divides by n or n-1; here by n, since the seven days are all there are.
    """
    return mean(loads), mean(loads) / pstdev(loads)
