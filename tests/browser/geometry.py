"""Where things are on a page: what is too wide, too small to tap, cut off or on top of something else."""

from typing import Any

from playwright.sync_api import Page

_SEEN = """
  // Clipped to nothing: words for screen readers only. Asked once of each element, since most have the same ancestors.
  const known = new Map([[null, false]]);
  const clipped = (element) => {
    if (!known.has(element)) {
      known.set(element, getComputedStyle(element).clipPath === "inset(50%)" || clipped(element.parentElement));
    }
    return known.get(element);
  };
  const seen = (element) =>
    element.checkVisibility({visibilityProperty: true, opacityProperty: true}) && !clipped(element);
  const name = (element) => `${element.tagName.toLowerCase()} "${element.textContent.trim().slice(0, 40)}"`;
"""
# A region that scrolls by itself, and has a name and the focus, may hold what is wider than the screen.
_WIDE = (
    "() => {"
    + _SEEN
    + """
  const root = document.scrollingElement;
  const wide = root.scrollWidth > root.clientWidth ? [`the page: ${root.scrollWidth}`] : [];
  for (const element of document.body.querySelectorAll("*")) {
    if (!seen(element) || element.closest("[role=region][tabindex]") || element.closest(".skip")) continue;
    const box = element.getBoundingClientRect();
    if (box.width && (box.right > root.clientWidth + 0.5 || box.left < -0.5)) wide.push(name(element));
  }
  return wide;
}"""
)
_TARGETS = (
    "(selector) => {"
    + _SEEN
    + """
  return [...document.querySelectorAll(selector)].filter(seen).map((element) => {
    const box = element.getBoundingClientRect();
    return {name: name(element), width: box.width, height: box.height};
  });
}"""
)
_OVERLAPS = (
    "(slack) => {"
    + _SEEN
    + """
  const bar = document.querySelector("main > .quiet:not([hidden])");
  if (bar) bar.hidden = true;
  const texts = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    const owner = node.parentElement;
    if (!node.data.trim() || !seen(owner) || owner.closest(".skip, option, svg")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      // The letters themselves: a line of large type is taller than what is drawn in it.
      const trim = box.height * 0.2;
      if (box.width > 1) texts.push([node.data.trim().slice(0, 40),
        box.left, box.top + scrollY + trim, box.right, box.bottom + scrollY - trim]);
    }
  }
  if (bar) bar.hidden = false;
  texts.sort((one, other) => one[2] - other[2]);
  const found = [];
  for (const [place, [words, left, top, right, bottom]] of texts.entries()) {
    for (let next = place + 1; next < texts.length; next += 1) {
      const [other, left2, top2, right2, bottom2] = texts[next];
      if (top2 > bottom - slack) break;
      const across = Math.min(right, right2) - Math.max(left, left2);
      const down = Math.min(bottom, bottom2) - Math.max(top, top2);
      if (across > slack && down > slack) found.push([words, other]);
    }
  }
  return found;
}"""
)
_CUT = (
    "() => {"
    + _SEEN
    + """
  const cut = [];
  for (const element of document.body.querySelectorAll("*")) {
    if (!seen(element) || element.closest(".skip, svg, [role=region][tabindex]")) continue;
    const style = getComputedStyle(element);
    const hides = (axis) => ["hidden", "clip"].includes(axis);
    if (hides(style.overflowX) && element.scrollWidth > element.clientWidth + 1) cut.push(name(element));
    if (hides(style.overflowY) && element.scrollHeight > element.clientHeight + 1) cut.push(name(element));
    if (style.textOverflow === "ellipsis") cut.push(name(element));
  }
  return cut;
}"""
)


def too_wide(page: Page) -> list[str]:
    """What reaches beyond the screen; empty when nothing has to be scrolled sideways."""
    found: list[str] = page.evaluate(_WIDE)
    return found


def targets(page: Page, selector: str) -> list[dict[str, Any]]:
    """Name, width and height of every visible element."""
    found: list[dict[str, Any]] = page.evaluate(_TARGETS, selector)
    return found


def cut_off(page: Page) -> list[str]:
    """Elements that hide a part of what they hold."""
    found: list[str] = page.evaluate(_CUT)
    return found


def overlaps(page: Page, slack: float = 1.0) -> list[tuple[str, str]]:
    """Pairs of texts whose letters lie on one another, by more than `slack` pixels both ways.

    The bar that is told once lies over the end of the screen until the page is scrolled to its end; it is left out.
    """
    return [(one, other) for one, other in page.evaluate(_OVERLAPS, slack)]


def faults(page: Page, *, unfolded: str) -> list[Any]:
    """What `too_wide`, `cut_off` and `overlaps` find, by one look; the last of them after the script `unfolded`, which
    is called with true, and with false at the end.
    """
    wide, cut, overlapping = page.evaluate(
        f"""() => {{
          const wide = ({_WIDE})(), cut = ({_CUT})(), unfolded = {unfolded};
          unfolded(true);
          const overlapping = ({_OVERLAPS})(1);
          unfolded(false);
          return [wide, cut, overlapping];
        }}"""
    )
    return [*wide, *cut, *overlapping]
