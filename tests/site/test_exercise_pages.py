"""Exercise pages know the ladder both ways and every day that uses them."""

import pytest
import yaml

from .conftest import DEMO
from .pages import words
from .published import newest_editions, pages_of, published


@pytest.fixture(scope="module")
def written():
    """The demo's exercises by id, as plain data."""
    files = (DEMO / "exercises").glob("*.yaml")
    return {path.stem: yaml.safe_load(path.read_text(encoding="utf-8")) for path in files}


def under(page, heading):
    """The list below a heading of the second level."""
    around = [one for one in page.all() if any(words(child) == heading for child in one if child.tag == "h2")]
    if not around:
        return []
    children = list(around[-1])
    (at,) = [index for index, child in enumerate(children) if child.tag == "h2" and words(child) == heading]
    return list(children[at + 1])


def exercises_under(page, heading):
    links = (page.all("a", within=item) for item in under(page, heading))
    return {page.leads_to(link[0]).split("/")[1] for link in links if link}


def steps(written, way):
    """(exercise, what its file names as easier or harder)."""
    return {
        (name, o["exercise"]) for name, one in written.items() for o in one.get(way, []) if "exercise" in o
    }


def test_the_ladder_of_exercises_is_shown_both_ways(demo, written):
    easier, harder = steps(written, "easier"), steps(written, "harder")
    turned = {(to, name) for name, to in harder}
    assert easier - turned, "the demo leaves some way back to the site"
    easier |= turned
    for name in written:
        page = demo[f"exercises/{name}/"]
        assert exercises_under(page, "Easier") == {to for one, to in easier if one == name}
        assert exercises_under(page, "Harder") == {one for one, to in easier if to == name}


def test_an_option_without_a_page_of_its_own_is_shown_as_words(demo, written):
    for name, one in written.items():
        page = demo[f"exercises/{name}/"]
        for way, heading in (("easier", "Easier"), ("harder", "Harder")):
            told = [words(item) for item in under(page, heading)]
            assert all(any(o["how"] in text for text in told) for o in one.get(way, []) if "how" in o), name


def test_an_exercise_names_the_days_that_have_it_and_no_others(demo, written):
    current = [version for versions in published().values() for version in newest_editions(versions)]
    days = [page for version in current for page in pages_of(demo, version) if page.kind == "day"]
    has = {
        (day.leads_to(day.one("a", within=head)), day.address)
        for day in days
        for head in day.all("p", "more")
    }
    for name in written:
        page = demo[f"exercises/{name}/"]
        used = {page.leads_to(page.one("a", within=item)) for item in under(page, "Used in")}
        assert used == {day for exercise, day in has if exercise == page.address}, name


def test_the_sheet_of_figures_shows_every_exercise_with_its_strip_its_name_and_a_way_to_it(demo, written):
    page = demo["exercises/figures/"]
    shown = {}
    for item in page.all("li", within=page.one("ul", "sheet")):
        (link,) = page.all("a", within=item)
        (strip,) = page.all("img", within=item)
        name = page.leads_to(link).split("/")[1]
        shown[name] = words(link), strip.get("src").rpartition("/")[2].split("-strip.")[0], strip.get("alt")
    assert shown == {name: (one["name"], name, one["figure"]["shows"]) for name, one in written.items()}


def test_an_exercise_page_lists_the_positions_of_its_strip_and_none_that_are_only_moved_through(
    demo, written
):
    for name, one in written.items():
        positions = [each["says"] for each in one["figure"]["positions"] if not each.get("between")]
        page = demo[f"exercises/{name}/"]
        listed = [words(item) for each in page.all("ol", "positions") for item in page.all("li", within=each)]
        assert listed == (positions if len(positions) > 1 else [])
        assert [p for p in positions if p not in page.words] == []
