"""The page that a host shows for a wrong address: its links lead into the site wherever the folder stands."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.host import Host, hosted
from tests.browser.offline_sites import visiting

# Where the settings of the demo say that it stands, elsewhere, at the top of a host, and deeper; and what is asked there.
PLACES = {
    "/training/": "exercises/a/b/c/d.html",
    "/club/site/": "nothing",
    "/": "home-strength/9.9/legs/",
    "/a/b/c/": "home-strength/9.9/legs/",
}
# What the browser says of the wrong address itself, and of files that it looked for where the settings say they are.
EXPECTED = r"answer 404: |status of 404 |/training/assets/|MIME type"


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with visiting(browser, EXPECTED) as context:
        yield context.new_page()


def links(page: Page) -> list[str]:
    found: list[str] = page.eval_on_selector_all(
        "a[href]:not([href^='#'])", "all => all.map((one) => one.href)"
    )
    return found


@pytest.mark.parametrize(("place", "wrong"), PLACES.items())
def test_its_links_and_its_look_are_found(page: Page, built_site: Path, place: str, wrong: str) -> None:
    with hosted(Host({place: built_site}, missing=404)) as host:
        page.goto(host.url + wrong)
        expect(page.get_by_role("heading", level=1)).to_have_text("There is no such page")
        expect(page.get_by_role("link", name="Go to the first page")).to_have_attribute("href", place)
        expect(page.locator("body")).to_have_css("margin", "0px")
        for link in links(page):
            answer = page.request.get(link)
            assert answer.ok, link
            assert link.startswith(host.url)
        page.get_by_role("link", name="Go to the first page").click()
        expect(page).to_have_url(host.url)


def test_a_host_that_calls_every_address_found_does_not_mislead_it(page: Page, built_site: Path) -> None:
    with hosted(Host({"/club/site/": built_site}, missing=200)) as host:
        page.goto(host.url + "a/wrong/one")
        expect(page.get_by_role("link", name="Go to the first page")).to_have_attribute("href", "/club/site/")


def test_without_script_it_says_what_it_is(browser: Browser, built_site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    with hosted(Host({"/club/site/": built_site}, missing=404)) as host:
        page = context.new_page()
        page.goto(host.url + "a/wrong/one")
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        expect(page).to_have_title("There is no such page – Ravelmouth Juniors")
    context.close()
