"""What the preview puts over a page, as a server of WSGI (PEP 3333) gives it."""

import io
import sys
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any
from wsgiref.validate import validator

import html5lib
import pytest
from phasepress.publishing.findings_pages import FindingsPages, key
from phasepress.publishing.overlay import STYLE, Told, over, shown
from phasepress.reading.findings import Finding

WRONG = Finding("value", "error", "home/1.0.yaml", 7, 3, "", "reps: found <b>", "write 8 & no more")
NOTE = Finding("balance", "note", "home/1.0.yaml", 9, 1, "", "1 : 3", "add some")


def site(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
    """A page, or a file that is none."""
    page = environ["PATH_INFO"].endswith("/")
    body = b"<!doctype html><title>x</title><body><p>good</p></body></html>" if page else b"</body>"
    kind = "text/html; charset=UTF-8" if page else "application/json"
    start("200 OK", [("Content-Type", kind), ("Content-Length", str(len(body)))])
    return [body]


def given(path: str, *findings: Finding, edited: str = "") -> tuple[str, dict[str, str]]:
    """Text and headers of what is given at a path, by an application that keeps to the standard."""
    said: dict[str, str] = {}
    app = validator(over(site, lambda: Told(findings, edited)))
    environ = {
        "REQUEST_METHOD": "GET", "SCRIPT_NAME": "", "PATH_INFO": path, "SERVER_NAME": "x", "SERVER_PORT": "80",
        "wsgi.version": (1, 0), "wsgi.url_scheme": "http", "wsgi.input": io.BytesIO(),
        "wsgi.errors": sys.stderr, "wsgi.multithread": False, "wsgi.multiprocess": False, "wsgi.run_once": True,
    }  # fmt: skip
    answer = app(environ, lambda status, headers, *more: said.update(headers) or (lambda data: None))
    body = b"".join(answer)
    answer.close()  # type: ignore[attr-defined]
    assert int(said["Content-Length"]) == len(body)
    return body.decode(), said


def test_errors_stand_open_over_the_page_with_file_and_line() -> None:
    text, _ = given("/a/", WRONG, NOTE)
    tree = html5lib.parse(text, namespaceHTMLElements=False)
    wrong, others = tree.iter("details")
    assert "open" in wrong.attrib
    words = "".join(wrong.itertext())
    assert "home/1.0.yaml:7:3" in words
    assert "reps: found <b>" in words
    assert "1 : 3" not in words
    assert "open" not in others.attrib
    assert "1 : 3" in "".join(others.itertext())
    assert "<p>good</p>" in text


def test_warnings_and_notes_are_a_tap_away() -> None:
    (box,) = html5lib.parse(given("/a/", NOTE)[0], namespaceHTMLElements=False).iter("details")
    assert "open" not in box.attrib
    assert "home/1.0.yaml:9:1" in "".join(box.itertext())


def test_those_of_the_file_that_was_saved_last_come_first() -> None:
    elsewhere = replace(NOTE, file="club.yaml", line=2)
    text, _ = given("/a/", elsewhere, NOTE, edited=NOTE.file)
    assert "Warnings and notes: 1 in 1.0.yaml, 1 elsewhere" in text
    assert text.index("home/1.0.yaml:9:1") < text.index("club.yaml:2:1")


def test_each_finding_leads_to_its_own_page() -> None:
    text, _ = given("/a/", WRONG)
    assert f'href="/_findings/{key(WRONG)}/"' in text
    assert given("/_findings/", WRONG)[0] == given("/_findings/")[0], "their own pages have none over them"


@pytest.mark.parametrize(("path", "findings"), [("/a/", ()), ("/plan.json", (WRONG,))])
def test_a_page_without_findings_and_all_that_is_no_page_stay_as_they_are(
    path: str, findings: tuple[Finding, ...]
) -> None:
    assert given(path, *findings)[0] == given(path)[0]
    assert "phasepress-findings" not in given(path, *findings)[0]


def test_its_styles_come_from_the_preview_itself() -> None:
    text, headers = given(f"/{STYLE}", WRONG)
    assert headers["Content-Type"] == "text/css"
    assert "position: fixed" in text


def test_very_many_findings_are_cut() -> None:
    assert shown(Told([WRONG] * 500)).count("<li>") == 50


def words_of(file: Path) -> str:
    return "".join(html5lib.parse(file.read_text("utf-8"), namespaceHTMLElements=False).itertext())


def test_a_page_of_a_finding_has_its_place_its_lines_and_what_to_do_until_it_is_mended(
    tmp_path: Path,
) -> None:
    plan = tmp_path / "1.0.yaml"
    plan.write_text("\n".join(f"line {number} <i>" for number in range(1, 20)), encoding="utf-8")
    wrong = replace(WRONG, file=str(plan))
    pages, site = FindingsPages(), tmp_path / "site"
    pages.write(site, "/club/", [wrong, NOTE], alone=False)
    own = site / "_findings" / key(wrong) / "index.html"
    words = words_of(own)
    for told in (
        f"{plan}:7:3",
        "reps: found <b>",
        "To mend it: write 8 & no more",
        "7  line 7 <i>",
        "4  line 4",
    ):
        assert told in words
    assert "line 3" not in words
    (mark,) = html5lib.parse(own.read_text("utf-8"), namespaceHTMLElements=False).iter("mark")
    assert (mark.text or "").strip() == "7  line 7 <i>"
    assert not (site / "index.html").exists()
    pages.write(site, "/club/", [NOTE], alone=False)
    assert "This is not found any more." in words_of(own)
    assert "reps: found" not in words_of(site / "_findings/index.html")
    assert "1 note" in words_of(site / "_findings/index.html")


def test_a_page_of_a_finding_reads_through_no_link(tmp_path: Path) -> None:
    secret, link = tmp_path / "secret", tmp_path / "1.0.yaml"
    secret.write_text("not for a page", encoding="utf-8")
    link.symlink_to(secret)
    wrong = replace(WRONG, file=str(link), line=1)
    FindingsPages().write(tmp_path / "site", "/", [wrong], alone=True)
    assert "not for a page" not in words_of(tmp_path / "site/_findings" / key(wrong) / "index.html")
    assert "There is no page to show before the errors are mended" in words_of(tmp_path / "site/index.html")


def test_before_there_is_a_good_page_every_page_is_that_of_the_findings() -> None:
    def echo(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        start("200 OK", [("Content-Type", "text/html")])
        return [environ["PATH_INFO"].encode()]

    app = over(echo, lambda: Told((WRONG,), base="/club/", alone=True))
    nothing: Callable[..., None] = lambda *_: None  # noqa: E731
    assert b"".join(app({"PATH_INFO": "/club/home/1.0/"}, nothing)) == b"/club/"
    assert b"".join(app({"PATH_INFO": "/club/_findings/x/"}, nothing)) == b"/club/_findings/x/"
    assert b"".join(app({"PATH_INFO": "/club/plan.json"}, nothing)) == b"/club/plan.json"
