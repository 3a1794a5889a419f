"""The code on a printed page leads back to that page: off paper, off a worn copy of it, off a fax."""

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import OnPaper, OpenPage, public_address
from tests.browser.demo import Session, demo
from tests.browser.paper import FORMATS
from tests.conftest import ROOT
from tests.qr_reading import copied, faxed, picture, texts
from tests.samples import every

MM = 96 / 25.4
DOTS = 300
# The smallest module that phones read at a hand's length (common practice, no source).
LEAST_MODULE_MM = 0.4
TREE = demo()


def sheets() -> list[Session]:
    """One of every day: its last level, its last week."""
    return [day.sessions[-1] for day in TREE.days]


def addresses() -> list[tuple[str, str]]:
    """(page, what its code says) of sheets, kit cards and posters."""
    found = [(session.address, session.address) for session in sheets()[::3]]
    found += [(f"{version.address}kit/", f"{version.address}kit/") for version in TREE.versions[-1:]]
    return found + [(f"{name}/poster/", f"{name}/") for name in TREE.programmes]


# The longest code and the largest.
SHEET = max(addresses(), key=lambda one: len(one[1]))
POSTER = addresses()[-1]
CARD = next(one for one in addresses() if one[0].endswith("kit/"))


@pytest.fixture
def page(open_page: OpenPage) -> Page:
    return open_page(color_scheme="dark")


@pytest.mark.parametrize("paper", FORMATS)
@pytest.mark.parametrize(("address", "leads_to"), every(addresses(), few=[SHEET, POSTER]))
def test_the_printed_code_and_a_worn_copy_of_it_lead_to_its_page(
    on_paper: OnPaper, address: str, leads_to: str, paper: str
) -> None:
    sheet = picture(on_paper(address, paper), DOTS)
    assert texts(sheet) == [public_address() + leads_to]
    assert texts(copied(sheet, DOTS)) == [public_address() + leads_to]
    assert texts(faxed(sheet, DOTS)) == [public_address() + leads_to]


def test_a_copy_that_is_worn_out_is_not_read(on_paper: OnPaper) -> None:
    assert texts(copied(picture(on_paper(SHEET[0], "A4"), DOTS), DOTS, to=50)) == []


@pytest.mark.parametrize(("address", "leads_to"), every(addresses(), few=4))
def test_its_modules_are_large_enough(page: Page, site_url: str, address: str, leads_to: str) -> None:
    page.goto(site_url + address, wait_until="domcontentloaded")
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round(188 * MM), "height": 1000})
    width, height, side, ink, ground = page.locator(".qr").evaluate("""one => {
        const box = one.getBoundingClientRect();
        return [box.width, box.height, one.viewBox.baseVal.width, getComputedStyle(one.firstChild).stroke,
                getComputedStyle(one).backgroundColor];
    }""")
    assert width == pytest.approx(height, abs=0.5)
    assert width / side >= LEAST_MODULE_MM * MM
    assert (ink, ground) == ("rgb(0, 0, 0)", "rgb(255, 255, 255)")


def test_it_has_a_name_for_those_who_do_not_see_it(page: Page, site_url: str) -> None:
    for address, _ in every(addresses(), few=[SHEET, CARD, POSTER]):
        page.goto(site_url + address, wait_until="domcontentloaded")
        page.emulate_media(media="print")
        code = page.get_by_role("img", name="QR code with the address of this")
        assert code.count() == 1, address


def test_the_public_address_of_the_demo_is_in_its_settings() -> None:
    assert f"site_url: {public_address()}\n" in (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
