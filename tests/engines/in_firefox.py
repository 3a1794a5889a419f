"""Firefox, driven by WebDriver BiDi (a draft of the W3C) over its socket; geckodriver is in no package of Debian."""

import base64
import json
import os
import re
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import websocket

from .driver import NARROW, PATIENCE, SIZE, WATCH, NoEngineError, Wishes
from .machine import how_to_get

_NAMES = ("firefox-esr", "firefox")
_LISTENS = re.compile(r"WebDriver BiDi listening on (ws://\S+)")
_KEYS = {"Tab": "\ue004", "Enter": "\ue006", " ": " ", "ArrowRight": "\ue014"}
# It asks nothing of anybody but the site that is tested, and begins nothing that no page of it needs.
_QUIET = {
    "app.normandy.enabled": False,
    "app.update.disabledForTesting": True,
    "browser.aboutwelcome.enabled": False,
    "browser.ml.enable": False,
    "browser.newtab.preload": False,
    "browser.newtabpage.enabled": False,
    "browser.safebrowsing.downloads.remote.enabled": False,
    "browser.safebrowsing.malware.enabled": False,
    "browser.safebrowsing.phishing.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "browser.search.update": False,
    "browser.startup.homepage": "about:blank",
    "browser.startup.page": 0,
    "browser.topsites.contile.enabled": False,
    "datareporting.healthreport.uploadEnabled": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "dom.ipc.processPrelaunch.enabled": False,
    "dom.push.connection.enabled": False,
    "extensions.enabledScopes": 0,
    "extensions.systemAddon.update.enabled": False,
    "extensions.update.enabled": False,
    # Keys reach a window that nobody sees.
    "focusmanager.testmode": True,
    "media.gmp-manager.updateEnabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "remote.active-protocols": 1,
    "services.settings.server": "data:,",
    "toolkit.telemetry.enabled": False,
    "toolkit.telemetry.reportingpolicy.firstRun": False,
}
# Of the engine itself, about what it was told on its command line or lacks; not about a page.
_NO_FAULT = re.compile(r"AudioContext was prevented|Speech|speech")


class InFirefox:
    """A `Driver`."""

    def __init__(self, address: str) -> None:
        self._socket = websocket.create_connection(
            f"{address}/session", timeout=PATIENCE, suppress_origin=True
        )
        self._number = 0
        self._told: list[str] = []
        self._ask("session.new", capabilities={})
        self._ask("session.subscribe", events=["log.entryAdded"])
        # The first tab never has the focus (seen: Firefox 153).
        self._tab = self._ask("browsingContext.create", type="tab")["context"]
        self._ask("script.addPreloadScript", functionDeclaration=f"() => {{ {WATCH} }}")
        self._resize(SIZE)
        self._ask("browsingContext.activate", context=self._tab)

    def _ask(self, method: str, **params: Any) -> dict[str, Any]:
        self._number += 1
        self._socket.send(json.dumps({"id": self._number, "method": method, "params": params}))
        while True:
            answer = json.loads(self._socket.recv())
            if answer.get("type") == "event":
                self._hear(answer["params"])
            elif answer["id"] == self._number:
                if answer["type"] == "error":
                    raise RuntimeError(f"{method}: {answer['message']}")
                result: dict[str, Any] = answer["result"]
                return result

    def _hear(self, entry: dict[str, Any]) -> None:
        if entry["level"] in ("warn", "error") and not _NO_FAULT.search(entry["text"] or ""):
            self._told.append(f"{entry['level']}: {entry['text']}")

    def _resize(self, size: tuple[int, int]) -> None:
        self._ask(
            "browsingContext.setViewport", context=self._tab, viewport={"width": size[0], "height": size[1]}
        )

    def open(self, address: str) -> None:
        self._ask("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def open_narrow(self, address: str) -> None:
        self._resize(NARROW)
        self.open(address)

    def run(self, body: str, *given: Any) -> Any:
        # Values come back as text, so that they need no types of their own.
        said = self._ask(
            "script.callFunction",
            functionDeclaration=(
                f"async (text) => JSON.stringify(await (async (given) => {{ {body} }})(JSON.parse(text)) ?? null)"
            ),
            arguments=[{"type": "string", "value": json.dumps(given)}],
            target={"context": self._tab},
            awaitPromise=True,
            userActivation=False,
        )
        if said["type"] == "exception":
            raise RuntimeError(said["exceptionDetails"]["text"])
        return json.loads(said["result"]["value"])

    def tap(self, selector: str) -> None:
        found = self._ask(
            "script.callFunction",
            functionDeclaration=(
                "(selector) => { const one = document.querySelector(selector);"
                "one.scrollIntoView({block: 'center'}); return one; }"
            ),
            arguments=[{"type": "string", "value": selector}],
            target={"context": self._tab},
            awaitPromise=False,
        )
        origin = {"type": "element", "element": {"sharedId": found["result"]["sharedId"]}}
        steps = [
            {"type": "pointerMove", "x": 0, "y": 0, "origin": origin},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ]
        self._act({"type": "pointer", "id": "mouse", "actions": steps})

    def press(self, key: str) -> None:
        value = _KEYS[key]
        steps = [{"type": "keyDown", "value": value}, {"type": "keyUp", "value": value}]
        self._act({"type": "key", "id": "keys", "actions": steps})

    def _act(self, source: dict[str, Any]) -> None:
        self._ask("input.performActions", context=self._tab, actions=[source])

    def picture(self) -> bytes:
        said = self._ask("browsingContext.captureScreenshot", context=self._tab)
        return base64.b64decode(said["data"])

    def complaints(self) -> list[str]:
        told, self._told = self._told, []
        return told

    def close(self) -> None:
        self._socket.close()


@contextmanager
def began(wishes: Wishes) -> Iterator[InFirefox]:
    """Raises NoEngineError where there is none."""
    path = next(filter(None, map(shutil.which, _NAMES)), None)
    if path is None:
        raise NoEngineError(how_to_get(["firefox-esr"]))
    prefs: dict[str, Any] = {
        **_QUIET,
        "layout.css.prefers-color-scheme.content-override": 0 if wishes.dark else 1,
        "ui.prefersReducedMotion": int(wishes.still),
    }
    with TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        lines = [f"user_pref({json.dumps(name)}, {json.dumps(value)});\n" for name, value in prefs.items()]
        (Path(profile) / "user.js").write_text("".join(lines), encoding="utf-8")
        command = [path, "--headless", "--no-remote", "--profile", profile, "--remote-debugging-port", "0"]
        log = Path(profile) / "told.txt"
        with (
            log.open("wb") as told,
            subprocess.Popen(
                command, stdout=told, stderr=told, env=os.environ | {"MOZ_CRASHREPORTER_DISABLE": "1"}
            ) as firefox,
        ):
            try:
                driver = InFirefox(_address(log))
                yield driver
                driver.close()
            finally:
                firefox.terminate()


def _address(log: Path) -> str:
    """Where it listens, which it says once it is up."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        found = _LISTENS.search(log.read_text(encoding="utf-8", errors="replace"))
        if found:
            return found[1]
        time.sleep(0.1)
    raise RuntimeError(
        f"Firefox did not begin to listen: {log.read_text(encoding='utf-8', errors='replace')}"
    )
