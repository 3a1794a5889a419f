"""What a coach writes is shown as it was written, whatever characters it has; nothing in it is ever obeyed."""

import re

import pytest

from . import trees

# HTML, an attribute that ends early, a template, Markdown, a table, an entity, right to left.
HOSTILE = '<script>alert(1)</script>"onclick="x" {{ 7*7 }} {% x %} *st* __un__ |p| `c` &amp; שלום'
LONG_WORD = "w" * 150


def tree_of(text):
    """A tree in which every text that a coach can write comes from `text`, called with the field's name."""
    tree = trees.small()
    tree["club.yaml"] = {
        "club": text("club"),
        "sport": text("sport"),
        "contact": text("contact"),
        "cautions": [text("club caution", long=True)],
        "kit": [{"item": text("kit item"), "holds": "1 l"}],
    }
    tree["exercises/sit.yaml"] |= {
        "name": text("name"),
        "works": [text("works", long=True)],
        "needs": [text("needs")],
        "loadable": True,
        "setup": [text("setup", long=True)],
        "cues": [text("first cue", long=True), text("second cue", long=True)],
        "faults": [text("fault", long=True)],
        "cautions": [text("caution", long=True)],
        "easier": [
            {"how": text("easier", long=True)},
            {"exercise": "lean", "how": text("easier with", long=True)},
        ],
        "harder": [{"how": text("harder", long=True)}],
        "instead": {text("needs"): {"how": text("instead", long=True)}},
    }
    tree["routines/wake-up.yaml"]["name"] = text("routine")
    programme = tree["plan/programme.yaml"]
    programme |= {"title": text("title"), "summary": text("summary", long=True)}
    programme["levels"][0] |= {"name": text("level"), "who": text("who", long=True)}
    version = tree["plan/1.0.yaml"]
    version |= {"phase": text("phase"), "aim": text("aim", long=True), "changes": text("changes", long=True)}
    version["days"][0]["title"] = text("day")
    version["days"][0]["blocks"][0]["stations"][0]["load"] = "2 kg"
    version["accept"] = [{"check": "days-apart", "because": text("because", long=True)}]
    return tree


def hostile(field, *, long=False):
    return f"{field} {HOSTILE}" + (f" {LONG_WORD}" if long else "")


SHOWN = {
    "": ["club", "sport", "contact", "club caution", "title", "summary", "phase"],
    "plan/": ["club", "title", "summary", "level", "who", "phase", "aim", "day", "club caution"],
    "plan/versions/": ["title", "phase", "changes"],
    "plan/1.0/": [
        "title",
        "phase",
        "aim",
        "changes",
        "day",
        "level",
        "who",
        "needs",
        "kit item",
        "club caution",
    ],
    "plan/1.0/legs/": [
        *("club", "title", "phase", "day", "needs", "level", "club caution", "name", "kit item", "setup"),
        *("first cue", "second cue", "fault", "caution", "easier", "easier with", "harder", "instead"),
    ],
    "plan/1.0/legs/new/week-1/": [
        *("club", "title", "phase", "day", "level", "club caution", "name", "first cue", "kit item"),
    ],
    "exercises/": ["name", "works", "needs"],
    "exercises/sit/": [
        *("name", "works", "needs", "setup", "first cue", "second cue", "fault", "caution", "easier"),
        *("easier with", "harder", "instead"),
    ],
    "exercises/lean/": ["name"],
    "about/": ["contact", "club caution"],
}


@pytest.fixture(scope="module")
def site(build, tmp_path_factory):
    folder = tmp_path_factory.mktemp("hostile")
    return build(trees.write(tree_of(hostile), folder / "tree"), folder / "site")


@pytest.fixture(scope="module")
def tame(build, tmp_path_factory):
    """The same tree with plain words in it."""
    folder = tmp_path_factory.mktemp("tame")
    return build(trees.write(tree_of(lambda field, long=False: field), folder / "tree"), folder / "site")


def shape(page):
    """Every element of the page with the names of its attributes, in order.

    But for the one that keeps words from right to left apart from what is beside them: only such words have it.
    """
    found = [(element.tag, sorted(element.attrib)) for element in page.all()]
    assert all(not names for tag, names in found if tag == "bdi")
    return [one for one in found if one[0] != "bdi"]


@pytest.mark.parametrize("address", SHOWN)
def test_every_text_is_shown_as_it_was_written(site, address):
    missing = [field for field in SHOWN[address] if hostile(field) not in site[address].words]
    assert missing == []


def test_a_long_text_is_shown_to_its_end(site):
    page = site["exercises/sit/"].words
    for field in ("setup", "first cue", "fault", "caution", "harder"):
        assert hostile(field, long=True) in page


def test_every_page_has_the_very_elements_that_plain_words_give(site, tame):
    assert list(site.pages) == list(tame.pages)
    for address, page in site.pages.items():
        assert shape(page) == shape(tame[address]), address


OWN = {
    "numbers": ["numbers"],
    "day": ["day"],
    "home": ["today/today"],
    "programme": ["today/today"],
    "exercises": ["find"],
    "parents": ["folds"],
}
"""Scripts that one kind of page alone has."""


def test_the_only_script_is_ours(site):
    for page in site.pages.values():
        # That of the page for a wrong address stands in it; its policy lets that one run (html_rules.py).
        scripts = [one for one in page.all("script") if "src" in one.attrib or page.kind != "missing"]
        assert {one.get("type") for one in scripts} == {"module"}
        ours = [re.fullmatch(r".*assets/js/([\w/]+)\.[0-9a-f]{8}\.js", one.get("src")) for one in scripts]
        assert [one[1] for one in ours] == ["dates", "store", "page", *OWN.get(page.kind, [])], page.address


def test_titles_and_descriptions_hold_the_text_too(site):
    def title(address):
        return " ".join(site[address].one("title").text.split())

    def description(address):
        (found,) = [
            one.get("content") for one in site[address].all("meta") if one.get("name") == "description"
        ]
        return found

    assert title("") == hostile("club")
    assert title("plan/") == f"{hostile('title')} – {hostile('club')}"
    assert title("plan/1.0/legs/") == f"{hostile('day')} – {hostile('title')}"
    assert hostile("phase") in description("plan/1.0/legs/new/week-1/")
    assert description("exercises/sit/").startswith(hostile("first cue"))


def test_the_search_words_hold_the_text_too(site):
    found = [one.get("data-find") for one in site["exercises/"].all(mark="[data-find]")]
    assert any(hostile("works", long=True).lower() in words for words in found)


def test_the_drawings_are_those_of_plain_words(site, tame):
    def drawings(page):
        return [sorted(inner.attrib.items()) for svg in page.all("svg") for inner in svg.iter()]

    for page in site.of_kind("day", "session", "exercise"):
        assert drawings(page) == drawings(tame[page.address]), page.address


def test_text_in_another_direction_cannot_turn_its_surroundings(site):
    """A text that may be right to left is alone in an element with `dir=auto` (HTML standard, 3.2.6.4)."""
    for address in ("plan/", "plan/1.0/", "plan/1.0/legs/", "exercises/sit/"):
        page = site[address]
        heading = page.one("h1")
        assert heading.get("dir") == "auto" or any(inner.get("dir") == "auto" for inner in heading), address
