"""How far from the running order the cues of a guided session are heard, on a page whose processor is six times slower
and busy besides.

A worklet on the audio thread notes the frame at which each sound begins; the audio clock's own timestamps say when
that frame is played. What is not measured is the loudspeaker's delay, which the device does not tell.
"""

import functools
import http.server
import os
import statistics
import subprocess
import sys
import threading
from pathlib import Path

from children import ENVIRONMENT
from playwright.sync_api import Page, sync_playwright
from trees import DEMO

from tests.browser import chromium, loose

ROOT = DEMO.parent

SLOWER = 6
SESSION = "home/1.0/steps/all/week-1/"
FILES = {
    "club.yaml": """
club: Marlholt Juniors
cautions: [Stop if something hurts.]
""",
    "exercises/step.yaml": """
name: Step
pattern: lunge
sides: each
measure: reps
tempo: 1-0-1-0
setup: [Stand.]
cues: [Step., Stand.]
cautions: [Stop if something hurts.]
""",
    "routines/ready.yaml": """
name: Ready
kind: warm-up
blocks: [{kind: circuit, rounds: 1, rest after: 4 s, stations: [{exercise: step, reps: 1}]}]
""",
    "home/programme.yaml": """
title: Home
levels: [{id: all, name: All, experience: beginner}]
""",
    "home/1.0.yaml": """
phase: One
aim: Measure.
starts: 2027-01-11
weeks: 1
levels: [all]
days:
  - id: steps
    title: Steps
    on: [mon]
    warm-up: ready
    blocks:
      - {kind: circuit, rounds: 2, rest: 5 s, changeover: 4 s, stations: [{exercise: step, reps: 5}, {exercise: step, reps: 3}]}
""",
}
TAP = """
registerProcessor("onsets", class extends AudioWorkletProcessor {
  quiet = 1e9;
  process([[samples]]) {
    for (let i = 0; samples && i < samples.length; i += 1) {
      if (Math.abs(samples[i]) < 1e-4) { this.quiet += 1; continue; }
      if (this.quiet > sampleRate * 0.02) this.port.postMessage((currentFrame + i) / sampleRate);
      this.quiet = 0;
    }
    return true;
  }
});
"""
LISTEN = """
const connect = AudioNode.prototype.connect;
window.heard = [];
AudioNode.prototype.connect = function (to, ...rest) {
  if (to === this.context.destination && this instanceof GainNode) {
    const context = this.context;
    context.tapped ??= context.audioWorklet.addModule("/tap.js").then(() => {
      const tap = new AudioWorkletNode(context, "onsets");
      tap.port.onmessage = ({ data }) => {
        const { contextTime, performanceTime } = context.getOutputTimestamp();
        heard.push(performanceTime + (data - contextTime) * 1000);
      };
      // Its own output is silence; connected, it is asked for it and hears what goes in.
      connect.call(tap, context.destination);
      return tap;
    });
    context.tapped.then((tap) => connect.call(this, tap));
  }
  return connect.call(this, to, ...rest);
};
setInterval(() => { const until = performance.now() + 40; while (performance.now() < until); }, 120);
"""
EXPECTED = """
async ([order, state, cues]) => {
  const { readOrder } = await import(order);
  const { ahead } = await import(state);
  const module = await import(cues);
  const { plan, stations } = readOrder(document.querySelector("main"));
  const home = new URL(document.body.dataset.root, location.href).pathname;
  const { events } = JSON.parse(localStorage.getItem(`running ${home}`));
  const until = events[0].at + 1e7;
  const all = module.cues(plan, stations, ahead(plan, events, events[0].at, until), until, true);
  const offset = Date.now() - performance.now();
  return { cues: all.map(({ at }) => at - offset), length: plan.length };
}
"""


def errors(folder: Path) -> list[float]:
    """Milliseconds between each cue's time in the running order and its sound, for every cue of a short session."""
    site = build(folder)
    handler = functools.partial(Quiet, directory=str(site))
    with (
        http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server,
        sync_playwright() as playwright,
    ):
        threading.Thread(target=server.serve_forever, daemon=True).start()
        sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
        path = chromium.find_or_install(os.environ)
        browser = playwright.chromium.launch(executable_path=path, args=sandbox)
        page = browser.new_page()
        page.add_init_script(LISTEN)
        page.goto(f"http://127.0.0.1:{server.server_port}/{SESSION}")
        found = listened(page)
        browser.close()
        server.shutdown()
    return found


def listened(page: Page) -> list[float]:
    slow = page.context.new_cdp_session(page)
    slow.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.get_by_role("button", name="Start the session").click()
    given = page.evaluate(EXPECTED, [f"/{loose.script(name)}" for name in ("order", "state", "cues")])
    page.wait_for_timeout(given["length"] + 7_000)
    heard = sorted(page.evaluate("heard"))
    # Sounds that begin at the same moment are one beginning.
    return [min(abs(at - due) for at in heard) for due in sorted(set(given["cues"]))]


def build(folder: Path) -> Path:
    tree, site = folder / "sounds", folder / "sounds-site"
    for name, text in FILES.items():
        path = tree / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text.lstrip(), encoding="utf-8")
    command = [sys.executable, "-m", "phasepress", "--programmes", str(tree), "build", "--to", str(site)]
    subprocess.run(command, env=ENVIRONMENT, cwd=ROOT, check=True, capture_output=True)
    (site / "tap.js").write_text(TAP, encoding="utf-8")
    loose.write(site)
    return site


class Quiet(http.server.SimpleHTTPRequestHandler):
    """Serves without a word."""

    def log_message(self, *args: object) -> None:
        """Says nothing."""


def median_and_99th(found: list[float]) -> tuple[float, float]:
    """The median and the 99th percentile."""
    return statistics.median(found), statistics.quantiles(found, n=100, method="inclusive")[98]
