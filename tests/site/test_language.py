"""A club that writes in another language: every text on every page is in the language that it says.

What a page says is found by another parser, html5lib. The language of a text is that of the nearest element around
it that names one (HTML Standard, "The lang and xml:lang attributes").
"""

import copy
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as Xml

import html5lib
import pytest
from icalendar import Calendar
from phasepress.publishing.assets import assets
from phasepress.publishing.booklet import Choice, pack
from phasepress.reading.catalogue import load
from phasepress.telling.tongues import OWN_KEYS, marking
from ruamel.yaml import YAML

from tests.browser.demo import DEMO

from . import trees

UNSEEN = {"script", "style", "title", "template", "desc", "text"}
# What the tree says of itself is none of our own words, so that whose a text is can be told by it alone.
OWN = "Zq"


def german() -> trees.Tree:
    """The small tree and an exercise of the demo's, by a club that writes German. Every text that people read
    begins with a sign of its own."""
    tree = trees.small()
    row = YAML(typ="safe", pure=True).load((DEMO / "exercises/bag-row.yaml").read_text("utf-8"))
    for key in ("easier", "harder", "instead", "photos"):
        row.pop(key, None)
    tree["exercises/bag-row.yaml"] = row | {
        "easier": [{"how": "Knie beugen"}],
        "harder": [{"how": "Langsam"}],
    }
    tree["exercises/lean.yaml"] |= {"side is": "das vordere Bein", "faults": ["Ferse hebt ab: kürzer"]}
    station = {"exercise": "bag-row", "reps": "6-8", "setting": ["Hände hoch", "ein Schritt weiter"]}
    day = tree["plan/1.0.yaml"]["days"][0]
    day["blocks"][0]["stations"].append(station | {"say": "Film einen Satz"})
    day |= {"say": "Viel Spaß", "effort": 5}
    first, second = tree["plan/1.0.yaml"], copy.deepcopy(tree["plan/1.0.yaml"])
    tree["plan/1.1.yaml"] = second | {"changes": "Mehr Runden"}
    second["days"][0]["blocks"][0]["rounds"] = 3
    tree["plan/2.0.yaml"] = first | {"starts": "2031-03-03", "phase": "Weiter"}
    marked = {name: _marked(data, own=False) for name, data in tree.items()}
    marked["club.yaml"] |= {"language": "de", "sport": f"{OWN} Handball", "signed": f"{OWN} Trainerin"}
    return marked


def _marked(data: Any, *, own: bool) -> Any:
    if isinstance(data, str):
        return f"{OWN} {data}" if own else data
    if isinstance(data, list):
        return [_marked(one, own=own) for one in data]
    if isinstance(data, dict):
        return {key: _marked(one, own=own or key in OWN_KEYS) for key, one in data.items()}
    return data


@pytest.fixture(scope="module")
def site(build, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("german")
    build(trees.write(german(), folder / "tree"), folder / "site")
    return folder / "site"


def texts(element: Any, lang: str) -> Iterator[tuple[str, str]]:
    """Every text with its language."""
    lang = element.attrib.get("lang", lang)
    if element.tag in UNSEEN or not isinstance(element.tag, str):
        return
    yield element.text or "", lang
    for child in element:
        yield from texts(child, lang)
        yield child.tail or "", lang


def pages(site: Path) -> list[Path]:
    return sorted(site.rglob("*.html"))


def test_every_text_of_the_clubs_is_in_its_language(site: Path) -> None:
    wrong, right = [], 0
    for page in pages(site):
        root = html5lib.parse(page.read_text("utf-8"), namespaceHTMLElements=False)
        assert root.attrib["lang"] == "en", page
        for text, lang in texts(root, ""):
            if OWN in text:
                right += lang == "de"
                if lang != "de":
                    wrong.append(f"{page.relative_to(site)}: {text.strip()[:80]}")
    assert wrong == []
    assert right > 500


def test_no_word_of_ours_is_in_its_language(site: Path) -> None:
    for page in pages(site):
        root = html5lib.parse(page.read_text("utf-8"), namespaceHTMLElements=False)
        for text, lang in texts(root, ""):
            assert lang in ("de", "en")
            if lang == "de" and OWN not in text:
                assert not re.search("[a-z]{2}", text), f"{page.relative_to(site)}: {text.strip()[:80]}"


def test_feeds_say_the_language_of_each_text(site: Path) -> None:
    feed = Xml.parse(site / "plan/changes.atom").getroot()
    xml, atom = "{http://www.w3.org/XML/1998/namespace}lang", "{http://www.w3.org/2005/Atom}"
    assert feed.attrib[xml] == "en"
    (name,) = feed.iter(f"{atom}name")
    assert name.attrib[xml] == "de"
    contents = [content.text or "" for content in feed.iter(f"{atom}content")]
    assert any("Mehr Runden" in content for content in contents)
    for content in contents:
        for text, lang in texts(html5lib.parseFragment(content, namespaceHTMLElements=False), "en"):
            assert (OWN in text) == (lang == "de") or not text.strip()
    for event in Calendar.from_ical((site / "plan/calendar.ics").read_bytes()).walk("VEVENT"):
        assert event["summary"].params["LANGUAGE"] == "de"
        assert event["description"].params["LANGUAGE"] == "en"


def test_a_club_that_writes_english_has_no_word_of_it(build, tmp_path: Path) -> None:
    for language in ({}, {"language": "en-GB"}):
        tree = trees.small()
        tree["club.yaml"] |= language
        folder = tmp_path / (language.get("language") or "none")
        catalogue = load(trees.write(tree, folder / "tree")).catalogue
        page = '<html lang="en"><p dir="auto">Lean</p><bdi>Sit</bdi></html>'
        assert marking(catalogue)(page) == page


@pytest.fixture(scope="module")
def mark(tmp_path_factory):
    tree = trees.small()
    tree["club.yaml"] |= {"language": "de"}
    tree["exercises/lean.yaml"]["name"] = "Hüftbeuge & <Zug>"
    return marking(load(trees.write(tree, tmp_path_factory.mktemp("mark") / "tree")).catalogue)


@pytest.mark.parametrize(
    ("html", "marked"),
    [
        ('<p dir="auto">Knie</p> on', '<p lang="de" dir="auto">Knie</p> on'),
        ("<bdi>Knie</bdi>", '<bdi lang="de">Knie</bdi>'),
        (
            "<li>Hüftbeuge &amp; &lt;Zug&gt;: 8 → 10 reps</li>",
            '<li><bdi lang="de">Hüftbeuge &amp; &lt;Zug&gt;</bdi>: 8 → 10 reps</li>',
        ),
        ('<p dir="auto" lang="en">Ours</p>', '<p dir="auto" lang="en">Ours</p>'),
        (
            '<div dir="auto"><div>a</div>b</div><bdi>c</bdi>',
            '<div lang="de" dir="auto"><div>a</div>b</div><bdi lang="de">c</bdi>',
        ),
        (
            "<option>Hüftbeuge &amp; &lt;Zug&gt;</option>",
            '<option lang="de">Hüftbeuge &amp; &lt;Zug&gt;</option>',
        ),
        ("<title>Hüftbeuge &amp; &lt;Zug&gt;</title>", "<title>Hüftbeuge &amp; &lt;Zug&gt;</title>"),
        ('<input dir="auto">', '<input dir="auto">'),
        ('<html lang="en">', '<html lang="en" data-language="de">'),
    ],
)
def test_what_is_marked_stays_so_the_second_time(mark, html: str, marked: str) -> None:
    assert mark(html) == marked
    assert mark(marked) == marked


def test_what_a_script_adds_finds_the_language_at_the_root(site: Path) -> None:
    root = html5lib.parse((site / "index.html").read_text("utf-8"), namespaceHTMLElements=False)
    assert root.attrib["data-language"] == "de"
    assert json.loads((site / "plan/app.webmanifest").read_text("utf-8"))["lang"] == "de"


def test_a_pack_says_the_language_of_every_text(tmp_path: Path) -> None:
    known = load(trees.write(german(), tmp_path / "tree")).catalogue
    version = known.programmes["plan"].versions[0]
    chosen = Choice(tuple(level.id for level in version.levels), tuple(version.weeks))
    html = pack(known, assets(), "", version, chosen, "a4").text({})
    found = list(texts(html5lib.parse(html, namespaceHTMLElements=False), ""))
    assert [text for text, lang in found if OWN in text and lang != "de"] == []
    ours = [text for text, lang in found if lang == "de" and OWN not in text and re.search("[a-z]{2}", text)]
    assert ours == []
    assert sum(OWN in text for text, _ in found) > 50


def test_only_pages_of_such_a_club_load_the_script_for_it(site: Path, built_site: Path) -> None:
    names = ("index.html", "about/index.html")
    assert all("js/tongue." in (site / name).read_text("utf-8") for name in names)
    assert not any("js/tongue." in (built_site / name).read_text("utf-8") for name in names)
