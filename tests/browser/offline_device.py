"""One phone for many tests of the worker: to keep a site once costs more than all that a test then asks of it."""

import contextlib
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, CDPSession, Page

from tests.browser.conftest import PHONE, as_at_first, go_to_an_empty_page
from tests.browser.host import Host, hosted
from tests.browser.offline_sites import PROGRAMME, saved, unexpected
from tests.browser.watch import Watch
from tests.conftest import SUB_PATH

FORGET = """async (store) => {
    if (navigator.serviceWorker.controller) throw new Error("a worker is left");
    localStorage.clear();
    sessionStorage.clear();
    for (const name of await caches.keys()) if (name !== store) await caches.delete(name);
    const cache = await caches.open(store);
    for (const key of await cache.keys()) if (key.url.includes("?record")) await cache.delete(key);
}"""


class Device:
    """A phone on which a worker may work, and a host that shows it a site; both outlive a test.

    Each test gets it by `forget` or by `visit`, and `leave` ends the test. `expected` is a pattern of problems that
    are none.
    """

    def __init__(self, context: BrowserContext, host: Host, expected: str) -> None:
        self.context = context
        self.host = host
        self._site = host.sites[SUB_PATH]
        self._expected = expected
        self._watch = Watch(context)
        self._page: Page | None = None
        self._session: CDPSession | None = None
        self._has_visited = False

    @property
    def page(self) -> Page:
        """The page that the tests share; a new one if a test has closed it."""
        if self._page is None or self._page.is_closed():
            self._page = self.context.new_page()
            self._session = self.context.new_cdp_session(self._page)
            self._session.send("ServiceWorker.enable")
        return self._page

    def forget(self) -> None:
        """As before the first visit: no worker, no record, nothing in the browser's own stores.

        The files themselves stay in the worker's store, as after a download that broke off at its end: so the next
        visit is a first one, and fetches only what is not there yet.
        """
        self._has_visited = False
        page, session = self.page, self._session
        assert session
        kinds = {"origin": self.host.address("").rstrip("/"), "storageTypes": "service_workers"}
        # A worker that is no longer registered goes on with its job, as it is watched: it would write its record anew.
        session.send("ServiceWorker.stopAllWorkers")
        session.send("Storage.clearDataForOrigin", kinds)
        session.send("Network.clearBrowserCache")
        go_to_an_empty_page(page, self.host.url)
        page.evaluate(FORGET, f"offline {SUB_PATH}")
        self.host.asked.clear()

    def visit(self) -> None:
        """As after one visit to the programme, for tests that change nothing on the device."""
        if not self._has_visited:
            self.forget()
            saved(self.page, self.host.url + PROGRAMME)
            self._has_visited = True

    def leave(self) -> None:
        """Ends a test: the network, the host and the page are as at first, and nothing may have been complained of."""
        self.context.set_offline(False)
        self.host.faults.clear()
        self.host.sites = {SUB_PATH: self._site}
        page = self.page
        for other in self.context.pages:
            if other != page:
                other.close()
        as_at_first(page, PHONE)
        page.goto("about:blank")
        noticed = self.problems()
        assert noticed == [], noticed

    def problems(self) -> list[str]:
        """What was complained of since the last call."""
        return unexpected(self._watch.problems(), self._expected)


@contextlib.contextmanager
def device(browser: Browser, site: Path, expected: str = "") -> Iterator[Device]:
    with hosted(Host({SUB_PATH: site})) as host:
        context = browser.new_context(**PHONE, service_workers="allow")
        yield Device(context, host, expected)
        context.close()
