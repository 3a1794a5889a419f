"""Twice as many versions are twice as much work and twice as many bytes, and no more: counted, not timed."""

import re
from cProfile import Profile
from datetime import date, timedelta
from itertools import pairwise

import pytest
from phasepress.judging import check
from phasepress.publishing.assets import assets
from phasepress.publishing.site import Renderer
from phasepress.reading.catalogue import load

from tests.bench.trees import WEEKS, pages_per_version, plant
from tests.samples import ALL, size

OF_A_VERSION = re.compile(r"[^/]+/\d+\.\d+/")
ROOM = 1.06 if ALL else 1.03
"""What a line may bend upwards: a search through all versions for each of them bends it further.
Among fewer versions it bends half as far, so there is half the room."""
GROWING = (4, 44, 124) if ALL else (4, 24, 64)
LASTS = size(WEEKS, few=2)
"""Weeks of a version: a week more is a sheet more of each kind."""


def pages(tree):
    """Address → bytes of every page of a tree."""
    checked = check(load(tree))
    assert checked.count("error") == 0, checked.findings
    renderer = Renderer(checked.catalogue, assets(), "https://club.example/")
    return {page.address: page.text.encode() for page in renderer.pages()}


def calls(work):
    """How many calls of functions written in Python `work` makes."""
    counted = Profile(subcalls=False, builtins=False)
    counted.runcall(work)
    return sum(each.callcount for each in counted.getstats())


def steps(numbers):
    """From each number to the next."""
    return [after - before for before, after in pairwise(numbers)]


@pytest.fixture(scope="module")
def sites(tmp_path_factory):
    """Number of versions → pages; ten versions make a programme."""
    return {many: pages(plant(tmp_path_factory.mktemp("tree") / "t", many, LASTS)) for many in (5, 10, 20)}


def of_versions(site, programme=""):
    return {
        address: text
        for address, text in site.items()
        if OF_A_VERSION.match(address) and address.startswith(programme)
    }


def test_every_version_makes_the_same_number_of_pages(sites):
    for many, site in sites.items():
        assert len(of_versions(site)) == many * pages_per_version(LASTS)


def test_the_pages_of_a_version_do_not_grow_with_the_versions_after_it(sites):
    """The first editions that both trees have; a version that is followed by another says so, and is left out."""
    for version in ("1.0", "1.1", "2.0"):
        address = f"programme-1/{version}/"
        few, many = of_versions(sites[5], address), of_versions(sites[10], address)
        assert len(few) == pages_per_version(LASTS)
        assert few == many


def test_the_pages_of_a_programme_do_not_grow_with_the_programmes_beside_it(sites):
    few, many = of_versions(sites[10], "programme-1/"), of_versions(sites[20], "programme-1/")
    assert len(few) == 10 * pages_per_version(LASTS)
    assert few == many


def test_the_bytes_of_a_site_grow_in_a_straight_line(sites):
    first, second = steps([sum(map(len, site.values())) for site in sites.values()])
    assert second == pytest.approx(2 * first, rel=0.1)


SMALL = {
    "club.yaml": "club: Trial\n",
    "exercises/stand.yaml": """\
name: Stand
pattern: brace
sides: both
measure: hold
setup: [Stand.]
cues: [One., Two.]
cautions: [Stop if it hurts.]
""",
    "routines/ready.yaml": """\
name: Ready
kind: warm-up
blocks: [{kind: circuit, rounds: 1, stations: [{exercise: stand, hold: 9 s}]}]
""",
}
PROGRAMME = """\
title: Trial
levels: [{id: starter, name: Starter, experience: beginner}]
"""
VERSION = """\
phase: Trial
aim: To be tried.
starts: {starts}
weeks: 1
days:
  - id: day
    title: Day
    on: [mon]
    warm-up: ready
    blocks: [{{kind: circuit, rounds: 1, stations: [{{exercise: stand, hold: 9 s}}]}}]
"""


def small(folder, versions, per_programme):
    """A tree of the smallest versions there are, so that what is done for each pair of them shows."""
    files = dict(SMALL)
    for number in range(versions):
        programme, phase = divmod(number, per_programme)
        starts = date(2027, 1, 11) + timedelta(weeks=phase)
        files[f"p{programme}/programme.yaml"] = PROGRAMME
        files[f"p{programme}/{phase + 1}.0.yaml"] = VERSION.format(starts=starts)
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize("per_programme", [1, 1000], ids=["of many programmes", "of one programme"])
def test_twice_as_many_versions_make_twice_as_many_calls(tmp_path, per_programme):
    trees = [small(tmp_path / str(many), many, per_programme) for many in GROWING]
    pages(trees[0])
    first, second = steps([calls(lambda tree=tree: pages(tree)) for tree in trees])
    assert second <= ROOM * 2 * first
