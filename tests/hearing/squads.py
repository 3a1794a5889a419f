"""Small trees, records of sessions in them, and the review of both, at a moment that stands still."""

import json
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from phasepress.hearing.as_json import review_json
from phasepress.hearing.files import Readers, paths_in
from phasepress.hearing.plans import Plans
from phasepress.hearing.review import Choice, Review, review
from phasepress.reading.catalogue import load

from tests.fixtures import phases

Record = dict[str, Any]
MONDAY = datetime(2027, 1, 11, 17, tzinfo=UTC)
"""The first training of the phase."""
NOW = datetime(2027, 3, 1, 12, tzinfo=UTC)
CIRCUIT = "{kind: circuit, rounds: 3, stations: [{exercise: squat, reps: 8}, {exercise: plank, hold: 20 s}]}"
ROUNDS = "{kind: timed rounds, lasts: 60 s, changeover: 10 s, stations: [{exercise: squat, reps: 5}]}"
"""Squats of 15 s and 10 s to change: two bouts end in the minute, the third is cut."""


def tree(to: Path, *blocks: str, on: str = "[mon, thu]", keys: str = "", **words: Any) -> Path:
    """A tree of one programme, `trial`, with one day; by default a circuit of three rounds, over four weeks."""
    day = phases.day(*(blocks or (CIRCUIT,)), on=on)
    if keys:
        day = day.replace("    warm-up:", f"    {keys}\n    warm-up:")
    text = phases.version(day, **({"weeks": 4} | words))
    return phases.planted(to, {"1.0": text}, phases.TWO_LEVELS)


def record(number: int = 1, day: float = 0, /, **changes: Any) -> Record:
    """A record of the whole circuit, 45 minutes at effort 6, so many days after the first Monday."""
    started = int((MONDAY + timedelta(days=day)).timestamp() * 1000)
    week = int(day // 7) + 1
    return {
        "v": 2,
        "id": f"s{number}",
        "address": f"trial/1.0/day/starter/week-{week}/",
        "programme": "trial",
        "version": "1.0",
        "plan": "",
        "day": "day",
        "title": "Day",
        "level": "Starter",
        "week": week,
        "planned": 900,
        "started": started,
        "ended": started + 2_700_000,
        "seconds": 2700,
        "effort": 6,
        "note": "",
        "utc": 0,
        "stations": bouts("A1", 3) + bouts("A2", 3),
        "reports": [],
    } | changes


def past(number: int, **changes: Any) -> Record:
    """A session that is past by any clock: the phase is trained early, which is nobody's fault."""
    return record(number, -80, week=1, address="trial/1.0/day/starter/week-1/", **changes)


def bouts(label: str, rounds: int, way: str = "") -> list[dict[str, Any]]:
    """The first rounds of a station."""
    return [bout(label, number, way) for number in range(1, rounds + 1)]


def bout(label: str, number: int, way: str = "") -> dict[str, Any]:
    return {
        "label": label, "exercise": "squat", "name": "Trial", "round": number, "dose": "8 reps", "reps": 8, "way": way
    }  # fmt: skip


def report(**changes: Any) -> dict[str, Any]:
    return {
        "station": "A1",
        "where": "left knee",
        "why": "hurts",
        "note": "on landing",
        "time": None,
    } | changes


def file_of(records: Sequence[Record], version: int = 2) -> str:
    return json.dumps({"format": "phasepress log", "version": version, "sessions": records})


def write(to: Path, logs: Mapping[str, Sequence[Record] | str | bytes]) -> Path:
    """Files of these names in a folder `logs`."""
    folder = to / "logs"
    for name, content in logs.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if isinstance(content, bytes):
            path.write_bytes(content)
        else:
            path.write_text(
                content if isinstance(content, str) else file_of(content), encoding="utf-8", newline=""
            )
    return folder


def found(
    programmes: Path, logs: Path, now: datetime = NOW, names: Mapping[str, str] | None = None, **choice: Any
) -> Review:
    """The review of a folder of logs."""
    plans = Plans(load(programmes).catalogue)
    readers = Readers(plans.versions, names or {})
    files = [readers.read(path, name) for path, name in paths_in([logs])]
    return review(plans, files, Choice(**choice), now.timestamp() * 1000)


def reviewed(
    to: Path, logs: Mapping[str, Any], programmes: Path | None = None, **words: Any
) -> dict[str, Any]:
    """The same as JSON, of files by their names."""
    return review_json(found(programmes or tree(to), write(to, logs), **words))


def faults(answer: Mapping[str, Any]) -> list[str]:
    """Everything that was told, without whose file it was."""
    return [fault["message"] for file in answer["files"] for fault in file["faults"]]
