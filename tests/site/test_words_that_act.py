"""Text that tries to act, as other programs get it: calendars, feeds, open data, manifests. Pages are looked at elsewhere.

Each is read with a library that shares no code with what wrote it.
"""

import json
import re

import feedparser
import pytest
import vobject

from . import trees
from .test_author_text import tree_of

# Separators and escapes of calendars, a component, markup, a formula, commands of a forge's log, words from right to left.
ACTING = '=1,2;3:4 \\n \\, "q" END:VCALENDAR <b>&amp;</b> ]]> ::error::x ##[x] שלום\u200f\u200d'
LINES = f"first\n::error::second\nEND:VCALENDAR {ACTING}"


def acting(field, *, long=False):
    """A text of one line is written over three here and there: new lines in it are spaces."""
    return f"{field} {LINES}" if long or field in ("title", "because", "day") else f"{field} {ACTING}"


def shown(field, *, long=False):
    return acting(field, long=long).replace("\n", " ")


@pytest.fixture(scope="module")
def site(build, tmp_path_factory):
    folder = tmp_path_factory.mktemp("acting")
    return build(trees.write(tree_of(acting), folder / "tree"), folder / "site")


def test_a_calendar_holds_the_text_and_nothing_that_it_asks_for(site):
    """RFC 5545 section 3.3.11: backslash, semicolon, comma and line break are escaped in every TEXT; RFC 7986 section
    5.1: NAME is one."""
    text = (site.folder / "plan/calendar.ics").read_bytes().decode()
    own = vobject.readOne(text)
    assert own.contents["name"][0].value == own.contents["x-wr-calname"][0].value
    assert shown("title") in own.contents["name"][0].value
    assert set(own.contents) <= {
        "version", "prodid", "method", "name", "x-wr-calname", "source", "refresh-interval", "vevent"
    }  # fmt: skip
    for event in own.contents["vevent"]:
        assert event.summary.value.startswith(shown("day"))
        assert shown("level") in event.description.value
    lines = text.replace("\r\n ", "").split("\r\n")
    for line in lines:
        name, _, value = line.partition(":")
        if name in ("NAME", "X-WR-CALNAME", "SUMMARY", "DESCRIPTION"):
            assert re.fullmatch(r"(?:[^\\,;]|\\[\\,;nN])*", value), line
    assert lines.count("END:VCALENDAR") == 1


def test_a_feed_holds_the_text_and_no_element_of_it(site):
    """RFC 4287 section 3.1.1: text stays text; content of type html is markup, in which it is escaped."""
    read = feedparser.parse((site.folder / "plan/changes.atom").read_bytes())
    assert not read.bozo, read.get("bozo_exception")
    assert shown("title") in read.feed.title_detail.value.replace("&lt;", "<")
    raw = (site.folder / "plan/changes.atom").read_text(encoding="utf-8")
    assert "<b>" not in raw
    assert "&lt;b&gt;" in raw
    for entry in read.entries:
        assert "<b>" not in entry.content[0].value


@pytest.mark.parametrize(
    "name", ["plan/1.0/plan.json", "plan/app.webmanifest", "plan/offline.json", "offline.json"]
)
def test_json_of_the_site_is_whole(site, name):
    json.loads((site.folder / name).read_bytes())


def test_names_in_json_are_on_one_line(site):
    plan = json.loads((site.folder / "plan/1.0/plan.json").read_bytes())
    assert plan["title"] == shown("title")
    assert [day["title"] for day in plan["days"]] == [shown("day")]
    manifest = json.loads((site.folder / "plan/app.webmanifest").read_bytes())
    assert (manifest["short_name"], manifest["name"]) == (
        shown("title"),
        f"{shown('title')} – {shown('club')}",
    )


def test_pages_hold_names_on_one_line(site):
    assert shown("title") in site["plan/"].words
    assert shown("day") in site["plan/1.0/legs/"].words


def test_no_name_of_a_file_of_the_site_holds_words_of_an_author(site):
    """Names of files are made of ids, and those of lower-case letters, digits and hyphens: so are those of downloads."""
    for path in site.folder.rglob("*"):
        assert re.fullmatch(r"[A-Za-z0-9._-]+", path.name), path
    for page in site.pages.values():
        for link in page.all(mark="[download]"):
            assert re.fullmatch(r"[A-Za-z0-9._-]*", link.get("download") or "")
