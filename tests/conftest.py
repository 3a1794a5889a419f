"""What tests of more than one kind share: the demo site, built once, and a server for it."""

import contextlib
import fcntl
import http.server
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.samples import size

ROOT = Path(__file__).resolve().parent.parent
# A club's site seldom has a host to itself, so every address has to work below a path.
SUB_PATH = "/club/site/"

# Random examples are the same in every run, and slow machines are no failures.
settings.register_profile(
    "steady",
    deadline=None,
    derandomize=True,
    max_examples=size(200, few=30),
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("steady")

Serve = Callable[[Path], contextlib.AbstractContextManager[str]]


class SubPathHandler(http.server.SimpleHTTPRequestHandler):
    """Serves a directory below SUB_PATH; everything outside it is not found."""

    extensions_map = http.server.SimpleHTTPRequestHandler.extensions_map | {
        ".atom": "application/atom+xml",
        ".ics": "text/calendar",
        ".js": "text/javascript",
        ".webmanifest": "application/manifest+json",
    }

    def translate_path(self, path: str) -> str:
        if not path.startswith(SUB_PATH):
            return os.path.join(self.directory, "outside the site", "nothing")
        return super().translate_path("/" + path.removeprefix(SUB_PATH))

    def log_message(self, *args: object) -> None:
        """Says nothing: the test's own words are the report."""


class QuietServer(http.server.ThreadingHTTPServer):
    # A browser that closes with requests under way must not hold up the end of the tests.
    daemon_threads = True
    block_on_close = False

    def handle_error(self, request: object, client_address: object) -> None:
        """Says nothing when a browser hangs up in the middle of an answer."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


@contextlib.contextmanager
def served(directory: Path) -> Iterator[str]:
    """Serves the directory on a free loopback port and gives the address, which ends in a slash."""

    def handler(*args: object) -> SubPathHandler:
        return SubPathHandler(*args, directory=str(directory))

    with QuietServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}{SUB_PATH}"
        finally:
            server.shutdown()
            thread.join()


@pytest.fixture(scope="session")
def serve() -> Serve:
    """`with serve(directory) as url:` for a test that needs a server of its own, to stop or to change."""
    return served


def shared_between_workers(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that is the same one for all workers of a run."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


def _build(directory: Path) -> None:
    command = [sys.executable, "-m", "phasepress", "build", "--to", str(directory)]
    env = os.environ | {"NO_MKDOCS_2_WARNING": "1"}
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        pytest.fail(f"the demo site does not build:\n{done.stdout}{done.stderr}", pytrace=False)


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The directory of the demo site, built once for all tests and all workers. Read it, never write to it."""
    shared = shared_between_workers(tmp_path_factory)
    directory = shared / "built-site"
    with open(shared / "built-site.lock", "w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not directory.exists():
            _build(directory)
    if not (directory / "index.html").is_file():
        pytest.fail(f"the build ended well but made no index.html in {directory}", pytrace=False)
    return directory


@pytest.fixture(scope="session")
def site_url(built_site: Path) -> Iterator[str]:
    """The address of the demo site, below a path as most clubs have it; ends in a slash."""
    with served(built_site) as url:
        yield url
