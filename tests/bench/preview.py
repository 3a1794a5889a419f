"""How long a coach waits from saving a file to seeing it in the preview: the command as it is, a file, a page."""

import contextlib
import http.client
import shutil
import socket
import subprocess
import sys
import time
from pathlib import Path

from children import ENVIRONMENT
from trees import DEMO

PROGRAMME, VERSION = "home-strength", "2.0"
PAGE = f"{PROGRAMME}/{VERSION}/"
LOOK_AGAIN, PATIENCE = 0.01, 60.0
"""Seconds."""


def seconds(folder: Path, rounds: int) -> float:
    """The lowest of the rounds, with the watching for saved files; `folder` is for a copy of the demo."""
    tree = folder / "demo"
    shutil.copytree(DEMO, tree)
    with previewed(tree) as (host, path):
        return min(saved_to_seen(tree, host, path, f"Round {number}") for number in range(1, rounds + 1))


@contextlib.contextmanager
def previewed(tree: Path):
    """The preview of a tree; gives host:port and the path of the page, once the page is there."""
    host = f"127.0.0.1:{free_port()}"
    command = [sys.executable, "-m", "phasepress", "--programmes", str(tree), "serve", "--at", host]
    said = subprocess.DEVNULL
    child = subprocess.Popen(command, env=ENVIRONMENT, cwd=tree, stdout=said, stderr=said)
    try:
        path = wait_for(lambda: mount(host), child)
        wait_for(lambda: "<h1" in page(host, path), child)
        yield host, path
    finally:
        child.terminate()
        child.wait()


def saved_to_seen(tree: Path, host: str, path: str, words: str) -> float:
    """Save the version's file with other words in its aim, and look until the page has them."""
    file = tree / PROGRAMME / f"{VERSION}.yaml"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    changed = [f"aim: {words}\n" if line.startswith("aim:") else line for line in lines]
    begun = time.perf_counter()
    file.write_text("".join(changed), encoding="utf-8")
    wait_for(lambda: words in page(host, path))
    return time.perf_counter() - begun


def wait_for(something, child=None):
    """What `something` gives as soon as that is true. Raises TimeoutError, or when the child has ended."""
    begun = time.perf_counter()
    while time.perf_counter() - begun < PATIENCE:
        if child and child.poll() is not None:
            raise RuntimeError("the preview has ended by itself")
        with contextlib.suppress(ConnectionError):
            if found := something():
                return found
        time.sleep(LOOK_AGAIN)
    raise TimeoutError("the preview does not show what was saved")


def mount(host: str) -> str:
    """The path of the page in the preview, which stands below the path of the site's public address."""
    response, _ = get(host, "/")
    return response.getheader("Location", "/") + PAGE


def page(host: str, path: str) -> str:
    """The page's text; a page that is being built is waited for by the server."""
    return get(host, path)[1]


def get(host: str, path: str):
    connection = http.client.HTTPConnection(host, timeout=PATIENCE)
    try:
        connection.request("GET", path)
        response = connection.getresponse()
        return response, response.read().decode()
    finally:
        connection.close()


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]
