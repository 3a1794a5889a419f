"""What can be seen on a page, as plain values: hidden elements are left out."""

from dataclasses import dataclass

from playwright.sync_api import Locator, Page

_DAY = r"""() => {
  const seen = (element) => element.checkVisibility({visibilityProperty: true, opacityProperty: true});
  const text = (element) => element && seen(element) ? element.innerText.replace(/\s+/g, " ").trim() : "";
  const all = (root, selector) => [...root.querySelectorAll(selector)].filter(seen);
  const said = (root, words, note) => ({
    words: text(root.querySelector(words)),
    note: note ? text(root.querySelector(note)) : "",
    when: text(root.querySelector(".when")),
  });
  for (const row of document.querySelectorAll("details.row")) row.open = true;
  for (const deep of document.querySelectorAll(".deep")) deep.hidden = false;
  const stations = [];
  let section = "";
  for (const block of all(document, ".block")) {
    const mark = block.querySelector(".mark") ?? block.closest(".part")?.querySelector(".mark");
    section = mark ? mark.textContent.replace("Block ", "").trim() : section;
    for (const li of all(block, ".stations > li")) {
      const mark = text(li.querySelector(".n"));
      stations.push({
        label: /^\d/.test(mark) ? `${section} ${mark}` : mark,
        name: text(li.querySelector("h3 .name")),
        when: text(li.querySelector("h3 .when")),
        doses: all(li, ".dose").map((one) => said(one, "strong", "span")),
        tempos: all(li, ".tempo").map((one) => text(one.querySelector("span"))),
        loads: all(li, ".recipe").map(text),
      });
    }
  }
  const sessions = all(document, ".sessions li").map((li) => {
    const link = li.querySelector("a");
    return link ? [link.getAttribute("href"), text(link)] : ["", text(li)];
  });
  return {sessions, stations};
}"""
_SHEET = r"""() => {
  const seen = (element) => element.checkVisibility({visibilityProperty: true, opacityProperty: true});
  const text = (element) => element && seen(element) ? element.innerText.replace(/\s+/g, " ").trim() : "";
  let section = "";
  return [...document.querySelectorAll("table.block")].flatMap((table) => {
    const mark = text(table.querySelector(".mark"));
    section = mark || section;
    return [...table.querySelectorAll("tbody tr")].map((row) => {
      const label = text(row.querySelector(".n"));
      return {
        label: /^\d/.test(label) ? `${section} ${label}` : label,
        name: text(row.querySelector("a")),
        dose: text(row.querySelector("strong")),
        cue: text(row.querySelector("em")),
        times: [...row.querySelectorAll("td label")].map(text),
        boxes: [...row.querySelectorAll("td input")].filter(seen).length,
      };
    });
  });
}"""


@dataclass(frozen=True)
class Said:
    """A dose: in large type, beside it, and for which levels and weeks if not for all."""

    words: str
    note: str
    when: str


@dataclass(frozen=True)
class Station:
    label: str
    name: str
    when: str
    doses: tuple[Said, ...]
    tempos: tuple[str, ...]
    loads: tuple[str, ...]


@dataclass(frozen=True)
class DayShown:
    """(address, words) of each session, the address empty where there is none; and the stations, warm-up first."""

    sessions: list[tuple[str, str]]
    stations: list[Station]


def read_day(page: Page) -> DayShown:
    """What a day page shows when all of its rows are open."""
    raw = page.evaluate(_DAY)
    stations = [
        Station(
            one["label"],
            one["name"],
            one["when"],
            tuple(Said(**dose) for dose in one["doses"]),
            tuple(one["tempos"]),
            tuple(one["loads"]),
        )
        for one in raw["stations"]
    ]
    return DayShown([(address, words) for address, words in raw["sessions"]], stations)


SheetRow = tuple[str, str, str, str, list[str], int]


def read_sheet(page: Page) -> list[SheetRow]:
    """Label, name, dose, cue, times and number of boxes of each station; rounds in several tables are joined."""
    rows: dict[str, SheetRow] = {}
    for one in page.evaluate(_SHEET):
        label, name, dose, cue, times, boxes = one.values()
        before = rows.get(label, (label, name, dose, cue, [], 0))
        rows[label] = (label, name, dose, cue, before[4] + times, before[5] + boxes)
    return list(rows.values())


def text_of(locator: Locator) -> str:
    """The visible text, spaces collapsed."""
    return " ".join(locator.inner_text().split())
