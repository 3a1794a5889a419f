"""What the preview puts over a page, as a server of WSGI (PEP 3333) gives it."""

import io
import sys
from collections.abc import Callable, Iterable
from typing import Any
from wsgiref.validate import validator

import html5lib
import pytest
from phasepress.publishing.overlay import STYLE, over, shown
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


def given(path: str, *findings: Finding) -> tuple[str, dict[str, str]]:
    """Text and headers of what is given at a path, by an application that keeps to the standard."""
    said: dict[str, str] = {}
    app = validator(over(site, lambda: findings))
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
    (box,) = tree.iter("details")
    assert "open" in box.attrib
    words = "".join(box.itertext())
    assert "home/1.0.yaml:7:3" in words
    assert "reps: found <b>" in words
    assert "1 : 3" not in words
    assert "<p>good</p>" in text


def test_warnings_and_notes_are_a_tap_away() -> None:
    (box,) = html5lib.parse(given("/a/", NOTE)[0], namespaceHTMLElements=False).iter("details")
    assert "open" not in box.attrib
    assert "home/1.0.yaml:9:1" in "".join(box.itertext())


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
    assert shown([WRONG] * 500).count("<li>") == 50
