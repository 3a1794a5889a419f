"""Made-up running orders and taps, and what becomes of them when a clock is followed tick by tick.

`TickSimulator` is a second, slower reading of what a guided session does: it knows nothing of the scripts and moves on a
tenth of a second at a time, by the rules of the format and of the site's own documentation.
"""

from dataclasses import dataclass, field
from random import Random
from typing import Any

TICK = 100
LEAD = 5_000
AGAIN_AFTER = 2_000
MINUTE = 60_000
Line = dict[str, Any]


@dataclass
class Order:
    """A session as the page has it: lines, kinds of its blocks, what its stations are counted in."""

    lines: list[Line] = field(default_factory=list)
    kinds: dict[str, str] = field(default_factory=dict)
    measures: dict[str, str] = field(default_factory=dict)
    rules: dict[str, Any] = field(default_factory=dict)

    @property
    def length(self) -> int:
        return sum(line["length"] for line in self.lines)

    def as_given(self) -> dict[str, Any]:
        return {"lines": self.lines, "kinds": self.kinds, "measures": self.measures, "rules": self.rules}


def made_up(rng: Random) -> Order:
    """A session of one to four blocks of every kind; lengths in tenths of seconds."""
    order = Order()
    for number in range(rng.randint(1, 4)):
        kind = rng.choice(["circuit", "straight sets", "every minute", "timed rounds"])
        order.kinds[str(number)] = kind
        if order.lines and rng.random() < 0.8:
            order.lines.append(_line(order, "rest", rng.randint(1, 300) * TICK, str(number - 1)))
        stations = [_station(order, rng, f"{chr(65 + number)}{n + 1}") for n in range(rng.randint(1, 3))]
        order.lines += _BLOCKS[kind](order, rng, str(number), stations)
    start = 0
    for line in order.lines:
        line["start"] = start
        start += line["length"]
    return order


def _station(order: Order, rng: Random, label: str) -> dict[str, Any]:
    order.measures[label] = rng.choice(["reps", "hold", "time", "distance"])
    if rng.random() < 0.7:
        order.rules[label] = _rule(rng)
    sides = rng.choice(["both", "each"])
    return {"label": label, "sides": sides, "length": rng.randint(5, 250) * TICK}


WAYS = ("", "easier", "another")


def _rule(rng: Random) -> dict[str, Any]:
    """What may be done in place of what is planned: `timed` means that a clock ends it whatever the pace."""
    ways = {way: {"timed": rng.random() < 0.4, "lands": rng.random() < 0.3} for way in WAYS[1:]}
    instead = {"way": "instead", "timed": rng.random() < 0.4} if rng.random() < 0.7 else None
    return {"lands": rng.random() < 0.5, "ways": ways, "instead": instead}


def _line(order: Order, kind: str, length: int, block: str, **more: Any) -> Line:
    blank = {"station": None, "round": None, "side": None, "reps": None}
    return {"length": length, "kind": kind, "block": block} | blank | more


def _bout(order: Order, block: str, station: dict[str, Any], round_: int) -> list[Line]:
    of = {"station": station["label"], "round": round_}
    counted = {"reps": 4} if order.measures[station["label"]] == "reps" else {}
    if station["sides"] == "both":
        return [_line(order, "work", station["length"], block, **of, **counted)]
    left, right = (
        _line(order, "work", station["length"], block, side=side, **of, **counted)
        for side in ("left", "right")
    )
    return [left, _line(order, "side change", 5_000, block, **of), right]


def _circuit(order: Order, rng: Random, block: str, stations: list[dict[str, Any]]) -> list[Line]:
    lines: list[Line] = []
    rounds = rng.randint(1, 3)
    for round_ in range(1, rounds + 1):
        for index, station in enumerate(stations):
            if index:
                lines.append(_line(order, "changeover", 1_500, block, round=round_))
            lines += _bout(order, block, station, round_)
        if round_ < rounds:
            lines.append(_line(order, "rest", 6_000, block, round=round_))
    return lines


def _straight_sets(order: Order, rng: Random, block: str, stations: list[dict[str, Any]]) -> list[Line]:
    lines: list[Line] = []
    for index, station in enumerate(stations):
        if index:
            lines.append(_line(order, "changeover", 3_000, block))
        sets = rng.randint(1, 3)
        for set_ in range(1, sets + 1):
            lines += _bout(order, block, station, set_)
            if set_ < sets:
                lines.append(_line(order, "rest", 4_500, block, station=station["label"], round=set_))
    return lines


def _every_minute(order: Order, rng: Random, block: str, stations: list[dict[str, Any]]) -> list[Line]:
    lines: list[Line] = []
    for minute in range(rng.randint(1, 4)):
        station, round_ = stations[minute % len(stations)], minute // len(stations) + 1
        bout = _bout(order, block, station, round_)
        wait = MINUTE - sum(line["length"] for line in bout)
        lines += bout
        lines.append(_line(order, "wait", wait, block, station=station["label"], round=round_))
    return lines


def _timed_rounds(order: Order, rng: Random, block: str, stations: list[dict[str, Any]]) -> list[Line]:
    cap = rng.randint(20, 1_200) * TICK
    lines: list[Line] = []
    round_ = 1
    while True:
        for station in stations:
            for line in [
                *_bout(order, block, station, round_),
                _line(order, "changeover", 1_500, block, round=round_),
            ]:
                if line["length"] >= cap:
                    lines.append(line | {"length": cap})
                    return lines
                cap -= line["length"]
                lines.append(line)
        round_ += 1


_BLOCKS = {
    "circuit": _circuit,
    "straight sets": _straight_sets,
    "every minute": _every_minute,
    "timed rounds": _timed_rounds,
}


def taps(rng: Random, order: Order, types: list[str], many: int) -> list[dict[str, Any]]:
    """A start and then taps at random moments, some of them close together."""
    length = order.length
    at, found = 0, [{"type": "start", "at": 0, "pace": rng.choice(["paced", "own"])}]
    for _ in range(many):
        near = rng.random() < 0.3
        at += rng.randint(0, 15 if near else max(20, 3 * length // TICK // max(many, 1))) * TICK
        kind = rng.choice(types)
        more: dict[str, Any] = {}
        if kind == "pace":
            more = {"pace": rng.choice(["paced", "own"])}
        elif kind == "way":
            more = {"station": rng.choice(sorted(order.measures)), "way": rng.choice(WAYS)}
        elif kind == "jumps":
            more = {"off": rng.random() < 0.6}
        found.append({"type": kind, "at": at, **more})
    return found


class TickSimulator:
    """Follows a session tick by tick. `segments` is the plan as the page's script has made it ready."""

    def __init__(self, plan: dict[str, Any], events: list[dict[str, Any]]) -> None:
        self.segments: list[dict[str, Any]] = plan["segments"]
        self.bouts: list[dict[str, Any]] = plan["bouts"]
        self.rules: dict[str, Any] = plan.get("rules", {})
        self.events = events
        self.ways: dict[str, str] = {}
        self.no_jumps = False
        self.now = 0
        self.index, self.into, self.clock = 0, -LEAD, 0
        self.pace, self.running, self.stopped, self.ran = "paced", False, False, False
        self.whole: set[int] = set()
        self.done: list[int] = []
        self.done_ways: list[str] = []
        self.skips: list[tuple[int, int, int, bool, int, int | None]] = []
        self._taken = 0

    def at(self, now: int) -> tuple[int, int, list[int], str]:
        """Where it stands at a time, which may not be before that of the last call."""
        while True:
            self._take_due()
            self._pass_ended()
            if self.now >= now:
                return self.index, self.into, list(self.done), self._phase()
            self._tick()

    def _phase(self) -> str:
        if self.stopped or self.index >= len(self.segments):
            return "over"
        return "paused" if not self.running else "ready" if self.into < 0 else "going"

    def _take_due(self) -> None:
        while self._taken < len(self.events) and self.events[self._taken]["at"] <= self.now:
            self._pass_ended()
            event = self.events[self._taken]
            self._taken += 1
            getattr(self, f"_on_{event['type']}")(event)

    def _tick(self) -> None:
        if self.running and self.index < len(self.segments):
            if self.into >= 0:
                self.clock += TICK
            self.into += TICK
        self.now += TICK

    @property
    def _here(self) -> dict[str, Any]:
        return self.segments[self.index]

    def _waits(self) -> bool:
        if self.pace != "own" or not self._here["own"]:
            return False
        way = self._way(self._here["station"])
        return way is not None and not way[1]

    def _way(self, station: str) -> tuple[str, bool] | None:
        """The way a station is done and whether a clock ends it; None where it is left out."""
        name = self.ways.get(station, "")
        rule = self.rules.get(station)
        if rule is None:
            return name, False
        chosen = rule["ways"].get(name, {"timed": False, "lands": rule["lands"]})
        if not (self.no_jumps and chosen["lands"]):
            return name, chosen["timed"]
        instead = rule["instead"]
        return (instead["way"], instead["timed"]) if instead else None

    def _waits_for_the_limit(self) -> bool:
        return self._here["kind"] == "wait" and self._here["ends"] is not None

    def _pass_ended(self) -> None:
        while self.running and self.index < len(self.segments):
            up = self._here["ends"] is not None and self.clock >= self._here["ends"]
            full = self.into >= self._here["length"] and not self._waits() and not self._waits_for_the_limit()
            if not (up or full):
                return
            if self.into >= self._here["length"]:
                self._finish()
            to = self.index + 1
            while up and to < len(self.segments) and self._same_limit(to):
                to += 1
            self._go(to)
            self.skips = []

    def _same_limit(self, to: int) -> bool:
        one = self.segments[to]
        return one["group"] == self._here["group"] and one["ends"] == self._here["ends"]

    def _go(self, to: int, clock: int | None = None) -> None:
        group = self._here["group"] if self.index < len(self.segments) else None
        self.index, self.into = to, 0
        if to >= len(self.segments):
            self.running = False
        elif self._here["group"] != group:
            self.clock = self._here["at"]
        elif clock is not None:
            self.clock = clock

    def _finish(self, index: int | None = None) -> None:
        index = self.index if index is None else index
        station = self.segments[index]["station"]
        way = self._way(station) if station else ("", False)
        if way is None:
            return
        self.whole.add(index)
        for number, bout in enumerate(self.bouts):
            if number not in self.done and index in bout["parts"] and set(bout["parts"]) <= self.whole:
                self.done.append(number)
                self.done_ways.append(way[0])

    def _on_way(self, event: dict[str, Any]) -> None:
        self.ways[event["station"]] = event["way"]

    def _on_jumps(self, event: dict[str, Any]) -> None:
        self.no_jumps = event["off"]

    def _on_round(self, event: dict[str, Any]) -> None:
        """The rest of the round of timed rounds is done; the next one begins, or the wait for the end."""
        if not self.running or self.into < 0 or not self._here["timed"] or self._here["round"] is None:
            return
        was, kept, round_ = (
            (self.index, self.into, self.clock, self.running),
            len(self.done),
            self._here["round"],
        )
        to = self.index
        while to < len(self.segments) and (self.segments[to]["round"], self.segments[to]["group"]) == (
            round_,
            self.segments[was[0]]["group"],
        ):
            if self.segments[to]["kind"] == "work":
                self._finish(to)
            to += 1
        self._go(to)
        self.skips.append((*was, to, kept))

    def _on_start(self, event: dict[str, Any]) -> None:
        self.pace, self.running = event["pace"], bool(self.segments)

    def _on_pace(self, event: dict[str, Any]) -> None:
        self.pace = event["pace"]

    def _on_pause(self, event: dict[str, Any]) -> None:
        self.running = False

    def _on_stop(self, event: dict[str, Any]) -> None:
        if not self.stopped:
            self.ran = self.running
        self.running, self.stopped = False, True

    def _on_resume(self, event: dict[str, Any]) -> None:
        self.stopped, self.running = False, self.index < len(self.segments)

    def _on_done(self, event: dict[str, Any]) -> None:
        if self.running and self.into >= 0 and self._waits():
            self._finish()
            self._go(self.index + 1)
            self.skips = []

    def _on_skip(self, event: dict[str, Any]) -> None:
        if self.stopped or self.index >= len(self.segments):
            return
        was = (self.index, self.into, self.clock, self.running)
        if self.into < 0:
            self.into = 0
        else:
            later = self.index + 1 < len(self.segments) and self._same_limit(self.index + 1)
            limit = self._here["ends"]
            self._go(self.index + 1, self.clock if later or limit is None else limit)
        self.skips.append((*was, self.index, None))

    def _on_back(self, event: dict[str, Any]) -> None:
        if self.stopped:
            self.stopped, self.running = False, self.ran
            return
        if self.skips:
            index, into, clock, running, to, kept = self.skips.pop()
            if to == self.index:
                if self.index >= len(self.segments):
                    self.running = running
                self.index, self.into, self.clock = index, into, clock
                if kept is not None:
                    del self.done[kept:], self.done_ways[kept:]
                    ended = {part for number in self.done for part in self.bouts[number]["parts"]}
                    self.whole -= {part for part in self.whole if part >= index and part not in ended}
                return
            self.skips = []
        if self.into < 0:
            return
        if self.index >= len(self.segments):
            listed = [one["index"] for one in self.segments if one["line"] is not None]
            self.index, self.into = listed[-1], 0
            self.clock, self.running = self._here["at"], True
        elif self.into >= AGAIN_AFTER or self.index == 0:
            self.clock -= self.into
            self.into = 0
        else:
            began = self.clock - self.into
            before = self.segments[self.index - 1]
            self._go(self.index - 1, max(0, min(began, before["at"])))
