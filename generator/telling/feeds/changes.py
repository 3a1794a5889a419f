"""A programme's versions as a feed (Atom, RFC 4287), newest first.

The files hold no date of publication, so a phase's first day stands for it; its editions are a second apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from xml.etree import ElementTree as Xml

from markupsafe import Markup, escape

from ..tongues import OURS, Mark, spoken_in
from ..views.archive import ArchiveRow

_ATOM = "http://www.w3.org/2005/Atom"
_LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
MOST_ENTRIES = 20
Dated = tuple[date, int, ArchiveRow]
"""First day, edition and the archive's row of a version."""

Xml.register_namespace("", _ATOM)


def changes(
    title: str,
    author: str,
    language: str,
    rows: Sequence[Dated],
    site_url: str,
    top: str,
    mark: Mark = str,
) -> bytes:
    """The feed of a programme at `top` (`<programme>/`), of at least one version, below the `site_url`.

    It is in our language; what is the club's alone says its own, and `mark` says it within what is ours.
    """
    rows = sorted(rows, key=_order, reverse=True)[:MOST_ENTRIES]
    feed = Xml.Element(_name("feed"), {_LANGUAGE: OURS})
    _text(feed, "id", f"{site_url}{top}changes.atom")
    _text(feed, "title", f"{title}: phases and editions")
    _text(feed, "updated", _updated(rows[0]))
    own = {} if spoken_in(language) == OURS else {_LANGUAGE: language}
    _text(_child(feed, "author"), "name", author, **own)
    _child(feed, "link", rel="self", type="application/atom+xml", href=f"{site_url}{top}changes.atom")
    _child(feed, "link", rel="alternate", type="text/html", href=f"{site_url}{top}versions/")
    for row in rows:
        _entry(feed, row, site_url, own, mark)
    Xml.indent(feed)
    text: bytes = Xml.tostring(feed, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def _entry(feed: Xml.Element, dated: Dated, site_url: str, own: dict[str, str], mark: Mark) -> None:
    row = dated[2]
    entry = _child(feed, "entry")
    _text(entry, "id", f"{site_url}{row.address}")
    _text(entry, "title", f"{row.name} {row.phase}", **own)
    _text(entry, "updated", _updated(dated))
    _child(entry, "link", rel="alternate", type="text/html", href=f"{site_url}{row.address}")
    _text(entry, "summary", f"{row.dates}. {row.changes}".strip())
    _text(entry, "content", mark(str(_content(row))), type="html")


def _content(row: ArchiveRow) -> Markup:
    parts = [Markup("<p>{}</p>").format(row.dates)]
    if row.changes:
        parts.append(Markup("<p>{}</p>").format(row.changes))
    if row.change:
        parts.append(Markup("<p>Against {}:</p>").format(row.change.before.words))
        parts.append(_list(row.lines))
        parts.append(Markup("<p>A mean week (estimates):</p>"))
        parts.append(_list([f"{level}: {week}" for level, week in row.change.weeks]))
    return Markup("").join(parts)


def _list(lines: Sequence[str]) -> Markup:
    items = Markup("").join(Markup("<li>{}</li>").format(escape(line)) for line in lines)
    return Markup("<ul>{}</ul>").format(items) if lines else Markup("")


def _order(dated: Dated) -> tuple[str, str]:
    return _updated(dated), dated[2].name


def _updated(dated: Dated) -> str:
    first, edition, _ = dated
    moment = datetime.combine(first, datetime.min.time()) + timedelta(seconds=edition)
    return f"{moment.isoformat()}Z"


def _name(name: str) -> str:
    return f"{{{_ATOM}}}{name}"


def _child(parent: Xml.Element, name: str, **attributes: str) -> Xml.Element:
    return Xml.SubElement(parent, _name(name), attributes)


def _text(parent: Xml.Element, name: str, text: str, **attributes: str) -> None:
    _child(parent, name, **attributes).text = text
