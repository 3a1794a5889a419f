"""Pages of the preview about what is found in the files as they are now: one of all, and one of each finding.

They are files among those of the preview, which makes a page that is open look for changes by itself.
"""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from markupsafe import Markup

from ..reading.findings import Finding
from ..reading.source import MOST_BYTES
from ..reading.tree import OnDisk

FOLDER = "_findings"
"""Below the top of the preview; no id of an author has such a sign."""
MOST_PAGES = 200
_AROUND = 3
"""Lines of the file above and below that of the finding."""
_PAGE = Markup("""\
<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>{title}</title><link rel="stylesheet" href="/{style}"></head>
<body class="phasepress-alone"><main>
<h1>{title}</h1>
{body}</main>
</body></html>
""")
_ITEM = Markup(
    '<li><a href="{address}"><code>{place}</code></a>{severity} {check}: {message}<span>{hint}</span></li>'
)
STYLE = "phasepress-findings.css"


def place(finding: Finding) -> str:
    """`programmes/home/1.0.yaml:7:3`."""
    return f"{finding.file}:{finding.line}:{finding.column}"


def key(finding: Finding) -> str:
    """The name of a finding's page. It stays the same when other lines of its file come and go."""
    what = "\n".join((finding.check, finding.file, finding.at, finding.message))
    return hashlib.sha256(what.encode()).hexdigest()[:12]


def items(findings: Sequence[Finding], base: str) -> Markup:
    """A list's items, each with the way to its page below `base`."""
    return Markup("").join(
        _ITEM.format(
            address=f"{base}{FOLDER}/{key(one)}/",
            place=place(one),
            severity=one.severity,
            check=one.check,
            message=one.message,
            hint=one.hint,
        )
        for one in findings
    )


class FindingsPages:
    """The pages in the folder of a preview's site, over all its builds."""

    def __init__(self) -> None:
        """No finding has had a page yet."""
        self._had: set[str] = set()

    def write(self, site: Path, base: str, findings: Sequence[Finding], *, alone: bool) -> None:
        """Write those of the moment. `alone`: there is no site yet, so that the first page is that of all.

        `base` is where the site begins, with a slash at the end. A page that was there before stays, and says
        that its finding is mended.
        """
        folder = site / FOLDER
        with suppress(FileNotFoundError):
            shutil.rmtree(folder)
        told = {key(one): one for one in findings[:MOST_PAGES]}
        self._had |= told.keys()
        for name in self._had:
            _write(folder / name, _of_one(told[name], base) if name in told else _mended(base))
        _write(folder, _of_all(findings, base, alone=alone))
        if alone:
            _write(site, _of_all(findings, base, alone=alone))


def _write(folder: Path, text: str) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "index.html").write_text(text, encoding="utf-8", errors="replace")


def _of_all(findings: Sequence[Finding], base: str, *, alone: bool) -> str:
    body = Markup("")
    if alone:
        body += Markup("<p>There is no page to show before the errors are mended. Save a file: this page ")
        body += Markup("follows by itself.</p>\n")
    for severity in ("error", "warning", "note"):
        own = [one for one in findings if one.severity == severity]
        if own:
            heading = Markup("<h2>{} {}{}</h2>\n").format(len(own), severity, "" if len(own) == 1 else "s")
            body += heading + Markup("<ol>{}</ol>\n").format(items(own[:MOST_PAGES], base))
    if not findings:
        body += Markup("<p>Nothing is found.</p>\n")
    return _page("What is found in the files", body + _ways(base, "" if alone else "To the site"))


def _of_one(finding: Finding, base: str) -> str:
    head = Markup("<p><code>{}</code></p>\n<p><strong>{}</strong></p>\n")
    body = head.format(place(finding), finding.message)
    if finding.hint:
        body += Markup("<p>To mend it: {}</p>\n").format(finding.hint)
    lines = Markup("").join(_lines(finding))
    if lines:
        body += Markup("<pre>{}</pre>\n").format(lines)
    for name, words in (("Where", finding.at), ("Rests on", finding.source)):
        if words:
            body += Markup("<p>{}: {}</p>\n").format(name, words)
    return _page(f"{finding.severity.capitalize()}: {finding.check}", body + _ways(base, "To the site"))


def _mended(base: str) -> str:
    return _page("Mended", Markup("<p>This is not found any more.</p>\n") + _ways(base, "To the site"))


def _ways(base: str, to_the_site: str) -> Markup:
    ways = [(f"{base}{FOLDER}/", "All that is found"), *([(base, to_the_site)] if to_the_site else [])]
    links = (Markup('<a href="{}">{}</a>').format(address, words) for address, words in ways)
    return Markup("<p>{}</p>\n").format(Markup(" · ").join(links))


def _page(title: str, body: Markup) -> str:
    return _PAGE.format(title=title, style=STYLE, body=body)


def _lines(finding: Finding) -> Iterator[Markup]:
    """The lines of the file around the finding, its own one marked."""
    text = b""
    with suppress(OSError, ValueError):
        text = OnDisk(Path()).content(Path(finding.file), MOST_BYTES)
    lines = text.decode("utf-8", "replace").split("\n")
    first, last = max(finding.line - _AROUND, 1), min(finding.line + _AROUND, len(lines))
    for number in range(first, last + 1) if text else ():
        line = Markup("{:>5}  {}\n").format(number, lines[number - 1].rstrip("\r"))
        yield Markup("<mark>{}</mark>").format(line) if number == finding.line else line
