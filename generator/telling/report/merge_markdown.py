"""What a merge changes, as Markdown for the page of a merge request."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ...comparing import Comparison, Merge
from ...comparing.words import HEADINGS, MEANS, by_day, cell, level_names, row_names
from ...reading.escaping import markdown
from ...reading.findings import Finding
from .merge_text import NOTHING, head, title

MOST_FINDINGS = 50
"""Findings of a kind that are listed; a forge cuts pages that are too long."""


def merge_markdown(merge: Merge) -> Iterator[str]:
    """Lines of Markdown. Whatever the files say stands there as plain text."""
    yield f"## What a merge into {markdown(merge.base.ref)} changes"
    yield from _findings("Not allowed", merge.not_allowed, hints=True)
    yield from _in_short(merge)
    for merged in merge.versions:
        yield ""
        yield f"### {markdown(head(merge, merged))}"
        if merged.comparison:
            yield from _doses(merged.comparison)
    yield from _findings("New findings", merge.new_findings)
    yield from _findings("Resolved findings", merge.resolved_findings, merge)
    yield from _figures(merge)
    if not (merge.versions or merge.new_findings or merge.resolved_findings):
        yield ""
        yield NOTHING.capitalize() + "."


def _in_short(merge: Merge) -> Iterator[str]:
    told = [merged for merged in merge.versions if merged.short]
    if told:
        yield ""
        yield "### In short"
    for merged in told:
        yield ""
        yield f"**{markdown(title(merged))}**"
        yield ""
        yield from (f"- {markdown(sentence)}" for sentence in merged.short or ())


def _doses(compared: Comparison) -> Iterator[str]:
    for day, lines in by_day(compared):
        yield ""
        if day:
            yield f"**{markdown(day)}**"
            yield ""
        for line in lines:
            yield f"- {markdown(line)}"


def _figures(merge: Merge) -> Iterator[str]:
    """All figures, folded: forges show the summary line, and the rest at a click."""
    compared = [merged for merged in merge.versions if merged.comparison]
    if not compared:
        return
    yield ""
    yield "<details><summary>Figures before and now</summary>"
    yield ""
    yield f"{markdown(MEANS[0].upper() + MEANS[1:])}:"
    for merged in compared:
        assert merged.comparison
        yield ""
        yield f"**{markdown(title(merged))}**"
        yield from _totals(merged.comparison)
    yield ""
    yield "</details>"


def _totals(compared: Comparison) -> Iterator[str]:
    days, levels = row_names(compared), level_names(compared)
    yield ""
    yield _row(["", "Level", *HEADINGS.values()])
    yield _row(["---"] * (2 + len(HEADINGS)), plain=True)
    for row in compared.rows:
        if row.totals:
            cells = [cell(name, row.totals[name]) for name in HEADINGS]
            yield _row([days.get(row.day, row.day), levels.get(row.level, row.level), *cells])


def _row(cells: Sequence[str], *, plain: bool = False) -> str:
    return f"| {' | '.join(text if plain else markdown(text) for text in cells)} |"


def _findings(
    heading: str, findings: tuple[Finding, ...], merge: Merge | None = None, *, hints: bool = False
) -> Iterator[str]:
    if findings:
        yield ""
        yield f"### {heading}"
        yield ""
    for one in findings[:MOST_FINDINGS]:
        reason = merge.reason(one) if merge else ""
        accepted = f" (accepted, because {reason})" if reason else ""
        mend = f". To mend it: {one.hint}" if hints and one.hint else ""
        said = f"{one.severity} {one.check}: {one.message}{accepted}, {one.file}:{one.line}{mend}"
        yield f"- {markdown(said)}"
    if len(findings) > MOST_FINDINGS:
        yield f"- and {len(findings) - MOST_FINDINGS} more"
