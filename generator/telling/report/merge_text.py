"""What a merge changes, as text for people at a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from ...comparing import Comparison, Merge, Merged
from ...comparing.words import HEADINGS, MEANS, by_day, cell, level_names, row_names
from ...reading.findings import Finding
from .sessions import columns

NOTHING = "nothing changes: no version is new, changed or gone, and the findings are the same"


def merge_text(merge: Merge) -> Iterator[str]:
    """What is not allowed, three sentences a version, doses, findings that come and go, and figures."""
    yield f"what a merge into {merge.base.ref} changes"
    yield from _findings("not allowed", merge.not_allowed, hints=True)
    yield from _in_short(merge)
    for merged in merge.versions:
        yield ""
        yield head(merge, merged)
        if merged.comparison:
            yield from _doses(merged.comparison)
    yield from _findings("new findings", merge.new_findings)
    yield from _findings("resolved findings", merge.resolved_findings, merge)
    yield from _figures(merge)
    if not (merge.versions or merge.new_findings or merge.resolved_findings):
        yield NOTHING


def _in_short(merge: Merge) -> Iterator[str]:
    told = [merged for merged in merge.versions if merged.short]
    if told:
        yield ""
        yield "in short:"
    for merged in told:
        yield f"  {title(merged)}"
        yield from (f"    {sentence}" for sentence in merged.short or ())


def title(merged: Merged) -> str:
    """`home-strength 1.1 Groundwork`."""
    return f"{merged.version.programme} {merged.version.name} {merged.version.model.phase}"


def head(merge: Merge, merged: Merged) -> str:
    """`home-strength 1.1 Groundwork: new; against 1.0`."""
    against = ""
    if merged.comparison:
        before = merged.comparison.before.name
        against = f"; against {before}{f' at {merge.base.ref}' if merged.state == 'changed' else ''}"
    elif merged.state == "words mended":
        against = "; no dose and no time is another"
    elif merged.state == "new":
        against = "; the first version of this programme"
    return f"{title(merged)}: {merged.state}{against}"


def _doses(compared: Comparison) -> Iterator[str]:
    for day, lines in by_day(compared):
        indent = "    " if day else "  "
        if day:
            yield f"  {day}"
        for line in lines:
            yield f"{indent}{line}"


def _figures(merge: Merge) -> Iterator[str]:
    compared = [merged for merged in merge.versions if merged.comparison]
    if compared:
        yield ""
        yield f"figures, {MEANS}:"
    for merged in compared:
        assert merged.comparison
        yield f"  {title(merged)}"
        yield from _totals(merged.comparison)


def _totals(compared: Comparison) -> Iterator[str]:
    days, levels = row_names(compared), level_names(compared)
    rows = [("", "level", *(name.lower() for name in HEADINGS.values()))]
    for row in compared.rows:
        if row.totals:
            cells = (cell(name, row.totals[name]) for name in HEADINGS)
            rows.append((days.get(row.day, row.day), levels.get(row.level, row.level), *cells))
    yield from columns(rows)


def _findings(
    heading: str, findings: tuple[Finding, ...], merge: Merge | None = None, *, hints: bool = False
) -> Iterator[str]:
    if findings:
        yield ""
        yield f"{heading}:"
    for one in findings:
        yield f"  {one.file}:{one.line}:{one.column}: {one.severity} {one.check}: {one.message}"
        if hints and one.hint:
            yield f"    {one.hint}"
        reason = merge.reason(one) if merge else ""
        if reason:
            yield f"    accepted, because {reason}"
