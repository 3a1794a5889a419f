"""What programs read: calendars, feeds of changes, plans as open data, the sitemap.

The requirements are those of the RFCs named beside each test (from memory, by section). Calendars are read back
with vobject and feeds with feedparser, which share no code with what wrote them.
"""

import json
import re
import xml.etree.ElementTree as Xml
from collections import Counter
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from uuid import UUID

import feedparser
import jsonschema
import pytest
import vobject
from phasepress.computing.weekdays import apart
from phasepress.telling.feeds import PLAN_SCHEMA

from tests.samples import every

from . import trees
from .published import newest_editions, published, replaced

ROOT = Path(__file__).resolve().parents[2]
SITE_URL = "https://ravelmouth.example/training/"
SCHEMA = ROOT / "programmes/.schema/plan.schema.json"
MONDAYS = ("2031-01-06", "2031-01-20")


def calendar(site, programme: str = "home-strength") -> Any:
    return vobject.readOne((site.folder / programme / "calendar.ics").read_bytes().decode())


def events(site, programme: str = "home-strength") -> list[Any]:
    return calendar(site, programme).contents["vevent"]


def feed(site, programme: str = "home-strength") -> Any:
    read = feedparser.parse((site.folder / programme / "changes.atom").read_bytes())
    assert not read.bozo, read.get("bozo_exception")
    return read


# --- the calendar --------------------------------------------------------------------------------------


@pytest.mark.parametrize("programme", ["home-strength", "first-jumps"])
def test_lines_end_in_cr_and_lf_and_have_at_most_75_octets(demo, programme):
    """RFC 5545 section 3.1, content lines."""
    text = (demo.folder / programme / "calendar.ics").read_bytes()
    lines = text.split(b"\r\n")
    assert lines.pop() == b""
    assert b"\n" not in b"".join(lines)
    assert max(map(len, lines)) <= 75
    text.decode("utf-8")


def test_a_calendar_says_what_it_must(demo):
    """RFC 5545 sections 3.6 and 3.7: PRODID and VERSION, each once; RFC 7986 sections 5.1, 5.7 and 5.8."""
    own = calendar(demo)
    assert own.version.value == "2.0"
    assert own.prodid.value
    assert own.method.value == "PUBLISH"
    assert own.contents["name"][0].value == own.contents["x-wr-calname"][0].value
    assert own.contents["refresh-interval"][0].params == {"VALUE": ["DURATION"]}
    assert own.contents["source"][0].value == f"{SITE_URL}home-strength/calendar.ics"


def test_every_event_says_what_it_must(demo):
    """RFC 5545 section 3.6.1: UID and DTSTAMP once, DTSTART where METHOD does not imply it; section 3.8.4.7: a UID
    belongs to one event; RFC 7986 section 5.3: a UID should be a UUID; section 3.8.2.7: TRANSPARENT blocks no time."""
    seen = Counter()
    for event in events(demo):
        assert UUID(event.uid.value).version == 5
        seen[event.uid.value] += 1
        assert isinstance(event.dtstamp.value, datetime)
        assert event.dtstamp.value.utcoffset() == timedelta(0)
        assert event.transp.value == "TRANSPARENT"
        assert event.summary.value
    assert max(seen.values()) == 1


def test_a_session_is_a_whole_day(demo):
    """RFC 5545 section 3.6.1: with a DATE as DTSTART, DTEND is a DATE too, and the first day after the event."""
    for event in events(demo):
        assert type(event.dtstart.value) is date
        assert event.dtend.value - event.dtstart.value == timedelta(days=1)


def test_every_session_of_the_newest_editions_is_there_on_one_of_its_weekdays(demo, demo_report):
    for programme, versions in published().items():
        found = Counter(
            (event.dtstart.value, urlsplit(event.url.value).path) for event in events(demo, programme)
        )
        assert set(found.values()) == {1}
        days = Counter(path.removeprefix("/training/") for _, path in found)
        expected = Counter()
        for version in newest_editions(versions):
            plan = json.loads((demo.folder / version.address / "plan.json").read_text())
            for day in plan["days"]:
                expected[f"{version.address}{day['id']}/"] = plan["weeks"] * len(day["on"])
            first = date.fromisoformat(plan["starts"])
            for when, path in found:
                if f"/{version.address}" in path:
                    (day,) = [one for one in plan["days"] if path.endswith(f"/{one['id']}/")]
                    assert first <= when < first + timedelta(weeks=plan["weeks"])
                    weekday = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")[when.weekday()]
                    assert weekday in {word for choice in day["on"] for word in choice}
        assert days == expected


def test_an_edition_that_was_replaced_is_in_no_calendar(demo):
    assert "home-strength/1.0/" not in (demo.folder / "home-strength/calendar.ics").read_text()
    assert any("/home-strength/1.1/" in event.url.value for event in events(demo))


def test_an_event_tells_minutes_the_way_and_when_to_stop(demo):
    for event in events(demo):
        told = event.description.value
        assert re.match(r"About Starter \d+ min, Steady \d+ min, Strong \d+ min \(estimates\)\.", told)
        assert event.url.value in told
        assert "Stop if something hurts" in told
        assert "coach, physiotherapist or doctor" in told
        address = urlsplit(event.url.value).path.removeprefix("/training/")
        assert (demo.folder / address / "index.html").is_file()


def two_days(**more: Any) -> dict[str, Any]:
    legs = trees.circuit({"exercise": "sit", "reps": 8})
    days = [trees.day("legs", legs, on=["tue or wed"]), trees.day("arms", legs, on=["mon", "thu or fri"])]
    return trees.phase(*days, **more)


def tree_with(**versions: dict[str, Any]) -> dict[str, Any]:
    tree = trees.small()
    del tree["plan/1.0.yaml"]
    return {**tree, **{f"plan/{name[1]}.{name[2]}.yaml": data for name, data in versions.items()}}


def test_of_two_weekdays_the_one_that_keeps_days_apart_is_taken(build, tmp_path):
    """As the check `days-apart` says: wed, as tue is next to mon; and fri, as thu is next to wed."""
    assert apart([["tue", "wed"], ["mon"], ["thu", "fri"]]) == ["wed", "mon", "fri"]
    site = build(trees.write(tree_with(v10=two_days()), tmp_path / "tree"), tmp_path / "site")
    days = [event.dtstart.value.isoformat() for event in events(site, "plan")]
    assert days[:3] == ["2031-01-06", "2031-01-08", "2031-01-10"]


def test_days_that_cannot_be_kept_apart_take_the_first_of_each(build, tmp_path):
    phase = two_days()
    phase["days"][0]["on"] = ["tue"]
    site = build(trees.write(tree_with(v10=phase), tmp_path / "tree"), tmp_path / "site")
    days = [event.dtstart.value.isoformat() for event in events(site, "plan")]
    assert days[:3] == ["2031-01-06", "2031-01-07", "2031-01-09"]


def test_a_later_edition_replaces_the_same_sessions(build, tmp_path):
    """RFC 5545 sections 3.8.4.7 and 3.8.7.4: the same UID, and a SEQUENCE that has grown."""
    first = two_days()
    second = two_days(changes="On other days.")
    second["days"][0]["on"] = ["sat"]
    sites = [
        build(trees.write(tree_with(**versions), tmp_path / f"tree{n}"), tmp_path / f"site{n}")
        for n, versions in enumerate(({"v10": first}, {"v10": first, "v11": second}))
    ]
    before, after = ({e.uid.value: e for e in events(site, "plan")} for site in sites)
    assert before.keys() == after.keys()
    assert {event.sequence.value for event in before.values()} == {"0"}
    assert {event.sequence.value for event in after.values()} == {"1"}
    moved = [uid for uid in before if before[uid].dtstart.value != after[uid].dtstart.value]
    assert {after[uid].summary.value.split(",")[0] for uid in moved} >= {"Legs"}


def test_a_week_without_the_day_has_no_event(build, tmp_path):
    phase = two_days()
    phase["days"][0]["blocks"][0]["rounds"] = [1, 0]
    site = build(trees.write(tree_with(v10=phase), tmp_path / "tree"), tmp_path / "site")
    assert sum(event.summary.value.startswith("Legs") for event in events(site, "plan")) == 1


def test_text_of_a_coach_stays_text_in_a_calendar(build, tmp_path):
    """RFC 5545 section 3.3.11: backslash, semicolon, comma and line break are escaped."""
    title = "Legs; and, pull\\n BEGIN:VALARM émoji 🏋 " + "x" * 60
    phase = two_days()
    phase["days"][0]["title"] = title
    site = build(trees.write(tree_with(v10=phase), tmp_path / "tree"), tmp_path / "site")
    assert f"{title}, week 1 of 2" in {event.summary.value for event in events(site, "plan")}


# --- the feed of changes -------------------------------------------------------------------------------


@pytest.mark.parametrize("programme", ["home-strength", "first-jumps"])
def test_a_feed_has_an_entry_for_every_version_newest_first(demo, programme):
    versions = published()[programme]
    found = [entry.id.removeprefix(SITE_URL) for entry in feed(demo, programme).entries]
    assert found == [version.address for version in reversed(versions)]


def test_a_feed_says_what_it_must(demo):
    """RFC 4287 sections 4.1.1 (id, title, updated, an author; a self link and one alternate), 4.2.6 and 3.3."""
    own = feed(demo).feed
    assert own.id == f"{SITE_URL}home-strength/changes.atom"
    assert own.author == "Ravelmouth Juniors"
    links = {(link.rel, link.type): link.href for link in own.links}
    assert links["self", "application/atom+xml"] == own.id
    assert links["alternate", "text/html"] == f"{SITE_URL}home-strength/versions/"
    assert len(own.links) == 2
    assert own.updated == max(entry.updated for entry in feed(demo).entries)
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", own.updated)


def test_every_entry_says_what_it_must(demo):
    """RFC 4287 section 4.1.2: id, title, updated; section 4.2.6: no two entries have one id."""
    entries = feed(demo).entries
    assert len({entry.id for entry in entries}) == len(entries)
    for entry in entries:
        assert entry.title
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", entry.updated)
        assert entry.link == entry.id
        assert (demo.folder / entry.link.removeprefix(SITE_URL) / "index.html").is_file()


def test_the_dates_of_a_feed_are_those_of_the_phases(demo):
    """The files hold no date of publication: the first day, and a second for each edition, so that they sort."""
    dates = {entry.id.split("/")[-2]: entry.updated for entry in feed(demo).entries}
    assert dates["1.0"] == "2026-10-05T00:00:00Z"
    assert dates["1.1"] == "2026-10-05T00:00:01Z"
    assert dates["3.0"] == "2027-01-11T00:00:00Z"


def test_an_entry_tells_what_the_archive_tells(demo):
    (entry,) = [one for one in feed(demo).entries if one.id.endswith("/1.1/")]
    content = entry.content[0]
    assert content.type == "text/html"
    assert "hips sank before the end of the side plank" in content.value
    assert "Side plank from the knees: hold 20 s → 15 s each side" in content.value
    assert "Starter: time −0.3 min" in content.value


def test_text_of_a_coach_stays_text_in_a_feed(build, tmp_path):
    """RFC 4287 section 3.1.1.2: markup in html content is escaped twice, once as text of the coach."""
    nasty = '<script>alert("&amp;")</script> & ]]>'
    versions = {"v10": two_days(), "v11": two_days(changes=nasty, phase=nasty)}
    site = build(trees.write(tree_with(**versions), tmp_path / "tree"), tmp_path / "site")
    root = Xml.parse(site.folder / "plan/changes.atom").getroot()
    atom = "{http://www.w3.org/2005/Atom}"
    entry = root.find(f"{atom}entry")
    assert entry.findtext(f"{atom}title") == f"1.1 {nasty}"
    assert "&lt;script&gt;" in entry.findtext(f"{atom}content")
    assert "<script>" not in entry.findtext(f"{atom}content")


def test_a_long_archive_has_its_newest_versions_in_the_feed(build, tmp_path):
    first = date(2031, 1, 6)
    tree = tree_with()
    for number in range(1, 26):
        starts = f"{first + timedelta(weeks=2 * (number - 1))}"
        tree[f"plan/{number}.0.yaml"] = two_days(starts=starts)
    site = build(trees.write(tree, tmp_path / "tree"), tmp_path / "site")
    found = [entry.id.split("/")[-2] for entry in feed(site, "plan").entries]
    assert found == [f"{number}.0" for number in range(25, 5, -1)]
    assert len(events(site, "plan")) == 25 * 2 * 3


# --- the plan as open data -----------------------------------------------------------------------------


def plans(site) -> dict[str, dict[str, Any]]:
    return {
        str(path.parent.relative_to(site.folder)): json.loads(path.read_text())
        for path in sorted(site.folder.glob("*/*/plan.json"))
    }


def test_the_schema_is_committed_and_published_as_it_is(demo):
    jsonschema.Draft202012Validator.check_schema(PLAN_SCHEMA)
    assert (
        json.loads(SCHEMA.read_text())
        == PLAN_SCHEMA
        == json.loads((demo.folder / "plan.schema.json").read_text())
    )


@pytest.mark.parametrize("which", ["demo", "good"])
def test_every_plan_fits_the_schema(which, request):
    site = request.getfixturevalue(which)
    validator = jsonschema.Draft202012Validator(PLAN_SCHEMA, format_checker=jsonschema.FormatChecker())
    found = plans(site)
    assert found
    for address, plan in every(found.items(), few=2):
        assert [error.message for error in validator.iter_errors(plan)] == [], address
        assert (site.folder / address / plan["$schema"]).resolve() == (
            site.folder / "plan.schema.json"
        ).resolve()


def test_the_schema_refuses_what_is_no_plan(demo):
    validator = jsonschema.Draft202012Validator(PLAN_SCHEMA)
    plan = plans(demo)["home-strength/1.0"]
    for wrong in (
        {**plan, "more": 1},
        {**plan, "plan": "short"},
        {**plan, "sessions": [{**plan["sessions"][0], "segments": [[0, 1, "work"]]}]},
        {**plan, "cautions": []},
    ):
        assert not validator.is_valid(wrong)


def test_a_plan_holds_the_running_orders_of_the_commands(compared, demo, good):
    found = {id(site): plans(site) for site in (demo, good)}
    for page, session, order in compared:
        (site,) = [one for one in (demo, good) if one.pages.get(page.address) is page]
        plan = found[id(site)]["/".join(page.address.split("/")[:2])]
        place = [session[key] for key in ("day", "level", "week")]
        (own,) = [one for one in plan["sessions"] if [one["day"], one["level"], one["week"]] == place]
        assert own["seconds"] == order["seconds"]
        assert [dict(zip(plan["columns"], row, strict=True)) for row in own["segments"]] == order["segments"]


def test_a_plan_has_the_fingerprint_of_the_report_and_every_session(demo, demo_report):
    of_demo = plans(demo)
    for version in demo_report:
        plan = of_demo[f"{version['programme']}/{version['version']}"]
        assert plan["plan"] == version["plan"]
        keys = ("day", "level", "week", "seconds")
        assert [[s[key] for key in keys] for s in plan["sessions"]] == [
            [s[key] for key in keys] for s in version["sessions"]
        ]


def test_a_plan_carries_the_cautions_and_the_stop_rule(demo):
    for plan in plans(demo).values():
        assert any("Stop if something hurts" in line for line in plan["cautions"])
        assert "Pain is not." in " ".join(plan["cautions"])
        assert "estimates" in plan["notice"]


# --- the sitemap and the ways to all of them -----------------------------------------------------------


def test_the_sitemap_has_every_page_but_sheets_and_replaced_editions(demo):
    """sitemaps.org protocol 0.9: urlset, url, loc; at most 50,000 addresses, absolute and below the sitemap."""
    root = Xml.parse(demo.folder / "sitemap.xml").getroot()
    space = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
    assert root.tag == f"{space}urlset"
    found = [url.findtext(f"{space}loc") for url in root]
    assert len(found) == len(set(found)) <= 50_000
    listed = {address.removeprefix(SITE_URL) for address in found}
    assert all(address.startswith(SITE_URL) for address in found)
    missing = demo.pages.keys() - listed
    assert listed <= demo.pages.keys()
    assert "home-strength/1.1/" in listed
    old = tuple(
        f"{one.programme}/{one.phase}.{one.edition}/"
        for versions in published().values()
        for one, _ in replaced(versions)
    )
    assert "home-strength/1.0/" in old
    for address in missing - {"404.html"}:
        assert "/week-" in address or address.startswith(old), address


def test_the_ways_to_them_are_on_the_pages(demo):
    programme, version = demo["home-strength/"], demo["home-strength/1.1/"]
    ways = {programme.leads_to(link) for link in programme.all("a")}
    assert {"home-strength/calendar.ics", "home-strength/changes.atom"} <= ways
    assert f"{SITE_URL}home-strength/calendar.ics" in (demo.folder / "home-strength/index.html").read_text()
    ways = {version.leads_to(link) for link in version.all("a")}
    assert {"home-strength/1.1/plan.json", "plan.schema.json"} <= ways


def test_without_a_public_address_only_what_needs_none_is_built(run, tree, tmp_path):
    settings = tree.parent / "mkdocs.yml"
    settings.write_text(settings.read_text().replace(f"site_url: {SITE_URL}\n", ""))
    done = run("build", "--programmes", tree, "--to", tmp_path / "site")
    assert done.exit_code == 0, done.output
    assert (
        "mkdocs.yml has no site_url: QR codes, calendars, feeds and the sitemap name whole addresses"
        in done.stderr
    )
    names = {path.name for path in (tmp_path / "site").rglob("*.*")}
    assert {"plan.json", "plan.schema.json"} <= names
    assert not names & {"calendar.ics", "changes.atom", "sitemap.xml"}
    assert "calendar" not in (tmp_path / "site/plan/index.html").read_text()


def test_a_programme_without_a_version_has_no_feeds(build, tree, tmp_path):
    (tree / "plan/1.0.yaml").unlink()
    site = build(tree, tmp_path / "site")
    assert not (site.folder / "plan/calendar.ics").exists()
    assert "calendar" not in (site.folder / "plan/index.html").read_text()
