"""The figures of a guided session: those of the files, readable in the dark; and a screen that does not move by itself."""

import io
import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from PIL import Image
from playwright.sync_api import Page

from tests.browser.conftest import PHONE, OpenPage
from tests.browser.demo import Session, demo, kinds
from tests.browser.guided import (
    LEAD,
    begin,
    current_line,
    forward,
    longest,
    read_to_the_end,
    resize,
    skip_to_line,
)
from tests.fixtures.small_figures import made_small, plain
from tests.fixtures.wcag import ratio
from tests.samples import every, in_turn, size

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


def stations(page: Page, session: Session, few: int = 100) -> Iterator[dict[str, Any]]:
    """Goes through the session; the first work of each exercise, or of so many of them."""
    firsts: dict[str, int] = {}
    for number, one in enumerate(session.segments):
        if one["kind"] == "work":
            firsts.setdefault(one["exercise"], number)
    for number in every(firsts.values(), few=few):
        skip_to_line(page, number)
        assert current_line(page) == number
        yield session.segments[number]


def test_every_line_moves_as_the_figure_of_its_tempo_says(
    emptied_page: OpenPage, site_url: str, built_site: Path
) -> None:
    """What the page makes of a figure that was made small, against a reading of our own."""
    session = SESSION
    guide = json.loads((built_site / f"{session.day.address}{session.level}/guide.json").read_text("utf-8"))
    page = begin(emptied_page(**PHONE), site_url, session)
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


def seen_in(image: Image.Image) -> Seen:
    """Its ground is what most of it is, its ink what of all that is drawn is farthest from that."""
    # A bound that figures keep far from; Pillow makes room for as many colours as it names.
    colours = image.getcolors(1 << 16)
    assert colours, "no drawing: more than 65,536 colours"
    colours.sort(reverse=True)
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
        return seen_in(image)

    assert measured("#000000", "#ffffff") == Seen(0.24, pytest.approx(21))
    assert measured("#767676", "#ffffff").contrast == pytest.approx(4.54, abs=0.01)
    assert measured("#959595", "#ffffff").contrast < LINES
    assert measured("#767676", "#aaaaaa").contrast < LINES


SCHEMES = ("dark", "light")
TWICE = int(str(PHONE["device_scale_factor"]))
AT_ONCE = 10
TALLEST = 16384
"""Chromium draws no picture that is higher, in device pixels: the rest of it is the beginning once more."""
# Figures that nobody looks at meanwhile are left out, so that one picture of the page has all the others.
LEAVE = """([place, wanted]) => {
  for (const one of document.querySelectorAll("[data-left-out]")) {
    one.style.display = "";
    delete one.dataset.leftOut;
  }
  const all = [...document.querySelectorAll(place)].filter((one) => one.checkVisibility());
  const kept = wanted.map((number) => all[number]);
  for (const one of all) {
    if (kept.includes(one)) continue;
    one.style.display = "none";
    one.dataset.leftOut = "";
  }
  const pictures = kept.filter((one) => one.localName === "img");
  for (const one of pictures) one.loading = "eager";
  return Promise.all(pictures.map((one) => one.decode())).then(() => kept.map((one) => {
    const { x, y, right, bottom } = one.getBoundingClientRect();
    return [one.getAttribute("src"), [x + scrollX, y + scrollY, right + scrollX, bottom + scrollY]];
  }));
}"""


def opened(picture: bytes) -> Image.Image:
    return Image.open(io.BytesIO(picture)).convert("RGB")


def seen_in_both(page: Page, place: str, wanted: Sequence[int]) -> dict[str, Seen]:
    """Of those that can be seen at a place in the page, these, in the dark and in the light."""
    found = {}
    for start in range(0, len(wanted), AT_ONCE):
        some = list(wanted[start : start + AT_ONCE])
        boxes = page.evaluate(LEAVE, [place, some])
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            whole = opened(page.screenshot(full_page=True))
            assert whole.height <= TALLEST
            for number, (name, box) in zip(some, boxes, strict=True):
                cut = whole.crop(tuple(round(edge * TWICE) for edge in box))
                found[f"{scheme} {name or number}"] = seen_in(cut)
    return found


def count_seen(page: Page, place: str) -> int:
    return page.locator(place).filter(visible=True).count()


def test_a_figure_in_a_page_is_drawn_in_lines_that_are_seen(open_page: OpenPage, site_url: str) -> None:
    """As a picture (`<img>`), which the page turns over, and as a still within the page."""
    page = open_page(**PHONE, reduced_motion="reduce")
    page.goto(site_url + kinds()["figures"])
    pictures = ".fig img"
    sources = page.locator(pictures).filter(visible=True).evaluate_all("all => all.map((one) => one.src)")
    # Of all figures this one has the grey that lies nearest to the ink.
    hardest = next(number for number, source in enumerate(sources) if "side-plank-knees" in source)
    some = every(range(len(sources)), few=5)
    found = seen_in_both(page, pictures, sorted({*some, hardest}))
    page.goto(site_url + SESSION.day.address)
    stills = "main svg.still, main .still svg"
    drawn = range(min(count_seen(page, stills), 8))
    assert len(drawn) > 3
    found |= seen_in_both(page, stills, drawn)
    assert len(found) == 2 * (len({*some, hardest}) + len(drawn))
    assert {name: told for name, told in found.items() if told.lines < 0.02 or told.contrast < LINES} == {}


def test_a_figure_of_the_guided_session_is_drawn_in_lines_that_are_seen(
    emptied_page: OpenPage, site_url: str
) -> None:
    """Each of some in one of the schemes, in turn: the style sheet is the same for all."""
    page = begin(emptied_page(**PHONE, color_scheme="dark"), site_url, SESSION)
    forward(page, LEAD + 1)
    figure = page.locator(".figure")
    found = {}
    for turn, one in enumerate(stations(page, SESSION, few=8)):
        for scheme in in_turn(SCHEMES, turn, few=1):
            page.emulate_media(color_scheme=scheme)
            found[one["exercise"], scheme] = seen_in(opened(figure.screenshot()))
    assert len(found) >= size(12, few=8)
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


WINDOWS = [(width, scrolled) for width in (320, 360) for scrolled in (0, 60)]


def test_nothing_moves_when_the_address_bar_folds(emptied_page: OpenPage, site_url: str) -> None:
    """The window is lower by 80 pixels with the bar: buttons stay at its foot, all else where it was, and so does the scroll.

    Stations differ in what is drawn and said, so some of them are seen, in one of the windows in turn.
    """
    page = begin(emptied_page(**PHONE), site_url, SESSION)
    forward(page, LEAD + 1)
    looked_at = set()
    for turn, one in enumerate(stations(page, SESSION, few=8)):
        for width, scrolled in in_turn(WINDOWS, turn, few=1):
            seen = []
            for height in (740, 660, 740):
                resize(page, width, height)
                if not seen:
                    page.evaluate("y => scrollTo(0, y)", scrolled)
                seen.append(page.evaluate(f"() => [scrollY, ({PLACES})()]"))
            assert seen[0] == seen[1] == seen[2], one["exercise"]
            looked_at.add((width, scrolled))
    assert looked_at == set(WINDOWS)


BUTTONS = """() => {
  const box = (one) => {
    const { x, y, width, height } = one.getBoundingClientRect();
    return [x, y, width, height].map(Math.round);
  };
  return {
    buttons: JSON.stringify([...document.querySelectorAll(".keys button, [data-more]")].map(box)),
    digits: document.querySelector(".guide .digits").getBoundingClientRect().bottom,
    hand: document.querySelector(".guide div.hand").getBoundingClientRect().top,
  };
}"""


@pytest.mark.parametrize("pace", ["paced", "own"])
def test_buttons_keep_their_places_in_a_window_as_low_as_a_small_phone_on_its_side(
    emptied_page: OpenPage, site_url: str, pace: str
) -> None:
    """568 by 320: all of the digits is seen above them, and no button moves from one station to the next."""
    low = PHONE | {"viewport": {"width": 568, "height": 320}}
    page = begin(emptied_page(**low), site_url, SESSION, pace=pace)
    forward(page, LEAD + 1)
    told = read_to_the_end(page, BUTTONS)
    assert {number for number, _ in told} == set(range(len(SESSION.segments)))
    assert [number for number, one in told if one["digits"] > one["hand"]] == []
    assert len({one["buttons"] for _, one in told}) == 1
