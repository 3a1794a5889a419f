"""What a club's pages wear and say for it: colour, crest, who answers for the plans, what to do when something hurts."""

import io
import json
import re
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urljoin

import pytest
from phasepress.publishing.look import MOST_SMALL, Look
from phasepress.reading.shipped import THEME
from phasepress.reading.theme import read_tokens
from PIL import Image

from tests.fixtures.wcag import ratio

from . import trees
from .conftest import ROOT
from .pages import PRESCRIBING, Page, Site, words

HURT = "If something hurts: Call the office, 0100 555 01"
SIGNED = "Answers for this plan: Head of strength <accredited>"
SIGNED_KINDS = tuple(kind for kind in PRESCRIBING if kind != "exercise")
COLOUR = "#7a1f3d"


@pytest.fixture(scope="module")
def dressed(build: Callable[[Path, Path], Site], tmp_path_factory: pytest.TempPathFactory) -> Site:
    """A small club with everything; its crest is twice as high as wide."""
    folder = tmp_path_factory.mktemp("dressed")
    tree = trees.small()
    tree["club.yaml"] |= {
        "look": {"colour": COLOUR.upper(), "crest": "crest.jpg"},
        "signed": "Head of strength <accredited>",
        "if hurt": "Call the office, 0100 555 01",
    }
    root = trees.write(tree, folder / "tree")
    (root / "media").mkdir()
    Image.radial_gradient("L").resize((200, 400)).save(root / "media" / "crest.jpg")
    return build(root, folder / "site")


def images(page: Page) -> list[str]:
    """Where the pictures of a page lie that are no figures, from the top of the site."""
    found = [urljoin(f"https://h/{page.address}", one.attrib["src"]) for one in page.all("img")]
    return [one.removeprefix("https://h/") for one in found if "/icons/" in one]


def small_crest(site: Site) -> str:
    return next(name for name in site.files if re.fullmatch(r"assets/icons/crest\.[0-9a-f]{8}\.png", name))


@pytest.mark.parametrize("kind", PRESCRIBING)
def test_what_to_do_when_something_hurts_stands_with_the_stop_rule(dressed: Site, kind: str) -> None:
    assert dressed.of_kind(kind)
    for page in dressed.of_kind(kind):
        rules = page.all("section", "stop")
        assert rules
        assert all(HURT in words(rule) for rule in rules), page.address


@pytest.mark.parametrize("kind", SIGNED_KINDS)
def test_who_answers_for_the_plans_is_named(dressed: Site, kind: str) -> None:
    for page in dressed.of_kind(kind):
        assert page.words.count(SIGNED) == 1, page.address


def test_the_open_data_of_a_plan_has_what_to_do_when_something_hurts(dressed: Site) -> None:
    plan = json.loads(dressed.files["plan/1.0/plan.json"].read_text(encoding="utf-8"))
    assert HURT in plan["cautions"]


def test_every_page_has_the_crest_in_its_head_and_as_its_icon(dressed: Site) -> None:
    crest = small_crest(dressed)
    for page in dressed.pages.values():
        head = page.one("header", "top")
        if page.address == "404.html":
            continue
        (shown,) = [one for one in page.all("img", within=head)]
        assert shown.attrib["alt"] == "", "the club's name stands beside it"
        assert urljoin(f"https://h/{page.address}", shown.attrib["src"]) == f"https://h/{crest}"
        (icon,) = [one for one in page.all("link") if one.attrib.get("rel") == "icon"]
        assert urljoin(f"https://h/{page.address}", icon.attrib["href"]) == f"https://h/{crest}"


@pytest.mark.parametrize("kind", ["session", "kit", "poster"])
def test_what_is_printed_has_the_crest_too(dressed: Site, kind: str) -> None:
    for page in dressed.of_kind(kind):
        head, main = page.one("header", "top"), page.one("main")
        assert len(page.all("img", within=head)) == 1
        assert len(page.all("img", "wear", within=main)) == 1


def test_the_crest_is_light_and_keeps_its_shape(dressed: Site) -> None:
    content = dressed.files[small_crest(dressed)].read_bytes()
    assert len(content) <= MOST_SMALL
    drawn = Image.open(io.BytesIO(content)).convert("RGBA")
    assert drawn.width == drawn.height
    left, above, right, below = drawn.getchannel("A").point(lambda alpha: 255 * (alpha > 127)).getbbox() or ()
    assert (below - above) / (right - left) == pytest.approx(2, rel=0.1)


def test_the_colour_is_in_the_styles_of_every_page_and_in_the_manifest(dressed: Site) -> None:
    style = next(path for name, path in dressed.files.items() if "/sheet." in name).read_text(
        encoding="utf-8"
    )
    rules = re.match(r"(?s).*?@media print\{:root\{.*?\}\}", style)
    assert rules
    found = read_tokens(rules[0])
    assert found.light["link"] == found.light["brand"] == COLOUR
    assert found.dark["link"] != COLOUR
    assert ratio(found.dark["link"], found.dark["paper"]) >= 4.5
    said = json.loads(dressed.files["plan/app.webmanifest"].read_text(encoding="utf-8"))
    assert said["theme_color"] == COLOUR
    for page in dressed.pages.values():
        assert not page.all(mark="[style]"), "the policy allows no style in a page"
        assert any("/sheet." in one.attrib.get("href", "") for one in page.all("link")), page.address


def test_a_club_without_a_look_has_the_theme_s_own(good: Site) -> None:
    assert not [name for name in good.files if "crest" in name]
    for page in good.pages.values():
        assert images(page) == []
        assert "Answers for this plan" not in page.words
        assert "If something hurts:" not in page.words


def test_without_a_crest_the_theme_s_icons_have_the_club_s_colour() -> None:
    was = Look().pictures(THEME)
    assert was == {}
    drawn = Look(COLOUR).pictures(THEME)
    assert f'fill="{COLOUR}"' in drawn["icons/icon.svg"].decode()
    for name in ("icons/icon-192.png", "icons/icon-512.png", "icons/icon-maskable.png"):
        before = Image.open(THEME / name).convert("RGBA")
        after = Image.open(io.BytesIO(drawn[name])).convert("RGBA")
        assert before.size == after.size
        middle = before.width // 2, before.height // 20 + 2
        assert after.getpixel(middle) == (0x7A, 0x1F, 0x3D, 255), name
        assert before.getchannel("A").tobytes() == after.getchannel("A").tobytes()


def test_equal_files_make_equal_pictures() -> None:
    content = (ROOT / "programmes/media/crest.png").read_bytes()
    assert Look("", content).pictures(THEME) == Look("", content).pictures(THEME)


def test_the_demo_club_has_all_of_it(demo: Site) -> None:
    crest = small_crest(demo)
    for page in demo.of_kind("session", "poster", "kit"):
        assert crest in images(page)
        assert "Answers for this plan:" in page.words
    for kind in PRESCRIBING:
        assert all("If something hurts: " in page.words for page in demo.of_kind(kind)), kind


def test_pages_without_a_network_have_the_crest(dressed: Site) -> None:
    kept = json.loads(dressed.files["plan/offline.json"].read_text(encoding="utf-8"))
    assert small_crest(dressed) in kept["files"]
