"""The manifest of each programme against the W3C's Web Application Manifest (clauses are named beside the checks)."""

import json
import re
import struct
from urllib.parse import urljoin

import pytest

from .pages import Page, Site

HOST = "https://host.example"
TOP = f"{HOST}/some/path/"
KINDS = ("programme", "poster", "version", "kit", "numbers", "archive", "parents", "day", "session")
PNG = b"\x89PNG\r\n\x1a\n"


@pytest.fixture(params=["demo", "good"])
def site(request: pytest.FixtureRequest) -> Site:
    return request.getfixturevalue(request.param)


def manifests(site: Site) -> dict[str, dict]:
    """What each says, by its address on a host."""
    names = [name for name in site.files if name.endswith(".webmanifest")]
    assert len(names) == len(site.of_kind("programme"))
    return {TOP + name: json.loads(site.files[name].read_text(encoding="utf-8")) for name in names}


def links(page: Page) -> list[str]:
    return [
        urljoin(TOP + page.address, one.get("href"))
        for one in page.all("link")
        if one.get("rel") == "manifest"
    ]


def test_every_page_of_a_programme_links_its_manifest_and_no_other_page_one(site: Site) -> None:
    for page in site.read.values():
        own = [f"{TOP}{page.address.partition('/')[0]}/app.webmanifest"] if page.kind in KINDS else []
        assert links(page) == own, page.address


def test_it_starts_at_the_programme(site: Site) -> None:
    """ "start_url member": an address, resolved against that of the manifest, of the same origin."""
    for url, said in manifests(site).items():
        start = urljoin(url, said["start_url"])
        assert start == url.removesuffix("app.webmanifest")
        assert start.removeprefix(TOP) in site.pages


def test_the_whole_site_and_nothing_beside_it_is_in_scope(site: Site) -> None:
    """ "scope member": start_url has to be within it (compared as the beginning of the address)."""
    for url, said in manifests(site).items():
        scope = urljoin(url, said["scope"])
        assert scope == TOP
        assert urljoin(url, said["start_url"]).startswith(scope)


def test_programmes_are_told_apart(site: Site) -> None:
    """ "id member": without it the identity is start_url. Relative to the origin, it could be another site's."""
    identities = [
        urljoin(url, said["start_url"]) for url, said in manifests(site).items() if "id" not in said
    ]
    assert len(set(identities)) == len(site.of_kind("programme"))


def test_names_language_and_display(site: Site) -> None:
    """ "name", "short_name", "lang" (a language tag of BCP 47), "dir", "display" members and their allowed values."""
    for url, said in manifests(site).items():
        page = site[url.removeprefix(TOP).removesuffix("app.webmanifest")]
        title = "".join(page.one("h1").itertext())
        assert said["short_name"] == title
        assert said["name"].startswith(title)
        assert said["lang"] == page.one("html").get("lang") or re.fullmatch(
            r"[a-z]{2,3}(-[A-Za-z0-9]+)*", said["lang"]
        )
        assert said["dir"] in ("ltr", "rtl", "auto")
        assert said["display"] in ("fullscreen", "standalone", "minimal-ui", "browser")


def test_colours_are_of_our_palette(site: Site) -> None:
    """ "theme_color" and "background_color" members: CSS colours."""
    icon = next(path for name, path in site.files.items() if name.startswith("assets/icons/icon.")).read_text(
        encoding="utf-8"
    )
    style = next(path for name, path in site.files.items() if "/sheet." in name).read_text(encoding="utf-8")
    for said in manifests(site).values():
        assert f'fill="{said["theme_color"]}"' in icon
        assert f"--paper:{said['background_color']}" in style


def test_icons_are_there_and_as_large_as_they_say(site: Site) -> None:
    """ "Manifest image resources": src, sizes, type; "purpose member": any, maskable.

    192 and 512 pixels are what browsers ask for before they offer to install (common practice, no standard).
    """
    for url, said in manifests(site).items():
        sizes = {(icon["sizes"], icon["purpose"]) for icon in said["icons"]}
        assert sizes == {("192x192", "any"), ("512x512", "any"), ("512x512", "maskable")}
        for icon in said["icons"]:
            data = site.files[urljoin(url, icon["src"]).removeprefix(TOP)].read_bytes()
            width, height = struct.unpack(">II", data[16:24])
            assert data.startswith(PNG)
            assert icon["type"] == "image/png"
            assert f"{width}x{height}" == icon["sizes"]
            # Fetched once, by who installs it; a club's crest has more colours than our own icon.
            assert len(data) < 15_000
