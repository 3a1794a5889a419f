"""What is heard in a guided session and when, and the clock that it goes by."""

from collections.abc import Callable, Iterator
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import BLOCKED, NO_WORKER
from tests.browser.demo import Session, demo
from tests.browser.guided_orders import LEAD
from tests.browser.loose import script, serve
from tests.browser.watch import Watch

TREE = demo()
CUES = """
const { readOrder } = await import(given.order);
const { ahead } = await import(given.state);
const { cues } = await import(given.cues);
const { plan, stations } = readOrder(document.querySelector("main"));
const paced = given.events.findLast((one) => one.pace).pace === "paced";
return cues(plan, stations, ahead(plan, given.events, given.now, given.until), given.until, paced);
"""
Cue = tuple[float, str]


@pytest.fixture(scope="module")
def modules(site_url: str) -> dict[str, str]:
    names = ("order", "state", "cues", "clock", "words")
    return {name: site_url + script(name) for name in names}


Run = Callable[..., Any]


@pytest.fixture(scope="module")
def run(blank_page: Page, modules: dict[str, str]) -> Run:
    """`run(body, **given)`: what the body of a function gives that knows the addresses of the modules, and `given`.

    In one blank page for all tests of this file: the functions keep nothing.
    """
    return lambda body, **given: blank_page.evaluate(f"async (given) => {{ {body} }}", modules | given)


@pytest.mark.parametrize(
    ("tempo", "begins", "expected"),
    [
        # Four digits: eccentric, pause, concentric, pause (Wilk 2018; 2-0-2-0, 5-0-3-0 and 6-0-4-0 are its tempos).
        ("2-0-2-0", "lowering", [("lower", 0), ("lift", 2)]),
        ("5-0-3-0", "lowering", [("lower", 0), ("lift", 5)]),
        ("6-0-4-0", "lowering", [("lower", 0), ("lift", 6)]),
        # Ladlow 2020: 3-1-1 is 3 s eccentric, 1 s isometric, 1 s concentric.
        ("3-1-1-0", "lowering", [("lower", 0), ("low", 3), ("lift", 4)]),
        # The digits stay in that order for an exercise that begins with the lift; the doing does not.
        ("3-0-1-2", "lifting", [("lift", 0), ("high", 1), ("lower", 3)]),
        # X has no published length; one second is a convention of this site.
        ("2-1-X-0", "lowering", [("lower", 0), ("low", 2), ("lift", 3)]),
        ("1.5-0.5-1-0", "lowering", [("lower", 0), ("low", 1.5), ("lift", 2)]),
        (None, "lowering", [("rep", 0)]),
    ],
)
def test_a_rep_is_heard_in_its_phases(run: Run, tempo: str | None, begins: str, expected: list[Cue]) -> None:
    body = "return (await import(given.cues)).phases(given.tempo, given.begins)"
    found = run(body, tempo=tempo, begins=begins)
    assert [(one["cue"], one["after"]) for one in found] == [(cue, after) for cue, after in expected]


CuesOf = Callable[..., list[Cue]]


@pytest.fixture(scope="module")
def cues_of(browser: Browser, site_url: str, modules: dict[str, str]) -> Iterator[CuesOf]:
    """`cues_of(session, pace="paced")`: (seconds of the running order, cue) of a session from its start to its end.

    Each is asked for once.
    """
    context = browser.new_context(**NO_WORKER)
    watch = Watch(context, BLOCKED)
    page = context.new_page()

    @cache
    def asked(address: str, pace: str) -> list[Cue]:
        page.goto(site_url + address)
        serve(page, site_url)
        events = [{"type": "start", "at": 0, "pace": pace}]
        given = {**modules, "events": events, "now": 0, "until": 10**8}
        found = page.evaluate(f"async (given) => {{ {CUES} }}", given)
        page.unroute_all()
        return [((one["at"] - LEAD) / 1000, one["cue"]) for one in found]

    yield lambda session, pace="paced": asked(session.address, pace)
    context.close()
    assert watch.problems() == []


SESSIONS = [
    max((s for s in TREE.sessions if s.address.startswith(p)), key=lambda s: len(s.segments))
    for p in TREE.programmes
]


@pytest.mark.parametrize("session", SESSIONS, ids=str)
def test_work_is_told_at_its_start_and_its_end(cues_of: CuesOf, session: Session) -> None:
    found = cues_of(session)
    work = [one for one in session.segments if one["kind"] == "work"]
    assert [at for at, cue in found if cue == "go"] == [float(one["start"]) for one in work]
    assert [at for at, cue in found if cue == "end"] == [float(one["start"] + one["length"]) for one in work]
    changes = [float(one["start"]) for one in session.segments if one["kind"] == "side change"]
    assert [at for at, cue in found if cue == "turn"] == changes
    last = session.segments[-1]
    assert [at for at, cue in found if cue == "finish"] == [float(last["start"] + last["length"])]


@pytest.mark.parametrize("session", SESSIONS, ids=str)
def test_every_rep_of_every_dose_is_counted_out(cues_of: CuesOf, session: Session) -> None:
    """As many beats as the segment has reps, evenly, each within its segment."""
    found = cues_of(session)
    counted = 0
    for one in session.segments:
        if one["kind"] != "work" or not one["reps"]:
            continue
        start, length = float(one["start"]), float(one["length"])
        beats = [(at, cue) for at, cue in found if start <= at < start + length and cue in PHASES]
        first = beats[0][1]
        reps = [at for at, cue in beats if cue == first]
        parts = len(reps) / one["reps"]
        assert parts in (1, 2, 3)
        assert reps == pytest.approx([start + n * length / len(reps) for n in range(len(reps))])
        counted += 1
    assert counted > 5


PHASES = {"lower", "low", "lift", "high", "rep"}


@pytest.mark.parametrize("session", SESSIONS, ids=str)
def test_work_is_counted_in_but_not_over_other_work(cues_of: CuesOf, session: Session) -> None:
    found = cues_of(session)
    counts = [at for at, cue in found if cue == "count"]
    assert counts[:3] == [-3, -2, -1], "the lead counts the session in"
    for one, then in pairwise(session.segments):
        start, length = float(one["start"]), float(one["length"])
        within = [at for at in counts if start <= at < start + length]
        counted_in = one["kind"] != "work" and then["kind"] == "work"
        assert within == [start + length - n for n in (3, 2, 1) if counted_in and length >= n]


def test_at_own_pace_nothing_is_counted_out_and_nothing_is_planned_beyond_the_tap(
    cues_of: CuesOf,
) -> None:
    found = cues_of(SESSIONS[0], "own")
    assert not PHASES & {cue for _, cue in found}
    first = next(one for one in SESSIONS[0].segments if one["kind"] == "work" and one["reps"])
    assert found[-1] == (float(first["start"]), "go")


CLOCK = """
const { clock } = await import(given.clock);
let monotonic = 500, wall = 1e12;
const one = clock(given.earliest ?? 0, () => monotonic, () => wall);
const first = one.now();
return given.steps.map(([m, w]) => { monotonic += m; wall += w; return one.now() - first; });
"""


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ([(250, 250), (250, 250)], [250, 500]),
        # The date is put right while the session runs: time goes on as the monotonic clock does.
        ([(250, -3_600_000), (250, 250)], [250, 500]),
        ([(1_000, 1_400), (1_000, 1_000)], [1_000, 2_000]),
        # The device slept and its monotonic clock with it; the date tells how long.
        ([(250, 600_000), (250, 250)], [600_000, 600_250]),
        # It slept and the monotonic clock went on.
        ([(600_000, 600_000), (250, 250)], [600_000, 600_250]),
        # Set back first, then asleep: only the sleep counts.
        ([(250, -60_000), (100, 30_000), (250, 250)], [250, 30_250, 30_500]),
        # Set back, and put right again; and asleep afterwards.
        ([(250, -3_600_000), (250, 3_600_500), (250, 250)], [250, 500, 750]),
        ([(250, -60_000), (250, 60_500), (0, 30_000)], [250, 500, 30_500]),
        # Put right while it slept, and asleep after small steps of the date.
        ([(250, -60_000), (250, 660_500)], [250, 600_500]),
        ([(250, 1_500), (250, 1_500), (0, 30_000)], [250, 500, 30_500]),
    ],
)
def test_the_clock_goes_on_through_sleep_and_does_not_follow_a_date_set_back(
    run: Run, steps: list[tuple[int, int]], expected: list[int]
) -> None:
    assert run(CLOCK, steps=steps) == expected


def test_the_clock_of_a_page_loaded_again_goes_on_from_what_was_last_seen(
    run: Run,
) -> None:
    body = """
      const { clock } = await import(given.clock);
      const later = clock(2e12, () => 500, () => 1e12).now();
      const sooner = clock(5e11, () => 500, () => 1e12).now();
      return [later, sooner];"""
    assert run(body) == [2e12, 1e12]


@pytest.mark.parametrize(
    ("milliseconds", "words"),
    [
        (0, "0:00"),
        (1, "0:01"),
        (1_000, "0:01"),
        (59_001, "1:00"),
        (60_000, "1:00"),
        (600_000, "10:00"),
        (-5, "0:00"),
    ],
)
def test_begun_seconds_count(run: Run, milliseconds: int, words: str) -> None:
    body = "return (await import(given.words)).clockWords(given.milliseconds)"
    assert run(body, milliseconds=milliseconds) == words
