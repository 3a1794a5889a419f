"""The CSV of a log, written here by hand and not by the page."""

import csv
import io
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

COLUMNS = [
    "log format", "date", "minutes", "load", "session", "title", "programme", "version", "plan", "day", "level", "week",
    "address", "planned seconds", "started", "ended", "trained seconds", "effort", "note", "minutes from UTC",
    "station", "exercise", "name", "round", "dose", "reps", "easier way", "stopped because", "where", "said", "stopped at",
]  # fmt: skip


def moment(milliseconds: float) -> str:
    return datetime.fromtimestamp(milliseconds / 1000, UTC).strftime("%Y-%m-%dT%H:%M:%S.000Z")


def table(records: Sequence[Mapping[str, Any]], mark: str = ",", old: bool = False, **changes: str) -> str:
    """The CSV of records, written here by hand; `changes` are of cells by their columns, spaces as underscores."""
    columns = [one for one in COLUMNS if not old or one not in COLUMNS[19:20] + COLUMNS[27:]]
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, columns, delimiter=mark, extrasaction="ignore", lineterminator="\r\n")
    writer.writeheader()
    for one in records:
        session = {
            "log format": "1" if old else "2", "session": one["id"], "title": one["title"], "programme": one["programme"],
            "version": one["version"], "plan": one["plan"], "day": one["day"], "level": one["level"], "week": one["week"],
            "address": one["address"], "planned seconds": one["planned"], "started": moment(one["started"]),
            "ended": "", "trained seconds": one["seconds"], "effort": one["effort"], "note": one["note"],
            "minutes from UTC": one["utc"],
        } | {name.replace("_", " "): value for name, value in changes.items()}  # fmt: skip
        for done in one["stations"]:
            writer.writerow(session | {**done, "station": done["label"], "easier way": done["way"]})
        for told in one["reports"]:
            named = {"stopped because": told["why"], "said": told["note"], "stopped at": ""}
            writer.writerow(session | {"station": told["station"], "where": told["where"]} | named)
    return out.getvalue()
