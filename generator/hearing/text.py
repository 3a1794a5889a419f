"""A review as text for a terminal, in the order in which a coach needs it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from ..reading.catalogue import Catalogue
from . import words
from .review import Review
from .squad import Athlete

_WEEKS = 8
"""Weeks of the squad's table on a terminal; the page has more, JSON all."""


def review_text(review: Review, catalogue: Catalogue) -> Iterator[str]:
    """Every line."""
    names = words.Names(catalogue)
    yield from _files(review)
    yield from _stops(review, names)
    yield from _squad(review)
    yield from _plan(review, names)
    yield from _questions(review, names)
    yield from _each(review)
    yield words.NO_JUDGEMENT
    yield words.ABOUT_CHILDREN


def _title(text: str) -> Iterator[str]:
    yield text
    yield "=" * len(text)


def _files(review: Review) -> Iterator[str]:
    wrong = [file for file in review.files if file.faults]
    sessions = sum(file.new for file in review.files)
    yield f"{words.count(len(review.files), 'file')}, {words.count(sessions, 'session')}, each counted once"
    if wrong:
        yield ""
        yield from _title("What could not be used, or not quite")
    for file in wrong:
        for fault in file.faults:
            yield f"{file.name}: {fault.message}"
        if file.more:
            yield f"{file.name}: {file.more} more of the kind; mend these first"
    yield ""


def _stops(review: Review, names: words.Names) -> Iterator[str]:
    yield from _title("Reports")
    if not review.stops:
        yield "Nobody stopped because something hurt or was too hard."
    else:
        yield words.ASK
    for stop in review.stops:
        where = f", {stop.where}" if stop.where else ""
        yield f"{words.on(stop.date)}: {stop.athlete}: {words.stop_reason(stop)}{where}"
        yield f"    at {names.station(stop)}, {names.day(stop.programme, stop.version, stop.day)}"
        if stop.note:
            yield f"    {stop.note}"
    yield ""


def _squad(review: Review) -> Iterator[str]:
    yield from _title("The squad")
    mondays = sorted({week.monday for one in review.athletes for week in one.weeks})[-_WEEKS:]
    wide = max([len(one.name) for one in review.athletes] + [7])
    yield f"{'':{wide}}  " + "".join(f"{words.short(monday):>12}" for monday in mondays)
    for one in review.athletes:
        weeks = {week.monday: week for week in one.weeks}
        cells = [weeks.get(monday) for monday in mondays]
        done = [words.done_of(w.sessions, 0, w.planned) + ("+" if w.begun else "") if w else "" for w in cells]
        silent = "   nothing sent for two weeks" if one.is_silent(review.today) else ""
        yield f"{one.name:{wide}}  " + "".join(f"{cell:>12}" for cell in done) + silent
        yield f"{'load':>{wide}}  " + "".join(f"{words.load(w) if w else '':>12}" for w in cells)
    yield f"Sessions done of planned; + is with sessions that were only begun. {words.NOT_SENT}"
    yield ""


def _plan(review: Review, names: words.Names) -> Iterator[str]:
    yield from _title("The plan against what was done")
    for key in dict.fromkeys(day.plan.key for day in review.days):
        programme, version, day, level = key
        yield (
            f"{names.programme(programme)} {version}, {names.day(programme, version, day)},"
            f" {names.level(programme, level)}"
        )
        for one in review.days:
            if one.plan.key == key:
                minutes = None if one.seconds is None else one.seconds / 60
                yield (
                    f"    week {one.plan.week}: {words.count(one.sessions, 'session')},"
                    f" {words.whole(minutes)} min of {float(one.planned_seconds) / 60:.0f},"
                    f" effort {words.one_place(one.effort)}, meant {words.whole(one.plan.meant)}"
                )
        for station in sorted(
            (one for one in review.stations if one.key == key), key=lambda one: -(one.skipped + one.easier)
        ):
            if station.skipped or station.easier:
                said = words.ways(station.ways.most_common())
                yield (
                    f"    {station.label} {names.exercise(station.exercise)}: left out"
                    f" {words.share(station.skipped, station.planned)}, easier"
                    f" {words.share(station.easier, station.done)}{f' ({said})' if said else ''}"
                )
    yield ""


def _questions(review: Review, names: words.Names) -> Iterator[str]:
    yield from _title("Questions for the next edition")
    if not review.questions:
        yield "None."
    for one in review.questions:
        yield f"{one.file}:{one.line}: {one.of.label} {names.exercise(one.of.exercise)}, {one.of.key[3]}"
        yield f"    {words.question_words(one)}. {names.step(one)}"
    yield ""


def _each(review: Review) -> Iterator[str]:
    for one in review.athletes:
        yield from _title(one.name)
        yield from _athlete(one, notes=not review.choice.anonymous)
        yield ""


def _athlete(one: Athlete, notes: bool) -> Iterator[str]:
    done = words.done_of(one.done, one.begun, one.planned)
    yield f"{done} sessions, {one.minutes:.0f} min, load {words.whole(one.load)}, effort {words.one_place(one.effort)}"
    for week in one.weeks:
        ends = week.monday + timedelta(days=6)
        yield (
            f"    {words.short(week.monday)} to {words.short(ends)}:"
            f" {words.done_of(week.sessions, week.begun, week.planned)}, {week.minutes:.0f} min,"
            f" load {words.load(week)}, effort {words.one_place(week.effort)},"
            f" monotony {words.two_places(week.monotony)}, strain {words.whole(week.strain)}"
        )
    for session in one.sessions if notes else ():
        if session.session.note.strip():
            yield f"    {words.short(session.date)}: {session.session.note.strip()}"
