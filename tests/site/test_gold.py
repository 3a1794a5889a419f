"""The pages have the shape that was accepted, and the comparison sees what it should."""

import re
import runpy
import sys
from types import SimpleNamespace

import pytest

from . import gold


def test_the_pages_have_the_shape_that_was_accepted(good):
    assert "\n\n".join(gold.faults(good)) == ""


def test_every_gold_page_is_of_another_kind(good):
    kinds = [good[address].kind for address in gold.PAGES.values()]
    assert kinds == ["day", "session", "version", "numbers", "exercise"]


@pytest.fixture
def made(good, tmp_path):
    """A folder of gold pages that agree with the site, and the site in a form that can be changed."""
    gold.accept(good, tmp_path)
    pages = {address: SimpleNamespace(markup=good[address].markup) for address in gold.PAGES.values()}
    return tmp_path, pages


def test_a_changed_word_is_shown_with_its_page_and_line(made):
    folder, pages = made
    page = pages["home/1.1/legs/"]
    assert "<h1 " in page.markup
    page.markup = page.markup.replace("<h1 ", '<h1 class="big" ')
    (fault,) = gold.faults(pages, folder)
    assert fault.startswith("day.html has changed; if it is meant: python -m tests.site.accept_gold")
    assert '\n+<h1 class="big" dir="auto">Legs</h1>' in fault
    assert '\n-<h1 dir="auto">Legs</h1>' in fault


def test_another_name_of_a_style_and_another_indent_are_no_change(made):
    folder, pages = made
    for page in pages.values():
        changed = page.markup.replace("\n", "\n   \n\t")
        assert changed != page.markup
        page.markup = re.sub(r"sheet\.[0-9a-f]{8}\.css", "sheet.00000000.css", changed)
    assert gold.faults(pages, folder) == []


def test_a_missing_and_a_forgotten_gold_page_are_named(made):
    folder, pages = made
    (folder / "day.html").rename(folder / "night.html")
    assert gold.faults(pages, folder) == [
        "night.html is no gold page; remove it",
        "day.html is missing; if it is meant: python -m tests.site.accept_gold",
    ]


def test_accepting_keeps_what_changed_and_says_so(made):
    folder, pages = made
    pages["home/1.1/"].markup += "<!-- new -->"
    assert gold.faults(pages, folder) != []
    assert gold.accept(pages, folder) == ["version.html"]
    assert gold.faults(pages, folder) == []
    assert gold.accept(pages, folder) == []


def test_the_command_that_accepts_keeps_the_pages_and_says_which(good, tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(sys, "argv", ["accept_gold", str(tmp_path)])
    for _ in range(2):
        runpy.run_module("tests.site.accept_gold", run_name="__main__")
    assert capsys.readouterr().out.splitlines() == [
        "accepted: day.html, session.html, version.html, numbers.html, exercise.html",
        "nothing has changed",
    ]
    assert gold.faults(good, tmp_path) == []
