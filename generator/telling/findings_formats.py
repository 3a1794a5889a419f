"""Findings in the forms that two forges read, so that a merge request shows them at file and line.

GitHub: workflow commands, one a line ("Workflow commands for GitHub Actions"). GitLab: the JSON list of its
code quality report ("Code Quality", report format). Both from memory of the forges' documentation.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator

from ..reading.escaping import as_json, github_data, github_property
from ..reading.findings import Finding

_COMMANDS = {"error": "error", "warning": "warning", "note": "notice"}
_SEVERITIES = {"error": "critical", "warning": "minor", "note": "info"}


def github(findings: Iterable[Finding]) -> Iterator[str]:
    """A workflow command for each finding, errors first: a forge shows only so many."""
    for one in sorted(findings, key=lambda finding: list(_COMMANDS).index(finding.severity)):
        file, title = github_property(one.file), github_property(one.check)
        place = f"file={file},line={one.line},col={one.column},title={title}"
        yield f"::{_COMMANDS[one.severity]} {place}::{github_data(_said(one))}"


def gitlab(findings: Iterable[Finding]) -> str:
    """The report as JSON. A finding keeps its fingerprint when its line moves."""
    seen: Counter[str] = Counter()
    entries = []
    for one in findings:
        about = "\0".join((one.check, one.file, one.at, one.message))
        seen[about] += 1
        entries.append(
            {
                "description": _said(one),
                "check_name": one.check,
                "fingerprint": hashlib.sha256(f"{about}\0{seen[about]}".encode()).hexdigest(),
                "severity": _SEVERITIES[one.severity],
                "location": {"path": one.file, "lines": {"begin": one.line}},
            }
        )
    return as_json(entries)


def _said(finding: Finding) -> str:
    return f"{finding.message}\n{finding.hint}" if finding.hint else finding.message
