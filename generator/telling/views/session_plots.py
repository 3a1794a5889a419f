"""Plots of single sessions: minutes against the programme's limit, landings against what is published."""

from __future__ import annotations

from ...computing.facts import ComputedSession
from ...computing.totals import LANDINGS
from ...drawing import plots
from ...judging.limits import BEGINNER_START_CONTACTS, MOST_CONTACTS
from ...reading.amounts import spoken
from .plotted import NO_LIMIT, NONE, Cell, NamedRow, OneLevel, Plot, listed_cells, of_a_day, whole_minutes

_FILLS = {"low": "o", "medium": "h", "high": "s"}


def minutes(level: OneLevel) -> Plot:
    """Every day's sessions by week, with a line at the limit."""
    limit = level.longest
    top = float(max([limit or 0, *(one.order.seconds for one in level.sessions)]))
    lines = [plots.Limit(float(limit), f"limit {whole_minutes(limit)}")] if limit else []
    pictures, rows = [], []
    for day, sessions in level.days:
        cells = tuple(_minutes(level, one) for one in sessions)
        columns = [
            plots.Column((("f", float(one.order.seconds)),) if one else (), *cell)
            for one, cell in zip(sessions, cells, strict=True)
        ]
        label = "; ".join([f"Minutes by week: {listed_cells(cells)}", *(line.words for line in lines)])
        pictures.append(of_a_day(day, plots.columns(columns, lines, top, label, 56)))
        rows.append((day.title, cells))
    says = f"The programme's limit is {spoken(limit)}." if limit else NO_LIMIT
    return Plot(
        title="Minutes of a session (estimates)",
        says=says,
        pictures=tuple(pictures),
        table=level.table("day", rows),
    )


def _minutes(level: OneLevel, session: ComputedSession | None) -> Cell:
    if session is None:
        return NONE
    return whole_minutes(session.order.seconds), level.is_long(session.order.seconds)


def landings(level: OneLevel) -> Plot:
    """Every day's landings by week and height, warm-up and cool-down included."""
    lines = [plots.Limit(most, f"{name} {most}") for most, name in level.landing_lines]
    top = max([line.amount for line in lines] + [one.totals.contacts for one in level.sessions])
    pictures, rows = [], []
    for day, sessions in level.days:
        cells = tuple(_landings(level, one) for one in sessions)
        columns = [plots.Column(_by_height(one), *cell) for one, cell in zip(sessions, cells, strict=True)]
        label = "; ".join([f"Landings by week: {listed_cells(cells)}", *(line.words for line in lines)])
        pictures.append(of_a_day(day, plots.columns(columns, lines, top, label, 80)))
        rows += [(day.title, cells), *(_of_height(day.title, landing, sessions) for landing in LANDINGS)]
    return Plot(
        title="Landings in a session",
        says=_whose_lines(level),
        pictures=tuple(pictures),
        table=level.table("day", rows),
    )


def _landings(level: OneLevel, session: ComputedSession | None) -> Cell:
    return (str(session.totals.contacts), level.lands_much(session.totals.contacts)) if session else NONE


def _by_height(session: ComputedSession | None) -> tuple[tuple[str, float], ...]:
    if session is None:
        return ()
    return tuple((_FILLS[landing], session.totals.contacts_by_landing[landing]) for landing in LANDINGS)


def _of_height(day: str, landing: str, sessions: list[ComputedSession | None]) -> NamedRow:
    counted = (str(one.totals.contacts_by_landing[landing]) if one else "–" for one in sessions)
    return f"{day}: {landing}", tuple((words, False) for words in counted)


def _whose_lines(level: OneLevel) -> str:
    experience = level.level.experience
    most = f"{MOST_CONTACTS[experience]} for {experience} adults (Essentials, plyometric table)"
    start = f"; {BEGINNER_START_CONTACTS} to start with at ages 5 to 14 (Johnson 2011)"
    lines = f"Lines: {most}{start if experience == 'beginner' else ''}. Set for supervised training."
    return f"{lines} Landings: open low, hatched medium, solid high."
