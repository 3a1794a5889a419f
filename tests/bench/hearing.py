"""Logs of a large squad over three years, written for the measurement alone; all of it is invented."""

import json
from datetime import date, timedelta
from pathlib import Path

from phasepress.reading.catalogue import load

from tests.fixtures import invented_logs

ATHLETES, SESSIONS, MEGABYTES = 20, 450, 40
"""Three years of three sessions a week each: 9,000 sessions in 40 MB."""


def plant(folder, tree):
    """Write the logs; gives how many sessions and MB they are."""
    folder.mkdir()
    files = invented_logs.logs(load(Path(tree)).catalogue, date(2026, 11, 27), ATHLETES)
    room = MEGABYTES * 1_000_000 // (ATHLETES * SESSIONS)
    total = 0
    for number, (name, file) in enumerate(files.items()):
        sessions = [_one(file["sessions"], number, at, room) for at in range(SESSIONS)]
        text = json.dumps({**file, "sessions": sessions}, indent=1)
        (folder / name).write_text(text, encoding="utf-8")
        total += len(text.encode())
    return ATHLETES * SESSIONS, total / 1e6


def _one(pattern, athlete, at, room):
    """A session like those of the demo's phases, weeks earlier, with as many sets as make it so long."""
    like = pattern[at % len(pattern)]
    started = like["started"] - int(timedelta(weeks=at // 3).total_seconds() * 1000)
    one = {
        **like,
        "id": f"a{athlete}-{at}",
        "started": started,
        "ended": None,
        "stations": [*like["stations"]],
    }
    step = like["stations"][0] if like["stations"] else None
    for _ in range(1000):
        short = room - len(json.dumps(one, indent=1))
        if step is None or short <= 0:
            break
        # The same sets once more: a log holds what was done twice.
        one["stations"] += [step] * max(1, short // (len(json.dumps(step, indent=1)) + 40))
    return one
