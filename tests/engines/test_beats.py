"""In WebKit, the engine of most phones of juniors, sounds are on the beat however old the audio context is."""

import os
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.browser.guided import longest
from tests.browser.loose import script
from tests.conftest import Serve
from tests.samples import size

from . import in_webkit
from .conftest import Visit
from .driver import PATIENCE, NoEngineError, Wishes

SESSION = longest()
NEAR = 0.05
"""Seconds by which a sound may be off."""
AGE = float(os.environ.get("PHASEPRESS_AUDIO_AGE", size(30, few=3)))
"""By how many seconds the context is older at the second look, more than any way to the ear and the two
seconds in which no answer counts. There are two minutes in a session of any length, but not in every run of the tests."""
OLD = 120.0

# Sounds that are planned from now on, less what has been taken off, and when the session wants them; both by the clock
# of the page. The second tone of a sound begins where its first one ends.
PLANNED = """
const { readOrder } = await import(given[0].order);
const { ahead } = await import(given[0].state);
const { cues } = await import(given[0].cues);
const { plan, stations } = readOrder(document.querySelector("main"));
const { events } = JSON.parse(Object.entries(localStorage).find(([key]) => key.startsWith("running "))[1]);
const now = Date.now(), page = performance.now(), time = audio.currentTime, until = now + 60000;
const within = (at) => at > now + 300 && at < until - 4000;
const live = heard.filter((one) => !isOff(one.node));
const goesOn = (one) => live.some((other) => other !== one && Math.abs(other.end - one.at) < 0.001);
return {
  planned: live.filter((one) => !goesOn(one)).map((one) => now + (one.at - time) * 1000).filter(within),
  wanted: cues(plan, stations, ahead(plan, events, now, until), until, true).map((one) => one.at).filter(within),
  past: heard.filter((one) => one.at < one.time).length,
  age: time,
};
"""


@pytest.fixture
def visit(watched_site: Path, serve: Serve) -> Iterator[Visit]:
    with serve(watched_site) as url:
        try:
            with in_webkit.began(Wishes()) as driver:
                yield Visit(driver, url, lambda: None)
        except NoEngineError as missing:
            pytest.fail(str(missing), pytrace=False)


def assert_on_the_beat(visit: Visit) -> float:
    """Gives the age of the context.

    Where a busy machine lets the audio clock stand still for a moment, all that is planned is late by as much, until the
    page has looked at the clocks twice and plans anew. So this asks until it is on the beat; a clock that is taken wrong
    stays wrong at each look.
    """
    modules = {name: visit.url + script(name) for name in ("order", "state", "cues")}
    end = time.monotonic() + PATIENCE
    while off(found := visit.run(PLANNED, modules)) and time.monotonic() < end:
        time.sleep(0.2)
    assert off(found) == []
    assert len(found["wanted"]) > 20
    assert found["past"] == 0
    return float(found["age"])


def off(found: dict[str, Any]) -> list[str]:
    """Which sounds are off the beat, by how much, and whether there are as many as are wanted."""
    planned, wanted = sorted(found["planned"]), sorted(found["wanted"])
    if len(planned) != len(wanted):
        return [f"{len(planned)} sounds are planned, {len(wanted)} are wanted"]
    pairs = zip(planned, wanted, strict=True)
    return [f"{at:.0f}: {at - due:+.0f} ms" for at, due in pairs if abs(at - due) > NEAR * 1000]


def again(visit: Visit) -> None:
    """A pause and its end: all is planned anew."""
    visit.driver.press(" ")
    visit.until("document.querySelector('.guide').dataset.phase === 'paused'")
    visit.driver.press(" ")
    visit.until("document.querySelector('.guide').dataset.phase === 'going'")


def test_sounds_are_on_the_beat_in_webkit(visit: Visit) -> None:
    visit.go(SESSION.address)
    visit.tap("[data-start]")
    visit.until("window.audio?.state === 'running'")
    counted = next(number for number, one in enumerate(SESSION.segments) if one["reps"])
    for _ in range(counted + 1):
        visit.driver.press("ArrowRight")
    young = assert_on_the_beat(visit)
    while not visit.run("return audio.currentTime > given[0]", young + AGE):
        time.sleep(0.2)
    again(visit)
    older = assert_on_the_beat(visit)
    assert older > young + AGE
    # What this engine says of an older context is further ahead, by its age.
    visit.run(
        """const own = AudioContext.prototype.getOutputTimestamp;
        AudioContext.prototype.getOutputTimestamp = function () {
          const { contextTime, performanceTime } = own.call(this);
          return { contextTime, performanceTime: performanceTime + given[0] * 1000 };
        };""",
        max(0, OLD - older),
    )
    again(visit)
    assert_on_the_beat(visit)
    visit.assert_quiet()
