"""Right and not so on the day pages: in the row that a tap opens, lazily, told by words and marks."""

import gzip
from pathlib import Path

import pytest
from phasepress.drawing.mannequin.pair import pair
from phasepress.reading.catalogue import load

from . import links
from .pages import words

ROOT = Path(__file__).resolve().parents[2]
PAIRS = {
    entry.model.name: found
    for entry in load(ROOT / "programmes").catalogue.exercises.values()
    if (found := pair(entry.model))
}


def rows(page):
    """Name and opened part of every row with an exercise."""
    for row in page.all("li"):
        names = page.all("span", "name", row)
        if names:
            yield words(names[0]), page.one("div", "deep", row)


def test_every_row_of_an_exercise_with_a_pair_has_it_where_a_tap_opens_and_no_other_row_has_one(demo):
    seen = set()
    for page in demo.of_kind("day"):
        for name, deep in rows(page):
            found = page.all("p", "pair", deep)
            assert len(found) == (name in PAIRS), (page.address, name)
            if found:
                wanted = PAIRS[name]
                assert words(found[0]) == f"Right: {wanted.says_right} Not so: {wanted.says_wrong}"
                seen.add(name)
        assert len(page.all("p", "pair")) == sum(name in PAIRS for name, _ in rows(page))
    assert len(seen) > 10


def test_a_pair_comes_lazily_and_is_named_by_its_words_alone(demo):
    for page in demo.of_kind("day"):
        for found in page.all("p", "pair"):
            image = page.one("img", "", found)
            # Its words stand beside it: a reader hears them once.
            assert (image.get("loading"), image.get("alt")) == ("lazy", "")
            assert {"width", "height"} <= image.attrib.keys()


def test_each_verdict_of_a_pair_has_a_mark_of_its_own_in_the_picture(demo):
    page = max(demo.of_kind("day"), key=lambda one: len(one.all("p", "pair")))
    for found in page.all("p", "pair"):
        drawn = demo.files[page.one("img", "", found).get("src").replace("../", "")].read_text(
            encoding="utf-8"
        )
        tick, cross = (part.split('"')[0] for part in drawn.split('class="verdict" d="')[1:])
        assert tick != cross


SMALL = 1_024
"""The project's own: bytes of a pair as it is sent. A figure that moves may have four times as many."""


def test_all_pairs_of_the_fullest_day_weigh_less_than_its_figures_that_move(demo):
    def weights(page, mark, tag):
        within = [page.root] if not tag else page.all("p", tag)
        names = {
            image.get("src").replace("../", "") for part in within for image in page.all("img", mark, part)
        }
        return [len(gzip.compress(demo.files[name].read_bytes(), 9, mtime=0)) for name in names]

    fullest = max(demo.of_kind("day"), key=lambda one: len(weights(one, "held", "pair")))
    pairs = weights(fullest, "held", "pair")
    assert len(pairs) > 3
    assert max(pairs) <= SMALL
    assert sum(pairs) < sum(weights(fullest, "moves", ""))
    before = links.requests(demo, fullest, later=False)
    assert not any("right-and-not-so" in name for name in before)


@pytest.mark.parametrize("kind", ["session", "poster"])
def test_a_sheet_that_is_made_for_paper_has_no_pair(demo, kind):
    """They have one line a station; the card of the pack and the exercise's own page have it on paper."""
    assert [page.address for page in demo.of_kind(kind) if page.all("p", "pair")] == []
