"""What a merge changes, as Markdown for the page of a merge request."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...comparing import Comparison, Merge
from ...comparing.words import HEADINGS, MEANS, by_day, cell, level_names, row_names
from ...reading.escaping import markdown
from ...reading.findings import Finding
from .merge_text import NOTHING, head

MOST_FINDINGS = 50
"""Findings of a kind that are listed; a forge cuts pages that are too long."""


def merge_markdown(merge: Merge) -> Iterator[str]:
    """Lines of Markdown. Whatever the files say stands there as plain text."""
    yield f"## What a merge into {markdown(merge.base.ref)} changes"
    for merged in merge.versions:
        yield ""
        yield f"### {markdown(head(merge, merged))}"
        if merged.comparison:
            yield from _doses(merged.comparison)
            yield from _totals(merged.comparison)
    yield from _findings("New findings", merge.new_findings)
    yield from _findings("Resolved findings", merge.resolved_findings, merge)
    if not (merge.versions or merge.new_findings or merge.resolved_findings):
        yield ""
        yield NOTHING.capitalize() + "."


def _doses(compared: Comparison) -> Iterator[str]:
    for title, lines in by_day(compared):
        yield ""
        if title:
            yield f"**{markdown(title)}**"
            yield ""
        for line in lines:
            yield f"- {markdown(line)}"


def _totals(compared: Comparison) -> Iterator[str]:
    days, levels = row_names(compared), level_names(compared)
    yield ""
    yield f"{markdown(MEANS[0].upper() + MEANS[1:])}:"
    yield ""
    yield _row(["", "Level", *HEADINGS.values()])
    yield _row(["---"] * (2 + len(HEADINGS)), plain=True)
    for row in compared.rows:
        if row.totals:
            cells = [cell(name, row.totals[name]) for name in HEADINGS]
            yield _row([days.get(row.day, row.day), levels.get(row.level, row.level), *cells])


def _row(cells: Sequence[str], *, plain: bool = False) -> str:
    return f"| {' | '.join(text if plain else markdown(text) for text in cells)} |"


def _findings(title: str, findings: tuple[Finding, ...], merge: Merge | None = None) -> Iterator[str]:
    if findings:
        yield ""
        yield f"### {title}"
        yield ""
    for one in findings[:MOST_FINDINGS]:
        reason = merge.reason(one) if merge else ""
        accepted = f" (accepted, because {reason})" if reason else ""
        said = f"{one.severity} {one.check}: {one.message}{accepted}, {one.file}:{one.line}"
        yield f"- {markdown(said)}"
    if len(findings) > MOST_FINDINGS:
        yield f"- and {len(findings) - MOST_FINDINGS} more"
