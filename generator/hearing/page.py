"""The finished words, numbers and drawings of the review's page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from ..drawing import plots
from ..reading.catalogue import Catalogue
from ..reading.escaping import on_one_line, without_forbidden
from . import words
from .form import HURTS
from .review import Review
from .squad import Athlete
from .stations import DayKey, DaySum, StationSum, newest_first
from .weeks import Week

MOST_WEEKS = 8
"""Columns of the squad's table, the newest; an athlete's own page has all weeks."""
MOST_PLOTTED = 26
BAR_WIDTH = 60
"""In the bar's own units; the longest of a column of bars is so long."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StopRow:
    """A report of a stop. `hurts` is told from the others by its words as well."""

    date: str
    athlete: str
    said: str
    where: str
    station: str
    day: str
    note: str
    hurts: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SquadCell:
    """A week of an athlete in the squad's table. `bar` is in units of `BAR_WIDTH`."""

    done: str
    minutes: str
    load: str
    bar: float
    effort: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SquadRow:
    """An athlete in the squad's table; None where the athlete has no such week."""

    number: int
    name: str
    cells: tuple[SquadCell | None, ...]
    silent: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """A station against the plan: shares as words and as bars."""

    label: str
    exercise: str
    skipped: str
    skipped_bar: float
    easier: str
    easier_bar: float
    ways: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPart:
    """A day of a level: its weeks in rows of words, and its stations, those that were changed most first."""

    title: str
    weeks: tuple[tuple[str, ...], ...]
    stations: tuple[Shares, ...]
    as_planned: str


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionRow:
    """A question for the next edition."""

    station: str
    day: str
    said: str
    step: str
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AthletePart:
    """An athlete's own page."""

    number: int
    name: str
    sums: str
    plot: str
    plotted: str
    weeks: tuple[tuple[str, ...], ...]
    notes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReviewPage:
    """The page, in the order in which it is read."""

    title: str
    period: str
    faults: tuple[tuple[str, str], ...]
    stops: tuple[StopRow, ...]
    mondays: tuple[str, ...]
    older_weeks: bool
    squad: tuple[SquadRow, ...]
    days: tuple[DayPart, ...]
    questions: tuple[QuestionRow, ...]
    athletes: tuple[AthletePart, ...]


def page(review: Review, catalogue: Catalogue) -> ReviewPage:
    """The words of a review for its page."""
    names = words.Names(catalogue)
    mondays = sorted({week.monday for one in review.athletes for week in one.weeks})
    shown = mondays[-MOST_WEEKS:]
    club = catalogue.club.model.club if catalogue.club else ""
    return ReviewPage(
        title=f"What was done{f', {club}' if club else ''}",
        period=_period(review, mondays),
        faults=tuple(_faults(review)),
        stops=tuple(_stops(review, names)),
        mondays=tuple(words.short(monday) for monday in shown),
        older_weeks=len(mondays) > len(shown),
        squad=tuple(_squad(review, shown)),
        days=tuple(_days(review, names)),
        questions=tuple(_questions(review, names)),
        athletes=tuple(_athletes(review)),
    )


def _clean(text: str) -> str:
    """What an athlete wrote, on one line and without signs that act."""
    return on_one_line(without_forbidden(text)).strip()


def _period(review: Review, mondays: Sequence[date]) -> str:
    files = words.count(len(review.files), "file")
    sessions = words.count(sum(len(one.sessions) for one in review.athletes), "session")
    of = f"{words.count(len(review.athletes), 'athlete')}, {sessions}, {files}"
    if not mondays:
        return f"{of}; made on {words.on(review.today)}"
    ends = mondays[-1] + timedelta(days=6)
    return f"{words.on(mondays[0])} to {words.on(ends)}: {of}; made on {words.on(review.today)}"


def _faults(review: Review) -> Iterator[tuple[str, str]]:
    for file in review.files:
        for fault in file.faults:
            yield _clean(file.name), _clean(fault.message)
        if file.more:
            yield _clean(file.name), f"{file.more} more of the kind; mend these first"


def _stops(review: Review, names: words.Names) -> Iterator[StopRow]:
    for stop in review.stops:
        yield StopRow(
            date=words.on(stop.date),
            athlete=_clean(stop.athlete),
            said=words.stop_reason(stop),
            where=_clean(stop.where),
            station=_clean(names.station(stop)),
            day=_clean(names.day(stop.programme, stop.version, stop.day)),
            note=_clean(stop.note),
            hurts=stop.why == HURTS,
        )


def _squad(review: Review, mondays: Sequence[date]) -> Iterator[SquadRow]:
    most = max((week.load or 0 for one in review.athletes for week in one.weeks), default=0)
    for number, one in enumerate(review.athletes, 1):
        weeks = {week.monday: week for week in one.weeks}
        cells = tuple(_cell(weeks[monday], most) if monday in weeks else None for monday in mondays)
        yield SquadRow(number=number, name=_clean(one.name), cells=cells, silent=one.is_silent(review.today))


def _cell(week: Week, most: float) -> SquadCell:
    return SquadCell(
        done=words.cell(week),
        minutes=f"{week.minutes:.0f} min",
        load=words.load(week),
        bar=_bar(week.load or 0, most),
        effort=words.one_place(week.effort),
    )


def _bar(part: float, of: float) -> float:
    return round(BAR_WIDTH * part / of, 1) if of else 0


def _days(review: Review, names: words.Names) -> Iterator[DayPart]:
    for key in newest_first(review.days):
        programme, version, day, level = key
        stations = [one for one in review.stations if one.key == key]
        changed = sorted(
            (one for one in stations if one.skipped or one.easier),
            key=lambda one: -(one.skipped + one.easier) / max(one.planned, 1),
        )
        same = [one.label for one in stations if one not in changed]
        yield DayPart(
            title=f"{names.day(programme, version, day)}, {names.level(programme, level)}"
            f" · {names.programme(programme)} {version}",
            weeks=tuple(_week_row(one) for one in review.days if one.plan.key == key),
            stations=tuple(_shares(one, names) for one in changed),
            as_planned=", ".join(same),
        )


def _week_row(one: DaySum) -> tuple[str, ...]:
    minutes = None if one.seconds is None else one.seconds / 60
    return (
        str(one.plan.week),
        str(one.sessions),
        f"{words.whole(minutes)} of {float(one.planned_seconds) / 60:.0f}",
        words.one_place(one.effort),
        words.whole(one.plan.meant),
        words.signed(one.above_meant),
    )


def _shares(one: StationSum, names: words.Names) -> Shares:
    return Shares(
        label=one.label,
        exercise=names.exercise(one.exercise),
        skipped=words.share(one.skipped, one.planned),
        skipped_bar=_bar(one.skipped, one.planned),
        easier=words.share(one.easier, one.done),
        easier_bar=_bar(one.easier, one.done),
        ways=_clean(words.ways(one.ways.most_common())),
    )


def _questions(review: Review, names: words.Names) -> Iterator[QuestionRow]:
    for one in review.questions:
        key: DayKey = one.of.key
        programme, version, day, level = key
        yield QuestionRow(
            station=f"{one.of.label} {names.exercise(one.of.exercise)}",
            day=f"{names.day(programme, version, day)}, {names.level(programme, level)}",
            said=words.question_words(one.why, one.changed, one.met),
            step=names.step(one),
            place=f"{one.file}:{one.line}",
        )


def _athletes(review: Review) -> Iterator[AthletePart]:
    for number, one in enumerate(review.athletes, 1):
        yield AthletePart(
            number=number,
            name=_clean(one.name),
            sums=_sums(one),
            plot=_plot(one.weeks),
            plotted=f" of the last {MOST_PLOTTED} weeks" if len(one.weeks) > MOST_PLOTTED else "",
            weeks=tuple(_own_week(week) for week in one.weeks),
            notes=() if review.choice.anonymous else tuple(_notes(one)),
        )


def _sums(one: Athlete) -> str:
    done = words.done_of(one.done, one.begun, one.planned)
    unknown = sum(week.unknown for week in one.weeks)
    without = f" ({words.count(unknown, 'session')} without one)" if unknown else ""
    return (
        f"{done} sessions, {one.minutes:.0f} min, load {words.whole(one.load)}{without},"
        f" mean effort {words.one_place(one.effort)}"
    )


def _plot(weeks: Iterable[Week]) -> str:
    """Load by week, numbered as in the table; a dashed outline is a week with a load that is not known."""
    shown = list(weeks)[-MOST_PLOTTED:]
    if not any(week.load for week in shown):
        return ""
    columns = [
        plots.Column((("d" if week.unknown else "f", week.load or 0.0),), words.load(week)) for week in shown
    ]
    top = max(week.load or 0.0 for week in shown)
    label = f"Load by week: {', '.join(column.words for column in columns)}"
    return plots.columns(columns, [], top, label)


def _own_week(week: Week) -> tuple[str, ...]:
    return (
        words.short(week.monday),
        words.done_of(week.sessions, week.begun, week.planned),
        f"{week.minutes:.0f}",
        words.load(week),
        words.one_place(week.effort),
        words.two_places(week.monotony),
        words.whole(week.strain),
    )


def _notes(one: Athlete) -> Iterator[tuple[str, str]]:
    for session in reversed(one.sessions):
        note = _clean(session.session.note)
        if note:
            yield words.on(session.date), note
