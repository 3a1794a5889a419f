"""The coach's numbers: the same as those of the report, with what the checks found, for people and for machines."""

import re

import pytest

from . import trees
from .pages import words
from .sheets import minutes

LONG = '<script>alert(1)</script>"onclick="x" because'


def tables(page, level):
    """Tables behind the plots of a level by the title of the plot: name of the row → its cells."""
    (section,) = [one for one in page.all("section", "[data-level]") if one.get("data-level") == level]
    found = {}
    for part in page.all("section", "numbers", within=section):
        rows = page.all("tbody", within=part)[0]
        found[words(page.one("h3", within=part))] = {
            words(page.one("th", within=row)): [words(cell) for cell in page.all("td", within=row)]
            for row in page.all("tr", within=rows)
        }
    return found


def by_day(version, level):
    """Sessions of a level in the report by day, in the order of the weeks."""
    days = {}
    for session in version["sessions"]:
        if session["level"] == level:
            days.setdefault(session["day"], []).append(session)
    return days


def pages_with_levels(demo, report):
    for version in report:
        page = demo[f"{version['programme']}/{version['version']}/numbers/"]
        for level in sorted({session["level"] for session in version["sessions"]}):
            yield version, page, level


def titles(demo, version):
    """The titles of a version's days, in order."""
    page = demo[f"{version['programme']}/{version['version']}/"]
    return [words(page.one("strong", within=item)) for item in page.one("ul", "cards")]


def test_every_version_leads_to_its_numbers_and_back(demo):
    for page in demo.of_kind("version"):
        numbers = demo[f"{page.address}numbers/"]
        assert numbers.address in [page.leads_to(link) for link in page.all("a")]
        assert page.address in [numbers.leads_to(link) for link in numbers.all("a")]


def test_minutes_and_landings_are_those_of_the_report(demo, demo_report):
    for version, page, level in pages_with_levels(demo, demo_report):
        found = tables(page, level)
        named = zip(titles(demo, version), by_day(version, level).values(), strict=True)
        for title, sessions in named:
            told = found["Minutes of a session (estimates)"][title]
            assert told == [str(minutes(session["seconds"])) for session in sessions]
            assert found["Landings in a session"][title] == [str(s["contacts"]["all"]) for s in sessions]
            for height in ("low", "medium", "high"):
                told = found["Landings in a session"][f"{title}: {height}"]
                assert told == [str(session["contacts"][height]) for session in sessions]


def test_sets_of_a_week_count_a_day_as_often_as_it_is_trained(demo, demo_report):
    times = {}
    for version, page, level in pages_with_levels(demo, demo_report):
        card = demo[f"{version['programme']}/{version['version']}/"].one("ul", "cards")
        on = [len(re.findall(r"day\b(?! or)", words(item).split(" about ")[0])) for item in card]
        times = dict(zip(by_day(version, level), on, strict=True))
        rows = tables(page, level)["Sets in a week, by pattern"]
        weeks = {}
        for session in version["sessions"]:
            if session["level"] == level:
                for pattern, work in session["patterns"].items():
                    own = weeks.setdefault(pattern, {})
                    own[session["week"]] = own.get(session["week"], 0) + work["sets"] * times[session["day"]]
        assert {*rows} == {*weeks, "all"}
        for pattern, own in weeks.items():
            assert rows[pattern] == [str(own.get(week, 0)) for week in range(1, len(rows[pattern]) + 1)]


def test_every_plot_is_an_image_in_words_with_a_table_behind_it(demo):
    for page in demo.of_kind("numbers"):
        for part in page.all("section", "numbers"):
            pictures = page.all("svg", within=part)
            assert pictures
            assert all(one.get("role") == "img" and len(one.get("aria-label")) > 20 for one in pictures)
            assert len(page.all("table", within=page.one("details", within=part))) == 1


def test_without_script_all_levels_are_in_sight(demo):
    for page in demo.of_kind("numbers"):
        assert not [one for one in page.all("section") if "hidden" in one.attrib]
        assert "hidden" in page.one("form", "pick").attrib


def test_a_finding_that_is_accepted_stands_with_its_reason(demo):
    page = demo["home-strength/3.0/numbers/"]
    told = [words(item) for item in page.all("li", within=page.one("ul", "findings"))]
    assert any(one.startswith("note load-step") and "The smallest bottle weighs half" in one for one in told)
    assert "The checks found nothing that you have not weighed." in page.words


@pytest.fixture(scope="module")
def outside(build, tmp_path_factory):
    """A tree that is outside much: a warm-up of half a minute, a session over its limit, a step of 100 %."""
    tree = trees.small()
    tree["plan/programme.yaml"]["limits"] = {"session": "3 min", "week step": "25 %"}
    version = tree["plan/1.0.yaml"]
    version["days"][0]["blocks"][0]["rounds"] = [1, 2]
    version["accept"] = [{"check": "balance", "because": LONG}]
    folder = tmp_path_factory.mktemp("numbers")
    return build(trees.write(tree, folder / "tree"), folder / "site")


def test_what_is_outside_is_told_in_words_and_marked_in_plot_and_table(outside):
    page = outside["plan/1.0/numbers/"]
    findings = [words(item) for item in page.all("ul", "findings")[0]]
    assert findings[0].startswith("warning ")
    (long,) = [one for one in findings if "session-length" in one and "new: longer in week 2" in one]
    assert long.endswith("To mend it: take a round or a station out, or raise limits: session")
    found = tables(page, "new")
    assert found["Minutes of a session (estimates)"]["Legs"] == ["3", "6 outside"]
    assert found["From week to week"]["sets, on the week before"] == ["", "+100% outside"]
    assert found["From week to week"]["sets"] == ["2", "4"]
    marked = [text for text in page.all("text", "i")]
    assert {words(text) for text in marked} >= {"6", "+100%", "1:0", "2:0"}


def test_the_reason_of_a_coach_is_text_and_nothing_else(outside):
    page = outside["plan/1.0/numbers/"]
    assert words(page.one("q")) == LONG
    assert page.all("script")
    assert all(one.get("src") for one in page.all("script"))


def test_a_level_that_trains_nothing_has_its_numbers_too(build, tmp_path):
    tree = trees.small()
    tree["plan/1.0.yaml"]["days"][0]["blocks"][0]["rounds"] = {"new": 0, "used": 2}
    page = build(trees.write(tree, tmp_path / "tree"), tmp_path / "site")["plan/1.0/numbers/"]
    assert tables(page, "new")["Minutes of a session (estimates)"]["Legs"] == ["–", "–"]
    assert tables(page, "new")["Sets in a week, by pattern"] == {"all": ["0", "0"]}


def test_a_programme_without_limits_says_so(build, tmp_path):
    site = build(trees.write(trees.small(), tmp_path / "tree"), tmp_path / "site")
    page = site["plan/1.0/numbers/"]
    assert page.words.count("The programme sets no limit for it.") == 4
