"""What is to be seen on each kind of page, measured in one visit on a device and judged by tests of many files.

To open a page costs more than most measurements of it. So a visit takes all that some rule asks of every kind of page;
a test asks for the look of a kind on a device, and judges what concerns its own rule. A look is of plain values:

| name | what | where |
|---|---|---|
| `problems`, `elsewhere`, `cookies` | what the watch noted; requests and cookies that should not be | everywhere |
| `wide` | `too_wide` by width of the screen | as `axe`, and without script |
| `thumbs`, `boxes` | name, width and height of what is tapped, and of the boxes to tick | everywhere |
| `refused`, `policy`, `touch` | what the policy refused; the policy; `touch-action` of the page | with script |
| `axe` | `violations` by colour scheme | with script, where the kind has its turn: `turns` |
| `double` | with type twice as large: size of the heading, and what is `wide`, `cut` and `overlaps` | as `axe` |
| `links`, `small` | name, width and height of links outside sentences; what is tapped and below 44 px | phone, script |
| `tab` | words of what the first Tab leads to, whether it is in sight, and the id that Enter leads to | phone, script |
| `notch` | the least left and top and the greatest right of what is seen beside INSETS, 740 px wide | phone, script |
| `heading`, `offered`, `words` | whether the heading is seen; buttons and fields for words; words of the main part | no script |
"""

import fcntl
import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

from tests import samples
from tests.browser.axe import CONTRAST, thin_out, violations
from tests.browser.demo import kinds
from tests.browser.geometry import cut_off, overlaps, targets, too_wide
from tests.browser.watch import Watch
from tests.samples import every, in_turn

Look = dict[str, Any]
WIDTHS = every([320, 360, 768, 1280], few=2)
INSETS = {"top": 20, "left": 47, "bottom": 21, "right": 34}
TAPPED = ".cards a, .sessions a, button, select, summary, input:not([type=checkbox]), td label"
OUTSIDE_SENTENCES = "nav a, footer a, td a, h3 a, h2 a"

_NOTE_REFUSED = """window.refused = [];
addEventListener("securitypolicyviolation", (event) => refused.push(event.violatedDirective));"""
# The log is not drawn yet, or the button to start does nothing yet.
_ASLEEP = "[data-log]:not(:has(h2)), [data-start].yet"
_WITH_SCRIPT = """() => ({
  policy: document.querySelector("meta[http-equiv='Content-Security-Policy']")?.content ?? "",
  touch: getComputedStyle(document.documentElement).touchAction,
})"""
_OPEN = "for (const one of document.querySelectorAll('details')) one.open = true"
_FOCUS = """() => {
  const one = document.activeElement, box = one.getBoundingClientRect();
  return [one.innerText, box.width > 0 && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth];
}"""
_EDGES = """() => {
  const all = [...document.querySelectorAll("body *")].filter((one) => one.getClientRects().length
    && one.getBoundingClientRect().left >= 0 && !one.matches(".sr, .defs, .defs *, .wide *"));
  const boxes = all.map((one) => one.getBoundingClientRect());
  return [Math.min(...boxes.map((one) => one.left)), Math.min(...boxes.map((one) => one.top)),
    Math.max(...boxes.map((one) => one.right))];
}"""
# Links within a sentence are as high as its lines (WCAG 2.2, 2.5.8, exception "inline").
_SMALL = """() => [...document.querySelectorAll("a, button, select, summary, textarea, label, input")].filter((one) => {
  const box = one.getBoundingClientRect();
  if (!one.getClientRects().length || box.right < 0 || one.matches("label input, label:not(:has(input))")) return false;
  const around = one.parentElement.closest("li, p, td, th, dd, dt, nav, h1, h2, h3, div") ?? one.parentElement;
  const rest = around.textContent.replace(one.textContent, "").trim();
  const isWithin = getComputedStyle(one).display === "inline" || one.matches(".card th a");
  if (one.localName === "a" && isWithin && rest.length > 3) return false;
  return box.height < 44 || box.width < 44;
}).map((one) => one.outerHTML.slice(0, 90))"""


@dataclass(frozen=True)
class Device:
    """`screen` is phone or desktop, `scheme` light or dark."""

    screen: str = "phone"
    scheme: str = "light"
    script: bool = True

    def __str__(self) -> str:
        return f"{self.screen} {self.scheme} {'with' if self.script else 'without'} script"


ON_A_PHONE = Device()
ON_A_DESK = Device("desktop", "dark")
ON = {"phone": ON_A_PHONE, "desktop": ON_A_DESK}
WITHOUT_SCRIPT = Device(script=False)


@dataclass
class Looks:
    """`looks(kind, device)`: the look of this kind of page, from whichever worker came first.

    `options` are those of a browser context by the screen; `go` goes to the page of a kind, `leave` leaves it if need be;
    `folder` is shared by the workers; requests go to addresses that begin with one of `allowed`. A device has one
    context and one page in it for all visits.
    """

    browser: Browser
    options: dict[str, dict[str, Any]]
    go: Callable[[Page, str], None]
    leave: Callable[[Page, str], None]
    folder: Path
    allowed: tuple[str, ...]
    expected: tuple[str, ...]

    def __post_init__(self) -> None:
        self._pages: dict[Device, tuple[Page, Watch]] = {}
        self._elsewhere: list[str] = []

    def __call__(self, kind: str, device: Device) -> Look:
        file = self.folder / f"{kind} {device}.json"
        with file.with_suffix(".lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not file.exists():
                file.write_text(json.dumps(self._visit(kind, device)), encoding="utf-8")
        look: Look = json.loads(file.read_text(encoding="utf-8"))
        return look

    def close(self) -> None:
        for page, _ in self._pages.values():
            page.context.close()

    def _page(self, device: Device) -> tuple[Page, Watch]:
        if device not in self._pages:
            context = self.browser.new_context(
                **self.options[device.screen], color_scheme=device.scheme, java_script_enabled=device.script
            )
            context.add_init_script(_NOTE_REFUSED)
            context.on("request", lambda request: self._asked(request.url))
            self._pages[device] = context.new_page(), Watch(context, self.expected)
        return self._pages[device]

    def _asked(self, url: str) -> None:
        if not url.startswith(self.allowed):
            self._elsewhere.append(url)

    def _visit(self, kind: str, device: Device) -> Look:
        page, watch = self._page(device)
        self._elsewhere.clear()
        if page.viewport_size != self.options[device.screen]["viewport"]:
            page.set_viewport_size(self.options[device.screen]["viewport"])
        self.go(page, kind)
        look = _with_script(page, kind, device) if device.script else _without_script(page)
        self.leave(page, kind)
        return look | {
            "problems": watch.problems(),
            "elsewhere": list(self._elsewhere),
            "cookies": page.context.cookies(),
        }


def _seen(page: Page) -> Look:
    return {"thumbs": targets(page, TAPPED), "boxes": targets(page, "td label")}


def _without_script(page: Page) -> Look:
    offered = page.get_by_role("button").or_(page.get_by_role("combobox")).or_(page.get_by_role("searchbox"))
    return _seen(page) | {
        "heading": page.get_by_role("heading", level=1).is_visible(),
        "offered": offered.evaluate_all("all => all.map((one) => one.outerHTML)"),
        "words": page.locator("#main").inner_text().split(),
        "wide": _wide(page),
    }


def _with_script(page: Page, kind: str, device: Device) -> Look:
    page.locator(_ASLEEP).wait_for(state="detached")
    look: Look = _seen(page) | page.evaluate(_WITH_SCRIPT)
    screen = page.viewport_size
    assert screen
    if device.screen == "phone":
        look |= _on_a_phone(page)
    if (kind, device.screen) in turns():
        look["wide"] = _wide(page)
    page.set_viewport_size(screen)
    page.evaluate(_OPEN)
    if device.screen == "phone":
        look["small"] = page.evaluate(_SMALL)
    look["refused"] = page.evaluate("refused")
    if (kind, device.screen) in turns():
        look["double"] = _double(page)
        look["axe"] = _axe(page, device)
    return look


def _on_a_phone(page: Page) -> Look:
    return {
        "links": targets(page, OUTSIDE_SENTENCES),
        "tab": _first_tab(page),
        "notch": _beside_a_notch(page),
    }


def _wide(page: Page) -> list[tuple[int, list[str]]]:
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 740})
        found.append((width, too_wide(page)))
    return found


def _first_tab(page: Page) -> list[Any]:
    page.keyboard.press("Tab")
    words, is_in_sight = page.evaluate(_FOCUS)
    page.keyboard.press("Enter")
    led_to = page.evaluate("document.activeElement.id")
    page.evaluate("() => { document.activeElement.blur(); scrollTo(0, 0); }")
    return [words, is_in_sight, led_to]


def _beside_a_notch(page: Page) -> list[float]:
    device = page.context.new_cdp_session(page)
    device.send("Emulation.setSafeAreaInsetsOverride", {"insets": INSETS})
    page.set_viewport_size({"width": 740, "height": 360})
    edges: list[float] = page.evaluate(_EDGES)
    device.send("Emulation.setSafeAreaInsetsOverride", {"insets": {}})
    device.detach()
    return edges


def _double(page: Page) -> Look:
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    heading = page.locator("h1").evaluate("one => parseFloat(getComputedStyle(one).fontSize)")
    found = {
        "heading": heading,
        "wide": too_wide(page),
        "cut": cut_off(page),
        "overlaps": overlaps(page),
    }
    page.evaluate("document.documentElement.style.fontSize = ''")
    return found


def turns() -> list[tuple[str, str]]:
    """(kind, screen): where a kind is seen that is seen on one of the screens; in `make test-all` on both."""
    return [(kind, screen) for turn, kind in enumerate(kinds()) for screen in in_turn(ON, turn, few=1)]


def _axe(page: Page, device: Device) -> dict[str, list[str]]:
    """All rules in the device's own scheme, the contrast of colours in both.

    `make test` leaves out what is like the rest of a list: two of a kind stay for the rules, some of which compare
    elements, and one for a colour, which no place in a list changes. `make test-all` tries all rules everywhere.
    """
    if not samples.ALL:
        thin_out(page, most=2)
    found = {device.scheme: violations(page)}
    other = "light" if device.scheme == "dark" else "dark"
    page.emulate_media(color_scheme=other)  # type: ignore[arg-type]
    if not samples.ALL:
        thin_out(page, most=1)
    found[other] = violations(page, only=[CONTRAST])
    page.emulate_media(color_scheme="null")
    return found
