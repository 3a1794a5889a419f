"""A host whose sites can be renewed, broken and taken away while a browser visits them."""

import contextlib
import http.server
import shutil
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from tests.conftest import SUB_PATH, QuietServer, SubPathHandler

# What a server may answer in place of a file.
FAULTS = ("error", "missing", "login", "other words", "a part", "broken off", "another host")

# Seconds before the file comes.
WAITS = {"slow": 1, "silent": 8}


@dataclass
class Host:
    """`sites` are folders by the path they are served at. `faults` are answers in place of files, by their names,
    or one of WAITS. `missing`: a wrong address gets the first site's page for it with this status, as from hosts of
    folders: most say 404, some 200.

    `asked` are the requests so far as method and path, with the value of a Range header behind.
    """

    sites: dict[str, Path]
    faults: dict[str, str] = field(default_factory=dict)
    asked: list[tuple[str, str, str]] = field(default_factory=list)
    port: int = 0
    missing: int = 0

    @property
    def url(self) -> str:
        """The address of the first site; ends in a slash."""
        return self.address(next(iter(self.sites)))

    def address(self, path: str) -> str:
        """The address of the site at a path."""
        return f"http://127.0.0.1:{self.port}{path}"

    def paths(self) -> set[str]:
        """What was asked for below the first site, since the last call."""
        top = next(iter(self.sites))
        asked, self.asked = self.asked, []
        return {urlsplit(path).path.removeprefix(top) for _, path, _ in asked}

    def deploy(self, site: Path, path: str = SUB_PATH) -> None:
        """From now on the site is this one."""
        self.sites[path] = site


@contextlib.contextmanager
def hosted(host: Host) -> Iterator[Host]:
    """Serves until the end of the block; the port is the one it had before, if it had one."""

    class Handler(_Handler):
        of = host

    with QuietServer(("127.0.0.1", host.port), Handler) as server:
        host.port = server.server_port
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        try:
            yield host
        finally:
            server.shutdown()
            thread.join()


class _Handler(SubPathHandler):
    of: Host

    def translate_path(self, path: str) -> str:
        for top, folder in sorted(self.of.sites.items(), key=lambda site: -len(site[0])):
            if path.startswith(top):
                self.directory = str(folder)
                return http.server.SimpleHTTPRequestHandler.translate_path(self, "/" + path.removeprefix(top))
        return "/nothing/at/all"

    def end_headers(self) -> None:
        # Without it a browser guesses from a file's age how long it need not ask again: how long ago it was built.
        self.send_header("cache-control", "no-cache")
        super().end_headers()

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        if code == http.HTTPStatus.NOT_FOUND and self.of.missing:
            site = next(iter(self.of.sites.values()))
            self._words(self.of.missing, (site / "404.html").read_bytes() if self.command == "GET" else b"")
        else:
            super().send_error(code, message, explain)

    def do_GET(self) -> None:  # noqa: N802 (the name that the library calls)
        self._note()
        path = urlsplit(self.path).path
        fault = next((fault for name, fault in self.of.faults.items() if path.endswith(f"/{name}")), None)
        if fault in WAITS:
            time.sleep(WAITS[fault])
        if fault and fault not in WAITS:
            self._answer(fault)
        else:
            super().do_GET()

    def do_POST(self) -> None:  # noqa: N802 (the name that the library calls)
        self._note()
        self.rfile.read(int(self.headers.get("content-length", 0)))
        self._words(200, b"posted")

    def do_HEAD(self) -> None:  # noqa: N802 (the name that the library calls)
        self._note()
        super().do_HEAD()

    def _note(self) -> None:
        self.of.asked.append((self.command, self.path, self.headers.get("range", "")))

    def _answer(self, fault: str) -> None:
        if fault in ("login", "another host"):
            self.send_response(302)
            top = "" if fault == "login" else f"http://localhost:{self.of.port}"
            self.send_header("location", f"{top}{SUB_PATH}about/")
            self.end_headers()
        elif fault == "broken off":
            self.send_response(200)
            self.send_header("content-length", "100000")
            self.end_headers()
            self.wfile.write(b"<!doctype html><p>half")
            self.close_connection = True
        else:
            self._words({"error": 500, "missing": 404, "a part": 206}.get(fault, 200), b"Please log in.")

    def _words(self, status: int, words: bytes) -> None:
        self.send_response(status)
        self.send_header("content-type", "text/html")
        self.send_header("content-length", str(len(words)))
        self.end_headers()
        self.wfile.write(words)


def copied(site: Path, to: Path) -> Path:
    """A copy of a site to change."""
    return Path(shutil.copytree(site, to))
