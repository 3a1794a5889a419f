"""Every code of the site says its own page's public address, read by a decoder that did not draw it."""

import re

from phasepress.judging import check
from phasepress.publishing.assets import assets
from phasepress.publishing.site import Renderer
from phasepress.reading.catalogue import load

from tests.qr_reading import drawn, texts

from .conftest import GOOD, ROOT

SVG = re.compile(r'<svg class="qr".*?</svg>', re.DOTALL)
SITE_URL = re.search(r"^site_url: (\S+)$", (ROOT / "mkdocs.yml").read_text(encoding="utf-8"), re.MULTILINE)[1]


def test_every_sheet_and_card_has_a_code_with_its_own_address(demo):
    for page in demo.of_kind("session", "kit"):
        (code,) = SVG.findall(page.markup)
        assert texts(drawn(code)) == [SITE_URL + page.address]
        assert f'rel="canonical" href="{SITE_URL}{page.address}"' in page.markup


def test_every_poster_has_the_code_of_its_programme_and_the_address_in_words(demo):
    for page in demo.of_kind("poster"):
        (code,) = SVG.findall(page.markup)
        programme = page.address.removesuffix("poster/")
        assert texts(drawn(code)) == [SITE_URL + programme]
        told = "".join(page.one("p", "address").itertext())
        assert f"https://{told}" == SITE_URL + programme


def test_no_other_page_has_one(demo):
    others = [page for page in demo.read.values() if page.kind not in ("session", "kit", "poster")]
    assert [page.address for page in others if SVG.search(page.markup)] == []


def pages(**settings):
    checked = check(load(GOOD))
    own = assets()
    renderer = Renderer(checked.catalogue, own, results=checked.versions, **settings)
    return {page.address: page.text for page in renderer.pages() if page.file == "index.html"}


def test_without_a_public_address_there_is_no_code_but_a_line_to_write_on():
    found = pages()
    assert [address for address, text in found.items() if SVG.search(text)] == []
    assert '<p class="address">Address: <i></i></p>' in found["home/poster/"]


def test_a_preview_has_none_since_its_address_is_not_the_public_one():
    found = pages(site_url="http://127.0.0.1:8000/", preview=True)
    assert [address for address, text in found.items() if SVG.search(text)] == []
    assert "127.0.0.1" not in found["home/poster/"].replace('href="http://127.0.0.1', "")
