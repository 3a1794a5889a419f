"""A build that fails changes nothing: the old site stays as it was, and nothing is left lying about."""

import errno
import os
import re
import shutil
import signal
from itertools import islice

import pytest
from phasepress.publishing import switching
from phasepress.publishing.site import Renderer

from . import trees
from .pages import contents


def broken(tree):
    (tree / "plan" / "1.0.yaml").write_text("phase: Begin\nweeks: two\n", encoding="utf-8")


def failing(error):
    """Stands in for the making of pages, and fails after the third."""
    pages = Renderer.pages

    def some(renderer):
        yield from islice(pages(renderer), 3)
        raise error

    return some


def test_an_error_in_a_file_leaves_the_old_site_alone(run, tree, old):
    broken(tree)
    before = contents(old.parent)
    done = run("build", "--programmes", tree, "--to", old)
    assert done.exit_code == 1
    assert contents(old.parent) == before
    assert done.stdout == ""
    assert re.search(r"plan/1\.0\.yaml:2:\d+: error value: ", done.stderr)
    assert done.stderr.endswith("the site was not built\n")


def test_an_error_in_a_file_makes_no_folder(run, tree, tmp_path):
    broken(tree)
    assert run("build", "--programmes", tree, "--to", tmp_path / "a" / "b").exit_code == 1
    assert not (tmp_path / "a").exists()


def test_a_fault_of_ours_while_rendering_leaves_the_old_site_alone(run, tree, old, monkeypatch):
    monkeypatch.setattr(Renderer, "pages", failing(ZeroDivisionError("ours")))
    before = contents(old.parent)
    done = run("build", "--programmes", tree, "--to", old)
    assert isinstance(done.exception, ZeroDivisionError)
    assert contents(old.parent) == before


def test_a_full_disk_leaves_the_old_site_alone(run, tree, old, monkeypatch):
    full = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    monkeypatch.setattr(Renderer, "pages", failing(full))
    before = contents(old.parent)
    done = run("build", "--programmes", tree, "--to", old)
    assert done.exit_code == 2
    assert "phasepress: the site could not be built: No space left on device" in done.stderr
    assert contents(old.parent) == before


@pytest.mark.parametrize("interrupted", [False, True], ids=["refused", "interrupted"])
def test_a_switch_that_fails_half_way_puts_the_old_site_back(run, tree, old, monkeypatch, interrupted):
    """Where the file system knows no exchange, and between the two renames something happens."""
    rename, calls = os.rename, []

    def second_fails(one, other):
        calls.append(one)
        if len(calls) == 2:
            if interrupted:
                os.kill(os.getpid(), signal.SIGINT)
            raise OSError(errno.EACCES, "no")
        return rename(one, other)

    def refused(one, other):
        raise OSError(errno.EINVAL, "no exchange here")

    before = contents(old.parent)
    monkeypatch.setattr(switching, "_exchange", refused)
    monkeypatch.setattr(os, "rename", second_fails)
    assert run("build", "--programmes", tree, "--to", old).exit_code == (130 if interrupted else 2)
    assert len(calls) == 3
    assert contents(old.parent) == before


@pytest.mark.parametrize(
    "what", ["a folder of something else", "a file", "a link to a site", "a link to nothing"]
)
def test_a_place_that_no_build_made_is_not_replaced(run, tree, old, tmp_path, what):
    to = tmp_path / "precious"
    if what == "a folder of something else":
        to.mkdir()
        (to / "thesis.txt").write_text("years of work", encoding="utf-8")
    elif what == "a file":
        to.write_text("years of work", encoding="utf-8")
    else:
        to.symlink_to(old if what == "a link to a site" else tmp_path / "nowhere")
    before = contents(tmp_path)
    done = run("build", "--programmes", tree, "--to", to)
    assert done.exit_code == 2
    assert contents(tmp_path) == before
    assert to.is_symlink() == what.startswith("a link")
    assert re.search(
        rf"phasepress: {to} (is not a folder|holds files that no build put there); .*--to", done.stderr
    )


def test_the_tree_itself_is_not_replaced(run, tree):
    before = contents(tree)
    assert run("build", "--programmes", tree, "--to", tree).exit_code == 2
    assert contents(tree) == before


def test_a_site_in_the_tree_is_refused(run, tree):
    before = contents(tree)
    done = run("build", "--programmes", tree, "--to", tree / "site")
    assert done.exit_code == 2
    assert (
        f"phasepress: {tree / 'site'} and the programme files lie one in the other; name another"
        in done.stderr
    )
    assert contents(tree) == before


def test_a_tree_in_the_site_is_not_lost_with_the_old_site(run, tree, old):
    inside = trees.write(trees.small(), old / "programmes")
    before = contents(old)
    assert run("build", "--programmes", inside, "--to", old).exit_code == 2
    assert contents(old) == before


def test_a_folder_that_cannot_be_written_to_is_named(run, tree, tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    done = run("build", "--programmes", tree, "--to", tmp_path / "file" / "site")
    assert done.exit_code == 2
    assert f"phasepress: cannot write beside {tmp_path / 'file' / 'site'}: " in done.stderr


@pytest.mark.parametrize("gone", ["the folder around the site", "what is made", "the old site", "the tree"])
def test_a_folder_that_is_removed_during_the_build_ends_in_a_message_or_a_whole_site(
    run, tree, old, monkeypatch, gone
):
    whole, pages = contents(old), Renderer.pages
    places = {
        "the folder around the site": lambda: old.parent,
        "what is made": lambda: next(old.parent.glob(".site.*/new-*")),
        "the old site": lambda: old,
        "the tree": lambda: tree,
    }

    def removed(renderer):
        for number, page in enumerate(pages(renderer)):
            if number == 3:
                shutil.rmtree(places[gone]())
            yield page

    monkeypatch.setattr(Renderer, "pages", removed)
    done = run("build", "--programmes", tree, "--to", old)
    monkeypatch.undo()
    if gone in ("the old site", "the tree"):
        assert done.exit_code == 0
        assert contents(old) == whole
    else:
        assert done.exit_code == 2
        assert "phasepress: the site could not be built: " in done.stderr
        assert not old.exists() if gone == "the folder around the site" else contents(old) == whole
    assert not list(old.parent.glob(".*"))
