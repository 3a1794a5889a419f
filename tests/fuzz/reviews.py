"""Logs as families may send them, broken in every way, and what a review must make of them."""

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random
from typing import Any

from phasepress.hearing.paper import FILLED, GIVEN

from tests.browser.log_records import any_record, record, report, station
from tests.fuzz import logs
from tests.fuzz.judge import Found
from tests.hearing.tables import table

FILES = 10
"""Logs of one case."""
JUST_NOW = 1_790_000_000_000
"""September 2026, in milliseconds: past, by any clock."""
PARTS = {"files", "reports", "athletes", "stations", "days", "questions"}


def sound(rng: Random) -> list[dict[str, Any]]:
    """Records of one athlete, most of which the tree knows."""
    known = [
        record(
            id=f"s{rng.randrange(10**6)}",
            programme="home",
            version="2.0",
            day="whole-body",
            level="Starter",
            week=1,
            address="home/2.0/whole-body/starter/week-1/",
            started=JUST_NOW - rng.randrange(10**9),
            effort=rng.choice([None, *range(11)]),
            stations=[station(label=f"A{place}", round=turn) for place in range(1, 5) for turn in (1, 2)],
            reports=[report()] * rng.randrange(2),
        )
        for _ in range(rng.randint(1, 3))
    ]
    return known + [any_record(rng, number) for number in range(rng.randint(0, 2))]


def write(folder: Path, seed: int, steps: Sequence[int]) -> None:
    """The logs of a case: as the page saves them or on paper, changed by the steps."""
    folder.mkdir()
    for number in range(FILES):
        rng = Random(f"review {seed} {number}")
        records = sound(rng)
        sources = (
            json.dumps({"format": "phasepress log", "version": 2, "sessions": records}),
            _rows(records, rng),
        )
        text = logs.hostile(seed * FILES + number, steps, sources)
        octets = text.encode(rng.choice(["utf-8"] * 6 + ["utf-16", "cp1252"]), "replace")
        (folder / f"a{number}.{rng.choice(['json', 'csv', 'txt'])}").write_bytes(octets)


def _rows(records: list[dict[str, Any]], rng: Random) -> str:
    """A table of the log, or one from paper."""
    if rng.random() < 0.7:
        return table([one for one in records if abs(one["started"]) < 10**14], rng.choice(",;\t"))
    lines = [",".join([*GIVEN, *FILLED])]
    for _ in range(3):
        day = rng.choice(["2026-09-07", "7.9.2026", "9/7/2026", "46272", ""])
        given = f"home,{rng.choice(['2.0', '2'])},,whole-body,Whole body,starter,1,20,8"
        lines.append(f"{given},{day},{rng.choice(['30', '30.5', 'x'])},5,,A1,{rng.choice(['', 'A2'])},,note")
    return "\n".join(lines)


def judged(answer: dict[str, Any], shape: str) -> str:
    """Hold the review against the rules; gives in a word how it went."""
    if answer["status"] == 2:
        raise Found("a review ended as a wrong call", answer["err"])
    if shape == "json" and not answer["long"]:
        read = json.loads(answer["out"])
        if read.keys() != PARTS or len(read["files"]) != FILES:
            raise Found("a review lacks a part or a file", repr(list(read)))
        for one in numbers(read):
            if one < -(10**9) or one > 10**12:
                raise Found("a number that no review can come to", repr(one))
        for one in read["athletes"]:
            if one["sessions"] != sum(week["sessions"] for week in one["weeks"]):
                raise Found("the sessions of an athlete are not those of the weeks", repr(one)[:500])
    return f"status {answer['status']}"


def numbers(value: Any) -> Iterator[float]:
    """Every number of a review but those of faults, whose records may be any."""
    if isinstance(value, dict):
        for key, one in value.items():
            if key != "faults":
                yield from numbers(one)
    elif isinstance(value, list):
        for one in value:
            yield from numbers(one)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield value
