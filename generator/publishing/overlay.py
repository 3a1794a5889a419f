"""What the preview shows over the last good page: the findings of the files as they are now."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from markupsafe import Markup

from ..reading.findings import Finding

STYLE = "phasepress-findings.css"
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
@media print { .phasepress-findings { display: none; } }
"""
_WHOLE = Markup(
    '<link rel="stylesheet" href="/{style}">'
    '<details class="phasepress-findings{wrong}"{opened} role="status">'
    "<summary>{summary}</summary><ol>{items}</ol></details>"
)
_ITEM = Markup("<li><code>{place}</code>{severity}: {message}<span>{hint}</span></li>")
App = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]


def over(app: App, findings: Callable[[], Sequence[Finding]]) -> App:
    """The preview's server, with the findings of the moment in every page that it gives (WSGI, PEP 3333)."""

    def answer(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        if environ.get("PATH_INFO") == f"/{STYLE}":
            start("200 OK", [("Content-Type", "text/css"), ("Content-Length", str(len(_CSS)))])
            return [_CSS]
        said: list[Any] = []
        body = b"".join(app(environ, lambda status, headers, *more: said.append((status, headers, more))))
        ((status, headers, more),) = said
        if any(name.lower() == "content-type" and "html" in value for name, value in headers):
            body = _with(body, shown(findings()))
            kept = [(name, value) for name, value in headers if name.lower() != "content-length"]
            headers = [*kept, ("Content-Length", str(len(body)))]
        start(status, headers, *more)
        return [body]

    return answer


def shown(findings: Sequence[Finding]) -> str:
    """What is put over a page: errors open, warnings and notes a tap away; nothing where all is well."""
    if not findings:
        return ""
    errors = [finding for finding in findings if finding.severity == "error"]
    told = errors or list(findings)
    items = [
        _ITEM.format(
            place=f"{one.file}:{one.line}:{one.column}",
            severity=f"{one.severity} {one.check}",
            message=one.message,
            hint=one.hint,
        )
        for one in told[:MOST_SHOWN]
    ]
    summary = f"Warnings and notes: {len(told)}"
    if errors:
        summary = f"{len(told)} error{'' if len(told) == 1 else 's'}; the page is the last good one"
    return _WHOLE.format(
        style=STYLE,
        wrong=" wrong" if errors else "",
        opened=" open" if errors else "",
        summary=summary,
        items=Markup("").join(items),
    )


def _with(page: bytes, more: str) -> bytes:
    before, end, after = page.rpartition(b"</body>")
    return before + more.encode() + end + after if end else page + more.encode()
