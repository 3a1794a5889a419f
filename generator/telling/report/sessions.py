"""The computed totals and timetables as documented JSON and as text for people."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from ...computing.facts import ComputedSession
from ...computing.fingerprint import fingerprint, resolved
from ...computing.phases import computed_sessions
from ...computing.running_order import RunningOrder, Segment
from ...computing.totals import Totals, Work
from ...reading.amounts import Number, clock, spoken
from ...reading.catalogue import Catalogue, VersionEntry

Json = dict[str, Any]


def plain(value: Number) -> int | float:
    """A number as JSON: whole numbers without a point."""
    return value if isinstance(value, int) else int(value) if value == int(value) else float(value)


def report(catalogue: Catalogue) -> Json:
    """The totals of every session of every version."""
    return {"versions": [_version(catalogue, v) for v in _versions(catalogue)]}


def _versions(catalogue: Catalogue) -> Iterator[VersionEntry]:
    for programme in catalogue.programmes.values():
        yield from programme.versions


def _version(catalogue: Catalogue, version: VersionEntry) -> Json:
    facts = list(computed_sessions(catalogue, version))
    return {
        "programme": version.programme,
        "version": version.name,
        "phase": version.model.phase,
        "plan": fingerprint(resolved(version, (fact.plan for fact in facts))),
        "sessions": [_session(fact) for fact in facts],
    }


def _session(facts: ComputedSession) -> Json:
    totals = facts.totals
    patterns = {name: _work(work) for name, work in sorted(totals.patterns.items())}
    return {
        "day": facts.plan.day,
        "level": facts.plan.level,
        "week": facts.plan.week,
        "seconds": plain(totals.seconds),
        "work_seconds": plain(totals.work_seconds),
        **_work(totals.work),
        "contacts": {"all": totals.contacts, **totals.contacts_by_landing},
        "load_volume_kg": plain(totals.load_volume),
        "density": totals.density,
        "patterns": patterns,
    }


def _work(work: Work) -> Json:
    return {"sets": work.sets, "reps": work.reps, "tension_seconds": plain(work.tension)}


def order(running: RunningOrder) -> Json:
    """A running order; starts and lengths in seconds."""
    return {
        "segments": [_segment(segment) for segment in running.segments],
        "seconds": plain(running.seconds),
    }


def _segment(segment: Segment) -> Json:
    return {**segment._asdict(), "start": plain(segment.start), "length": plain(segment.length)}


def report_text(catalogue: Catalogue) -> Iterator[str]:
    """The totals as tables, a line a session."""
    for version in _versions(catalogue):
        facts = list(computed_sessions(catalogue, version))
        plan = fingerprint(resolved(version, (fact.plan for fact in facts)))
        yield f"{version.programme} {version.name}: {version.model.phase} (plan {plan}; times are estimates)"
        rows = [_row(fact.plan.day, fact.plan.level, fact.plan.week, fact.totals) for fact in facts]
        yield from columns([_HEADINGS, *rows])
        yield ""


_HEADINGS = ("day", "level", "week", "time", "work", "sets", "reps", "tension", "landings", "load-volume")


def _row(day: str, level: str, week: int, totals: Totals) -> tuple[str, ...]:
    work = totals.work
    return (
        day,
        level,
        str(week),
        clock(totals.seconds),
        f"{totals.density:.0%}",
        str(work.sets),
        str(work.reps),
        spoken(work.tension),
        str(totals.contacts),
        f"{plain(totals.load_volume)} kg",
    )


def order_text(running: RunningOrder, names: dict[str, str]) -> Iterator[str]:
    """A running order as a timetable; `names` has the exercises' names by id."""
    rows = [("start", "length", "what", "station", "round", "exercise", "side", "reps")]
    for segment in running.segments:
        rows.append(
            (
                clock(segment.start),
                spoken(segment.length),
                segment.kind,
                segment.station or segment.block,
                str(segment.round or ""),
                names.get(segment.exercise or "", ""),
                segment.side or "",
                str(segment.reps or ""),
            )
        )
    yield from columns(rows)
    yield f"in all {spoken(running.seconds)} (estimate)"


def columns(rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    """Rows of cells as aligned lines."""
    table = list(rows)
    widths = [max(map(len, cells)) for cells in zip(*table, strict=True)]
    for row in table:
        yield "  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
