"""Calendars, feeds and open data against the worked examples of the standards that they are written in.

The texts of the examples are from memory of the RFCs, by section; where a reference library knows the rule as well, it
is asked too.
"""

import hashlib
import json
import re
import xml.etree.ElementTree as Xml
from datetime import UTC, date, datetime
from pathlib import Path
from uuid import NAMESPACE_DNS, NAMESPACE_URL, UUID

import jsonschema
import pytest
from dateutil.rrule import rrulestr
from phasepress.computing.phases import computed_sessions
from phasepress.reading.catalogue import load
from phasepress.telling.feeds import PLAN_SCHEMA
from phasepress.telling.feeds.calendar import Training, calendar, trainings
from phasepress.telling.feeds.changes import changes
from phasepress.telling.feeds.plan import plan_json
from phasepress.telling.feeds.sitemap import sitemap
from phasepress.telling.views.archive import ArchiveRow
from phasepress.telling.views.base import Site

from tests.fixtures.phases import day, planted, sets, version

SITE = "https://fenn.example/"


def unfolded(text: bytes) -> list[str]:
    """Content lines: RFC 5545, 3.1: a line break with a space or tab after it is taken out."""
    return re.sub(rb"\r\n[ \t]", b"", text).decode().split("\r\n")


def of(name: str, lines: list[str]) -> list[str]:
    return [line for line in lines if re.match(f"{name}[:;]", line)]


def a_calendar(title: str = "Legs", told: str = "About 20 min.", key: str = "trial/1/day/1/1") -> bytes:
    on = date(1997, 9, 2)
    return calendar(
        "Trial", [Training(key, 0, date(1997, 9, 1), on, title, "week 1 of 5", (told,), "trial/1.0/day/")], SITE, "t.ics"
    )  # fmt: skip


# --- RFC 5545: calendars -------------------------------------------------------------------------------------------


def sessions_on(to: Path, weekdays: str, starts: str, weeks: int) -> list[date]:
    """The days of every session of a phase, as its calendar has them."""
    text = version(day(sets("squat, sets: 1, reps: 8"), on=weekdays), starts=starts, weeks=weeks)
    catalogue = load(planted(to, {"1.0": text})).catalogue
    found = catalogue.programmes["trial"].versions[0]
    every = trainings(found, list(computed_sessions(catalogue, found)))
    lines = unfolded(calendar("Trial", every, SITE, "t.ics"))
    return [datetime.strptime(line[-8:], "%Y%m%d").date() for line in of("DTSTART", lines)]


def days(*of_months: tuple[int, int, list[int]]) -> list[date]:
    return [date(year, month, each) for year, month, every in of_months for each in every]


# 3.8.5.3, "Weekly on Tuesday and Thursday for five weeks": DTSTART 19970902, and the dates that are listed there.
TUESDAYS_AND_THURSDAYS = days((1997, 9, [2, 4, 9, 11, 16, 18, 23, 25, 30]), (1997, 10, [2]))
# 3.8.5.3, "Weekly for 10 occurrences" from the same Tuesday.
TUESDAYS = days((1997, 9, [2, 9, 16, 23, 30]), (1997, 10, [7, 14, 21, 28]), (1997, 11, [4]))


@pytest.mark.parametrize(
    ("weekdays", "weeks", "rule", "listed"),
    [
        ("[tue, thu]", 5, "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH", TUESDAYS_AND_THURSDAYS),
        ("[tue]", 10, "FREQ=WEEKLY;COUNT=10", TUESDAYS),
    ],
)
def test_sessions_fall_on_the_dates_that_the_standards_own_rule_lists(
    weekdays: str, weeks: int, rule: str, listed: list[date], tmp_path: Path
) -> None:
    expanded = [each.date() for each in rrulestr(rule, dtstart=datetime(1997, 9, 2))]
    assert sessions_on(tmp_path, weekdays, "1997-09-01", weeks) == listed == expanded


def test_sessions_over_a_leap_day_fall_where_the_reference_expands_them(tmp_path: Path) -> None:
    rule = rrulestr("FREQ=WEEKLY;COUNT=9;BYDAY=MO,TU,SU", dtstart=datetime(2028, 2, 21))
    expanded = [each.date() for each in rule]
    assert date(2028, 2, 29) in expanded
    assert sessions_on(tmp_path, "[mon, tue, sun]", "2028-02-21", 3) == expanded


def test_a_text_is_escaped_as_the_standards_example_is() -> None:
    """3.3.11: "Project XYZ Final Review", a line break, "Conference Room - 3B", a line break, "Come Prepared."."""
    text = a_calendar(told="Project XYZ Final Review\nConference Room - 3B\nCome Prepared.")
    (told,) = of("DESCRIPTION", unfolded(text))
    assert told.startswith(r"DESCRIPTION:Project XYZ Final Review\nConference Room - 3B\nCome Prepared.\n")


@pytest.mark.parametrize(
    ("title", "escaped"),
    [
        ("Conference Room - F123, Bldg. 002", r"Conference Room - F123\, Bldg. 002"),
        ("Legs; and a \\ pull", r"Legs\; and a \\ pull"),
        ("Ten o'clock: hips", "Ten o'clock: hips"),
    ],
)
def test_commas_semicolons_and_backslashes_are_escaped_and_colons_are_not(title: str, escaped: str) -> None:
    """The first is the example of 3.8.1.7; the rule is ESCAPED-CHAR of 3.3.11."""
    (summary,) = of("SUMMARY", unfolded(a_calendar(title)))
    assert summary == rf"SUMMARY:{escaped}\, week 1 of 5"


def test_a_long_line_is_folded_between_octets_that_belong_together_and_not_within_a_letter() -> None:
    """3.1: lines of at most 75 octets without the break; a letter of several octets is not parted in what we write."""
    title = "Grätsche über die Bank, dann 🏋 " * 8
    lines = a_calendar(title).split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert len([line for line in lines if line.startswith(b" ")]) > 4
    for line in lines:
        line.decode()
    (summary,) = of("SUMMARY", unfolded(a_calendar(title)))
    assert summary.replace("\\,", ",") == f"SUMMARY:{title}, week 1 of 5"


def test_dates_and_moments_have_the_standards_forms() -> None:
    """3.6.1: a day-long event, DTSTART;VALUE=DATE:19970902 up to but without DTEND; 3.3.5, form 2: 19970901T000000Z."""
    lines = unfolded(a_calendar())
    assert of("DTSTART", lines) == ["DTSTART;VALUE=DATE:19970902"]
    assert of("DTEND", lines) == ["DTEND;VALUE=DATE:19970903"]
    assert of("DTSTAMP", lines) == ["DTSTAMP:19970901T000000Z"]


# --- RFC 9562: names of events ---------------------------------------------------------------------------------------


def named(space: UUID, name: str) -> UUID:
    """5.5: SHA-1 of the name space's octets and the name, with version 5 and the variant's two bits written over."""
    octets = bytearray(hashlib.sha1(space.bytes + name.encode(), usedforsecurity=False).digest()[:16])
    octets[6] = octets[6] & 0x0F | 0x50
    octets[8] = octets[8] & 0x3F | 0x80
    return UUID(bytes=bytes(octets))


def test_an_event_is_named_by_the_address_of_its_session_as_the_standard_makes_names() -> None:
    """A.4: www.example.com in the name space of DNS is 2ed6657d-e927-568b-95e1-2665a8aea6a2."""
    assert str(named(NAMESPACE_DNS, "www.example.com")) == "2ed6657d-e927-568b-95e1-2665a8aea6a2"
    assert of("UID", unfolded(a_calendar())) == [f"UID:{named(NAMESPACE_URL, f'{SITE}trial/1/day/1/1')}"]


# --- RFC 3339: timestamps, and RFC 4287: feeds -------------------------------------------------------------------------

# 5.6, the grammar; 4287, 3.3, wants upper-case T and Z of it.
DATE_TIME = re.compile(
    r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:([0-5]\d|60)(\.\d+)?(Z|[+-]([01]\d|2[0-3]):[0-5]\d)"
)
# 5.8 of RFC 3339, and the four of 3.3 of RFC 4287; then what neither allows.
TIMES = [
    "1985-04-12T23:20:50.52Z", "1996-12-19T16:39:57-08:00", "1990-12-31T23:59:60Z", "1990-12-31T15:59:60-08:00",
    "1937-01-01T12:00:27.87+00:20", "2003-12-13T18:30:02Z", "2003-12-13T18:30:02.25Z", "2003-12-13T18:30:02+01:00",
    "2003-12-13T18:30:02.25+01:00",
]  # fmt: skip
NO_TIMES = [
    "2003-12-13",
    "2003-12-13T18:30:02",
    "2003-12-13 18:30:02Z",
    "2003-13-13T18:30:02Z",
    "20031213T183002Z",
]


def row(name: str, starts: str = "2003-12-13", edition: int = 0) -> tuple[date, int, ArchiveRow]:
    archived = ArchiveRow(
        name=name,
        phase="Build",
        dates="from 13 December 2003",
        address=f"trial/{name}/",
        plan="0123-4567-89ab",
        changes="",
        change=None,
        lines=(),
        left=0,
    )
    return date.fromisoformat(starts), edition, archived


def test_every_time_of_a_feed_is_a_timestamp_of_the_internet() -> None:
    assert [time for time in TIMES if not DATE_TIME.fullmatch(time)] == []
    assert [time for time in NO_TIMES if DATE_TIME.fullmatch(time)] == []
    feed = changes("Trial", "Fenn", "en", [row("1.0"), row("1.1", edition=1)], SITE, "trial/").decode()
    found = re.findall("<updated>(.*?)</updated>", feed)
    assert [bool(DATE_TIME.fullmatch(time)) for time in found] == [True] * 3
    assert datetime.fromisoformat(found[0]) == datetime(2003, 12, 13, 0, 0, 1, tzinfo=UTC)
    assert found == [found[1], "2003-12-13T00:00:01Z", "2003-12-13T00:00:00Z"]


ATOM = "{http://www.w3.org/2005/Atom}"
BRIEF = """<?xml version="1.0" encoding="utf-8"?>
<feed xmlns="http://www.w3.org/2005/Atom">
<title>Example Feed</title><link href="http://example.org/"/><updated>2003-12-13T18:30:02Z</updated>
<author><name>John Doe</name></author><id>urn:uuid:60a76c80-d399-11d9-b93C-0003939e0af6</id>
<entry><title>Atom-Powered Robots Run Amok</title><link href="http://example.org/2003/12/13/atom03"/>
<id>urn:uuid:1225c695-cfb8-4ebb-aaaa-80da344efa6a</id><updated>2003-12-13T18:30:02Z</updated>
<summary>Some text.</summary></entry></feed>"""
"""RFC 4287, 1.1: "A brief, single-entry Atom Feed Document"."""


def wrong_in(feed: str) -> list[str]:
    """What 4.1.1 and 4.1.2 forbid: a needed element that is not there once, an id that is no IRI, an entry without an
    alternate link or content, two entries of one id and time."""
    root = Xml.fromstring(feed)
    wrong = [] if root.tag == f"{ATOM}feed" else ["no feed"]
    entries = root.findall(f"{ATOM}entry")
    for one in [root, *entries]:
        wrong += [name for name in ("id", "title", "updated") if len(one.findall(f"{ATOM}{name}")) != 1]
        wrong += ["iri"] * (not re.match(r"[a-z][a-z0-9+.-]*:.", one.findtext(f"{ATOM}id") or ""))
        kinds = [link.get("rel", "alternate") for link in one.findall(f"{ATOM}link")]
        wrong += ["alternate"] * (one is not root and "alternate" not in kinds)
    wrong += ["author"] * (root.find(f"{ATOM}author") is None)
    same = [(one.findtext(f"{ATOM}id"), one.findtext(f"{ATOM}updated")) for one in entries]
    return wrong + ["twice"] * (len(set(same)) != len(same))


@pytest.mark.parametrize("versions", [["1.0"], ["1.0", "1.1"]])
def test_a_feed_has_what_the_standards_brief_one_has(versions: list[str]) -> None:
    rows = [row(name, edition=int(name[-1])) for name in versions]
    feed = changes("Trial", "Fenn", "en", rows, SITE, "trial/").decode()
    assert (wrong_in(BRIEF), wrong_in(feed)) == ([], [])
    ids = [entry.findtext(f"{ATOM}id") for entry in Xml.fromstring(feed).findall(f"{ATOM}entry")]
    assert ids == [f"{SITE}trial/{name}/" for name in reversed(versions)], (
        "each version is an entry of its own"
    )
    for name, wrong in (("id", 2), ("title", 1), ("updated", 1), ("author", 1)):
        assert len(wrong_in(re.sub(f"<{name}>.*?</{name}>", "", BRIEF, count=1, flags=re.DOTALL))) == wrong


# --- sitemaps.org, protocol 0.9, "Entity escaping": the example of the page -----------------------------------------------


def test_an_ampersand_of_an_address_is_escaped_as_the_protocols_example_is() -> None:
    text = sitemap(["%C3%BCmlat.php&q=name"], "http://www.example.com/").decode()
    assert "<loc>http://www.example.com/%C3%BCmlat.php&amp;q=name</loc>" in text


def test_a_sitemap_lists_the_protocols_most_and_no_more() -> None:
    assert sitemap((f"{n}/" for n in range(50_002)), SITE).count(b"<loc>") == 50_000


# --- JSON Schema, draft 2020-12 (reference: the library jsonschema): all that a dose may say ---------------------------------


STATIONS = [
    "squat, sets: 2, reps: 8-10, setting: one step from the wall, load: 2 kg",
    "plank, sets: 2, hold: 20 s",
    "hop, sets: 1, reps: 3",
    "far, sets: 1, distance: 20 m, takes: 30 s",
    "brace, sets: 1, hold: 20 s, setting: feet wide",
]
FAR = {"far": "pattern: locomotion, sides: both, measure: distance"}


def test_a_plan_with_every_measure_a_range_and_a_setting_fits_its_published_schema(tmp_path: Path) -> None:
    tree = planted(tmp_path, {"1.0": version(day(sets(*STATIONS)))}, exercises=FAR)
    catalogue = load(tree).catalogue
    programme = catalogue.programmes["trial"]
    facts = list(computed_sessions(catalogue, programme.versions[0]))
    plan = json.loads(plan_json(Site(catalogue), programme, programme.versions[0], facts, "0123-4567-89ab"))
    validator = jsonschema.Draft202012Validator(PLAN_SCHEMA, format_checker=jsonschema.FormatChecker())
    assert [error.message for error in validator.iter_errors(plan)] == []
    squat, *_, brace = plan["sessions"][0]["blocks"][1]["stations"]
    assert (squat["reps"], squat["reps_least"], squat["setting"]) == (10, 8, "one step from the wall")
    assert brace["setting"] == "feet wide"
