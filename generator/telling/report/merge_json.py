"""What a merge changes, as documented JSON."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from ...comparing import Comparison, Merge, Merged
from ...comparing.totals import Difference, Row
from ...reading.findings import Finding

Json = dict[str, Any]
_PLACES = 3


def merge_json(merge: Merge) -> Json:
    """The value of `changes` in the report; figures are means, in the units of their names."""
    return {
        "base": merge.base.ref,
        "not_allowed": [finding.as_json() for finding in merge.not_allowed],
        "versions": [_version(merge, one) for one in merge.versions],
        "findings": {
            "new": [finding.as_json() for finding in merge.new_findings],
            "resolved": [_resolved(merge, finding) for finding in merge.resolved_findings],
        },
    }


def _resolved(merge: Merge, finding: Finding) -> Json:
    return {**finding.as_json(), "accepted": merge.reason(finding) or None}


def _version(merge: Merge, merged: Merged) -> Json:
    compared = merged.comparison
    return {
        "programme": merged.version.programme,
        "version": merged.version.name,
        "phase": merged.version.model.phase,
        "state": merged.state,
        "against": _against(merge, merged),
        "short": merged.short._asdict() if merged.short else None,
        "doses": _doses(compared),
        "figures": [_row(row) for row in compared.rows] if compared else [],
    }


def _against(merge: Merge, merged: Merged) -> Json | None:
    if merged.comparison is None:
        return None
    at = merge.base.ref if merged.state == "changed" else None
    return {"version": merged.comparison.before.name, "at": at}


def _doses(compared: Comparison | None) -> list[Json]:
    if compared is None:
        return []
    told = [{"day": told.day or None, "changes": list(told.lines)} for told in compared.told]
    if compared.steps is None:
        return told
    new, gone, lines = compared.steps
    words = [*(f"new: {name}" for name in new), *(f"no longer: {name}" for name in gone), *lines]
    return [*told, {"day": None, "changes": words}] if words else told


def _row(row: Row) -> Json:
    totals = {name: _difference(difference) for name, difference in row.totals.items()}
    return {"day": row.day or None, "was": row.was or None, "level": row.level, **totals}


def _difference(difference: Difference) -> Json:
    both = difference.before is not None and difference.now is not None
    return {
        "before": _number(difference.before),
        "now": _number(difference.now),
        "difference": _number(difference.more) if both else None,
        "percent": _number(difference.percent),
    }


def _number(value: Fraction | None) -> int | float | None:
    if value is None:
        return None
    rounded = round(value, _PLACES)
    return int(rounded) if rounded == int(rounded) else float(rounded)
