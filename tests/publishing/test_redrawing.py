"""The short way of a preview: when one page is enough, and what it leaves as it was."""

import os
from pathlib import Path

import pytest
from phasepress.judging import check
from phasepress.publishing.assets import assets
from phasepress.publishing.redrawing import caught_up, changed, only_exercise, redrawn, stamps
from phasepress.publishing.site import Renderer
from phasepress.reading.catalogue import load

from tests.site import trees


@pytest.fixture
def tree(tmp_path):
    return trees.write(trees.small(), tmp_path / "tree")


def saved(path, before="", after=""):
    """Save a file with other words, at a moment of its own: some file systems count in whole seconds."""
    path.write_text(path.read_text(encoding="utf-8").replace(before, after), encoding="utf-8")
    at = path.stat().st_mtime_ns + 2_000_000_000
    os.utime(path, ns=(at, at))


def test_one_exercise_that_is_saved_is_known_by_its_id(tree):
    before = stamps([tree])
    saved(tree / "exercises/sit.yaml")
    assert only_exercise(tree, changed(before, stamps([tree]))) == "sit"


@pytest.mark.parametrize("also", ["club.yaml", "plan/1.0.yaml", "exercises/lean.yaml"])
def test_with_any_other_file_one_page_is_not_enough(tree, also):
    before = stamps([tree])
    saved(tree / "exercises/sit.yaml")
    saved(tree / also)
    assert only_exercise(tree, changed(before, stamps([tree]))) == ""


@pytest.mark.parametrize("name", ["club.yaml", "plan/1.0.yaml"])
def test_a_file_that_is_no_exercise_is_of_none(tree, name):
    before = stamps([tree])
    saved(tree / name)
    assert only_exercise(tree, changed(before, stamps([tree]))) == ""


def test_settings_beside_the_tree_count_too(tree, tmp_path):
    settings = tmp_path / "mkdocs.yml"
    settings.write_text("site_name: x\n", encoding="utf-8")
    before = stamps([tree, settings])
    assert changed(before, stamps([tree, settings])) == set()
    saved(settings)
    assert changed(before, stamps([tree, settings])) == {str(settings)}


def renderer(tree):
    checked = check(load(tree))
    return Renderer(checked.catalogue, assets(), "", preview=True, results=checked.versions)


def built(tree, site):
    """The pages of exercises of a tree by address, each in a frame of its own in a folder."""
    pages = {page.address: page for page in renderer(tree).pages() if page.address.startswith("exercises/")}
    for page in pages.values():
        (site / page.address).mkdir(parents=True, exist_ok=True)
        (site / page.address / page.file).write_text(f"<frame>{page.text}</frame>", encoding="utf-8")
    return pages


def test_the_page_is_the_one_that_a_whole_build_makes_within_its_frame(tree, tmp_path):
    pages = built(tree, tmp_path / "site")
    old = trees.small()["exercises/sit.yaml"]["cues"][1]
    saved(tree / "exercises/sit.yaml", old, "Sleep.")
    page = redrawn(renderer(tree), tmp_path / "site", "sit", pages)
    assert page == next(one for one in renderer(tree).pages() if one.address == page.address)
    written = (tmp_path / "site" / page.address / page.file).read_text(encoding="utf-8")
    assert written == f"<frame>{page.text}</frame>"
    assert "Sleep." in written


def test_another_name_stands_in_the_frame_so_nothing_is_written(tree, tmp_path):
    pages = built(tree, tmp_path / "site")
    file: Path = tmp_path / "site/exercises/sit/index.html"
    before = file.read_bytes()
    saved(tree / "exercises/sit.yaml", trees.small()["exercises/sit.yaml"]["name"], "Other")
    assert redrawn(renderer(tree), tmp_path / "site", "sit", pages) is None
    assert file.read_bytes() == before


def test_an_exercise_that_was_not_there_is_not_drawn_alone(tree, tmp_path):
    pages = built(tree, tmp_path / "site")
    pages.pop("exercises/sit/")
    assert redrawn(renderer(tree), tmp_path / "site", "sit", pages) is None
    assert redrawn(renderer(tree), tmp_path / "site", "nobody", pages) is None


@pytest.mark.parametrize(("changes", "reads"), [([3, 3], 1), ([3, 4, 4], 2), ([3, 4, 6, 6], 3)])
def test_a_page_is_read_until_nothing_has_changed_meanwhile(changes, reads):
    read, counted = [], []

    def app(environ, start):
        read.append(environ["PATH_INFO"])
        start("200 OK", [("Content-Type", "text/html")])
        return [str(len(read)).encode()]

    def catch_up(path):
        counted.append(path)
        return changes[len(counted) - 1]

    said = []
    answer = caught_up(app, catch_up)
    assert answer({"PATH_INFO": "/a/"}, lambda *told: said.append(told)) == [str(reads).encode()]
    assert said == [("200 OK", [("Content-Type", "text/html")])]
    assert set(read + counted) == {"/a/"}
