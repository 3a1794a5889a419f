"""The checker of links finds what it is for: each of these pages has one fault."""

import pytest

from . import links
from .pages import Site

PAGE = '<!doctype html><html lang="en"><head><title>x</title>{head}</head><body>{body}</body></html>'


@pytest.fixture
def made(tmp_path):
    """`made(files)`: a site of a first page with a link to /other/ and these files beside it."""

    def make(head="", body="", **files):
        files = {"index.html": PAGE.format(head=head, body=f'<a href="other/">o</a>{body}')} | files
        files.setdefault("other/index.html", PAGE.format(head="", body='<a href="../" id="here">back</a>'))
        for name, text in files.items():
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return Site(tmp_path)

    return make


@pytest.mark.parametrize(
    "body",
    [
        '<a href="other/#here">a place on another page</a>',
        '<p id="p"><a href="#p">a place on this page</a>',
        '<a href="./">this page</a><a href="other/index.html">by its file</a>',
        '<img alt="" src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">',
        '<label for="p">words</label><input id="p">',
    ],
)
def test_a_sound_link_passes(made, body):
    assert links.faults(made(body=body)) == []


@pytest.mark.parametrize(
    ("body", "why"),
    [
        ('<a href="gone/">x</a>', "gone/ leads to gone/index.html, which is not there"),
        ('<a href="other">x</a>', "other leads to other, which is not there"),
        ('<a href="other/#gone">x</a>', "other/#gone names a place that other/index.html has not"),
        ('<a href="#gone">x</a>', "#gone names a place that index.html has not"),
        ('<a href="/other/">x</a>', "/other/ is not relative"),
        ('<a href="../">x</a>', "../ leads out of the site"),
        ('<a href="https://club.example/">x</a>', "https://club.example/ leaves the site"),
        ('<a href="//club.example/">x</a>', "//club.example/ leaves the site"),
        ('<a href="mailto:a@club.example">x</a>', "mailto:a@club.example leaves the site"),
        ('<a href="data:text/html,x">x</a>', "data:text/html,x leaves the site"),
        ('<img alt="" src="gone.png">', "gone.png leads to gone.png, which is not there"),
        ('<img alt="" srcset="gone.png 2x">', "gone.png leads to gone.png, which is not there"),
        ('<svg><use href="#gone"/></svg>', "#gone names a place that index.html has not"),
        ('<p style="background:url(gone.png)">x', "gone.png leads to gone.png, which is not there"),
        ('<label for="gone">x</label>', "#gone names a place that index.html has not"),
        ('<p aria-labelledby="gone">x', "#gone names a place that index.html has not"),
        ('<script src="https://club.example/a.js"></script>', "https://club.example/a.js leaves the site"),
    ],
)
def test_a_faulty_link_is_named_with_its_page(made, body, why):
    assert links.faults(made(body=body)) == [f"/: {why}"]


def test_a_canonical_link_may_be_public_and_any_other_may_not(made):
    site = made(
        head='<link rel="canonical" href="https://club.example/"><link rel="icon" href="//a.example">'
    )
    assert links.faults(site) == ["/: //a.example leaves the site"]


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a/b.css", "p{background:url('c.png')}"),
        ("a/b.css", '@import "c.png";'),
        ("a/b.js", 'import {x} from "./c.png";'),
        ("a/b.js", 'await import("./c.png")'),
    ],
)
def test_a_style_or_a_script_is_looked_into(made, name, text):
    (fault,) = links.faults(made(**{name: text}))
    assert fault.startswith(name)
    assert fault.endswith("leads to a/c.png, which is not there")


def test_the_page_for_a_wrong_address_is_read_from_the_public_path(made):
    public = '<link rel="canonical" href="https://club.example/team/">'
    missing = PAGE.format(
        head="", body='<a href="/team/other/">a</a><a href="/team//other/">b</a><a href="x/">c</a>'
    )
    assert links.faults(made(head=public, **{"404.html": missing})) == [
        "404.html: /team//other/ leads out of the site",
        "404.html: x/ leads out of the site",
    ]


def test_a_page_that_nothing_leads_to_is_named(made):
    lonely = PAGE.format(head="", body='<a href="../">back</a>')
    assert links.unreachable(made(**{"lonely/index.html": lonely})) == ["lonely/index.html"]


def test_a_link_that_only_script_shows_leads_to_nothing(made):
    lonely = PAGE.format(head="", body="")
    site = made(body='<p hidden><a href="lonely/">x</a></p>', **{"lonely/index.html": lonely})
    assert links.unreachable(site) == ["lonely/index.html"]


def test_the_requests_of_a_page_are_followed_through_styles_and_scripts(made):
    head = '<link rel="stylesheet" href="a.css"><script type="module" src="b.js"></script>'
    files = {"a.css": "p{background:url(c.svg)}", "b.js": 'import "./d.js"', "c.svg": "<svg/>", "d.js": "1"}
    site = made(head=head, **files)
    assert set(links.requests(site, site[""])) == {"index.html", *files}


def test_what_a_script_imports_when_it_is_wanted_is_no_request_of_the_page(made):
    head = '<script type="module" src="b.js"></script>'
    site = made(
        head=head, **{"b.js": 'go.onclick = () => import("./d.js")', "d.js": 'import "./e.js"', "e.js": "1"}
    )
    assert set(links.requests(site, site[""])) == {"index.html", "b.js"}
    assert set(links.requests(site, site[""], later=True)) == {"index.html", "b.js", "d.js", "e.js"}
