"""Names, doses and cues that nobody expects, on the guided screen: nothing is cut, covered or taken for markup."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from phasepress.cli import main
from playwright.sync_api import Page, expect
from ruamel.yaml import YAML

from tests.browser import geometry
from tests.browser.conftest import DESKTOP, PHONE, OpenContext
from tests.browser.demo import DEMO, Session, Tree
from tests.browser.guided import LEAD, begin, button, forward, press, records, shown, skip, stop, wishes
from tests.conftest import Serve
from tests.fixtures.settings import beside
from tests.samples import ALL, every

ODD = {
    "right to left": "כפיפת ברכיים על רגל אחת (שמאל) 2.0",
    "one long word": "Donauschleusenwärterhäuschenkniebeugenübungsvariante",
    "many words": "Slow split squat with the rear foot on the lowest stair, the front foot flat and both hands free",
    "markup": "<b onclick=alert(1)>Row</b> & <img src=x onerror=alert(1)> &lt;i&gt;",
    "signs": "💪🏽 Row 👩‍👩‍👧 for “two” — “now”",
    "both directions": "Row לאט back and אחר front",
    "no letters": "_*#1",
}
CUE = "Keep the whole foot on the floor, push the knee out over the little toe and breathe out on the way up."
SCREENS = {
    "phone": PHONE,
    "on its side": {**PHONE, "viewport": {"width": 740, "height": 360}},
    "desk": DESKTOP,
}


def write(folder: Path) -> Path:
    """The demo's files with one programme whose exercises have these names, and names of their own for everything."""
    tree = beside(Path(shutil.copytree(DEMO, folder)))
    for other in ("first-jumps", "home-strength"):
        shutil.rmtree(tree / other)
    ids = []
    for number, name in enumerate(ODD.values(), 1):
        ids.append(f"odd-{number}")
        way = {"how": f"{name} with less"}
        _save(
            tree / "exercises" / f"odd-{number}.yaml",
            {
                "name": name,
                "pattern": "lunge",
                "works": ["thighs"],
                "sides": "each" if number % 2 else "both",
                "measure": "reps",
                "tempo": "3-1-1-0",
                "needs": ["bag"],
                "loadable": True,
                "setup": ["Stand."],
                "cues": [f"{name}. {CUE}", "Stay tall."],
                "cautions": ["Hold on to the rail."],
                "easier": [way],
            },
        )
    (tree / "odd").mkdir()
    _save(
        tree / "odd" / "programme.yaml",
        {
            "title": ODD["markup"],
            "levels": [{"id": "first", "name": ODD["right to left"], "experience": "beginner"}],
        },
    )
    stations = [{"exercise": id_, "reps": 12, "load": "4.5 kg"} for id_ in ids]
    day = {
        "id": "odd",
        "title": ODD["markup"],
        "on": ["mon"],
        "warm-up": "home-warm-up",
        "blocks": [
            {"kind": "circuit", "rounds": 2, "stations": stations[:4]},
            {"kind": "straight sets", "stations": [one | {"sets": 2} for one in stations[4:]]},
        ],
    }
    version = {
        "phase": ODD["signs"],
        "aim": "See what gives way.",
        "starts": "2027-03-01",
        "weeks": 1,
        "levels": ["first"],
        "days": [day],
    }
    _save(tree / "odd" / "1.0.yaml", version)
    return tree


def _save(file: Path, content: dict[str, Any]) -> None:
    with file.open("w", encoding="utf-8") as text:
        YAML().dump(content, text)


@pytest.fixture(scope="module")
def odd_tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(tmp_path_factory.mktemp("odd") / "tree")


@pytest.fixture(scope="module")
def odd_url(odd_tree: Path, serve: Serve) -> Iterator[str]:
    site = odd_tree.parent / "site"
    done = CliRunner().invoke(main, ["build", "--programmes", str(odd_tree), "--to", str(site)])
    assert done.exit_code == 0, done.output + repr(done.exception)
    with serve(site) as url:
        yield url


@pytest.fixture(scope="module")
def session(odd_tree: Path) -> Session:
    return Tree(odd_tree).sessions[0]


def faults(page: Page) -> list[Any]:
    """What is wrong with where things are: too wide, cut, on one another, or out of reach.

    The running order scrolls by itself, so it may hold more than is seen. The buttons stay in sight while the rest
    scrolls below them; it is looked at where everything has its own place.
    """
    return [*page.evaluate(OUT_OF_REACH), *geometry.faults(page, unfolded=APART)]


APART = """(apart) => {
  document.querySelector(".order ol").style.visibility = apart ? "hidden" : "";
  for (const one of document.querySelectorAll(".hand")) one.style.position = apart ? "static" : "";
}"""
# The running order that has to be scrolled sideways, and what cannot be seen, or tapped, by scrolling either. The line
# of large digits is taller than its digits.
OUT_OF_REACH = """() => {
  const order = document.querySelector("[data-order]");
  const wide = order.scrollWidth > order.clientWidth ? ["the running order is too wide"] : [];
  const lost = [...document.querySelectorAll(".guide [data-say], .guide button, .guide summary")].filter((one) => {
    if (!one.checkVisibility({visibilityProperty: true}) || !one.textContent.trim()) return false;
    one.scrollIntoView({block: "center"});
    const box = one.getBoundingClientRect();
    const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    return !(top && (one.contains(top) || top.contains(one) || top.matches(".digits")));
  });
  for (const one of document.querySelectorAll(".guide, body, html")) one.scrollTop = 0;
  return [...wide, ...lost.map((one) => `hidden: ${one.textContent.slice(0, 40)}`)];
}"""
SEEN = """places => places.filter((place) => {
  const box = document.querySelector(`.guide ${place}`).getBoundingClientRect();
  return !(box.width && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth);
})"""


@pytest.mark.parametrize("screen", every(SCREENS, few=["phone", "desk"]))
def test_names_of_every_kind_have_room_and_stay_text(
    open_context: OpenContext, odd_url: str, session: Session, screen: str
) -> None:
    page = begin(open_context(**SCREENS[screen]), odd_url, session)
    forward(page, LEAD)
    seen, wrong = set(), []
    for number, one in enumerate(session.segments):
        if one["station"] and len(one["block"]) == 1 and one["round"] == 1:
            forward(page, 0.5)
            key = one["kind"]
            if one["kind"] == "work":
                name = session.row(one["station"]).name
                assert name in shown(page).what
                assert page.evaluate(SEEN, [".digits", "h2", ".next", ".keys"]) == []
                key = name
            # Each name once, and each kind of what lies between.
            if ALL or key not in seen:
                wrong += [(number, fault) for fault in faults(page)]
            seen.add(key)
        skip(page, 1)
        if set(ODD.values()) <= seen and one["round"] != 1:
            break
    assert set(ODD.values()) <= seen
    assert wrong == []
    expect(page.locator("main img[src=x], main b[onclick], main i[lt]")).to_have_count(0)


def test_the_dose_stands_behind_a_name_that_runs_from_right_to_left(
    open_context: OpenContext, odd_url: str, session: Session
) -> None:
    """In the running order, and as what comes next: numbers beside such a name would change places with it."""
    page = begin(open_context(**DESKTOP), odd_url, session)
    name = ODD["right to left"]
    lines = page.locator("[data-order] li").filter(has_text=name)
    assert lines.count() > 1
    right_of_it = """(line, name) => {
      const find = (text) => { const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
        while (walker.nextNode()) { const at = walker.currentNode.data.indexOf(text); if (at >= 0) {
          const range = document.createRange(); range.setStart(walker.currentNode, at);
          range.setEnd(walker.currentNode, at + text.length); return [...range.getClientRects()]; } } };
      const [dose] = find(", 12");
      return find(name).every((part) => part.bottom < dose.top + 4 || part.right <= dose.left + 1); }"""
    assert all(one.evaluate(right_of_it, name) for one in lines.all())
    while name not in shown(page).next:
        skip(page, 1)
    assert page.locator(".guide .next").evaluate(right_of_it, name)


@pytest.mark.parametrize("screen", every(SCREENS, few=["on its side"]))
def test_everything_that_opens_has_room_too(
    open_context: OpenContext, odd_url: str, session: Session, screen: str
) -> None:
    page = begin(open_context(**SCREENS[screen]), odd_url, session, pace="own")
    place = next(
        n for n, one in enumerate(session.segments) if one["station"] == "A4" and one["kind"] == "work"
    )
    skip(page, place + 1)
    forward(page, 1)
    wishes(page)
    wrong = faults(page)
    way = page.locator("[data-ways] button").nth(1)
    expect(way).to_contain_text(ODD["markup"])
    press(way)
    press(button(page, "Done"))
    press(button(page, "Pause"))
    wrong += faults(page)
    stop(page)
    wrong += faults(page)
    press(page.get_by_role("button", name="7 very hard"))
    page.get_by_label("Note").fill("".join(ODD.values()))
    press(page.get_by_role("button", name="Save", exact=True))
    page.wait_for_url("**/log/")
    [record] = records(page)
    assert ODD["markup"] in record["stations"][0]["name"]
    assert record["title"] == ODD["markup"]
    assert wrong == []
