"""A guided session under a clock that stands still until the test moves it, and what its screen must show then.

`ExpectedScreen` is worked out from the programme files by the oracle; the site's scripts and pages have no part in it.
"""

import json
import re
import time
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.demo import Session, demo, length_words
from tests.oracle import oracle

LEAD = 5
"""Seconds to put the phone down."""
NOON = "2027-03-03T12:00:00"
BETWEEN = {
    "side change": "Change sides",
    "changeover": "Go to the next station",
    "rest": "Rest",
    "wait": "Rest",
}
# What the screen shows: every place that is seen, by its name. The signs that keep names apart are no words.
READ = r"""() => Object.fromEntries([...document.querySelectorAll(".guide [data-say]")].map((one) =>
  [one.dataset.say, one.hidden ? "" : one.textContent.replace(/[\u2068\u2069]/g, "")]))"""

LINE = """[...document.querySelectorAll("[data-order] [data-s]")]
  .findIndex((line) => line.getAttribute("aria-current") === "step")"""


def longest() -> Session:
    """The session of the demo's newest phase at home that has the most segments."""
    newest = demo().phases("home-strength")[-1]
    ours = (session for day in newest.days for session in day.sessions)
    return max(ours, key=lambda session: len(session.segments))


@dataclass(frozen=True)
class ExpectedScreen:
    """What the screen shows at a moment."""

    mark: str
    round: str
    what: str
    dose: str
    side: str
    cue: str
    count: str
    digits: str
    next: str


def begin(
    where: BrowserContext | Page,
    site_url: str,
    session: Session,
    *,
    pace: str = "paced",
    moving: bool = False,
) -> Page:
    """The page of a session that has begun at this moment, a new one or one that is used again; its clock stands still.

    Its figure stands still too, as for people who want no motion, unless it is `moving`: to draw one takes a quarter of
    a processor for as long as the test runs.
    """
    page = where if isinstance(where, Page) else where.new_page()
    if not moving:
        page.emulate_media(reduced_motion="reduce")
    page.clock.install(time=NOON)
    page.goto(site_url + session.address)
    if pace == "own":
        choose_own_pace(page, site_url)
    stand_still(page)
    start(page)
    return page


def stand_still(page: Page) -> None:
    """From here on time goes only as far as the test moves it."""
    now = page.evaluate("Date.now()")
    page.clock.pause_at((now + 10_000) / 1000)


def press(target: Locator) -> None:
    """A tap without the way of the finger, which takes seven times as long; every hand of `HANDS` goes it."""
    target.evaluate("one => one.click()")


def start(page: Page) -> None:
    press(page.get_by_role("button", name="Start the session"))
    expect(page.locator(".guide .digits")).to_be_visible()


def choose_own_pace(page: Page, site_url: str) -> None:
    """As a device remembers it from the session before."""
    home = "/" + site_url.split("/", 3)[3]
    page.evaluate('(key) => localStorage.setItem(key, \'{"pace":"own"}\')', f"settings {home}")


def forward(page: Page, seconds: float | Fraction) -> None:
    """Moves the clock; what was due in between is heard once, as in a page that is busy."""
    page.clock.fast_forward(round(seconds * 1000))


def skip(page: Page, many: int) -> None:
    """So many taps on Skip, without the way of the finger, which takes ten times as long; every hand of `HANDS` goes it."""
    page.evaluate(
        "(many) => { for (let n = 0; n < many; n += 1) document.querySelector('.guide [data-do=skip]').click(); }",
        many,
    )


def skip_to_line(page: Page, number: int) -> None:
    """So many taps on Skip that this segment is under way. Rounds beyond those planned have the line of the last one."""
    page.evaluate(
        f"""(number) => {{
          const line = () => {LINE};
          for (let n = 0; n < 1000 && line() < number; n += 1) document.querySelector(".guide [data-do=skip]").click();
        }}""",
        number,
    )
    assert current_line(page) >= number


def resize(page: Page, width: int, height: int) -> None:
    """Another window, or the same phone turned; the page knows of it by the end."""
    page.set_viewport_size({"width": width, "height": height})
    page.wait_for_function("size => `${innerWidth} ${innerHeight}` === size", arg=f"{width} {height}")


def read_to_the_end(page: Page, reading: str) -> list[tuple[int, Any]]:
    """(number of the segment, what the script `reading` gives) in each one that Skip leads to, from here to the last.

    Rounds that there may be time for beyond those planned have the number of the last one that is.
    """
    found: list[tuple[int, Any]] = page.evaluate(
        f"""() => {{
          const guide = document.querySelector(".guide");
          const lines = [...document.querySelectorAll("[data-order] [data-s]")];
          const found = [];
          while (!guide.hidden && guide.isConnected) {{
            if (found.length > 1000) throw new Error("Skip leads to no end");
            const line = lines.findIndex((one) => one.getAttribute("aria-current") === "step");
            found.push([line, ({reading})()]);
            guide.querySelector("[data-do=skip]").click();
          }}
          return found;
        }}"""
    )
    return found


def soon(holds: Callable[[], bool], most: float = 20) -> None:
    """Waits until something holds, in real time; the page's own clock may stand still."""
    end = time.monotonic() + most
    while not holds():
        assert time.monotonic() < end, "it never came to that"
        time.sleep(0.05)


def shown(page: Page) -> ExpectedScreen:
    """What the screen shows now."""
    return as_screen(page.evaluate(READ))


def shown_at_line(page: Page) -> tuple[ExpectedScreen, int]:
    """What the screen shows and the line that is marked, at one moment."""
    said, line = page.evaluate(f"() => [({READ})(), {LINE}]")
    return as_screen(said), line


def as_screen(said: dict[str, str]) -> ExpectedScreen:
    return ExpectedScreen(**{name: said[name] for name in ExpectedScreen.__dataclass_fields__})


def button(page: Page, name: str | re.Pattern[str]) -> Locator:
    return page.locator(".guide").get_by_role("button", name=name, exact=True)


def stop(page: Page) -> None:
    """Ends the session: done for today."""
    press(button(page, "Stop"))
    press(page.get_by_role("button", name="I am done for today"))


def wishes(page: Page) -> None:
    """Opens what is folded away."""
    page.locator(".wishes").evaluate("one => { one.open = true }")


def current_line(page: Page) -> int:
    """The number of the line that the page marks as the one under way; -1 for none."""
    found: int = page.evaluate(LINE)
    return found


def records(page: Page) -> list[dict[str, Any]]:
    """The sessions of the log, as the device keeps them."""
    stored = page.evaluate("({...localStorage})")
    return [json.loads(text) for key, text in stored.items() if key.startswith("log ")]


def running(page: Page) -> dict[str, Any] | None:
    """The session under way, as the device keeps it."""
    stored = page.evaluate("({...localStorage})")
    return next((json.loads(text) for key, text in stored.items() if key.startswith("running ")), None)


class Clockwork:
    """A session as the oracle has it, second by second."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.segments = session.segments
        self.length = self.segments[-1]["start"] + self.segments[-1]["length"]
        plan = session.version.tree.files
        walk = oracle.Session(plan, session.level, session.week)
        self.kinds: dict[str, str] = {}
        self.written: dict[str, dict[str, Any]] = {}
        self.block_of: dict[str, int] = {}
        for number, block in enumerate(walk.blocks_of(session.day.plan)):
            for station in block["stations"]:
                self.written[station["label"]] = station
                self.kinds[station["label"]] = block["kind"]
                self.block_of[station["label"]] = number

    def at(self, seconds: Fraction | float) -> int:
        """The number of the segment under way."""
        return max(number for number, one in enumerate(self.segments) if one["start"] <= seconds)

    def first(self, wanted: Callable[[dict[str, Any]], bool]) -> dict[str, Any]:
        return next(one for one in self.segments if wanted(one))

    def face(self, seconds: Fraction | float) -> ExpectedScreen:
        """The screen at a time from the start of the running order, which nobody has touched."""
        number = 0 if seconds < 0 else self.at(seconds)
        one = self.segments[number]
        left = -seconds if seconds < 0 else one["start"] + one["length"] - seconds
        station = self.session.row(one["station"]) if one["kind"] == "work" else None
        to_come = station or self._coming(number)
        return ExpectedScreen(
            mark=self._mark(number),
            round=self._round(number, seconds),
            what=f"{_label(station.label)} {station.name}".strip() if station else BETWEEN[one["kind"]],
            dose=station.dose if station else "",
            side=self._side(number, seconds),
            cue=self._cue(number) if to_come else "",
            count=("Get ready" if seconds < 0 else self._count(one, seconds - one["start"]))
            if station
            else "",
            digits=f"{ceil(left) // 60}:{ceil(left) % 60:02d}",
            next=self._next(number),
        )

    def _at_work(self, number: int) -> dict[str, Any] | None:
        """The work of a segment, or in between the work that comes."""
        one = self.segments[number]
        return one if one["kind"] == "work" else self._work_after(number)

    def _exercise(self, work: dict[str, Any]) -> dict[str, Any]:
        found: dict[str, Any] = self.session.version.tree.files["exercises"][work["exercise"]]
        return found

    def _cue(self, number: int) -> str:
        """One cue, another one each round; in between, how to get ready for what comes."""
        one, work = self.segments[number], self._at_work(number)
        if work is None or one["kind"] == "side change":
            return ""
        exercise = self._exercise(work)
        if one["kind"] != "work":
            return " ".join(exercise["setup"])
        cues = exercise["cues"]
        return str(cues[(one["round"] - 1) % len(cues)])

    def _side(self, number: int, seconds: Fraction | float) -> str:
        """The side that works, or that will; where both take turns, that of the rep."""
        one, work = self.segments[number], self._at_work(number)
        if work is None:
            return ""
        if work["side"]:
            return f"{work['side']} side"
        station = self.written[work["station"]]
        exercise = self._exercise(work)
        if exercise["sides"] != "alternating" or not ("reps" in station or "work" in station):
            return ""
        count = self._count(one, seconds - one["start"]) if one is work and seconds >= 0 else ""
        turn = re.match(r"rep (\d+)", count)
        return ("left side", "right side")[1 - int(turn[1]) % 2] if turn else "left and right in turn"

    def _timed(self, number: int, seconds: Fraction | float) -> str:
        """The round of timed rounds that is under way, and how many are whole: there is no number to reach."""
        one = self._coming_or_gone(number)
        own = [n for n in self.segments if n["kind"] == "work" and self._same_block(n, number)]
        labels = {n["station"] for n in own}
        ends: dict[tuple[str, int], Fraction] = {}
        for n in own:
            ends[n["station"], n["round"]] = n["start"] + n["length"]
        whole = {n["round"] for n in own}
        done = [r for r in whole if all(ends.get((label, r), 10**9) <= seconds for label in labels)]
        return f"round {one['round']}" + (f", {len(done)} done" if done else "")

    def _same_block(self, one: dict[str, Any], number: int) -> bool:
        here = self.segments[number]
        labelled = here if here["station"] else self._coming_or_gone(number)
        return self.block_of[one["station"]] == self.block_of[labelled["station"]]

    def _coming_or_gone(self, number: int) -> dict[str, Any]:
        return next(one for one in reversed(self.segments[: number + 1]) if one["station"])

    def _work_after(self, number: int) -> dict[str, Any] | None:
        return next((one for one in self.segments[number + 1 :] if one["kind"] == "work"), None)

    def _coming(self, number: int) -> Any:
        work = self._work_after(number)
        return self.session.row(work["station"]) if work else None

    def _mark(self, number: int) -> str:
        one = self.segments[number]
        block = one["block"]
        return str(block[0] if len(block) == 1 else block)

    def _round(self, number: int, seconds: Fraction | float) -> str:
        """That of the work, and of what lies between two bouts of a round or of a station's sets."""
        before = next((one for one in reversed(self.segments[: number + 1]) if one["kind"] == "work"), None)
        if before is None or self._rests_behind(number):
            return ""
        kind, block = self.kinds[before["station"]], self.block_of[before["station"]]
        after = self._work_after(number)
        within = after is not None and after["station"] == before["station"]
        if kind == "straight sets" and self.segments[number]["kind"] == "changeover":
            return ""
        if kind == "straight sets" and self.segments[number]["kind"] == "rest" and not within:
            return ""
        if kind == "timed rounds":
            return self._timed(number, seconds)
        own = [
            one for one in self.segments if one["kind"] == "work" and self.block_of[one["station"]] == block
        ]
        if kind == "straight sets" or self.segments[number]["kind"] in ("work", "side change"):
            own = [one for one in own if one["station"] == before["station"]]
        rounds = max(one["round"] for one in own)
        turn = f"{'set' if kind == 'straight sets' else 'round'} {before['round']} of {rounds}"
        return turn if rounds > 1 else ""

    def _rests_behind(self, number: int) -> bool:
        """Whether it is the rest between two blocks."""
        before = self.segments[number - 1] if number else None
        after = self._work_after(number)
        if self.segments[number]["kind"] != "rest" or before is None or after is None:
            return False
        own = next(one for one in reversed(self.segments[:number]) if one["station"])
        return self.block_of[own["station"]] != self.block_of[after["station"]]

    def _count(self, one: dict[str, Any], into: Fraction | float) -> str:
        station = self.written[one["station"]]
        exercise = self.session.version.tree.files["exercises"][one["exercise"]]
        known = oracle.one_rep(exercise, station.get("tempo"))
        if known is None or "hold" in station or "distance" in station:
            return ""
        length = known
        reps = one["reps"] if "reps" in station else floor(one["length"] / length)
        if not reps:
            return ""
        rep = min(reps, floor(into / length) + 1)
        tempo = station.get("tempo") or exercise.get("tempo")
        phase = _phase(tempo, exercise, into - (rep - 1) * length) if tempo else ""
        return f"rep {rep} of {reps}{phase and ', ' + phase}"

    def _next(self, number: int) -> str:
        one, work = self.segments[number], self._work_after(number)
        if work is None:
            return "Next: the end" if one["kind"] == "work" else ""
        if (work["station"], work["round"]) == (one["station"], one["round"]):
            return f"Next: {work['side']} side"
        then = self.segments[number + 1]
        rests = one["kind"] == "work" and then["kind"] in ("rest", "wait")
        row = self.session.row(work["station"])
        words = [
            f"{_label(row.label)} {row.name}".strip(),
            row.dose,
            *([f"{work['side']} side"] if work["side"] else []),
        ]
        rest = f"rest {length_words(then['length'])}, then " if rests else ""
        return f"Next: {rest}{', '.join(words)}"


def _label(label: str) -> str:
    """A routine's stations are named without a label."""
    return label if re.match(r"[A-Z]\d", label) else ""


def _phase(tempo: str, exercise: dict[str, Any], into: Fraction | float) -> str:
    """Lowering, pause, lifting, pause, in that order in the digits; an X is a second."""
    counts = [Fraction(1) if count == "X" else Fraction(count) for count in tempo.split("-")]
    parts = list(zip(("lower", "pause", "lift", "pause"), counts, strict=True))
    # A pull begins at the bottom, whatever else the file says nothing of.
    if exercise.get("begins", "lifting" if exercise["pattern"] == "pull" else "lowering") == "lifting":
        parts = parts[2:] + parts[:2]
    into = into % sum(counts)
    own = exercise.get("tempo words", {})
    words = {"lower": own.get("lowering", "lower"), "lift": own.get("lifting", "lift"), "pause": "pause"}
    for name, count in parts:
        if into < count:
            return str(words[name])
        into -= count
    return str(words[parts[-1][0]])
