"""A second review, apart from the generator: it shares no code with it, and plans come from the oracle.

It reads the records as they were written, before any file was made of them, and walks day by day.
"""

import re
from collections import Counter, defaultdict
from datetime import UTC, date, datetime, timedelta
from statistics import mean, stdev

from tests.oracle import oracle


def day_of(one):
    """The local date of a record that knows its minutes from UTC."""
    return datetime.fromtimestamp(one["started"] / 1000 + 60 * one["utc"], UTC).date()


def level_of(one):
    return one["address"].split("/")[3]


class Plan:
    """What the oracle says of sessions and weeks."""

    def __init__(self, folder):
        self.tree = oracle.read_tree(folder)
        self.kept = {}

    def bouts(self, one):
        """{label: how many bouts end in time}, of the day's own blocks, and the labels in timed rounds."""
        key = (one["programme"], one["version"], one["day"], level_of(one), one["week"])
        if key not in self.kept:
            walked = oracle.order(self.tree, *key)
            ends = {}
            for segment in walked["segments"]:
                label = segment["station"] or ""
                if segment["kind"] == "work" and re.fullmatch(r"[A-Z]\d+", label):
                    ends.setdefault(label, {})[segment["round"]] = not segment.get("cut", False)
            blocks = oracle.Session(self.tree, level_of(one), one["week"]).blocks_of(self.day(one))
            timed = {
                station["label"]
                for block in blocks
                if block["kind"] == "timed rounds" and len(block["label"]) == 1
                for station in block["stations"]
            }
            for label in timed:
                ends.setdefault(label, {})
            self.kept[key] = (
                {label: sum(rounds.values()) for label, rounds in ends.items()},
                timed,
                walked["seconds"],
            )
        return self.kept[key]

    def day(self, one):
        days = self.tree["programmes"][one["programme"]][one["version"]]["days"]
        return next(day for day in days if day["id"] == one["day"])

    def planned(self, programme, level, monday):
        """Sessions of the newest edition that is on in a week."""
        newest = {}
        for name, version in self.tree["programmes"][programme].items():
            phase, edition = map(int, name.split("."))
            if phase not in newest or newest[phase][0] < edition:
                newest[phase] = (edition, name, version)
        total = 0
        for _, name, version in newest.values():
            week = (monday - date.fromisoformat(str(version["starts"]))).days // 7 + 1
            if 1 <= week <= version["weeks"] and level in version.get("levels", [level]):
                for day in version["days"]:
                    one = {"programme": programme, "version": name, "day": day["id"], "week": week}
                    one["address"] = f"///{level}"
                    if any(self.bouts(one)[0].values()):
                        total += len(day["on"])
        return total


def finished(one, plan):
    """{label: {round: way}} of what counts of a record."""
    bouts, timed, _ = plan.bouts(one)
    found = defaultdict(dict)
    for done in one["stations"]:
        label, number = done["label"], done["round"]
        if label in bouts and number >= 1 and (number <= bouts[label] or label in timed):
            found[label][number] = done["way"]
    return found


def is_done(one, plan):
    bouts = plan.bouts(one)[0]
    done = finished(one, plan)
    inside = sum(number <= bouts[label] for label, rounds in done.items() for number in rounds)
    return inside >= sum(bouts.values()) / 2


def athlete(records, plan):
    """{monday: figures} of one athlete."""
    days = defaultdict(list)
    for one in records:
        days[day_of(one)].append(one)
    first, last = min(days), max(days)
    monday = first - timedelta(days=first.weekday())
    weeks = {}
    while monday <= last:
        week = [monday + timedelta(days=number) for number in range(7)]
        own = [one for day in week for one in days.get(day, [])]
        before = [one for one in records if day_of(one) <= week[-1]]
        newest = max(before, key=lambda one: (day_of(one), one["started"], one["id"]))
        loads = [sum((one["effort"] or 0) * one["seconds"] / 60 for one in days.get(day, [])) for day in week]
        unknown = sum(one["effort"] is None for one in own)
        even = None if unknown or len(set(loads)) == 1 else mean(loads) / stdev(loads)
        known = [one for one in own if one["effort"] is not None]
        load = None if own and not known else sum(loads)
        weeks[monday.isoformat()] = {
            "sessions": sum(is_done(one, plan) for one in own),
            "begun": sum(not is_done(one, plan) for one in own),
            "planned": plan.planned(newest["programme"], level_of(newest), monday),
            "minutes": sum(one["seconds"] for one in own) / 60,
            "load": load,
            "unknown": unknown,
            "effort": mean(one["effort"] for one in known) if known else None,
            "monotony": even,
            "strain": None if even is None else even * load,
        }
        monday += timedelta(days=7)
    return weeks


def stations(records, plan):
    """{(programme, version, day, level, label): [planned, done, easier, skipped, {way: n}]} of all records."""
    found = {}
    for one in records:
        bouts = plan.bouts(one)[0]
        done = finished(one, plan)
        for label, many in bouts.items():
            if not many and not done[label]:
                continue
            key = (one["programme"], one["version"], one["day"], level_of(one), label)
            sums = found.setdefault(key, [0, 0, 0, 0, Counter()])
            ways = Counter(way for way in done[label].values() if way)
            sums[0] += many
            sums[1] += len(done[label])
            sums[2] += ways.total()
            sums[3] += sum(number not in done[label] for number in range(1, many + 1))
            sums[4] += ways
    return found
