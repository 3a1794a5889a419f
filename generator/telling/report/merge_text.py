"""What a merge changes, as text for people at a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from ...comparing import Comparison, Merge, Merged
from ...comparing.words import HEADINGS, MEANS, by_day, cell, level_names, row_names
from ...reading.findings import Finding
from .sessions import columns

NOTHING = "nothing changes: no version is new, changed or gone, and the findings are the same"


def merge_text(merge: Merge) -> Iterator[str]:
    """Versions with their doses and figures, then the findings that come and go."""
    yield f"what a merge into {merge.base.ref} changes"
    for merged in merge.versions:
        yield ""
        yield head(merge, merged)
        if merged.comparison:
            yield from _doses(merged.comparison)
            yield from _totals(merged.comparison)
    yield from _findings("new findings", merge.new_findings)
    yield from _findings("resolved findings", merge.resolved_findings, merge)
    if not (merge.versions or merge.new_findings or merge.resolved_findings):
        yield NOTHING


def head(merge: Merge, merged: Merged) -> str:
    """`home-strength 1.1 Groundwork: new; against 1.0`."""
    version = merged.version
    against = ""
    if merged.comparison:
        before = merged.comparison.before.name
        against = f"; against {before}{f' at {merge.base.ref}' if merged.state == 'changed' else ''}"
    elif merged.state == "words mended":
        against = "; no dose and no time is another"
    elif merged.state == "new":
        against = "; the first version of this programme"
    return f"{version.programme} {version.name} {version.model.phase}: {merged.state}{against}"


def _doses(compared: Comparison) -> Iterator[str]:
    for title, lines in by_day(compared):
        indent = "    " if title else "  "
        if title:
            yield f"  {title}"
        for line in lines:
            yield f"{indent}{line}"


def _totals(compared: Comparison) -> Iterator[str]:
    days, levels = row_names(compared), level_names(compared)
    rows = [("", "level", *(name.lower() for name in HEADINGS.values()))]
    for row in compared.rows:
        if row.totals:
            cells = (cell(name, row.totals[name]) for name in HEADINGS)
            rows.append((days.get(row.day, row.day), levels.get(row.level, row.level), *cells))
    yield f"  {MEANS}:"
    yield from columns(rows)


def _findings(title: str, findings: tuple[Finding, ...], merge: Merge | None = None) -> Iterator[str]:
    if findings:
        yield ""
        yield f"{title}:"
    for one in findings:
        yield f"  {one.file}:{one.line}:{one.column}: {one.severity} {one.check}: {one.message}"
        reason = merge.reason(one) if merge else ""
        if reason:
            yield f"    accepted, because {reason}"
