"""Files that an athlete may be given to bring into the log, and what the log must make of each."""

import csv
import io
import json
import random
from collections.abc import Sequence
from random import Random
from typing import Any

from tests.browser.log_records import any_record, record, station
from tests.fuzz import data, octets, odd
from tests.fuzz.judge import ACTING, Found

HOME = "/club/site/"
TEXTS = ("address", "programme", "version", "plan", "day", "title", "level", "note")
STATION_TEXTS = ("label", "exercise", "name", "dose", "way")
HERE = record(id="here", effort=3, note="Noted here.", ended=None, seconds=60, stations=[station(label="Z9")])
"""What is in the log before: a file may complete it, and must not take anything of it away."""


def sound(seed: int) -> list[dict[str, Any]]:
    """Records as a device keeps them, one of which this device has too."""
    chance = random.Random(seed)
    known = record(id="here", note="Noted elsewhere.", effort=9)
    return [known, *(any_record(chance, number) for number in range(chance.randint(0, 4)))]


def hostile(seed: int, steps: Sequence[int], sources: tuple[str, str]) -> str:
    """A file for the log: `sources` are the JSON and the CSV that the log itself made of `sound(seed)`."""
    is_json = Random(f"log {seed}").random() < 0.5
    text = sources[0] if is_json else sources[1]
    for step in steps:
        rng = Random(f"{seed} {step}")
        text = (_changed_json if is_json else _changed_csv)(text, rng, sources)
    return text


def _changed_json(text: str, rng: Random, sources: tuple[str, str]) -> str:
    if rng.random() < 0.75:
        try:
            changed = _at_the_edge if rng.random() < 0.3 else _anything
            return json.dumps(changed(json.loads(text), rng), ensure_ascii=rng.random() < 0.5)
        except (ValueError, RecursionError):
            pass
    return _changed_octets(text, rng, sources)


def _anything(file: Any, rng: Random) -> Any:
    return _plain(data.changed(file, rng, mild=rng.random() < 0.4))


def _at_the_edge(file: Any, rng: Random) -> Any:
    """A value that a record may hold and that nobody ever wrote."""
    try:
        one = rng.choice(file["sessions"])
        key = rng.choice(
            ["started", "ended", "seconds", "planned", "week", "effort", "id", "title", "note", "v", "utc"]
        )
        one[key] = rng.choice(EDGES)
    except (LookupError, TypeError):
        return _anything(file, rng)
    return file


EDGES = [2**53 - 1, 1e308, 5e-324, 0, -0.0, 10, "", "__proto__", "a" * 64, "x" * 100_000]
LAST = 864 * 10**13
"""The last moment of a date in a browser, in milliseconds (ECMAScript 2023, 21.4.1.1); the first is as far before 1970."""
MOMENTS = [LAST, -LAST, LAST - 864 * 10**5, 8 * 864 * 10**5 - LAST, LAST - 8 * 864 * 10**5, -1, 0.5, -1e308]


def _plain(value: Any) -> Any:
    """JSON has neither anchors nor tags: what stands for YAML's text becomes text, or the number that it says."""
    if isinstance(value, dict):
        return {str(key): _plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    if isinstance(value, odd.Bare):
        try:
            return json.loads(value)
        except (ValueError, RecursionError):
            return str(value)
    return value


def _changed_csv(text: str, rng: Random, sources: tuple[str, str]) -> str:
    """A cell, a column, a row, or the marks between them."""
    csv.field_size_limit(10_000_000)
    try:
        rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline="")))
    except csv.Error:
        rows = []
    if rng.random() < 0.3 or not rows or not rows[0]:
        return _changed_octets(text, rng, sources)
    row = rng.choice(rows)
    at = rng.randrange(len(row)) if row else 0
    kind = rng.randrange(6)
    if kind <= 1 and row:
        row[at] = str(rng.choice([odd.scalar(rng), rng.choice(rng.choice(rows) or [""])]))
    elif kind == 2:
        rows = [cells[:at] + rng.choice([[], cells[at : at + 1] * 2]) + cells[at + 1 :] for cells in rows]
    elif kind == 3:
        rows += [list(row)] * rng.choice([1, 2, 500])
    elif kind == 4:
        rows[1:] = rng.sample(rows[1:], len(rows) - 1)
    else:
        row[at:] = []
    out = io.StringIO(newline="")
    form = {"delimiter": rng.choice(",,;\t"), "lineterminator": rng.choice(["\r\n", "\n", "\r"])}
    csv.writer(out, **form, quoting=rng.choice([csv.QUOTE_MINIMAL, csv.QUOTE_ALL])).writerows(rows)
    return rng.choice(["", "\ufeff"]) + out.getvalue()


def _changed_octets(text: str, rng: Random, sources: tuple[str, str]) -> str:
    """As a browser reads the bytes of a file: what is no UTF-8 becomes U+FFFD."""
    other = rng.choice(sources).encode()
    return octets.changed(text.encode("utf-8", "replace"), rng, other).decode("utf-8", "replace")


def judged(answer: dict[str, Any]) -> str:
    """Hold what the log did against the rules; gives in a word what it did."""
    if answer["fault"]:
        raise Found(f"a script threw {answer['fault'][:60]}", answer["fault"])
    if answer["polluted"]:
        raise Found("a file changed what every object has", repr(answer["polluted"]))
    kept = {name: json.loads(text) for name, text in answer["kept"].items()}
    here = kept.get(f"log {HOME} here")
    if set(kept) != {f"log {HOME} {one['id']}" for one in kept.values()}:
        raise Found("a key that is not that of its record", repr(list(kept)))
    if (
        here is None
        or here["effort"] != 3
        or here["note"] != "Noted here."
        or station(label="Z9") not in here["stations"]
    ):
        raise Found("what was noted on this device is lost", repr(here))
    for one in kept.values():
        _is_record(one)
    if answer["refused"]:
        _words(answer["refused"])
        if kept != {f"log {HOME} here": HERE}:
            raise Found("a refused file was brought in by half", repr(list(kept)))
        return "refused"
    if answer["again"] != {"added": 0, "completed": 0, "same": sum(answer["counts"].values())}:
        raise Found("the same file again changes the log", f"{answer['counts']} then {answer['again']}")
    return "brought in"


def _words(text: str) -> None:
    """A refusal is a sentence or two, and quotes no more than a little of the file."""
    if not text.strip() or len(text) > 1000:
        raise Found("a refusal without words, or with too many", repr(text[:1200]))


def _is_record(one: dict[str, Any]) -> None:
    """The interface of the log, read a second time."""
    wrong = [key for key in TEXTS if not isinstance(one.get(key), str)]
    wrong += [key for key in ("week", "planned", "started", "seconds") if not _number(one.get(key))]
    wrong += [key for key in ("ended", "effort") if one.get(key) is not None and not _number(one[key])]
    for done in one["stations"]:
        wrong += [key for key in STATION_TEXTS if not isinstance(done.get(key), str)]
        wrong += (
            []
            if _number(done["round"]) and (done["reps"] is None or _number(done["reps"]))
            else ["round or reps"]
        )
    wrong += [] if one["utc"] is None or _number(one["utc"]) else ["utc"]
    for told in one["reports"]:
        wrong += [key for key in ("station", "where", "note") if not isinstance(told.get(key), str)]
        wrong += [] if told["why"] in ("hurts", "too hard") else ["why"]
    if wrong or one["v"] != 2 or ACTING.search(one["id"]) or not 0 <= (one["effort"] or 0) <= 10:
        raise Found("what was kept is no record", f"{wrong} in {one!r}"[:2000])


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
