"""The axe rules, on a page as it stands in the browser."""

from collections.abc import Collection
from pathlib import Path
from typing import Any

import axe_playwright_python
from playwright.sync_api import Page

from tests.samples import ALL

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
# Hidden toggles of the theme, which its own scripts would use; nothing here shows or needs them.
LEFT_OUT = [["[data-md-toggle]"], ["label.md-overlay"]]
# Without `preload`: axe would put styles of a shadow root into the page, which its policy forbids.
RUN = """([within, leftOut, only]) => axe.run(
  {...(within && {include: [[within]]}), exclude: leftOut},
  {resultTypes: ['violations'], preload: false, ...(only.length && {runOnly: only})})"""
CONTRAST = "color-contrast"
"""The one rule that a colour scheme matters to; it takes longer than all others together."""
_THIN = """(most) => {
  const look = (one) => `${one.localName}.${one.getAttribute("class")} ${[...one.attributes].map((its) => its.name)}`;
  const key = (one) => `${look(one.parentElement)} > ${look(one)}`;
  const many = new Map();
  const isKnown = (one) => many.get(key(one)) >= most && [...one.children].every(isKnown);
  const isOneOfSeveral = (one) =>
    !one.matches("td, th") && [...one.parentElement.children].some((other) => other !== one && other.localName === one.localName);
  const thin = (one) => {
    if (isOneOfSeveral(one) && isKnown(one)) return one.remove();
    many.set(key(one), (many.get(key(one)) ?? 0) + 1);
    [...one.children].forEach(thin);
  };
  [...document.body.children].forEach(thin);
}"""


def thin_out(page: Page, most: int) -> None:
    """Takes away elements beside like ones, in which nothing is new.

    Nothing is new where each element, by its name, its class, the names of its attributes and the same of what it is
    in, has been there so many times before. The page is of no use for anything but a look at it from here on.
    """
    page.evaluate(_THIN, most)


def violations(page: Page, within: str = "", only: Collection[str] = ()) -> list[str]:
    """Each broken rule with the elements that break it.

    Where only a part of a page, or only what some rules ask, is new, these may be named; `make test-all` tries all
    rules in the whole page nevertheless.
    """
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE)
    where = ("", LEFT_OUT, []) if ALL else (within, LEFT_OUT, list(only))
    found: dict[str, Any] = page.evaluate(RUN, list(where))
    assert found["passes"], "no rule was tried"
    return [f"{rule['id']}: {node['html']}" for rule in found["violations"] for node in rule["nodes"]]
