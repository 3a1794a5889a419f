"""The page "Your log": what was done, the weeks, and the ways in and out, by touch and by keyboard."""

import json
import random
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, FilePayload, Locator, Page, expect

from tests.browser.axe import violations
from tests.browser.conftest import DESKTOP, PHONE, OpenContext
from tests.browser.geometry import cut_off, overlaps, targets, too_wide
from tests.browser.log_records import (
    HOME,
    HOSTILE,
    UsedAgain,
    any_record,
    call,
    emptied,
    kept,
    put,
    record,
    station,
    using_again,
)
from tests.browser.reading_pages import text_of
from tests.browser.test_log_records import FILL
from tests.browser.test_storage_refused import REFUSALS
from tests.samples import every, size

# A Wednesday.
NOW = datetime(2027, 1, 20, 18, 0, tzinfo=UTC)
SHARE = "navigator.share = async (given) => { window.shared = given; }"
COPY = "Object.defineProperty(navigator, 'clipboard', {value: {writeText: async (text) => { window.copied = text; }}})"


def ago(days: float, **changes: Any) -> dict[str, Any]:
    started = round((NOW - timedelta(days=days)).timestamp() * 1000)
    return record(
        **{"id": f"d{days}".replace(".", "-"), "started": started, "ended": started + 2_760_000} | changes
    )


# Last week 270 on Monday, 300 on Wednesday and 240 on Friday; this week one session without an effort.
SESSIONS = [
    ago(9, seconds=2700, effort=6, title="Legs and pull", note=""),
    ago(7, seconds=3600, effort=5, title="Push and brace", note="Towel slipped twice."),
    ago(5, seconds=2400, effort=6, title="Legs and pull", note=""),
    ago(1, seconds=1800, effort=None, title="Push and brace", note="", ended=None),
]


@pytest.fixture(scope="module")
def used_again(browser: Browser) -> Iterator[UsedAgain]:
    with using_again(browser, **PHONE, timezone_id="UTC", accept_downloads=True) as used:
        yield used


@pytest.fixture
def device(used_again: UsedAgain) -> Iterator[BrowserContext]:
    yield used_again.context
    used_again.leave()


def log_page(context: BrowserContext, site_url: str, sessions: Any = SESSIONS, script: str = "") -> Page:
    """The page of the log on a Wednesday, with these sessions kept before and nothing else.

    In the page that the device has open; in a new one if a script is given, which would stay in it.
    """
    page = context.new_page() if script or not context.pages else context.pages[0]
    page.clock.set_fixed_time(NOW)
    put(emptied(page, site_url), sessions)
    if script:
        page.add_init_script(script)
    page.goto(f"{site_url}log/")
    expect(page.get_by_role("heading", name="Copies and sharing")).to_be_visible()
    return page


@pytest.fixture
def page(device: BrowserContext, site_url: str) -> Page:
    return log_page(device, site_url)


def said(page: Page) -> Locator:
    return page.get_by_role("status")


def items(page: Page) -> Locator:
    return page.locator(".log-sessions > li")


def test_without_script_it_says_what_it_is_for_and_where_the_log_is(
    open_context: OpenContext, site_url: str
) -> None:
    page = open_context(**PHONE, java_script_enabled=False).new_page()
    page.goto(site_url)
    page.get_by_role("link", name="Your log").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Your log")
    seen = text_of(page.locator("#main"))
    assert "on this device only" in seen
    assert "Without script there is no log" in seen
    assert "2 min × effort 4 = 8" in seen
    assert "onotony" not in seen


def test_an_empty_log_says_how_it_fills(device: BrowserContext, site_url: str) -> None:
    page = log_page(device, site_url, [])
    expect(page.get_by_text("Nothing here yet")).to_be_visible()
    expect(page.get_by_role("button")).to_have_count(1)
    expect(page.get_by_role("button", name="Choose a file")).to_be_visible()
    page.get_by_role("link", name="Go to the programmes").tap()
    expect(page).to_have_url(site_url)


def test_the_sessions_are_listed_newest_first(page: Page) -> None:
    expect(items(page)).to_have_count(4)
    newest, _, push, _ = (text_of(item) for item in items(page).all())
    assert newest.startswith(
        "Push and brace Tue 19 Jan 2027 · Steady, week 2 30 min · no effort noted, so no load yet · not finished"
    )
    assert push.startswith(
        "Push and brace Wed 13 Jan 2027 · Steady, week 2 60 min × effort 5 = 300 · hard Towel slipped twice."
    )
    items(page).nth(2).get_by_text("2 sets done").tap()
    expect(
        items(page).nth(2).get_by_text("A2 Row: round 2, 8 each side (easier: a lighter bag)")
    ).to_be_visible()


def test_the_weeks_have_their_loads_and_say_what_is_not_known(page: Page) -> None:
    drawn = [text_of(one) for one in page.locator(".weeks li").all()]
    assert drawn == ["11 Jan load 810", "18 Jan so far load ?"]
    table = page.get_by_role("region", name="Loads by week and day")
    found = [
        [text_of(cell) for cell in row.locator("th, td").all()] for row in table.locator("tbody tr").all()
    ]
    assert found == [
        ["18 Jan 2027", "? so far", "1", "0", "?", "0", "–", "–", "–", "–"],
        ["11 Jan 2027", "810", "3", "270", "0", "300", "0", "240", "0", "0"],
    ]
    expect(page.get_by_text("1 session has no effort noted, so no load")).to_be_visible()
    expect(page.get_by_text("This week is not over")).to_be_visible()
    # The ribbons are drawn to one scale.
    widths = page.locator(".weeks svg").evaluate_all(
        "all => all.map((svg) => [...svg.children].map((part) => part.getBoundingClientRect().width / svg.getBoundingClientRect().width))"
    )
    assert widths[0] == pytest.approx([270 / 810, 300 / 810, 240 / 810], abs=0.01)
    assert len(widths[1]) == 1


def test_an_effort_and_a_note_can_be_added_later(page: Page) -> None:
    items(page).first.get_by_role("button", name="Add effort and note").tap()
    effort = page.get_by_role("group", name="How hard the session felt, 0 to 10")
    expect(effort.get_by_label("not noted")).to_be_focused()
    assert [text_of(one) for one in effort.locator("label").all()][:3] == [
        "not noted",
        "0, rest",
        "1, very very easy",
    ]
    boxes = [one.bounding_box() for one in effort.locator("label").all()]
    assert len(boxes) == 12
    assert len({box["x"] for box in boxes if box}) == 1, "it is one column"
    assert all(box and box["height"] >= 44 for box in boxes)
    effort.get_by_label("7, very hard").tap()
    page.get_by_role("textbox", name="Note").fill("Better than last week\nand \u05d0\u05d1")
    page.get_by_role("button", name="Save", exact=True).tap()
    expect(said(page)).to_have_text("Saved.")
    expect(items(page).first).to_contain_text("30 min × effort 7 = 210 · very hard")
    expect(items(page).first.get_by_role("button", name="Change effort and note")).to_be_focused()
    one = next(one for one in kept(page).values() if one["id"] == "d1")
    assert (one["effort"], one["note"], one["ended"]) == (7, "Better than last week\nand \u05d0\u05d1", None)
    expect(page.locator(".weeks li").last).to_contain_text("210")


def test_an_effort_is_changed_by_keyboard_alone(page: Page) -> None:
    items(page).nth(1).get_by_role("button", name="Change effort").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    page.keyboard.type("lighter")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(items(page).nth(1)).to_contain_text("effort 7")
    expect(items(page).nth(1)).to_contain_text("lighter")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(items(page).nth(1).get_by_role("button", name="Change effort")).to_be_focused()


def test_one_session_is_deleted_after_a_question(page: Page) -> None:
    items(page).first.get_by_role("button", name="Delete").tap()
    question = page.get_by_role("dialog")
    expect(question).to_contain_text("Delete Push and brace of Tue 19 Jan 2027")
    expect(question.get_by_role("button", name="Keep it")).to_be_focused()
    page.keyboard.press("Escape")
    expect(question).to_have_count(0)
    expect(items(page)).to_have_count(4)
    expect(items(page).first.get_by_role("button", name="Delete")).to_be_focused()
    items(page).first.get_by_role("button", name="Delete").tap()
    question.get_by_role("button", name="Delete it").tap()
    expect(items(page)).to_have_count(3)
    expect(said(page)).to_have_text("The session is deleted.")
    expect(page.get_by_role("heading", name="Sessions")).to_be_focused()
    assert {one["id"] for one in kept(page).values()} == {"d9", "d7", "d5"}


def test_the_whole_log_is_deleted_after_a_question(page: Page) -> None:
    page.evaluate("localStorage.setItem('level /club/site/x', 'steady')")
    page.get_by_role("button", name="Delete the whole log").tap()
    page.get_by_role("button", name="Keep my log").tap()
    expect(items(page)).to_have_count(4)
    page.get_by_role("button", name="Delete the whole log").tap()
    expect(page.get_by_role("dialog")).to_contain_text("4 sessions")
    page.get_by_role("button", name="Delete everything").tap()
    expect(page.get_by_text("Nothing here yet")).to_be_visible()
    expect(said(page)).to_have_text("The log is deleted.")
    expect(said(page)).to_be_focused()
    assert page.evaluate("Object.keys(localStorage)") == ["level /club/site/x"]


def download(page: Page, name: str) -> tuple[str, str]:
    with page.expect_download() as found:
        page.get_by_role("button", name=name).tap()
    return found.value.suggested_filename, Path(found.value.path()).read_text(encoding="utf-8")


def test_a_log_goes_to_another_device_as_a_file(
    page: Page, open_context: OpenContext, site_url: str, tmp_path: Path
) -> None:
    name, text = download(page, "Save as a file")
    assert name == "training-log-2027-01-20.json"
    assert json.loads(text)["sessions"] == SESSIONS
    expect(said(page)).to_contain_text("4 sessions saved in a file")
    sheet, rows = download(page, "Save for a spreadsheet")
    assert sheet == "training-log-2027-01-20.csv"
    desktop = open_context(**DESKTOP, timezone_id="UTC")
    for number, (suffix, content) in enumerate({"json": text, "csv": rows}.items()):
        other = log_page(desktop, site_url, SESSIONS[:number])
        file = tmp_path / f"log.{suffix}"
        file.write_text(content, encoding="utf-8", newline="")
        with other.expect_file_chooser() as chooser:
            other.get_by_role("button", name="Choose a file").click()
        chooser.value.set_files(file)
        expect(said(other)).to_have_text(f"Brought in: {4 - number} new, 0 completed, {number} here already.")
        expect(items(other)).to_have_count(4)
        assert kept(other) == kept(page)


WRONG_FILES = {
    b"not a log": "not a log of this site",
    b"\xff\xfe=\x00": "not UTF-8",
    b"": "not a log of this site",
    b'{"format": "phasepress log", "version": 9, "sessions": []}': "Load this page again",
}


def test_a_wrong_file_is_refused_and_nothing_changes(page: Page) -> None:
    before = kept(page)
    for content, words in WRONG_FILES.items():
        page.evaluate("document.querySelector('[role=status]').textContent = ''")
        file: FilePayload = {"name": "x.json", "mimeType": "", "buffer": content}
        page.locator("input[type=file]").set_input_files(file)
        expect(said(page)).to_contain_text("Nothing was brought in")
        expect(said(page)).to_contain_text(words)
        assert kept(page) == before


def test_the_text_to_share_is_seen_first_and_can_be_changed(device: BrowserContext, site_url: str) -> None:
    page = log_page(device, site_url, script=SHARE)
    page.get_by_text("Show the text to share").tap()
    text = page.get_by_label("This is what you share")
    expect(text).to_have_value(
        "Training log, Ravelmouth Juniors\n"
        "\n"
        "Week from 18 Jan 2027: 1 session, load not known so far (1 session without an effort)\n"
        "Week from 11 Jan 2027: 3 sessions, load 810\n"
        "\n"
        "Tue 19 Jan 2027: Push and brace (Steady, week 2)\n"
        "  30 min · no effort noted, so no load yet · not finished · 2 sets done\n"
        "Fri 15 Jan 2027: Legs and pull (Steady, week 2)\n"
        "  40 min × effort 6 = 240 · 2 sets done\n"
        "Wed 13 Jan 2027: Push and brace (Steady, week 2)\n"
        "  60 min × effort 5 = 300 · hard · 2 sets done\n"
        "  Note: Towel slipped twice.\n"
        "Mon 11 Jan 2027: Legs and pull (Steady, week 2)\n"
        "  45 min × effort 6 = 270 · 2 sets done\n"
    )
    text.fill("Only this.")
    assert page.evaluate("window.shared") is None
    page.get_by_role("button", name="Share", exact=True).tap()
    expect(said(page)).to_have_text("Shared.")
    assert page.evaluate("window.shared.text") == "Only this."


def test_turning_back_from_the_share_sheet_is_no_fault(device: BrowserContext, site_url: str) -> None:
    refuse = "navigator.share = async () => { throw new DOMException('', window.why ?? 'AbortError'); }"
    page = log_page(device, site_url, script=refuse)
    page.get_by_text("Show the text to share").tap()
    page.get_by_role("button", name="Share", exact=True).tap()
    expect(said(page)).to_have_text("Not shared.")
    page.evaluate("window.why = 'NotAllowedError'")
    page.get_by_role("button", name="Share", exact=True).tap()
    expect(said(page)).to_contain_text("did not share it")


def test_without_a_share_sheet_it_is_copied_or_saved(device: BrowserContext, site_url: str) -> None:
    page = log_page(device, site_url, script=f"delete Navigator.prototype.share; {COPY}")
    page.get_by_text("Show the text to share").tap()
    expect(page.get_by_role("button", name="Share", exact=True)).to_have_count(0)
    page.get_by_role("button", name="Copy").tap()
    expect(said(page)).to_have_text("Copied.")
    assert page.evaluate("copied").startswith("Training log, Ravelmouth Juniors")
    name, text = download(page, "Save as text")
    assert name == "training-log-2027-01-20.txt"
    assert text == page.evaluate("copied")


def test_text_of_others_is_only_ever_text(device: BrowserContext, site_url: str) -> None:
    hostile = [
        ago(number + 1, title=text, level=text, note=text, stations=[station(name=text, dose=text, way=text)])
        for number, text in enumerate(HOSTILE)
    ]
    addresses = [
        "javascript:alert(1)",
        "//elsewhere.example/",
        "../../../x/",
        "https://elsewhere.example/",
        "\\\\e",
    ]
    hostile += [ago(50 + number, address=address, note="") for number, address in enumerate(addresses)]
    page = log_page(device, site_url, hostile)
    page.get_by_role("button", name="Show all").tap()
    expect(items(page)).to_have_count(len(hostile))
    assert page.locator("[data-log] img").count() == 0
    shown = page.locator(".own").evaluate_all("all => all.map((one) => one.textContent)")
    assert shown == [text for text in HOSTILE if text]
    links = items(page).locator("h3 a").evaluate_all("all => all.map((one) => one.origin)")
    assert set(links) == {site_url.removesuffix(HOME)}
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    assert too_wide(page) == []


def test_what_another_tab_writes_is_shown_and_a_form_is_left_alone(
    device: BrowserContext, page: Page, site_url: str
) -> None:
    items(page).nth(1).get_by_role("button", name="Change effort").tap()
    page.get_by_role("textbox", name="Note").fill("half a sen")
    other = device.new_page()
    other.goto(f"{site_url}about/")
    put(other, [ago(0, title="Just done"), SESSIONS[2] | {"note": "theirs"}])
    page.bring_to_front()
    expect(items(page)).to_have_count(5)
    expect(page.get_by_role("textbox", name="Note")).to_have_value("half a sen")
    expect(page.get_by_role("textbox", name="Note")).to_be_focused()
    page.get_by_role("button", name="Leave as it was").tap()
    expect(items(page).nth(2)).to_contain_text("theirs")
    expect(said(page)).to_have_text("")


@pytest.mark.parametrize(
    "refusal", ["the store may not be touched", "there is no store", "nothing may be read or written"]
)
def test_a_browser_that_keeps_nothing_is_named(device: BrowserContext, site_url: str, refusal: str) -> None:
    page = device.new_page()
    page.add_init_script(REFUSALS[refusal][0])
    page.goto(f"{site_url}log/")
    expect(page.get_by_text("This browser keeps nothing for this site")).to_be_visible()
    page.locator("input[type=file]").set_input_files(
        {
            "name": "x.json",
            "mimeType": "",
            "buffer": json.dumps({"format": "phasepress log", "version": 1, "sessions": [record()]}).encode(),
        }
    )
    expect(said(page)).to_contain_text("Nothing was brought in: this browser keeps nothing")


def test_what_only_this_tab_holds_can_be_saved(
    device: BrowserContext, built_site: Path, site_url: str
) -> None:
    page = log_page(device, site_url, [])
    page.evaluate(FILL)
    call(page, built_site, "records", f"return m.keep('{HOME}', given)", SESSIONS[0])
    page.reload()
    expect(page.get_by_text("1 session is in this tab only")).to_be_visible()
    expect(items(page)).to_have_count(1)
    with page.expect_download() as found:
        page.get_by_role("button", name="Save as a file").first.tap()
    assert json.loads(Path(found.value.path()).read_text(encoding="utf-8"))["sessions"] == [SESSIONS[0]]


def test_what_cannot_be_read_is_counted(device: BrowserContext, site_url: str) -> None:
    page = log_page(device, site_url, [record(v=3), record(id="k2", effort=12)])
    expect(page.get_by_text("2 entries of this log cannot be read")).to_be_visible()
    expect(page.get_by_text("Nothing here yet")).to_be_visible()
    expect(page.get_by_role("button", name="Delete the whole log")).to_be_visible()


def test_a_long_log_shows_the_newest_first_and_the_rest_at_a_tap(
    device: BrowserContext, site_url: str
) -> None:
    many = size(300, few=120)
    page = log_page(device, site_url, [ago(number) for number in range(many)])
    expect(items(page)).to_have_count(20)
    expect(page.locator(".weeks li")).to_have_count(12)
    page.get_by_role("button", name=f"Show all {many} sessions").tap()
    expect(items(page)).to_have_count(many)


def test_any_records_at_all_can_be_shown(device: BrowserContext, site_url: str) -> None:
    chance = random.Random(11)
    many = size(200, few=80)
    page = log_page(device, site_url, [any_record(chance, number) for number in range(many)])
    page.get_by_role("button", name="Show all").tap()
    expect(items(page)).to_have_count(many)
    assert "NaN" not in text_of(page.locator("[data-log]"))


def test_nothing_is_said_until_something_is_done_and_nothing_moves(page: Page) -> None:
    expect(said(page)).to_have_text("")
    assert page.locator("[aria-live]").count() == 0
    assert page.evaluate("document.getAnimations().length") == 0


def filled_in(page: Page) -> None:
    """A form is open, a wrong file has been refused."""
    items(page).first.get_by_role("button", name="Add effort").click()
    page.locator("input[type=file]").set_input_files({"name": "x", "mimeType": "", "buffer": b""})
    expect(said(page)).to_contain_text("Nothing was brought in")


def asked(page: Page) -> None:
    """A question is open."""
    page.get_by_role("button", name="Delete the whole log").click()
    expect(page.get_by_role("dialog")).to_be_visible()


@pytest.mark.parametrize(
    ("screen", "scheme", "state"),
    every(
        [
            (screen, scheme, state)
            for screen in ("phone", "desktop")
            for scheme in ("light", "dark")
            for state in (filled_in, asked)
        ],
        few=[("phone", "light", filled_in), ("desktop", "dark", asked)],
    ),
)
def test_no_rule_of_accessibility_is_broken(
    open_context: OpenContext, site_url: str, screen: str, scheme: str, state: Callable[[Page], None]
) -> None:
    size = {"phone": PHONE, "desktop": DESKTOP}[screen]
    page = log_page(open_context(**size, color_scheme=scheme, timezone_id="UTC"), site_url)
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    state(page)
    assert violations(page) == []


def test_it_fits_a_small_phone_and_large_type(page: Page) -> None:
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    items(page).first.get_by_role("button", name="Add effort").tap()
    for width in (320, 360, 768, 1280):
        page.set_viewport_size({"width": width, "height": 740})
        assert too_wide(page) == [], f"{width} px"
    page.set_viewport_size({"width": 360, "height": 740})
    assert [
        one
        for one in targets(
            page, "[data-log] :is(button, select, summary, input:not([type=radio]), .effort label, textarea)"
        )
        if one["height"] < 44
    ] == []
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert too_wide(page) == []
    assert cut_off(page) == []
    assert overlaps(page) == []


def test_paper_has_weeks_and_sessions_and_no_buttons(page: Page) -> None:
    page.emulate_media(media="print")
    expect(page.locator(".weeks")).to_be_visible()
    expect(items(page).first).to_be_visible()
    expect(page.get_by_role("button")).to_have_count(0)
    expect(page.get_by_text("Bring in a copy")).to_be_hidden()
