"""A club begins with nothing and its programmes grow: every state between builds a site that makes sense."""

import pytest

from . import trees
from .pages import words


def kept(tree, *beginnings):
    return {name: data for name, data in tree.items() if name.startswith(beginnings)}


def choices(page, name):
    (select,) = [one for one in page.all("select") if one.get("name") == name]
    return [option.get("value") for option in select]


def test_a_club_with_nothing_but_its_name(grown):
    site = grown({"club.yaml": {"club": "New Club"}})
    assert "No programme is published yet." in site[""].words
    assert "There are no exercises yet." in site["exercises/"].words
    assert words(site[""].one("h1")) == "New Club"


def test_a_club_with_exercises_and_no_programmes(grown):
    site = grown(kept(trees.small(), "club", "exercises", "routines"))
    assert "No programme is published yet." in site[""].words
    assert site["exercises/sit/"].all("h2")
    assert "Used in" not in site["exercises/sit/"].words


def test_a_programme_without_versions(grown):
    tree = trees.small()
    del tree["plan/1.0.yaml"]
    site = grown(tree)
    assert "The plan" in site[""].words
    assert "No phase is published yet." in site["plan/"].words
    assert "Nothing is published yet." in site["plan/versions/"].words
    assert [page.kind for page in site.pages.values() if page.kind in ("version", "day", "session")] == []


def test_a_phase_for_some_of_the_levels(grown):
    tree = trees.small()
    tree["plan/1.0.yaml"]["levels"] = ["used"]
    site = grown(tree)
    assert choices(site["plan/1.0/legs/"], "level") == ["used"]
    assert {page.address.split("/")[3] for page in site.of_kind("session")} == {"used"}
    assert "New" not in words(site["plan/1.0/"].one("main"))
    assert "New" in words(site["plan/"].one("main"))


def test_a_phase_of_one_week(grown):
    tree = trees.small()
    tree["plan/1.0.yaml"]["weeks"] = 1
    site = grown(tree)
    assert choices(site["plan/1.0/legs/"], "week") == ["1"]
    assert "1 week" in site["plan/1.0/"].words
    assert "1 weeks" not in site["plan/1.0/"].words
    assert "6 January 2031 to 12 January 2031" in site["plan/1.0/"].words


def test_a_phase_of_a_year(grown):
    tree = trees.small()
    tree["plan/1.0.yaml"]["weeks"] = 52
    site = grown(tree)
    assert len(site.of_kind("session")) == 2 * 52
    assert "to 4 January 2032" in site["plan/1.0/"].words


@pytest.mark.parametrize("starts", ["1999-01-04", "2099-01-05"], ids=["long past", "far ahead"])
def test_a_phase_long_past_or_far_ahead_is_shown_all_the_same(grown, starts):
    tree = trees.small()
    tree["plan/1.0.yaml"]["starts"] = starts
    site = grown(tree)
    (shown,) = site["plan/"].all("section", "phase")
    assert "hidden" not in shown.attrib
    assert shown.get("data-starts") == starts
    assert site["plan/1.0/"].all(mark="older") == []


def test_a_past_and_a_coming_phase(grown):
    tree = trees.small()
    tree["plan/2.0.yaml"] = tree["plan/1.0.yaml"] | {"phase": "Later", "starts": "2099-01-05"}
    tree["plan/1.0.yaml"]["starts"] = "1999-01-04"
    site = grown(tree)
    assert site["plan/1.0/"].one("p", "older").get("data-until") == "2099-01-05"
    assert [one.get("data-starts") for one in site["plan/"].all("section", "phase")] == [
        "1999-01-04",
        "2099-01-05",
    ]


def test_two_programmes_with_the_same_days_stay_apart(grown):
    tree = trees.small()
    tree |= {name.replace("plan/", "other/"): data for name, data in kept(tree, "plan/").items()}
    site = grown(tree)
    assert {page.address for page in site.of_kind("programme")} == {"plan/", "other/"}
    page = site["other/1.0/"]
    assert not any(page.leads_to(link).startswith("plan/") for link in page.all("a"))
