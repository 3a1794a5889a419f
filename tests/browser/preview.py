"""The preview as a coach runs it: a process of its own on a free port."""

import contextlib
import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from tests.browser.demo import DEMO, Tree
from tests.conftest import ROOT
from tests.site import trees
from tests.stops import stoppable

PATIENCE = 60.0
FIGURE = "chair-squat"
"""An exercise of the demo, and of the small tree, that has a figure."""


@dataclass
class Preview:
    """A running preview; `url` ends in a slash."""

    url: str
    process: subprocess.Popen[str]
    output: Path

    def said(self) -> str:
        """All that it has printed so far."""
        return self.output.read_text(encoding="utf-8")

    def wait_for(self, pattern: str, after: int = 0) -> None:
        """Returns when it has printed a match beyond the first `after` characters."""
        end = time.monotonic() + PATIENCE
        while not re.search(pattern, self.said()[after:]):
            if time.monotonic() > end:
                raise AssertionError(f"never said {pattern}, but:\n{self.said()[after:]}")
            time.sleep(0.02)

    def page(self, address: str) -> str:
        """A page as it is sent, without the preview's own script, which has the number of the build."""
        with urllib.request.urlopen(self.url + address, timeout=PATIENCE) as answer:
            return re.sub(r"<script>.*?</script>", "", answer.read().decode(), flags=re.DOTALL)


def small_tree(folder: Path) -> Path:
    """A tree of one day, in which an exercise of the demo is done that has a figure; gives the folder."""
    data = trees.small()
    stations = [{"exercise": "sit", "reps": 8}, {"exercise": FIGURE, "reps": 6}]
    data["plan/1.0.yaml"] = trees.phase(trees.day("legs", trees.circuit(*stations)), levels=["new", "used"])
    trees.write(data, folder)
    text = (DEMO / f"exercises/{FIGURE}.yaml").read_text(encoding="utf-8")
    # The demo's own way to make it harder is an exercise that is not here.
    text, times = re.subn(r"^harder:\n(  .*\n)+", "", text, flags=re.MULTILINE)
    assert times == 1
    (folder / f"exercises/{FIGURE}.yaml").write_text(text, encoding="utf-8")
    return folder


@contextlib.contextmanager
def undone(preview: Preview, tree: Tree) -> Iterator[None]:
    """What is changed in the files within is undone at the end, and the pages are as they were."""
    files = {path: path.read_bytes() for path in tree.folder.rglob("*.yaml")}
    addresses = [tree.versions[-1].days[0].sessions[0].address, f"exercises/{FIGURE}/"]
    pages = [_without_notes(preview.page(address)) for address in addresses]
    yield
    for path, content in files.items():
        if path.read_bytes() != content:
            path.write_bytes(content)
    end = time.monotonic() + PATIENCE
    while [_without_notes(preview.page(address)) for address in addresses] != pages:
        assert time.monotonic() < end, f"the pages stay as they are:\n{preview.said()}"
        time.sleep(0.1)


def _without_notes(page: str) -> str:
    """The page without warnings and notes, of which those in the file that was saved last come first. Errors stay."""
    return re.sub(r'<div class="phasepress-findings" .*?</div>', "", page, flags=re.DOTALL)


@contextlib.contextmanager
def previewed(tree: Path, output: Path, path: str, port: int = 0) -> Iterator[Preview]:
    """`phasepress serve` on the tree; `path` is where the site begins. Stopped as by Ctrl-C."""
    port = port or _free_port()
    with output.open("w", encoding="utf-8") as file:
        process = _start(tree, port, file)
        try:
            preview = Preview(f"http://127.0.0.1:{port}{path}", process, output)
            _wait(preview)
            yield preview
        finally:
            process.send_signal(signal.SIGINT)
            try:
                process.wait(15)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()


def _start(tree: Path, port: int, output: IO[str]) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "phasepress", "--programmes", str(tree), "serve"]
    env = os.environ | {"NO_MKDOCS_2_WARNING": "1", "PYTHONUNBUFFERED": "1"}
    at = f"127.0.0.1:{port}"
    with stoppable():
        return subprocess.Popen(
            [*command, "--at", at], cwd=ROOT, env=env, stdout=output, stderr=subprocess.STDOUT, text=True
        )


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _wait(preview: Preview) -> None:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end and preview.process.poll() is None:
        with contextlib.suppress(OSError), urllib.request.urlopen(preview.url, timeout=5) as answer:
            if answer.status == 200:
                return
        time.sleep(0.05)
    raise AssertionError(f"no preview at {preview.url}:\n{preview.said()}")
