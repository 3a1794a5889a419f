"""Notes whatever a browser complains about or asks for beyond its own site."""

from collections.abc import Collection
from urllib.parse import urlsplit

from playwright.sync_api import BrowserContext, ConsoleMessage, Request, Response, WebError

HERE = "127.0.0.1"
# A page that is left while it loads gives up what it had asked for; that is no fault of the site.
GIVEN_UP = "net::ERR_ABORTED"


class Watch:
    """Notes problems in words: console messages, script errors, failed requests, requests to elsewhere.

    What is `expected` is none.
    """

    def __init__(self, context: BrowserContext, expected: Collection[str] = ()) -> None:
        self._noted: list[str] = []
        self._expected = expected
        context.on("console", self._console)
        context.on("weberror", self._error)
        context.on("request", self._request)
        context.on("requestfailed", self._failed)
        context.on("response", self._response)

    def problems(self) -> list[str]:
        """What was noted since the last call."""
        noted, self._noted = self._noted, []
        return [problem for problem in noted if problem not in self._expected]

    def _console(self, message: ConsoleMessage) -> None:
        self._noted.append(f"console {message.type}: {message.text}")

    def _error(self, error: WebError) -> None:
        self._noted.append(f"script error: {error.error}")

    def _request(self, request: Request) -> None:
        address = urlsplit(request.url)
        if address.scheme not in ("data", "blob") and address.hostname != HERE:
            self._noted.append(f"request to elsewhere: {request.url}")

    def _failed(self, request: Request) -> None:
        if request.failure != GIVEN_UP:
            self._noted.append(f"failed: {request.url}: {request.failure}")

    def _response(self, response: Response) -> None:
        if response.status >= 400:
            self._noted.append(f"answer {response.status}: {response.url}")
