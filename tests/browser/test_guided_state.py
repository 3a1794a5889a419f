"""Where a guided session stands, as its script works it out: against a oracle that follows a clock tick
by tick, against the running orders of the commands, and by what must hold whatever is tapped."""

import json
from itertools import pairwise
from math import ceil
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.demo import Session, demo
from tests.browser.guided_orders import LEAD, MINUTE, TICK, Order, TickSimulator, made_up, taps
from tests.browser.loose import script, serve
from tests.samples import size

TREE = demo()
ANY_TAP = [
    "pause",
    "resume",
    "skip",
    "back",
    "done",
    "pace",
    "done",
    "stop",
    "resume",
    "round",
    "way",
    "jumps",
]
FORWARD = ["pause", "resume", "skip", "done", "pace", "round", "way", "jumps"]
STATES = """
const given = JSON.parse(text);
const { plan } = await import(given.site + given.plan);
const { state } = await import(given.site + given.state);
return JSON.stringify(given.sessions.map(({ order, events, times }) => {
  const ready = { ...plan(order.lines, order.kinds, order.measures), rules: order.rules };
  const at = (now) => state(ready, given.live ? events.filter((event) => event.at <= now) : events, now);
  const told = (one) => (given.brief ? { ...one, spent: one.spent.reduce((sum, time) => sum + time, 0) } : one);
  return { plan: given.brief ? null : ready, states: times.map((now) => told(at(now))) };
}));
"""
Case = tuple[Order, list[dict[str, Any]], list[int]]


@pytest.fixture(scope="module")
def states(blank_page: Page, site_url: str) -> Any:
    """`states(cases)`: for each (order, events, times) the plan and the state at each time.

    With all events known, those to come too; `live` with those alone that have come. `brief` leaves out the plan, and
    `spent` is the sum over all segments.
    """
    scripts = {name: script(name) for name in ("plan", "state")}

    def call(cases: list[Case], *, live: bool = False, brief: bool = False) -> list[dict[str, Any]]:
        sessions = [
            {"order": order.as_given(), "events": events, "times": times} for order, events, times in cases
        ]
        given = {"site": site_url, "sessions": sessions, "live": live, "brief": brief, **scripts}
        # As text: element by element, long lists take the driver ten times as long.
        text: str = blank_page.evaluate(f"async (text) => {{ {STATES} }}", json.dumps(given))
        found: list[dict[str, Any]] = json.loads(text)
        return found

    return call


def cases(seed: str, many: int, types: list[str]) -> list[Case]:
    rng = Random(seed)
    found = []
    for _ in range(many):
        order = made_up(rng)
        events = taps(rng, order, types, rng.randint(0, 25))
        end = events[-1]["at"] + order.length + LEAD
        times = sorted(
            {rng.randint(0, end // TICK) * TICK for _ in range(40)} | {event["at"] for event in events}
        )
        found.append((order, events, times))
    return found


def test_it_stands_where_a_clock_that_is_followed_tick_by_tick_stands(states: Any) -> None:
    own = cases("ticks", size(150, few=25), ANY_TAP)
    for (_, events, times), found in zip(own, states(own), strict=True):
        simulator = TickSimulator(found["plan"], events)
        for now, state in zip(times, found["states"], strict=True):
            # A state is asked for with all events known; those to come have no part in it yet.
            if now < events[-1]["at"]:
                continue
            stands = (state["index"], state["into"], state["done"], state["phase"])
            assert stands == simulator.at(now), (now, events)
            assert state["ways"] == simulator.done_ways, (now, events)


def test_time_never_runs_backwards(states: Any) -> None:
    """From one moment to the next, over every tap that is not meant to go back."""
    own = cases("forwards", size(60, few=15), FORWARD)
    for found in states(
        [(order, events, around(events, times)) for order, events, times in own], live=True, brief=True
    ):
        places = [(state["index"], state["into"]) for state in found["states"]]
        assert places == sorted(places)
        done = [state["done"] for state in found["states"]]
        assert all(later[: len(earlier)] == earlier for earlier, later in pairwise(done)), (
            "what is done stays done"
        )


def around(events: list[dict[str, Any]], times: list[int]) -> list[int]:
    """The times, and those of each event and just before it."""
    return sorted({*times, *(max(0, one["at"] - by) for one in events for by in (0, 1))})


def test_an_event_that_came_before_the_last_one_does_not_turn_time_back(states: Any) -> None:
    """A device's clock may be set back between two visits."""
    order = made_up(Random("back"))
    events = [{"type": "start", "at": 0, "pace": "paced"}, {"type": "pause", "at": 20_000}]
    late = [*events, {"type": "resume", "at": 1_000}]
    [found] = states([(order, late, [1_000, 20_000, 21_000])])
    first, second, third = found["states"]
    assert first == second
    assert (third["index"], third["into"]) >= (second["index"], second["into"])


def test_the_sum_of_the_parts_is_the_whole(states: Any) -> None:
    """Every millisecond since the start was spent in a segment, in the lead, or with nothing running."""
    own = cases("sums", size(150, few=25), ANY_TAP)
    for (_, events, times), found in zip(own, states(own, brief=True), strict=True):
        for now, state in zip(times, found["states"], strict=True):
            assert state["spent"] + state["idle"] + state["lead"] == max(now, events[-1]["at"])


def test_back_undoes_skip(states: Any) -> None:
    own = []
    many = size(150, few=30)
    for order, events, times in cases("undo", many, ANY_TAP):
        at = max(events[-1]["at"], times[-1] // 2 // TICK * TICK)
        own.append((order, events, at))
    skip, back = {"type": "skip"}, {"type": "back"}

    def after(*more: dict[str, Any]) -> list[dict[str, Any]]:
        tapped = [(order, [*events, *({**one, "at": at} for one in more)], [at]) for order, events, at in own]
        return [found["states"][0] for found in states(tapped, brief=True)]

    untouched, skipped = after(), after(skip)
    once, twice = after(skip, back), after(skip, skip, back, back)
    tried = 0
    for index, expected in enumerate(untouched):
        if expected["phase"] == "over":
            continue
        assert once[index] == expected
        if skipped[index]["phase"] != "over":
            tried += 1
            assert twice[index] == expected
    assert tried > many // 3


def test_a_session_that_nobody_touches_takes_its_planned_time_and_finishes_every_bout(states: Any) -> None:
    rng = Random("untouched")
    orders = [made_up(rng) for _ in range(size(60, few=25))]
    start = [{"type": "start", "at": 0, "pace": "paced"}]
    own = [(order, start, [LEAD + order.length - 1, LEAD + order.length]) for order in orders]
    for order, found in zip(orders, states(own), strict=True):
        before, after = found["states"]
        assert (before["phase"], after["phase"]) == ("going", "over")
        assert sum(after["spent"]) == order.length
        ended = {(n["station"], n["round"]) for n in map(found["plan"]["bouts"].__getitem__, after["done"])}
        assert ended == whole_bouts(order)


def whole_bouts(order: Order) -> set[tuple[str, int]]:
    """Bouts of which no part is missing or shorter than elsewhere: a cap may cut the last one."""
    parts: dict[tuple[str, int], list[tuple[str | None, int]]] = {}
    for line in order.lines:
        if line["kind"] == "work":
            parts.setdefault((line["station"], line["round"]), []).append((line["side"], line["length"]))
    return {key for key, own in parts.items() if own == parts[key[0], 1]} if parts else set()


@pytest.mark.parametrize("programme", TREE.programmes)
def test_the_demo_stands_where_the_running_order_says(kept_page: Page, site_url: str, programme: str) -> None:
    """The order command's segments (chapter of the format on time) at every half second of a session."""
    session = busiest(programme)
    kept_page.goto(site_url + session.address)
    serve(kept_page, site_url)
    body = """async ({ order, state, times }) => {
      const { readOrder } = await import(order);
      const module = await import(state);
      const { plan } = readOrder(document.querySelector("main"));
      const events = [{ type: "start", at: 0, pace: "paced" }];
      return JSON.stringify(times.map((now) => module.state(plan, events, now + module.LEAD)).map(({ index, into }) =>
        [plan.segments[index].line, plan.segments[index].start + into]));
    }"""
    segments = session.segments
    length = int(1000 * (segments[-1]["start"] + segments[-1]["length"]))
    times = list(range(0, length, 500))
    given = {name: site_url + script(name) for name in ("order", "state")} | {"times": times}
    lines = []
    for number, one in enumerate(segments):
        start, end = one["start"] * 1000, (one["start"] + one["length"]) * 1000
        lines += [[number, now] for now in range(500 * ceil(start / 500), ceil(end), 500)]
    assert json.loads(kept_page.evaluate(body, given)) == lines


def busiest(programme: str) -> Session:
    own = [session for session in TREE.sessions if session.address.startswith(f"{programme}/")]
    return max(own, key=lambda session: len(session.segments))


AT_OWN_PACE = ["done", "done", "done", "pause", "resume", "pace"]


def test_a_tap_never_shortens_a_full_minute_or_a_cap(states: Any) -> None:
    """Whatever is tapped and when: a minute begins when those before it are full, and a cap is used up."""
    own = cases("minutes", size(60, few=20), AT_OWN_PACE)
    minutes = caps = 0
    for (order, _, _), found in zip(own, states(own), strict=True):
        segments = found["plan"]["segments"]
        for state in found["states"]:
            if state["index"] >= len(segments):
                continue
            here = segments[state["index"]]
            spent = [0] * (max(one["group"] for one in segments) + 1)
            for one, time in zip(segments, state["spent"], strict=True):
                spent[one["group"]] += time if one["index"] < here["index"] else 0
            if order.kinds[here["block"]] == "every minute" and here["ends"] is not None:
                minutes += 1
                begun = here["ends"] - MINUTE
                assert spent[here["group"]] >= begun
            for group in {one["group"] for one in segments if one["group"] < here["group"]}:
                ends = max((one["ends"] or 0 for one in segments if one["group"] == group), default=0)
                caps += bool(ends)
                assert spent[group] == ends or not ends
    assert min(minutes, caps) > 50
