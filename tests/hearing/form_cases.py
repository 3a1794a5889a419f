"""Records, and whether each is one: for the reader, for the schema, and for the browser's import."""

from typing import Any

from tests.browser.log_records import of_first_form, record, report, station


def with_station(**changes: Any) -> dict[str, Any]:
    return record(stations=[station(**changes)])


def without(key: str) -> dict[str, Any]:
    return {name: value for name, value in record().items() if name != key}


CASES: dict[str, tuple[Any, bool]] = {
    "sound": (record(), True),
    "of the first form": (of_first_form(record()), True),
    "with more keys than are known": (record(colour="red", stations=[station(speed=3)]), True),
    "with a report": (record(reports=[report()]), True),
    "with a report that says why alone": (record(reports=[{"why": "too hard"}]), True),
    "with a report of another why": (record(reports=[report(why="bored")]), False),
    "with a report without a why": (record(reports=[{"where": "knee"}]), False),
    "with a report at no time": (record(reports=[report(time="noon")]), False),
    "with reports that are no list": (record(reports={}), False),
    "with no reports": (record(reports=None), False),
    "without utc": (without("utc"), True),
    "with unknown utc": (record(utc=None), True),
    "west of Greenwich": (record(utc=-720), True),
    "more than a day from Greenwich": (record(utc=1441), False),
    "half a minute from Greenwich": (record(utc=0.5), False),
    "of a later form": (record(v=3), False),
    "of no form": (without("v"), False),
    "a list": ([], False),
    "nothing": (None, False),
    "without an id": (without("id"), False),
    "with an odd id": (record(id="a b"), False),
    "with a long id": (record(id="a" * 65), False),
    "with a number as title": (record(title=7), False),
    "with half a week": (record(week=1.5), False),
    "with a week with a point": (record(week=2.0), True),
    "with a week that is true": (record(week=True), False),
    "with a week below 0": (record(week=-1), False),
    "with half an effort": (record(effort=5.5), False),
    "with an effort of 11": (record(effort=11), False),
    "with an effort of 0": (record(effort=0), True),
    "with seconds below 0": (record(seconds=-1), False),
    "with seconds as text": (record(seconds="2700"), False),
    "with a start beyond all dates": (record(started=9e15), False),
    "with a start before 1970": (record(started=-1), True),
    "not ended": (record(ended=None), True),
    "without stations": (without("stations"), False),
    "with a station that is none": (record(stations=[None]), False),
    "with half a rep": (with_station(reps=16.5), True),
    "with a rep below 0": (with_station(reps=-1), False),
    "with half a round": (with_station(round=1.5), False),
    "with a round that is true": (with_station(round=True), False),
    "with a station without a way": (record(stations=[{"label": "A1"}]), False),
}
