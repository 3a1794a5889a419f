"""A page for a phone on a bad line is small, everything that it asks for included.

The bounds are this project's: 14,600 bytes are ten packets of 1,460, what a server may send before the first
answer comes back (RFC 6928, initial window of ten segments).
"""

import gzip
from functools import cache

import pytest

from tests.samples import every

from . import links

MOST = {"session": 14_600, "day": 30_000}
GUIDED = 40_000
"""The project's own: what comes after a session page, for its guided session. Script, styles, and the words and moving figures
of all exercises of its level on that day. The jumps, which are drawn in most positions, weigh the most."""


PAPER = 5_000
"""The project's own: what a session page asks for that paper alone shows, its print styles and the stills of its level.
Nothing waits for it, which tests/browser/test_paper_apart.py holds."""


def for_paper(name):
    return name.endswith("/stills.svg") or name.startswith("assets/css/paper.")


def weights(site, page, *, later=False):
    """Bytes of each file that the page needs to be read and to start, compressed as `gzip -9` does."""
    found = links.requests(site, page, later=later)
    return {name: compressed(data) for name, data in found.items() if not for_paper(name)}


@cache
def compressed(data):
    return len(gzip.compress(data, 9, mtime=0))


def by_length(demo, kind):
    """Pages of a kind, the longest last; `make test` takes few, with the longest."""
    own = [page for page in demo.pages.values() if page.kind == kind]
    return every(sorted(own, key=lambda page: len(page.markup)), few=8)


def test_what_paper_alone_shows_keeps_its_bound_and_comes_in_two_requests(demo):
    for page in demo.of_kind("session"):
        found = {name: data for name, data in links.requests(demo, page).items() if for_paper(name)}
        assert len(found) == 2, (page.address, found.keys())
        assert sum(map(compressed, found.values())) <= PAPER, page.address


def test_a_style_for_paper_is_named_so_in_the_page(demo):
    for kind in ("session", "kit", "poster"):
        for page in demo.of_kind(kind):
            media = [one.get("media") for one in page.all("link") if "/css/paper." in one.get("href", "")]
            assert media == ["print"], page.address


@pytest.mark.parametrize("kind", MOST)
def test_every_page_with_all_its_requests_keeps_its_bound(demo, kind):
    heaviest = max((weights(demo, page) for page in by_length(demo, kind)), key=lambda one: sum(one.values()))
    told = ", ".join(f"{name} {size}" for name, size in heaviest.items())
    assert sum(heaviest.values()) <= MOST[kind], f"the heaviest weighs {sum(heaviest.values())}: {told}"


@pytest.mark.parametrize("kind", MOST)
def test_the_styles_and_scripts_are_counted(demo, kind):
    names = {name.rpartition(".")[2] for name in weights(demo, demo.of_kind(kind)[0])}
    assert names >= {"html", "css", "js"}


def test_the_guided_session_keeps_its_bound_and_comes_in_few_requests(demo):
    """One script with all that it imports, its styles, and one file of a level's words and figures."""
    guides = [name for name in demo.files if name.endswith("/guide.json")]
    shared = [
        name
        for name in demo.files
        if name.startswith(("assets/js/guided/", "assets/css/guided.", "assets/css/figure."))
    ]
    assert len(shared) == 3
    heaviest = max(guides, key=lambda name: weight(demo, name))
    found = {name: weight(demo, name) for name in (*shared, heaviest)}
    assert sum(found.values()) <= GUIDED, (sum(found.values()), found)


def weight(site, name):
    return len(gzip.compress(site.files[name].read_bytes(), 9, mtime=0))


FIGURE = 4_096


def test_figures_come_lazily_and_each_keeps_its_bound(demo):
    names = [name for name in demo.files if name.startswith("assets/figures/")]
    sizes = {name: len(gzip.compress(demo.files[name].read_bytes(), 9, mtime=0)) for name in names}
    assert len(names) > 30
    assert {name: size for name, size in sizes.items() if size > FIGURE} == {}
    for page in demo.of_kind("day"):
        assert not any(name in sizes for name in weights(demo, page))
        assert any(name in sizes for name in weights(demo, page, later=True))


MOVING = 30_000
"""The project's own: all figures that move on one day, in all of its tempos."""


def test_all_that_moves_on_the_fullest_day_keeps_its_bound(demo):
    def moves(page):
        names = {one.get("src").rpartition("/")[2] for one in page.all("img", "moves")}
        files = [path for name, path in demo.files.items() if name.rpartition("/")[2] in names]
        assert len(files) == len(names)
        return sum(len(gzip.compress(path.read_bytes(), 9, mtime=0)) for path in files)

    heaviest = max(demo.of_kind("day"), key=moves)
    assert 10_000 < moves(heaviest) <= MOVING, heaviest.address
