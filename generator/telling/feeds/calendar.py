"""A programme as a calendar that people subscribe to (RFC 5545, with names and refreshing of RFC 7986).

Every session is a day, not an hour: a suggestion that blocks nothing. Only newest editions are in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple
from uuid import NAMESPACE_URL, uuid5

from icalendar import Calendar, Event, vText

from ...computing.facts import ComputedSession
from ...computing.weekdays import suggested
from ...judging.which_weekday import Advice, which_weekday
from ...reading.catalogue import VersionEntry
from ...reading.model import WEEKDAYS
from ..tongues import OURS, spoken_in
from ..views import safety, words
from ..views.base import day_address
from ..views.weekdays import because

_DAILY = timedelta(days=1)


class Training(NamedTuple):
    """One session on its suggested day. `key` is the same in every edition of its phase."""

    key: str
    sequence: int
    issued: date
    day: date
    title: str
    week: str
    told: tuple[str, ...]
    address: str


def trainings(version: VersionEntry, facts: Sequence[ComputedSession]) -> Iterator[Training]:
    """Every session of a version that at least one level trains, week by week."""
    on = _weekdays(version, facts)
    for week in version.weeks:
        for day in version.model.days:
            own = [f for f in facts if f.plan.day == day.id and f.plan.week == week and f.plan.is_trained]
            for number, (choice, weekday, advice) in enumerate(on[day.id] if own else (), 1):
                names = {level.id: level.name for level in version.levels}
                lengths = ", ".join(f"{names[f.plan.level]} {words.minutes(f.order.seconds)}" for f in own)
                free = [_free(choice, advice)] if len(choice) > 1 else []
                yield Training(
                    f"{version.programme}/{version.phase}/{day.id}/{number}/{week}",
                    version.edition,
                    version.model.starts,
                    version.model.starts + timedelta(days=7 * (week - 1) + WEEKDAYS.index(weekday)),
                    day.title,
                    f"week {week} of {version.model.weeks}",
                    (f"About {lengths} (estimates).", *free),
                    day_address(version, day.id),
                )


def _free(choice: Sequence[str], advice: Advice | None) -> str:
    if advice:
        return f"Of {words.weekdays([choice])} take {because(advice)}."
    return f"Suggested day. It may be {words.weekdays([choice])}."


_Choice = tuple[Sequence[str], str, Advice | None]


def _weekdays(version: VersionEntry, facts: Sequence[ComputedSession]) -> dict[str, list[_Choice]]:
    """For each day its choices with the weekday taken: the one that keeps days apart, else the first."""
    choices = [(day.id, choice) for day in version.model.days for choice in day.on]
    taken = suggested([choice for _, choice in choices])
    advised = which_weekday(version.model.days, (one.plan for one in facts))
    advice = [one for day in version.model.days for one in advised[day.id]]
    found: dict[str, list[_Choice]] = {}
    for (day, choice), weekday, advises in zip(choices, taken, advice, strict=True):
        found.setdefault(day, []).append((choice, weekday, advises))
    return found


def calendar(
    name: str, every: Iterable[Training], site_url: str, address: str, language: str = OURS
) -> bytes:
    """The calendar called `name` that stands at `address` below the public `site_url`.

    Its names are in the club's `language`, what is told is in ours (RFC 5545, 3.2.10).
    """
    own = {} if spoken_in(language) == OURS else {"LANGUAGE": language}
    told = {"LANGUAGE": OURS} if own else {}
    made = Calendar()
    made.add("prodid", "-//phasepress//programme calendar//EN")
    made.add("version", "2.0")
    made.add("method", "PUBLISH")
    # The library knows no type of these two, and would write the name without escapes (RFC 5545, 3.3.11).
    made.add("name", vText(name), parameters=own)
    # The older name, which most calendars still read.
    made.add("x-wr-calname", vText(name), parameters=own)
    made.add("source", f"{site_url}{address}", parameters={"VALUE": "URI"})
    made.add("refresh-interval", _DAILY, parameters={"VALUE": "DURATION"})
    for one in sorted(every, key=lambda training: (training.day, training.key)):
        made.add_component(_event(one, site_url, own, told))
    text: bytes = made.to_ical()
    return text


def _event(one: Training, site_url: str, own: dict[str, str], ours: dict[str, str]) -> Event:
    event = Event()
    # The same session keeps its identity in a later edition, whose higher sequence replaces it.
    event.add("uid", str(uuid5(NAMESPACE_URL, f"{site_url}{one.key}")))
    event.add("sequence", one.sequence)
    event.add("dtstamp", datetime.combine(one.issued, datetime.min.time(), UTC))
    event.add("dtstart", one.day)
    event.add("dtend", one.day + _DAILY)
    event.add("summary", f"{one.title}, {one.week}", parameters=own)
    url = f"{site_url}{one.address}"
    event.add(
        "description", "\n".join([*one.told, url, safety.STOP, safety.ASK, safety.RULES]), parameters=ours
    )
    event.add("url", url)
    event.add("transp", "TRANSPARENT")
    return event
