"""What the preview shows over the last good page: the findings of the files as they are now."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any

from markupsafe import Markup

from ..reading.findings import Finding
from .findings_pages import FOLDER, STYLE, items

MOST_SHOWN = 50
_CSS = b"""\
.phasepress-findings { position: fixed; inset: auto 0 0 0; z-index: 1000; max-height: 70vh; overflow: auto;
  background: #fff; color: #1a1a1a; border-top: 4px solid #767676; font: 16px/1.4 sans-serif; }
.phasepress-findings.wrong { border-top-color: #b00020; }
.phasepress-findings summary { min-height: 44px; padding: 10px 16px; box-sizing: border-box;
  font-weight: bold; }
.phasepress-findings ol { margin: 0; padding: 0 16px 16px 40px; }
.phasepress-findings li { margin: 0 0 8px; overflow-wrap: anywhere; }
.phasepress-findings code, .phasepress-findings span { display: block; }
.phasepress-findings li a, .phasepress-alone li a { color: inherit; }
.phasepress-alone { margin: 0; background: #fff; color: #1a1a1a; font: 16px/1.4 sans-serif; }
.phasepress-alone main { max-width: 50em; margin: 0 auto; padding: 16px; overflow-wrap: anywhere; }
.phasepress-alone li { margin: 0 0 8px; }
.phasepress-alone li code, .phasepress-alone li span { display: block; }
.phasepress-alone a { display: inline-block; min-height: 24px; }
.phasepress-alone pre { overflow: auto; padding: 8px; border: 1px solid #767676; }
.phasepress-alone mark { background: #ffe08a; color: #1a1a1a; }
@media print { .phasepress-findings { display: none; } }
"""
_WHOLE = Markup(
    '<link rel="stylesheet" href="/{style}">'
    '<div class="phasepress-findings{wrong}" role="status">{errors}{others}</div>'
)
_FOLD = Markup("<details{opened}><summary>{summary}</summary><ol>{items}</ol></details>")
App = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]


@dataclass(frozen=True, slots=True)
class Told:
    """What there is to tell at the moment.

    `edited` is the file that was saved last, `base` the path at which the site begins. `alone`: there was
    no good build yet, so that every page is that of the findings.
    """

    findings: Sequence[Finding] = ()
    edited: str = ""
    base: str = "/"
    alone: bool = False


def over(app: App, told: Callable[[], Told]) -> App:
    """The preview's server, with the findings of the moment in every page that it gives (WSGI, PEP 3333)."""

    def answer(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        path, now = environ.get("PATH_INFO", ""), told()
        if path == f"/{STYLE}":
            start("200 OK", [("Content-Type", "text/css"), ("Content-Length", str(len(_CSS)))])
            return [_CSS]
        own = path.startswith(f"{now.base}{FOLDER}/")
        if now.alone and path.startswith(now.base) and path.endswith("/") and not own:
            environ = {**environ, "PATH_INFO": now.base}
        said: list[Any] = []
        body = b"".join(app(environ, lambda status, headers, *more: said.append((status, headers, more))))
        ((status, headers, more),) = said
        is_page = any(name.lower() == "content-type" and "html" in value for name, value in headers)
        if is_page and not own and not now.alone:
            body = _with(body, shown(now))
            kept = [(name, value) for name, value in headers if name.lower() != "content-length"]
            headers = [*kept, ("Content-Length", str(len(body)))]
        start(status, headers, *more)
        return [body]

    return answer


def shown(told: Told) -> str:
    """What is put over a page: errors open, warnings and notes a tap away; nothing where all is well.

    Those of the file that was saved last come first.
    """
    if not told.findings:
        return ""
    errors = [finding for finding in told.findings if finding.severity == "error"]
    others = [finding for finding in told.findings if finding.severity != "error"]
    many = f"{len(errors)} error{'' if len(errors) == 1 else 's'}"
    return _WHOLE.format(
        style=STYLE,
        wrong=" wrong" if errors else "",
        errors=_fold(told, errors, f"{many}; the page is the last good one", opened=True),
        others=_fold(told, others, _others(told, others), opened=False),
    )


def _fold(told: Told, findings: Sequence[Finding], summary: str, *, opened: bool) -> Markup:
    if not findings:
        return Markup("")
    edited_first = sorted(findings, key=lambda one: one.file != told.edited)
    return _FOLD.format(
        opened=Markup(" open") if opened else "",
        summary=summary,
        items=items(edited_first[:MOST_SHOWN], told.base),
    )


def _others(told: Told, others: Sequence[Finding]) -> str:
    """`Warnings and notes: 2 in 3.1.yaml, 5 elsewhere`."""
    own = sum(one.file == told.edited for one in others)
    left = len(others) - own
    parts = [f"{own} in {PurePath(told.edited).name}"] if own else []
    parts += [f"{left} elsewhere" if own else str(left)] if left else []
    return f"Warnings and notes: {', '.join(parts)}"


def _with(page: bytes, more: str) -> bytes:
    before, end, after = page.rpartition(b"</body>")
    return before + more.encode() + end + after if end else page + more.encode()
