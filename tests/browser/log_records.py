"""Records of sessions as the log keeps them, made here by hand and by chance; and the modules of the log in a page."""

import json
import random
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

from tests.browser.conftest import BLOCKED, NO_WORKER, as_at_first
from tests.browser.watch import Watch
from tests.conftest import SUB_PATH

Record = dict[str, Any]
HOME = SUB_PATH
START = 1_799_000_000_000
"""A moment in January 2027, in milliseconds."""
# What breaks files, spreadsheets and pages; a lone half of a pair is left out, as no UTF-8 text can hold it.
HOSTILE = [
    "",
    " ",
    "a, b; c\td",
    'he said "go"',
    '"',
    "one\ntwo\r\nthree\rfour",
    "ends in a line\n",
    "=cmd|' /C calc'!A0",
    "+1",
    "  =1+1",
    "' @x",
    "-2",
    "@SUM(A1)",
    "'=1+1",
    "''-1",
    "'quoted'",
    "\t=1",
    "\uff1d1",
    "😀 👩‍👩‍👧",
    "שלום עולם",
    "\u202eturned\u202c",
    "\ufeffmark",
    "<img src=x onerror=alert(1)>",
    "a\u0000b",
    "\u2028line\u2029",
    "null",
    "1.0",
    "007",
    "x" * 10_000,
]


def record(**changes: Any) -> Record:
    """A record of a finished session of 45 minutes at effort 6."""
    return {
        "v": 2,
        "id": "k1",
        "address": "home-strength/2.0/legs/steady/week-2/",
        "programme": "home-strength",
        "version": "2.0",
        "plan": "abc123",
        "day": "legs",
        "title": "Legs and pull",
        "level": "Steady",
        "week": 2,
        "planned": 2520,
        "started": START,
        "ended": START + 2_760_000,
        "seconds": 2700,
        "stations": [station(), station(label="A2", name="Row", round=2, reps=None, way="a lighter bag")],
        "effort": 6,
        "note": "Felt good.",
        "utc": 60,
        "reports": [],
    } | changes


def report(**changes: Any) -> dict[str, Any]:
    """A stop that the coach has to hear of."""
    told = {"station": "B1", "where": "left knee", "why": "hurts", "note": "on landing", "time": START}
    return told | changes


def of_first_form(record: Record) -> Record:
    """The record as pages wrote it before they kept minutes from UTC and reports."""
    return {key: value for key, value in record.items() if key not in ("utc", "reports")} | {"v": 1}


def station(**changes: Any) -> dict[str, Any]:
    return {
        "label": "A1",
        "exercise": "wall-sit",
        "name": "Wall sit",
        "round": 1,
        "dose": "8 each side",
        "reps": 16,
        "way": "",
    } | changes


def any_record(chance: random.Random, number: int) -> Record:
    """A record with anything in it that a record may hold."""
    texts = ("address", "programme", "version", "plan", "day", "title", "level", "note")
    started = chance.randrange(0, 4_000_000_000_000)
    return record(
        **{key: chance.choice(HOSTILE) for key in texts},
        id=f"r{number}-{chance.randrange(10**6)}",
        week=chance.randrange(0, 60),
        planned=chance.choice([0, 60, 2520.5]),
        started=started,
        ended=chance.choice([None, started + chance.randrange(10**7)]),
        seconds=chance.choice([0, 1, 2700, chance.random() * 5000]),
        effort=chance.choice([None, *range(11)]),
        stations=[any_station(chance) for _ in range(chance.choice([0, 1, 2, 12]))],
        utc=chance.choice([None, 0, -210, 765]),
        reports=[any_report(chance) for _ in range(chance.choice([0, 0, 1, 3]))],
    )


def any_report(chance: random.Random) -> dict[str, Any]:
    texts = {key: chance.choice(HOSTILE) for key in ("station", "where", "note")}
    return report(**texts, why=chance.choice(["hurts", "too hard"]), time=chance.choice([None, START, 0]))


def any_station(chance: random.Random) -> dict[str, Any]:
    texts = {key: chance.choice(HOSTILE) for key in ("label", "exercise", "name", "dose", "way")}
    return station(**texts, round=chance.randrange(0, 9), reps=chance.choice([None, 0, 8, 16.5]))


def key(one: str | Record, home: str = HOME) -> str:
    """The key under which a record is kept, as the interface of the log has it."""
    return f"log {home} {one if isinstance(one, str) else one['id']}"


def emptied(page: Page, site_url: str) -> Page:
    """The page at the demo's site, with nothing in the browser's stores, as on a device that nobody has used before.

    It stands at a file without scripts: an answer by the test, as of an empty page, would make the next page slower.
    """
    page.goto(f"{site_url}offline.json")
    page.evaluate("localStorage.clear(); sessionStorage.clear()")
    return page


class UsedAgain:
    """A device for the tests of a module, watched; each empties it before it begins, and leaves it.

    Their clock may be set: it is set for every page of a context, so they share none with other modules.
    """

    def __init__(self, browser: Browser, **options: Any) -> None:
        self.context = browser.new_context(**NO_WORKER | options)
        self._options = options
        self._watch = Watch(self.context, BLOCKED)
        self.page = self.context.new_page()

    def heard_nothing(self) -> None:
        """Nothing may have been complained of since this was asked before."""
        assert self._watch.problems() == []

    def leave(self) -> None:
        """Ends a test: one page is left, as it was at first, and nothing may have been complained of."""
        page, *others = self.context.pages
        for other in others:
            other.close()
        as_at_first(page, self._options)
        page.goto("about:blank")
        self.heard_nothing()


@contextmanager
def using_again(browser: Browser, **options: Any) -> Iterator[UsedAgain]:
    """Such a device, which goes at the end of the block."""
    one = UsedAgain(browser, **options)
    yield one
    one.context.close()


def put(page: Page, records: Iterable[Record], home: str = HOME) -> None:
    """Writes records into the browser's store, past the scripts of the site."""
    texts = [[key(one, home), json.dumps(one)] for one in records]
    page.evaluate("(texts) => texts.forEach(([key, text]) => localStorage.setItem(key, text))", texts)


def kept(page: Page) -> dict[str, Any]:
    """What the browser's store holds of the log, parsed by Python."""
    texts: dict[str, str] = page.evaluate("({...localStorage})")
    return {name: json.loads(text) for name, text in texts.items() if name.startswith("log ")}


def call(page: Page, built_site: Path, module: str, body: str, argument: object = None) -> Any:
    """What `body` returns in the page; `m` is the module of that name in assets/js/log, `given` the argument."""
    [file] = (built_site / "assets/js/log").glob(f"{module}.*.js")
    address = f"{HOME}assets/js/log/{file.name}"
    # As text: element by element, long lists take the driver ten times as long.
    given = f"const m = await import('{address}'); const given = JSON.parse(text);"
    script = f"async (text) => {{ {given} return JSON.stringify(await (async () => {{ {body} }})()); }}"
    answer = page.evaluate(script, json.dumps(argument))
    return None if answer is None else json.loads(answer)
