"""Where the log's scripts run: under node where there is one, else in a blank page of the Chromium of the tests."""

import json
import os
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from phasepress.telling.views.shared import WRITTEN
from playwright.sync_api import Page, sync_playwright

from tests.browser import chromium
from tests.conftest import ROOT, SUB_PATH, served
from tests.fuzz.children import Child, DiedError

ZONE = "America/St_Johns"
"""West of Greenwich, so that the first moment of all dates has a local date that no date can have; and half an hour off."""
MODULES = ["transfer", "import", "records", "weeks", "words"]


class LogChild:
    """`ask` as `Child` has it; what is asked is said in log_child.mjs."""

    def __init__(self, room: Path) -> None:
        room.mkdir(parents=True, exist_ok=True)
        scripts = room / "scripts"
        shutil.copytree(ROOT / "theme_overrides/js", scripts)
        (scripts / "shared.js").write_text(WRITTEN["js/shared.js"], encoding="utf-8")
        shutil.copy(Path(__file__).with_name("log_child.mjs"), scripts)
        (scripts / "package.json").write_text('{"type": "module"}')
        node = None if os.environ.get("FUZZ_IN_BROWSER") else shutil.which("node")
        self._child: Child | _InBrowser
        if node:
            self._child = Child(
                [node, "--max-old-space-size=400", "log_child.mjs"], os.environ | {"TZ": ZONE}, scripts
            )
        else:
            self._child = _InBrowser(scripts)

    def ask(self, request: Mapping[str, Any]) -> Any:
        """The answer of the scripts. Raises DiedError."""
        return self._child.ask(request)

    def close(self) -> None:
        """End what runs."""
        self._child.close()


class _InBrowser:
    """One blank page, whose own store is emptied before each case."""

    def __init__(self, scripts: Path) -> None:
        self._playwright = sync_playwright().start()
        self._browser = self._playwright.chromium.launch(executable_path=chromium.find_or_install(os.environ))
        self._server = served(scripts)
        self._page = self._open(self._server.__enter__())

    def _open(self, address: str) -> Page:
        page = self._browser.new_page(timezone_id=ZONE)
        page.goto(f"{address}package.json")
        imported = ", ".join(f"import('{SUB_PATH}log/{name}.js')" for name in MODULES)
        page.evaluate(
            f"async () => {{ window.answer = (await import('{SUB_PATH}log_child.mjs')).answer; "
            f"window.log = Object.assign({{}}, ...await Promise.all([{imported}])); }}"
        )
        return page

    def ask(self, request: Mapping[str, Any]) -> Any:
        # As text: the page is to parse what was sent and not a copy that a protocol made of it.
        call = "(text) => { localStorage.clear(); return JSON.stringify(answer(JSON.parse(text), log, localStorage)); }"
        try:
            return json.loads(self._page.evaluate(call, json.dumps(request)))
        except Exception as error:
            raise DiedError(f"the page failed: {error}") from None

    def close(self) -> None:
        self._server.__exit__(None, None, None)
        self._browser.close()
        self._playwright.stop()
