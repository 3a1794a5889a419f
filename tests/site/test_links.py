"""Every link of the demo leads somewhere, nothing is asked of anybody else, and every page is found."""

import re
from urllib.parse import urljoin

from . import links


def canonical(page):
    return [one.get("href") for one in page.all("link") if one.get("rel") == "canonical"]


def test_every_link_leads_to_a_page_or_a_place_of_the_site(demo):
    assert links.faults(demo) == []


def test_every_page_is_reached_from_the_first_one_without_script(demo):
    assert links.unreachable(demo) == []


def test_the_links_are_there_to_be_checked(demo):
    used = {use.address for page in demo.read.values() for use in links.uses(page)}
    assert len(used) > len(demo.read)


def test_no_script_names_an_outside_address(demo):
    scripts = [name for name in demo.files if name.endswith(".js")]
    assert scripts
    for name in scripts:
        assert not re.search(r"(https?|wss?)://", demo.files[name].read_text(encoding="utf-8")), name


def test_every_page_has_one_canonical_address_below_that_of_the_first(demo):
    (top,) = canonical(demo[""])
    assert top.endswith("/")
    for address, page in demo.read.items():
        assert canonical(page) == ([] if page.kind == "missing" else [urljoin(top, address)])


def test_the_page_for_a_wrong_address_works_at_any_depth(demo):
    """It is shown in place of a page that is not there, so nothing on it may be relative."""
    page = demo["404.html"]
    for use in links.uses(page):
        assert use.address.startswith(("/", "#")), use.address
