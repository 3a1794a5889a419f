"""Words and numbers of a review for people."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from ..reading.catalogue import Catalogue
from ..telling.views.words import MONTHS, on_day
from .form import HURTS
from .questions import Question
from .squad import StopOf
from .weeks import Week

ASK = "Ask, and follow your club's safeguarding rules. On pain a physiotherapist or doctor decides, not a plan."
NOT_SENT = "Nothing sent is not nothing done."
NO_JUDGEMENT = (
    "Load is effort × minutes (Foster 2001). Monotony is the mean of a week's seven daily loads divided by their"
    " standard deviation (n - 1), strain is load × monotony (Foster 1998). No source says what is much for juniors,"
    " so no number here is called good or bad."
)
ABOUT_CHILDREN = "This is about children. It is for their coach alone: keep it to yourself, and no longer than agreed."
UNKNOWN = "–"
_SAID = {HURTS: "something hurts", "too hard": "too tired or too hard"}
_WHY = {
    "stopped": "stopped at it",
    "easier": "made it easier",
    "skipped": "left sets of it out",
    "too easy": "changed nothing, and the day felt 2 or more easier than it was meant to",
}


def short(day: date) -> str:
    """`11 Jan`."""
    return f"{day.day} {MONTHS[day.month - 1][:3]}"


def on(day: date) -> str:
    """`11 January 2027`."""
    return on_day(day)


def whole(number: float | None) -> str:
    """A number to the next whole one, or a dash where it is not known."""
    return UNKNOWN if number is None else f"{number:.0f}"


def one_place(number: float | None) -> str:
    """A number to one place after the point."""
    return UNKNOWN if number is None else f"{number:.1f}"


def two_places(number: float | None) -> str:
    """A number to two places after the point."""
    return UNKNOWN if number is None else f"{number:.2f}"


def signed(number: float | None) -> str:
    """A difference with its sign."""
    return UNKNOWN if number is None else f"{number:+.1f}".replace("-", "−")


def share(part: int, of: int) -> str:
    """`7 of 20 (35 %)`."""
    return f"{part} of {of} ({100 * part / of:.0f} %)" if of else "0"


def done_of(done: int, begun: int, planned: int | None) -> str:
    """`2 of 3`, `2 + 1 begun of 3`; without a plan the number alone."""
    what = f"{done} + {begun} begun" if begun else f"{done}"
    return what if planned is None else f"{what} of {planned}"


def load(week: Week) -> str:
    """A week's load, with a mark where that of a session is not known."""
    return "?" if week.load is None else f"{week.load:.0f}{' + ?' if week.unknown else ''}"


def count(number: int, one: str, many: str = "") -> str:
    """`1 session`, `2 sessions`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def stop_reason(stop: StopOf) -> str:
    """What the athlete chose."""
    return _SAID[stop.why]


class Names:
    """What the club calls programmes, days, levels and exercises; ids where the tree does not know them."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue

    def programme(self, name: str) -> str:
        """Title of a programme."""
        entry = self._catalogue.programmes.get(name)
        return entry.model.title if entry else name

    def day(self, programme: str, version: str, day: str) -> str:
        """Title of a day."""
        entry = self._catalogue.programmes.get(programme)
        found = entry.version(version) if entry else None
        return next((one.title for one in found.model.days if one.id == day), day) if found else day

    def level(self, programme: str, level: str) -> str:
        """Name of a level."""
        entry = self._catalogue.programmes.get(programme)
        return next((one.name for one in entry.model.levels if one.id == level), level) if entry else level

    def exercise(self, name: str) -> str:
        """Name of an exercise."""
        entry = self._catalogue.exercises.get(name)
        return entry.model.name if entry else name

    def station(self, stop: StopOf) -> str:
        """Where a stop was: the station's label and exercise, as far as they are known."""
        entry = self._catalogue.programmes.get(stop.programme)
        version = entry.version(stop.version) if entry else None
        day = next((one for one in version.model.days if one.id == stop.day), None) if version else None
        if not stop.station:
            return "between stations"
        if day is None or len(stop.station) < 2 or not stop.station[1:].isdecimal():
            return stop.station
        block, number = ord(stop.station[0]) - ord("A"), int(stop.station[1:]) - 1
        if not (0 <= block < len(day.blocks) and 0 <= number < len(day.blocks[block].stations)):
            return stop.station
        names = dict.fromkeys(self.exercise(one) for one in day.blocks[block].stations[number].exercise.values())
        return f"{stop.station} {' / '.join(names)}"

    def step(self, question: Question) -> str:
        """The step of the ladder that a question offers."""
        which = "A harder step" if question.why == "too easy" else "An easier step"
        if question.step is None:
            return f"{which} is not written in its exercise file."
        return f"{which}: {self.exercise(question.step)}."


def question_words(question: Question) -> str:
    """Who did what, as numbers."""
    if question.why == "too easy":
        return f"{count(question.met, 'athlete')} {_WHY['too easy']}"
    return f"{question.changed} of {question.met} changed it, most of them {_WHY[question.why]}"


def ways(found: Iterable[tuple[str, int]]) -> str:
    """`hands higher 4 times, on the knees once`."""
    said = [f"{way} {'once' if times == 1 else f'{times} times'}" for way, times in found]
    return ", ".join(said)
