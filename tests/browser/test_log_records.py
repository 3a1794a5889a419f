"""Keeping records: what is finished is never lost, whatever the browser's store does, and others' keys stay."""

import json
import os
import random
import re
import signal
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from phasepress.cli import main
from playwright.sync_api import Browser, BrowserContext, CDPSession, Error, Page, expect

from tests.browser.conftest import PHONE, go_to_an_empty_page
from tests.browser.log_records import (
    HOME,
    START,
    UsedAgain,
    any_record,
    call,
    emptied,
    kept,
    key,
    put,
    record,
    report,
    station,
    using_again,
)
from tests.browser.test_storage_refused import REFUSALS
from tests.conftest import Serve
from tests.samples import size
from tests.site import trees

# Fills the browser's store to the last character.
FILL = """() => {
  for (let size = 2 ** 22; size >= 1; size /= 2) {
    for (let number = 0; ; number += 1) {
      try { localStorage.setItem(`other ${size} ${number}`, "x".repeat(size)); } catch { break; }
    }
  }
}"""
KEEP = f"return m.keep('{HOME}', given)"
RECORDS = f"return m.records('{HOME}')"
UNKEPT = f"return m.unkept('{HOME}')"
SESSION = {
    "address": "a/",
    "programme": "p",
    "version": "1.0",
    "plan": "f",
    "day": "d",
    "title": "T",
    "level": "L",
    "week": 1,
    "planned": 60,
}
# Texts under keys of the log that are no records of this format.
UNREADABLE = {
    "not JSON": "{half a rec",
    "empty": "",
    "null": "null",
    "a list": "[]",
    "a number": "7",
    "a later format": json.dumps(record() | {"v": 3}),
    "another's object": '{"volume": 11}',
    "an effort off the scale": json.dumps(record(effort=11)),
    "a station that is none": json.dumps(record(stations=[station(), None])),
    "the record of another key": json.dumps(record(id="another")),
}


@pytest.fixture(scope="module")
def used_again(browser: Browser) -> Iterator[UsedAgain]:
    with using_again(browser, **PHONE) as used:
        yield used


@pytest.fixture
def page(used_again: UsedAgain, site_url: str) -> Iterator[Page]:
    """A page at the site, for calling functions of the log; what they have kept before goes first."""
    yield emptied(used_again.page, site_url)
    used_again.heard_nothing()


def opened(context: BrowserContext, site_url: str) -> Page:
    page = context.new_page()
    page.goto(f"{site_url}about/")
    return page


def test_a_record_is_under_its_key_as_soon_as_it_is_kept(page: Page, built_site: Path) -> None:
    assert call(page, built_site, "records", KEEP, record()) == ""
    assert kept(page) == {key("k1"): record()}
    assert call(page, built_site, "records", RECORDS) == [record()]
    assert call(page, built_site, "records", UNKEPT) == []


def test_a_new_record_has_nothing_done_and_an_id_of_its_own(page: Page, built_site: Path) -> None:
    body = f"return given.map((now) => m.newRecord('{HOME}', {json.dumps(SESSION)}, now))"
    made = call(page, built_site, "records", body, [START] * 500)
    assert len({one["id"] for one in made}) == 500
    assert all(re.fullmatch(r"[\w-]{1,64}", one["id"]) for one in made)
    utc = page.evaluate("(now) => 0 - new Date(now).getTimezoneOffset()", START)
    rest = {"v": 2, "started": START, "ended": None, "seconds": 0, "stations": [], "effort": None, "note": ""}
    rest |= {"utc": utc, "reports": []}
    assert [one | {"id": ""} for one in made] == [SESSION | rest | {"id": ""}] * 500
    assert kept(page) == {}, "a session that has not begun is not kept"


def test_records_of_any_content_come_back_as_they_were_oldest_first(
    page: Page, built_site: Path, site_url: str
) -> None:
    page.goto(f"{site_url}about/")
    chance = random.Random(1)
    made = [any_record(chance, number) for number in range(size(300, few=100))]
    body = f"return given.map((one) => m.keep('{HOME}', one))"
    assert set(call(page, built_site, "records", body, made)) == {""}
    page.reload()
    assert call(page, built_site, "records", RECORDS) == sorted(
        made, key=lambda one: (one["started"], one["id"])
    )


def test_a_growing_session_is_written_over_itself(page: Page, built_site: Path) -> None:
    body = f"""
        const record = m.newRecord('{HOME}', {json.dumps(SESSION)}, {START});
        for (const station of given) {{ record.stations.push(station); m.keep('{HOME}', record); }}
        // Going back takes a finished station out again.
        record.stations = record.stations.slice(0, -1);
        m.keep('{HOME}', record);
        m.keep('{HOME}', {{...record, effort: 7, note: "done"}});"""
    stations = [station(round=number) for number in range(1, 6)]
    call(page, built_site, "records", body, stations)
    [only] = kept(page).values()
    assert (only["stations"], only["effort"], only["note"]) == (stations[:-1], 7, "done")


# What is wrong with a record, and words of the refusal.
WRONG: list[tuple[dict[str, Any], str]] = [
    ({"effort": 11}, "effort is not a whole number from 0 to 10, or nothing"),
    ({"effort": -1}, "effort is not"),
    ({"effort": 5.5}, "effort is not"),
    ({"week": "2"}, "week is not a whole number"),
    ({"seconds": None}, "seconds is not a number"),
    ({"note": None}, "note is not text"),
    ({"id": "a b"}, "id is not"),
    ({"stations": {}}, "stations is not a list"),
    ({"stations": [station(), station(reps="8")]}, "station 2: reps is not"),
    ({"v": 3}, "v is not 1 or 2"),
    ({"utc": 61.5}, "utc is not a whole number of minutes"),
    ({"reports": {}}, "reports is not a list"),
    ({"reports": [report(why="bored")]}, "report 1: why is not"),
]


def test_what_is_no_record_is_refused_in_words(page: Page, built_site: Path) -> None:
    for wrong, words in WRONG:
        assert words in call(page, built_site, "records", KEEP, record(**wrong)), wrong
        assert kept(page) == {}, wrong


def test_keeping_never_throws(page: Page, built_site: Path) -> None:
    body = f"""
        const circle = {json.dumps(record())}; circle.stations.push(circle); circle.self = circle;
        const throwing = new Proxy({{}}, {{get() {{ throw new Error("no"); }}}});
        return [null, undefined, 1, "x", [], circle, throwing].map((one) => typeof m.keep('{HOME}', one))"""
    assert call(page, built_site, "records", body) == ["string"] * 7


def test_a_full_store_is_said_and_the_record_is_held(page: Page, built_site: Path) -> None:
    page.evaluate(FILL)
    why = call(page, built_site, "records", KEEP, record())
    assert "full" in why
    assert "file" in why
    assert call(page, built_site, "records", UNKEPT) == [record()]
    assert call(page, built_site, "records", RECORDS) == [record()]
    assert kept(page) == {}


def test_what_a_full_store_refused_outlives_a_reload_and_is_written_when_there_is_room(
    page: Page, built_site: Path, site_url: str
) -> None:
    page.goto(f"{site_url}about/")
    page.evaluate(FILL)
    call(page, built_site, "records", KEEP, record())
    page.reload()
    assert call(page, built_site, "records", RECORDS) == [record()]
    assert call(page, built_site, "records", UNKEPT) == [record()]
    page.evaluate(
        "Object.keys(localStorage).filter((key) => key.startsWith('other 64 ')).forEach((key) => localStorage.removeItem(key))"
    )
    page.evaluate("localStorage.removeItem(Object.keys(localStorage).find((key) => key.startsWith('other')))")
    assert call(page, built_site, "records", KEEP, record(id="k2")) == ""
    assert call(page, built_site, "records", UNKEPT) == []
    assert kept(page) == {key("k1"): record(), key("k2"): record(id="k2")}
    assert page.evaluate("sessionStorage.length") == 0


def test_a_session_that_outgrows_the_store_keeps_what_was_written(page: Page, built_site: Path) -> None:
    call(page, built_site, "records", KEEP, record())
    page.evaluate(FILL)
    longer = record(note="x" * 5000)
    assert "full" in call(page, built_site, "records", KEEP, longer)
    assert kept(page) == {key("k1"): record()}
    assert call(page, built_site, "records", RECORDS) == [longer]


@pytest.mark.parametrize("refusal", REFUSALS)
def test_a_store_that_refuses_is_said_and_the_record_is_held(
    page: Page, built_site: Path, site_url: str, refusal: str
) -> None:
    page = page.context.new_page()
    page.add_init_script(REFUSALS[refusal][0])
    go_to_an_empty_page(page, site_url)
    assert "this tab only" in call(page, built_site, "records", KEEP, record())
    assert call(page, built_site, "records", UNKEPT) == [record()]
    assert call(page, built_site, "records", RECORDS) == [record()]
    assert call(page, built_site, "records", f"return m.removeAll('{HOME}') && m.records('{HOME}')") in (
        "",
        [],
    )
    page.close()


@pytest.mark.parametrize("what", UNREADABLE)
def test_what_is_no_record_is_passed_over_counted_and_left_as_it_is(
    page: Page, built_site: Path, what: str
) -> None:
    page.evaluate("(given) => localStorage.setItem(...given)", [key("k1"), UNREADABLE[what]])
    assert call(page, built_site, "records", RECORDS) == []
    assert call(page, built_site, "records", f"return m.unreadable('{HOME}')") == 1
    assert call(page, built_site, "records", KEEP, record(id="k2")) == ""
    assert call(page, built_site, "records", RECORDS) == [record(id="k2")]
    assert page.evaluate("(key) => localStorage.getItem(key)", key("k1")) == UNREADABLE[what]


def test_a_session_whose_key_another_text_has_taken_moves_away(page: Page, built_site: Path) -> None:
    page.evaluate("(given) => localStorage.setItem(...given)", [key("k1"), "{half"])
    assert call(page, built_site, "records", KEEP, record()) == ""
    [moved] = call(page, built_site, "records", RECORDS)
    assert moved | {"id": "k1"} == record()
    assert page.evaluate("(key) => localStorage.getItem(key)", key("k1")) == "{half"
    call(page, built_site, "records", KEEP, record())
    assert call(page, built_site, "records", RECORDS) == [moved], "and not again and again"


def test_two_tabs_with_different_sessions_lose_nothing(
    phone: BrowserContext, built_site: Path, site_url: str
) -> None:
    one, other = opened(phone, site_url), opened(phone, site_url)
    body = f"""
        window.going = (async () => {{
          for (const record of given) {{
            const grown = {{...record, stations: []}};
            for (const station of record.stations) {{
              grown.stations.push(station);
              m.keep('{HOME}', grown);
              await new Promise((resolve) => setTimeout(resolve));
            }}
          }}
        }})();"""
    made = [record(id=f"k{number}", started=START + number) for number in range(60)]
    call(one, built_site, "records", body, made[::2])
    call(other, built_site, "records", body, made[1::2])
    for tab in (one, other):
        tab.evaluate("window.going")
    assert opened_records(phone, built_site, site_url) == made


def opened_records(context: BrowserContext, built_site: Path, site_url: str) -> Any:
    return call(opened(context, site_url), built_site, "records", RECORDS)


def test_two_tabs_with_the_same_session_take_in_what_the_other_wrote(
    phone: BrowserContext, built_site: Path, site_url: str
) -> None:
    """One goes on training while the other, on the page of the log, notes an effort."""
    training, noting = opened(phone, site_url), opened(phone, site_url)
    begun = record(stations=[station()], effort=None, note="", ended=None, seconds=60)
    call(training, built_site, "records", f"window.mine = given; {KEEP}", begun)
    until_stored(noting, "A1")
    change = (
        f"const [r] = m.records('{HOME}'); r.effort = 7; r.note = 'from the log'; return m.keep('{HOME}', r)"
    )
    call(noting, built_site, "records", change)
    until_stored(training, "from the log")
    grow = f"mine.stations.push(given); mine.seconds = 120; return m.keep('{HOME}', mine)"
    call(training, built_site, "records", grow, station(label="A2"))
    expected = begun | {
        "stations": [station(), station(label="A2")],
        "seconds": 120,
        "effort": 7,
        "note": "from the log",
    }
    assert kept(training) == {key("k1"): expected}
    # What is changed in both stays as it was changed here.
    until_stored(noting, "A2")
    call(training, built_site, "records", f"mine.effort = 3; return m.keep('{HOME}', mine)")
    assert [one["effort"] for one in kept(training).values()] == [3]


def until_stored(page: Page, words: str) -> None:
    page.wait_for_function("(words) => Object.values({...localStorage}).join().includes(words)", arg=words)


def kill_pages(browser: Browser) -> None:
    """Ends the processes of all pages at once, as a phone does that is short of memory.

    Comes back when the browser knows of it: one that gives a page to a process it keeps ready, and that has been
    killed with the others, may end itself (seen: Chromium 150, once in some 25 times).
    """
    session = browser.new_browser_cdp_session()
    killed = renderers(session)
    assert killed
    for process in killed:
        os.kill(process, signal.SIGKILL)
    for _ in range(100):
        if not killed & renderers(session):
            break
        time.sleep(0.05)
    time.sleep(0.5)


def renderers(session: CDPSession) -> set[int]:
    """The ids of the processes in which pages live."""
    found = session.send("SystemInfo.getProcessInfo")["processInfo"]
    return {process["id"] for process in found if process["type"] == "renderer"}


def test_a_tab_that_is_killed_right_after_keeping_loses_nothing(
    own_browser: Browser, built_site: Path, site_url: str
) -> None:
    page = opened(own_browser.new_context(**PHONE), site_url)
    [file] = (built_site / "assets/js/log").glob("records.*.js")
    # The page never comes to rest after it has kept the record, so nothing can be written later.
    page.evaluate(
        f"""async (given) => {{
            const m = await import('{HOME}assets/js/log/{file.name}');
            setTimeout(() => {{ m.keep('{HOME}', given); for (;;); }});
        }}""",
        record(),
    )
    page.wait_for_timeout(300)
    with page.expect_event("crash"):
        kill_pages(own_browser)
    page = opened_after(page.context, site_url)
    assert kept(page) == {key("k1"): record()}
    assert call(page, built_site, "records", RECORDS) == [record()]


def opened_after(context: BrowserContext, site_url: str) -> Page:
    """A new page. The browser may first give it a process that was kept ready, and has been killed with the others."""
    for _ in range(20):
        with suppress(Error):
            return opened(context, site_url)
    raise AssertionError("no page can be opened any more")


def test_what_a_full_store_refused_is_there_when_a_killed_tab_is_loaded_again(
    own_browser: Browser, built_site: Path, site_url: str
) -> None:
    page = opened(own_browser.new_context(**PHONE), site_url)
    session = page.context.new_cdp_session(page)
    page.evaluate(FILL)
    assert "full" in call(page, built_site, "records", KEEP, record())
    with page.expect_event("crash"):
        kill_pages(own_browser)
    # The page object stays crashed for good; the tab itself can be loaded again.
    session.send("Page.reload")
    [file] = (built_site / "assets/js/log").glob("records.*.js")
    expression = f"import('{HOME}assets/js/log/{file.name}').then((m) => m.unkept('{HOME}'))"
    asked = {"expression": expression, "awaitPromise": True, "returnByValue": True}
    for _ in range(100):
        answer = session.send("Runtime.evaluate", asked)["result"]
        if answer.get("value"):
            break
        time.sleep(0.05)
    assert answer.get("value") == [record()]


def test_deleting_the_log_leaves_the_keys_of_others(page: Page, built_site: Path) -> None:
    put(page, [record(), record(id="k2")])
    others = {
        "level /club/site/home-strength": "steady",
        "log": "mine",
        "log /club/": "mine",
        key("k1", "/club/"): "another club",
        key("k1", "/club/site/below/"): "a club below",
        "blog /club/site/ k1": "a diary",
    }
    page.evaluate("(others) => Object.entries(others).forEach((one) => localStorage.setItem(...one))", others)
    page.evaluate("(given) => localStorage.setItem(...given)", [key("damaged"), "{"])
    assert call(page, built_site, "records", f"return m.remove('{HOME}', 'k2')") == ""
    assert call(page, built_site, "records", RECORDS) == [record()]
    assert call(page, built_site, "records", f"return m.removeAll('{HOME}')") == ""
    assert page.evaluate("({...localStorage})") == others


def build(tree: Path, site: Path) -> None:
    done = CliRunner().invoke(main, ["build", "--programmes", str(tree), "--to", str(site)])
    assert done.exit_code == 0, done.output


def test_a_new_build_of_the_site_keeps_the_log(page: Page, tmp_path: Path, serve: Serve) -> None:
    tree = trees.write(trees.small(), tmp_path / "tree")
    site = tmp_path / "site"
    build(tree, site)
    with serve(site) as url:
        page.goto(f"{url}log/")
        expect(page.get_by_text("Nothing here yet")).to_be_visible()
        call(page, site, "records", KEEP, record())
        trees.write(
            trees.small()
            | {
                "other/programme.yaml": trees.small()["plan/programme.yaml"],
                "other/1.0.yaml": trees.small()["plan/1.0.yaml"],
            },
            tree,
        )
        build(tree, site)
        assert (site / "other" / "index.html").exists()
        page.goto(f"{url}log/")
        expect(page.get_by_role("heading", name="Legs and pull")).to_be_visible()
        page.goto("about:blank")
