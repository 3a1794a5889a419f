"""What a stranger's file, or another page of the same host, can cost: work grows with what is given, and no faster.

Work is counted, not timed: elements of lists that are looked at, texts that are read, elements that are drawn.
"""

import json
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import PHONE, OpenContext, OpenPage
from tests.browser.guided import soon
from tests.browser.host import Host, hosted
from tests.browser.log_records import HOME, call, kept, key, put, record, station
from tests.browser.loose import script, serve
from tests.browser.test_log_page import NOW, items, log_page, said
from tests.samples import size

MOST = 20_000
"""The most finished sets of a session that a file may bring in."""
TOO_MANY = size(60_000, few=MOST + 1)
SESSIONS = size(10_000, few=1_200)

# A list that counts how many of its elements are looked at, and so does every list that is made from it.
COUNTED = """
let looks = 0;
const counted = (list) => new Proxy(list, {
  get(target, key, proxy) {
    if (key === "constructor") return { [Symbol.species]: function (size) { return counted(new Array(size)); } };
    if (typeof key === "string" && /^\\d+$/.test(key)) looks += 1;
    return Reflect.get(target, key, proxy);
  },
});
"""
ABSORB = (
    COUNTED
    + """
return given.map((size) => {
  const stations = Array.from({ length: size }, (_, round) => ({
    label: "A1", exercise: "sit", name: "Sit", round, dose: "8", reps: 8, way: "" }));
  const one = { ended: null, effort: null, note: "", seconds: 1, utc: 60, reports: [], stations: counted(stations) };
  const other = { ...one, stations: counted([...stations].reverse()) };
  looks = 0;
  const grew = m.absorb(one, other);
  return { grew, looks, length: one.stations.length };
});
"""
)


def many_stations(number: int, first: int = 0) -> list[dict[str, Any]]:
    return [station(name="", dose="", round=first + place) for place in range(number)]


@pytest.fixture
def device(open_context: OpenContext) -> BrowserContext:
    return open_context(**PHONE, timezone_id="UTC")


@pytest.fixture
def page(open_page: OpenPage, site_url: str) -> Iterator[Page]:
    """A page with nothing kept, before and after."""
    page = open_page(**PHONE, timezone_id="UTC")
    page.goto(f"{site_url}about/")
    page.evaluate("localStorage.clear()")
    yield page
    page.unroute_all(behavior="wait")
    page.evaluate("localStorage.clear()")


def chosen(page: Page, file: Path, text: str) -> None:
    """The way by a real file: a driver takes seconds to hand over megabytes of words."""
    file.write_text(text, encoding="utf-8")
    page.locator("input[type=file]").set_input_files(file)


def log_file(*sessions: dict[str, Any]) -> str:
    return json.dumps({"format": "phasepress log", "version": 1, "sessions": sessions})


# --- a file ---------------------------------------------------------------------------------------------


def test_a_copy_in_reverse_costs_no_more_than_each_station_once(page: Page, built_site: Path) -> None:
    small, large = call(page, built_site, "record", ABSORB, [250, 2000])
    assert (small["grew"], small["length"]) == (False, 250)
    assert (large["grew"], large["length"]) == (False, 2000)
    assert large["looks"] <= 8.5 * small["looks"], "eight times as many stations, eight times the work"


def test_what_was_done_twice_is_there_twice_and_not_four_times(page: Page, built_site: Path) -> None:
    twice, once = station(), station(round=2)
    body = "const [ours, theirs] = given; const grew = m.absorb(ours, theirs); return [grew, ours.stations];"
    for ours, theirs, expected in (
        ([twice, once, twice], [twice, twice, once], [twice, once, twice]),
        ([twice], [once, twice, twice], [twice, once, twice]),
        ([], [twice, twice], [twice, twice]),
        ([once, twice], [], [once, twice]),
    ):
        given = [record(stations=ours), record(stations=theirs)]
        grew, stations = call(page, built_site, "record", body, given)
        assert stations == expected
        assert grew == (len(expected) > len(ours))


def test_a_session_that_is_twice_in_a_file_with_its_stations_reversed_comes_in_at_once(
    device: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page = log_page(device, site_url, [])
    stations = many_stations(MOST)
    chosen(
        page,
        tmp_path / "log.json",
        log_file(record(stations=stations), record(stations=list(reversed(stations)))),
    )
    expect(said(page)).to_have_text("Brought in: 1 new, 0 completed, 1 here already.", timeout=30_000)
    [only] = kept(page).values()
    assert only["stations"] == stations
    expect(items(page)).to_have_count(1)


def test_a_session_of_too_many_stations_is_refused_with_what_is_allowed(
    device: BrowserContext, site_url: str, tmp_path: Path
) -> None:
    page = log_page(device, site_url, [])
    stations = many_stations(TOO_MANY)
    chosen(
        page,
        tmp_path / "log.json",
        log_file(record(stations=stations), record(stations=list(reversed(stations)))),
    )
    expect(said(page)).to_have_text(
        f"Nothing was brought in. Session 1 of the file (Legs and pull): it has {TOO_MANY} finished sets, allowed are "
        f"{MOST}. Save the file again on the device that it is from.",
        timeout=30_000,
    )
    assert kept(page) == {}


def test_rows_of_a_csv_are_refused_from_the_first_that_is_too_many(page: Page, built_site: Path) -> None:
    body = """
        const text = m.toCsv([given]).trimEnd().split("\\r\\n");
        const read = (rows) => m.fromText([text[0], ...Array.from({length: rows}, () => text[1])].join("\\r\\n"));
        let words = "";
        try { read(20001); } catch (error) { words = error.message; }
        return [read(20000)[0].stations.length, words];"""
    allowed, words = call(page, built_site, "transfer", body, record(stations=[station()]))
    assert allowed == MOST
    assert words.startswith(
        f"Line {MOST + 2} (Legs and pull): it has {MOST + 1} finished sets, allowed are {MOST}."
    )


def test_copies_that_come_to_too_many_stations_together_are_refused_and_nothing_is_changed(
    page: Page, built_site: Path
) -> None:
    here = record(stations=many_stations(MOST - 1))
    put(page, [here])
    brought = call(
        page,
        built_site,
        "import",
        f"return m.importSessions('{HOME}', given)",
        [record(stations=many_stations(2, MOST))],
    )
    assert brought == {
        "why": f"Nothing was brought in: with what is here a session (Legs and pull) would have {MOST + 1} finished "
        f"sets, allowed are {MOST}."
    }
    assert kept(page) == {key(here): here}
    one_more = record(stations=many_stations(1, MOST))
    assert (
        call(page, built_site, "import", f"return m.importSessions('{HOME}', given)", [one_more])["completed"]
        == 1
    )


def test_many_copies_of_a_session_ask_the_store_no_more_than_one(page: Page, built_site: Path) -> None:
    """And what each of them costs does not hang on how long the session is by now."""
    put(page, [record(stations=many_stations(500))])
    body = f"""
        const cost = (copies) => {{
            let asked = 0, written = 0;
            const [get, stringify] = [Storage.prototype.getItem, JSON.stringify];
            Storage.prototype.getItem = function (key) {{ asked += 1; return get.call(this, key); }};
            JSON.stringify = (...all) => {{ const text = stringify(...all); written += text.length; return text; }};
            const told = m.importSessions('{HOME}', Array.from({{length: copies}}, () => ({{...given, stations: []}})));
            [Storage.prototype.getItem, JSON.stringify] = [get, stringify];
            return {{asked, written, told}};
        }};
        return [cost(1), cost(300)];"""
    one, many = call(page, built_site, "import", body, record())
    assert many["told"] == {"added": 0, "completed": 0, "same": 300}
    assert (many["asked"], many["written"]) == (one["asked"], one["written"])


def test_columns_of_a_csv_are_looked_up_once(page: Page, built_site: Path) -> None:
    body = """
        const text = m.toCsv([given]).trimEnd().split("\\r\\n");
        const cost = (rows) => {
            let asked = 0;
            const { indexOf } = Array.prototype;
            Array.prototype.indexOf = function (...all) { asked += 1; return indexOf.apply(this, all); };
            m.fromText([text[0], ...Array.from({length: rows}, () => text[1])].join("\\r\\n"));
            Array.prototype.indexOf = indexOf;
            return asked;
        };
        return [cost(2), cost(200)];"""
    few, many = call(page, built_site, "transfer", body, record(stations=[station()]))
    assert many == few


def test_a_line_of_a_csv_without_end_is_refused(page: Page, built_site: Path) -> None:
    body = """try { m.fromText(",".repeat(given)); } catch (error) { return error.message; }"""
    words = call(page, built_site, "transfer", body, 100_000)
    assert words.startswith("The file is damaged, line 1: more than 20000 cells.")


def test_an_id_that_is_taken_by_what_cannot_be_read_stays_an_id(page: Page, built_site: Path) -> None:
    """Also where every id like it is taken: a record must be found again."""
    taken = "x" * 60
    names = [f"log {HOME} {taken}{'b' * more}" for more in range(20)]
    page.evaluate("(names) => names.forEach((name) => localStorage.setItem(name, '{half'))", names)
    brought = call(
        page, built_site, "import", f"return m.importSessions('{HOME}', given)", [record(id=taken)]
    )
    assert brought["added"] == 1
    [found] = call(page, built_site, "records", f"return m.records('{HOME}')")
    assert found | {"id": "k1"} == record()


# --- the page of the log ------------------------------------------------------------------------------------


@pytest.fixture
def very_long_log(device: BrowserContext, site_url: str) -> Page:
    """All of last week and without an effort, as a hostile file may have them."""
    short = {"note": "", "stations": [station()], "effort": None, "address": "", "plan": ""}
    start = round((NOW - timedelta(days=8)).timestamp() * 1000)
    many = [record(id=f"m{number}", started=start + number, **short) for number in range(SESSIONS)]
    return log_page(device, site_url, many)


def test_a_very_long_log_is_drawn_in_parts(very_long_log: Page) -> None:
    page = very_long_log
    expect(items(page)).to_have_count(20)
    assert page.locator(".weeks rect").count() <= 20 * 7, "marks that cannot be told apart are one"
    page.get_by_role("button", name=f"Show 500 more of {SESSIONS} sessions").tap()
    expect(items(page)).to_have_count(520)
    assert page.locator(".log-sessions details li").count() == 0, "what nobody has opened is not drawn"
    items(page).first.locator("summary").tap()
    expect(items(page).first.locator("details li")).to_have_text("A1 Wall sit: round 1, 8 each side")
    expect(page.get_by_role("button", name=f"Show 500 more of {SESSIONS} sessions")).to_be_visible()


def test_a_session_longer_than_a_call_has_arguments_can_be_opened(
    device: BrowserContext, site_url: str
) -> None:
    page = log_page(device, site_url, [record(stations=many_stations(30_000))])
    # That they are made is asked here; to lay them all out would take seconds.
    items(page).first.locator("details ul").evaluate("one => { one.style.display = 'none'; }")
    items(page).first.locator("summary").tap()
    expect(items(page).first.locator("details li")).to_have_count(30_000, timeout=30_000)


HELD_FRAMES = """
window.frames_ = [];
window.heard = 0;
window.requestAnimationFrame = (go) => window.frames_.push(go);
addEventListener("storage", () => { window.heard += 1; });
"""


def test_what_another_tab_brings_in_is_drawn_together(device: BrowserContext, site_url: str) -> None:
    page = log_page(device, site_url, [], HELD_FRAMES)
    other = device.new_page()
    other.goto(f"{site_url}about/")
    start = round(datetime(2027, 1, 12, tzinfo=UTC).timestamp() * 1000)
    put(other, [record(id=f"m{number}", started=start) for number in range(15)])
    soon(lambda: page.evaluate("window.heard === 15"))
    assert page.evaluate("window.frames_.length") == 1
    page.evaluate("window.frames_.pop()()")
    expect(items(page)).to_have_count(15)
    put(other, [record(id="late", started=start)])
    soon(lambda: page.evaluate("window.frames_.length === 1"))
    page.evaluate("window.frames_.pop()()")
    expect(items(page)).to_have_count(16)


# --- a session under way -------------------------------------------------------------------------------------


def guided(page: Page, site_url: str, body: str, given: object = None) -> Any:
    """What `body` returns in a page that has the guided session's plan and state as `plan` and `m`."""
    scripts = {}
    serve(page, site_url)
    for name in ("plan", "state"):
        scripts[name] = f"{site_url}{script(name)}"
    words = (
        f"const {{ plan }} = await import('{scripts['plan']}'); const m = await import('{scripts['state']}');"
    )
    return page.evaluate(f"async (given) => {{ {words} {body} }}", given)


LINES = """
const lines = (many) => Array.from({ length: many }, (_, index) => ({
  start: index * 1000, length: 1000, kind: "work", block: "1", station: "A1", round: index + 1, side: null, reps: null }));
"""


@pytest.mark.parametrize("at", [5_000.5, 1.5, 8.64e15], ids=["in between", "a fraction", "the last date"])
def test_looking_ahead_ends_where_the_clock_cannot_tell_the_rest_from_nothing(
    page: Page, site_url: str, at: float
) -> None:
    body = (
        LINES
        + """
        const ready = plan(lines(3), { 1: "circuit" }, { A1: "time" });
        let looks = 0;
        const watched = { ...ready, get segments() { if ((looks += 1) > 1e5) throw new Error("without end"); return ready.segments; } };
        const events = [{ type: "start", pace: "paced", at: given }, { type: "place", index: 0, into: 999.9999999999, kept: 0, at: given }];
        return m.ahead(watched, events, given, given + 90000).length;"""
    )
    assert guided(page, site_url, body, 1_800_000_000_000 + at) >= 1


def test_finishing_sets_costs_the_same_however_many_there_are(
    page: Page, site_url: str, built_site: Path
) -> None:
    body = (
        LINES
        + """
        return given.map((many) => {
          const ready = plan(lines(many), { 1: "circuit" }, { A1: "time" });
          let looks = 0;
          const bouts = new Proxy(ready.bouts, { get(target, key, proxy) {
            if (typeof key === "string" && /^\\\\d+$/.test(key)) looks += 1;
            return Reflect.get(target, key, proxy); } });
          const at = m.state({ ...ready, bouts }, [{ type: "start", pace: "paced", at: 0 }], 1e9);
          return { looks, done: at.done.length };
        });""".replace("\\\\", "\\")
    )
    small, large = guided(page, site_url, body, [100, 800])
    assert (small["done"], large["done"]) == (100, 800)
    assert large["looks"] <= 8.5 * small["looks"]


def test_the_way_back_to_a_session_is_short_whatever_the_store_calls_it(page: Page, site_url: str) -> None:
    under = {
        "address": "home-strength/",
        "record": {"ended": None, "title": "x" * 500_000, "level": "y" * 500_000},
    }
    page.evaluate("(one) => localStorage.setItem(...one)", [f"running {HOME}", json.dumps(under)])
    page.reload()
    assert len(page.locator(".older a").inner_text()) == 202


@pytest.fixture
def at_the_root(built_site: Path) -> Iterator[Host]:
    """A host whose whole is the site."""
    with hosted(Host({"/": built_site})) as host:
        yield host


def test_an_address_that_is_none_does_not_stop_the_page(open_context: OpenContext, at_the_root: Host) -> None:
    """At the root of a host, a path of two strokes would be another host, and one with a bracket none at all."""
    page = open_context(**PHONE).new_page()
    for address in ("/[", "/elsewhere.example/x/", "//["):
        under = {"address": address, "record": {"ended": None, "title": "T", "level": "L"}}
        page.goto(f"{at_the_root.url}exercises/")
        page.evaluate("(one) => localStorage.setItem(...one)", ["running /", json.dumps(under)])
        page.reload()
        expect(page.get_by_label("Find an exercise")).to_be_visible()
        link = page.locator(".older a")
        assert link.count() == 0 or link.evaluate("one => one.origin") == at_the_root.url.removesuffix("/")
