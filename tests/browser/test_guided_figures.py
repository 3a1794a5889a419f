"""The figures of a guided session: those of the files, readable in the dark; and a screen that does not move by itself."""

import io
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from PIL import Image
from playwright.sync_api import Locator, Page

from tests.browser.conftest import PHONE, OpenContext
from tests.browser.demo import Session, demo, kinds
from tests.browser.guided import LEAD, begin, button, current_line, forward, longest
from tests.fixtures.small_figures import made_small, plain
from tests.fixtures.wcag import ratio
from tests.samples import every

TREE = demo()
SESSION = longest()
LOOK = """() => {
  const svg = document.querySelector(".figure").shadowRoot.querySelector("svg");
  const lines = [...svg.querySelectorAll("path[data-d]")].map((path) => {
    const moves = path.querySelector("animate");
    return [path.getAttribute("class"), moves ? moves.getAttribute("values").split(";") : [path.getAttribute("d")]];
  });
  return [svg.dataset.f, lines];
}"""


def stations(page: Page, session: Session) -> Iterator[dict[str, Any]]:
    """Goes through the session; the first work of each exercise."""
    seen = set()
    for _ in session.segments:
        one = session.segments[current_line(page)]
        if one["kind"] == "work" and one["exercise"] not in seen:
            seen.add(one["exercise"])
            yield one
        if one is session.segments[-1]:
            return
        button(page, "Skip").click()


def test_every_line_moves_as_the_figure_of_its_tempo_says(
    open_context: OpenContext, site_url: str, built_site: Path
) -> None:
    """What the page makes of a figure that was made small, against a reading of our own."""
    session = SESSION
    guide = json.loads((built_site / f"{session.day.address}{session.level}/guide.json").read_text("utf-8"))
    page = begin(open_context(**PHONE), site_url, session)
    forward(page, LEAD + 1)
    compared = 0
    for one in stations(page, session):
        figures = guide["exercises"][one["exercise"]]["figures"]
        if len(figures) != 1 or "data-f" not in (text := next(iter(figures.values()))):
            continue
        _, lines = made_small(text)
        signs, found = page.evaluate(LOOK)
        assert f'data-f="{signs}"' in text, one["exercise"]
        assert [kind for kind, _ in found] == [kind for kind, _ in lines], one["exercise"]
        for (_, shown), (_, expected) in zip(found, lines, strict=True):
            frames = shown if len(shown) > 1 else shown * len(expected)
            assert [plain(path) for path in frames] == [plain(path) for path in expected], one["exercise"]
        compared += 1
    assert compared >= 4


# ---- In the dark ----

LINES = 3.0
"""WCAG 2.2, 1.4.11 Non-text Contrast: 3 to 1, of the lines that carry a figure, against all that they lie on."""
FIELD = 0.01
"""The share of a picture from which a colour is a field, and no edge of a line."""


class Seen(NamedTuple):
    """The share of a picture that is drawn in lines, and the least contrast of these to the fields of the picture."""

    lines: float
    contrast: float


def seen_in(picture: bytes) -> Seen:
    """Its ground is what most of it is, its ink what of all that is drawn is farthest from that."""
    image = Image.open(io.BytesIO(picture)).convert("RGB")
    colours = sorted(image.getcolors(1 << 24) or [], reverse=True)
    whole = image.width * image.height
    fields = [hexed(colour) for many, colour in colours if many >= FIELD * whole]
    ink = max(fields, key=lambda one: ratio(one, fields[0]))
    lines = sum(many for many, colour in colours if ratio(hexed(colour), fields[0]) >= LINES)
    return Seen(lines / whole, min((ratio(ink, one) for one in fields if one != ink), default=1.0))


def hexed(colour: tuple[int, int, int]) -> str:
    return "#" + bytes(colour).hex()


def test_the_measure_tells_plain_lines_from_pale_ones_and_from_those_on_a_dark_field() -> None:
    """#767676 and #959595 on white are 4.54 and 2.98 to 1 (WCAG 2.2, by its formula)."""

    def measured(ink: str, field: str) -> Seen:
        image = Image.new("RGB", (100, 100), "#ffffff")
        image.paste(field, (0, 0, 100, 30))
        image.paste(ink, (10, 10, 40, 90))
        file = io.BytesIO()
        image.save(file, "PNG")
        return seen_in(file.getvalue())

    assert measured("#000000", "#ffffff") == Seen(0.24, pytest.approx(21))
    assert measured("#767676", "#ffffff").contrast == pytest.approx(4.54, abs=0.01)
    assert measured("#959595", "#ffffff").contrast < LINES
    assert measured("#767676", "#aaaaaa").contrast < LINES


def cut(place: Locator) -> bytes:
    place.scroll_into_view_if_needed()
    return place.screenshot()


@pytest.mark.parametrize("scheme", ["dark", "light"])
def test_a_figure_in_a_page_is_drawn_in_lines_that_are_seen(
    open_context: OpenContext, site_url: str, scheme: str
) -> None:
    """As a picture (`<img>`), which the page turns over, and as a still within the page."""
    page = open_context(**PHONE, color_scheme=scheme, reduced_motion="reduce").new_page()
    found = {}
    page.goto(site_url + kinds()["figures"])
    pictures = page.locator(".fig img:visible")
    for number in every(range(pictures.count()), few=10):
        picture = pictures.nth(number)
        picture.scroll_into_view_if_needed()
        page.wait_for_function("one => one.complete && one.naturalWidth", arg=picture.element_handle())
        found[f"picture {picture.get_attribute('src')}"] = seen_in(cut(picture))
    page.goto(site_url + SESSION.day.address)
    stills = page.locator("main svg.still:visible, main .still svg:visible")
    for number in range(min(stills.count(), 8)):
        found[f"still {number}"] = seen_in(cut(stills.nth(number)))
    assert len(found) >= 14
    assert {name: told for name, told in found.items() if told.lines < 0.02 or told.contrast < LINES} == {}


@pytest.mark.parametrize("scheme", ["dark", "light"])
def test_a_figure_of_the_guided_session_is_drawn_in_lines_that_are_seen(
    open_context: OpenContext, site_url: str, scheme: str
) -> None:
    page = begin(open_context(**PHONE, color_scheme=scheme, reduced_motion="reduce"), site_url, SESSION)
    forward(page, LEAD + 1)
    found = {one["exercise"]: seen_in(cut(page.locator(".figure"))) for one in stations(page, SESSION)}
    assert len(found) >= 6
    assert {name: told for name, told in found.items() if told.lines < 0.02 or told.contrast < LINES} == {}


# ---- An address bar that folds ----

PLACES = """() => Object.fromEntries([
    ...[...document.querySelectorAll(".guide .hand button:not([hidden])")].map((one) => [one, innerHeight]),
    ...[...document.querySelectorAll(".ribbon, .at, .digits, .figure, .told h2, .bout, .next, .order")].map((one) => [one, 0]),
  ].map(([one, from], index) => {
    const box = one.getBoundingClientRect();
    return [`${index} ${one.className.baseVal ?? one.className} ${one.textContent.trim().slice(0, 12)}`,
      [box.left, box.top - from, box.width, one.matches(".order") ? 0 : box.height].map(Math.round)];
  }))"""


@pytest.mark.parametrize("width", [320, 360])
@pytest.mark.parametrize("scrolled", [0, 60])
def test_nothing_moves_when_the_address_bar_folds(
    open_context: OpenContext, site_url: str, width: int, scrolled: int
) -> None:
    """The window is lower by 80 pixels with the bar: buttons stay at its foot, all else where it was, and so does the scroll."""
    page = begin(open_context(**PHONE | {"viewport": {"width": width, "height": 740}}), site_url, SESSION)
    forward(page, LEAD + 1)
    for one in stations(page, SESSION):
        page.evaluate("y => scrollTo(0, y)", scrolled)
        seen = []
        for height in (740, 660, 740):
            page.set_viewport_size({"width": width, "height": height})
            page.wait_for_function("height => innerHeight === height", arg=height)
            seen.append((page.evaluate("scrollY"), page.evaluate(PLACES)))
        assert seen[0] == seen[1] == seen[2], one["exercise"]


@pytest.mark.parametrize("pace", ["paced", "own"])
def test_buttons_keep_their_places_in_a_window_as_low_as_a_small_phone_on_its_side(
    open_context: OpenContext, site_url: str, pace: str
) -> None:
    """568 by 320: all of the digits is seen above them, and no button moves from one station to the next."""
    low = PHONE | {"viewport": {"width": 568, "height": 320}}
    page = begin(open_context(**low), site_url, SESSION, pace=pace)
    forward(page, LEAD + 1)
    boxes = set()
    for _ in stations(page, SESSION):
        boxes.add(page.evaluate(BUTTONS))
        digits, hand = (page.locator(f".guide {one}").bounding_box() for one in (".digits", "div.hand"))
        assert digits
        assert hand
        assert digits["y"] + digits["height"] <= hand["y"]
    assert len(boxes) == 1


BUTTONS = """() => JSON.stringify([...document.querySelectorAll(".keys button, [data-more]")].map((one) => {
  const { x, y, width, height } = one.getBoundingClientRect();
  return [x, y, width, height].map(Math.round);
}))"""
