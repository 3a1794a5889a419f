"""WebKitGTK, the engine of Safari in a small browser for Linux, driven by selenium on a screen of its own."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from urllib.parse import urljoin

from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.webkitgtk.service import Service

from .driver import NARROW, PATIENCE, NoEngineError, Wishes
from .machine import how_to_get
from .watched import FRAME

_HAVE_IT = ("webkit2gtk-driver", "xvfb")
_KEYS = {"Tab": Keys.TAB, "Enter": Keys.ENTER, " ": Keys.SPACE, "ArrowRight": Keys.ARROW_RIGHT}
_STILL = "[Settings]\ngtk-enable-animations=0\n"


class InWebKit:
    """A `Driver`. The window goes no narrower than 447 pixels, so narrow pages stand in a frame."""

    def __init__(self, driver: webdriver.WebKitGTK) -> None:
        self._driver = driver

    def open(self, address: str) -> None:
        self._driver.switch_to.default_content()
        self._driver.get(address)

    def open_narrow(self, address: str) -> None:
        self.open(urljoin(address, "/club/site/" + FRAME))
        self.run(
            "const frame = document.createElement('iframe'); [frame.width, frame.height] = given[1];"
            "const loaded = new Promise((go) => (frame.onload = go)); frame.src = given[0]; frame.style.border = 0;"
            "document.body.append(frame); await loaded;",
            address,
            NARROW,
        )
        self._driver.switch_to.frame(0)

    def run(self, body: str, *given: Any) -> Any:
        return self._driver.execute_script(f"return (async (given) => {{ {body} }})([...arguments])", *given)

    def tap(self, selector: str) -> None:
        self._driver.find_element(By.CSS_SELECTOR, selector).click()

    def press(self, key: str) -> None:
        # Half a second to read, which no run that only collects tests shall pay.
        from selenium.webdriver.common.action_chains import ActionChains

        ActionChains(self._driver).send_keys(_KEYS[key]).perform()

    def picture(self) -> bytes:
        return self._driver.get_screenshot_as_png()

    def complaints(self) -> list[str]:
        return []

    def close(self) -> None:
        self._driver.quit()


@contextmanager
def began(wishes: Wishes) -> Iterator[InWebKit]:
    """Raises NoEngineError where a part of it is missing."""
    driver = shutil.which("WebKitWebDriver")
    browsers = sorted(Path("/usr").glob("lib*/**/webkit2gtk-4.*/MiniBrowser"))
    if not (driver and browsers and shutil.which("Xvfb")):
        raise NoEngineError(how_to_get(_HAVE_IT))
    options = webdriver.WebKitGTKOptions()
    options.binary_location = str(browsers[-1])
    options.add_argument("--automation")
    if wishes.dark:
        options.add_argument("--dark-mode")
    with _screen() as display, TemporaryDirectory() as settings:
        if wishes.still:
            (Path(settings) / "gtk-3.0").mkdir()
            (Path(settings) / "gtk-3.0/settings.ini").write_text(_STILL, encoding="utf-8")
        env = os.environ | {
            "DISPLAY": display,
            "XDG_CONFIG_HOME": settings,
            "WEBKIT_DISABLE_COMPOSITING_MODE": "1",
        }
        # Its sandbox does not start for root; for anyone else it stays on.
        if os.geteuid() == 0:
            env["WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS"] = "1"
        started = webdriver.WebKitGTK(options=options, service=Service(driver, env=env))
        started.set_script_timeout(PATIENCE)
        try:
            yield InWebKit(started)
        finally:
            started.quit()


@contextmanager
def _screen() -> Iterator[str]:
    """A screen that nobody sees; its name."""
    command = ["Xvfb", "-displayfd", "1", "-screen", "0", "1300x900x24", "-nolisten", "tcp"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) as screen:
        assert screen.stdout
        number = screen.stdout.readline().strip()
        try:
            yield f":{number}"
        finally:
            screen.terminate()
