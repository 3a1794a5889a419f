"""A review as the documented JSON: numbers are not rounded, and what is unknown or undefined is null."""

from __future__ import annotations

from typing import Any

from ..reading.amounts import Number
from .files import Fault
from .questions import Question
from .review import FileSum, Review
from .squad import Athlete, StopOf
from .stations import DaySum, StationSum
from .weeks import Week

Data = dict[str, Any]


def review_json(review: Review) -> Data:
    """The whole review."""
    notes = not review.choice.anonymous
    return {
        "files": [_file(one) for one in review.files],
        "reports": [_stop(one, notes) for one in review.stops],
        "athletes": [_athlete(one) for one in review.athletes],
        "stations": [_station(one) for one in review.stations],
        "days": [_day(one) for one in review.days],
        "questions": [_question(one) for one in review.questions],
    }


def _file(one: FileSum) -> Data:
    faults = [*one.faults]
    if one.more:
        faults.append(Fault(None, f"{one.more} more faults than are told; mend these first"))
    return {
        "file": one.name,
        "athlete": one.athlete,
        "sessions": one.sessions,
        "new": one.new,
        "faults": [{"record": fault.record, "message": fault.message} for fault in faults],
    }


def _stop(one: StopOf, notes: bool) -> Data:
    return {
        "athlete": one.athlete,
        "date": one.date.isoformat(),
        "programme": one.programme,
        "version": one.version,
        "day": one.day,
        "station": one.station or None,
        "where": one.where or None,
        "why": one.why,
        "note": (one.note or None) if notes else None,
    }


def _athlete(one: Athlete) -> Data:
    return {
        "athlete": one.name,
        "sessions": one.done,
        "begun": one.begun,
        "planned": one.planned,
        "minutes": one.minutes,
        "load": one.load,
        "effort": one.effort,
        "weeks": [_week(week) for week in one.weeks],
    }


def _week(one: Week) -> Data:
    return {
        "monday": one.monday.isoformat(),
        "sessions": one.sessions,
        "begun": one.begun,
        "planned": one.planned,
        "minutes": one.minutes,
        "load": one.load,
        "unknown": one.unknown,
        "effort": one.effort,
        "monotony": one.monotony,
        "strain": one.strain,
    }


def _place(key: tuple[str, str, str, str]) -> Data:
    return dict(zip(("programme", "version", "day", "level"), key, strict=True))


def _station(one: StationSum) -> Data:
    return {
        **_place(one.key),
        "station": one.label,
        "exercise": one.exercise,
        "planned": one.planned,
        "done": one.done,
        "easier": one.easier,
        "skipped": one.skipped,
        "athletes": len(one.met_by),
        "ways": dict(sorted(one.ways.items())),
    }


def _day(one: DaySum) -> Data:
    return {
        **_place(one.plan.key),
        "week": one.plan.week,
        "sessions": one.sessions,
        "seconds": one.seconds,
        "planned_seconds": plain(one.planned_seconds),
        "effort": one.effort,
        "meant": one.plan.meant,
    }


def plain(number: Number) -> int | float:
    """A number of JSON."""
    return int(number) if number == int(number) else float(number)


def _question(one: Question) -> Data:
    return {
        **_place(one.of.key),
        "station": one.of.label,
        "exercise": one.of.exercise,
        "file": one.file,
        "line": one.line,
        "met": one.met,
        "changed": one.changed,
        "why": one.why,
        "step": one.step,
    }
