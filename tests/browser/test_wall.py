"""What hangs beside the sheets: the poster in the changing room, and the kit card."""

import re
from fractions import Fraction

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OnPaper, OpenPage, public_address
from tests.browser.demo import Version, demo, near, recipe_kg
from tests.browser.long_cases import LONG, THINGS
from tests.browser.paper import FORMATS, colours, missing_in_order, printed, read, words
from tests.samples import every

TREE = demo()
STOP = (
    "Stop if something hurts, if you feel dizzy or unwell, or if you can no longer do the movement right. "
    "Tell an adult."
)
ASK = "Ask your coach, physiotherapist or doctor before you go on."
# Every card has these, whatever the phase uses.
USUAL = (2, 4, 6)
KINDS = [(version, version.address + "kit/") for version in TREE.versions]
CARDS = [(version, address, paper) for version, address in KINDS for paper in FORMATS]


@pytest.fixture
def page(open_page: OpenPage) -> Page:
    return open_page(color_scheme="dark")


def loads_of(version: Version) -> set[Fraction]:
    """The loads of all sessions, in kg, by the oracle of the files."""
    return {row.load for day in version.days for one in day.sessions for row in one.rows if row.load}


def things_of(version: Version) -> set[str]:
    """What the exercises of all sessions need, by their files."""
    used = {row.exercise for day in version.days for one in day.sessions for row in one.rows}
    exercises = version.tree.files["exercises"]
    return {thing for exercise in used for thing in exercises[exercise].get("needs", [])}


@pytest.mark.parametrize("paper", FORMATS)
@pytest.mark.parametrize("programme", TREE.programmes)
def test_a_poster_is_one_page_in_black_and_white_and_says_how_to_begin(
    on_paper: OnPaper, programme: str, paper: str
) -> None:
    sheet = read(on_paper(f"{programme}/poster/", paper))
    assert len(sheet.pages) == 1
    assert colours(sheet) == set()
    text = words(sheet)
    title = TREE.programmes[programme]["title"]
    address = f"{public_address()}{programme}/".removeprefix("https://")
    steps = ["Three steps to begin", "1.", "camera", "2.", "ask your coach", "3.", "another adult"]
    assert missing_in_order(text, [TREE.club["club"], title, *steps]) is None
    assert address in text.replace("/ ", "/")
    for line in (STOP, *TREE.club["cautions"], ASK):
        assert line in text
    assert "Print this poster" not in text


@pytest.mark.parametrize("paper", FORMATS)
def test_a_poster_and_a_card_with_long_words_are_one_page(page: Page, extra_url: str, paper: str) -> None:
    addresses = [f"{LONG}/poster/", f"{LONG}/1.0/kit/", "crowded/poster/", "crowded/1.0/kit/"]
    for address in every(addresses, few=addresses[:2]):
        page.goto(extra_url + address)
        assert len(printed(page, paper).pages) == 1, address


@pytest.mark.parametrize(("version", "address", "paper"), every(CARDS, few=6), ids=repr)
def test_a_card_is_one_page_with_what_to_heed(
    on_paper: OnPaper, version: Version, address: str, paper: str
) -> None:
    sheet = read(on_paper(address, paper))
    assert len(sheet.pages) == 1
    assert colours(sheet) == set()
    text = words(sheet)
    for line in (
        STOP,
        *TREE.club["cautions"],
        ASK,
        "Ask an adult",
        "handles",
        "lid",
        "Check before every session",
    ):
        assert line in text
    assert [thing for thing in things_of(version) if thing not in text] == []


@pytest.mark.parametrize(("version", "address"), KINDS, ids=repr)
def test_a_card_has_all_that_the_phase_needs_and_a_recipe_for_each_load_that_weighs_as_much(
    page: Page, site_url: str, version: Version, address: str
) -> None:
    """A load of the phase, or a usual one."""
    page.goto(site_url + address, wait_until="domcontentloaded")
    things = {" ".join(one.split()) for one in page.locator(".things tbody strong").all_inner_texts()}
    assert things == things_of(version)
    rows = page.locator("tr:has(.kg)").evaluate_all(
        "all => all.map((row) => ['.kg', 'b', 'th > span'].map((part) => row.querySelector(part).innerText))"
    )
    told = {Fraction(kg.removesuffix(" kg")): (recipe, note) for kg, recipe, note in rows}
    used = loads_of(version)
    assert told.keys() == (used | set(USUAL) if used else set())
    for kg, (recipe, note) in told.items():
        weight = recipe_kg(TREE.club, recipe)
        assert near(weight, kg), recipe
        assert ("in this phase" in note) == (kg in used)
        assert (f"comes to {float(weight):g} kg" in note) == (weight != kg)


def test_a_card_says_which_exercise_needs_a_thing_and_leads_to_it(page: Page, site_url: str) -> None:
    version = TREE.versions[-1]
    page.goto(f"{site_url}{version.address}kit/")
    exercises = version.tree.files["exercises"]
    for row in page.locator(".things tbody tr").all():
        thing = row.locator("strong").inner_text()
        for link in row.locator("a").all():
            name = re.search(r"exercises/([^/]+)/$", link.get_attribute("href") or "")
            assert name
            assert thing in exercises[name[1]]["needs"]


def test_the_long_card_names_every_thing(page: Page, extra_url: str) -> None:
    page.goto(f"{extra_url}{LONG}/1.0/kit/")
    assert set(THINGS) <= set(page.locator(".things tbody strong").all_inner_texts())


def test_coaches_find_both_from_the_pages_they_belong_to(page: Page, site_url: str) -> None:
    version = TREE.versions[-1]
    page.goto(f"{site_url}{version.programme}/")
    page.get_by_role("link", name="Poster for the changing room").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(TREE.programmes[version.programme]["title"])
    page.goto(site_url + version.address)
    page.get_by_role("link", name="Kit card").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(f"What you need for {version.phase}")


@pytest.mark.parametrize("address", ["poster/", "3.0/kit/"])
def test_each_can_be_printed_with_a_button_where_there_is_script(
    open_page: OpenPage, site_url: str, address: str
) -> None:
    programme = TREE.versions[-1].programme
    for script in (True, False):
        page = open_page(java_script_enabled=script)
        page.goto(f"{site_url}{programme}/{address}")
        button = page.get_by_role("button", name="Print this")
        expect(button).to_be_visible() if script else expect(button).to_be_hidden()
