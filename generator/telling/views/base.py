"""What every page view may use: the tree, and the finished words of its exercises and loads."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field
from typing import NamedTuple

from ...computing.load_recipe import Kit, in_words
from ...computing.resolve import PlannedSession
from ...reading.addresses import Address
from ...reading.amounts import Number
from ...reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from ...reading.model import Option
from .figures import FigureViews
from .weekdays import Weekdays


@dataclass(frozen=True, slots=True)
class Link:
    """Words that lead to an address from the top of the site; an empty address is words alone."""

    words: str
    address: str
    note: str = ""


class Variant(NamedTuple):
    """Words for some of a day's sessions. `cells` numbers them (level × weeks + week - 1); empty: all."""

    words: str
    note: str
    cells: str
    label: str


@dataclass(frozen=True, slots=True)
class Newer:
    """The banner of an older version. `until` is the day before which it is the current one, if any."""

    words: str
    address: str
    until: str


@dataclass(slots=True)
class Site:
    """The tree that is being shown."""

    catalogue: Catalogue
    kit: Kit = field(init=False)
    weekdays: Weekdays = field(init=False)
    figures: FigureViews = field(init=False)
    _load_words: dict[Number, str] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        """Prepare the club's kit once for all pages."""
        self.kit = Kit(self.catalogue.club.model if self.catalogue.club else None)
        self.weekdays = Weekdays(self.catalogue)
        self.figures = FigureViews(self.catalogue)

    @property
    def club_name(self) -> str:
        """The club's name. A tree without errors has one."""
        return self.catalogue.club.model.club if self.catalogue.club else ""

    @property
    def cautions(self) -> tuple[str, ...]:
        """The club's own cautions."""
        return self.catalogue.club.model.cautions if self.catalogue.club else ()

    @property
    def if_hurt(self) -> str:
        """What the club says to do when something hurts, or nothing."""
        return (self.catalogue.club.model.if_hurt if self.catalogue.club else None) or ""

    @property
    def signed(self) -> str:
        """Who answers for the plans, or nothing."""
        return (self.catalogue.club.model.signed if self.catalogue.club else None) or ""

    @property
    def language(self) -> str:
        """The language of the club's words."""
        return self.catalogue.club.model.language if self.catalogue.club else "en"

    def exercise_link(self, exercise_id: str, note: str = "") -> Link:
        """An exercise's name and page."""
        return Link(self.catalogue.exercise(exercise_id).name, exercise_address(exercise_id), note)

    def option_link(self, option: Option) -> Link:
        """An easier or harder way: the exercise's name and how to do it, or the words alone."""
        if option.exercise is None:
            return Link(option.how or "", "")
        return self.exercise_link(option.exercise, option.how or "")

    def load_words(self, kg: Number) -> str:
        """`4 kg: 2 × large bottle`; nothing for no load."""
        if kg not in self._load_words:
            self._load_words[kg] = in_words(kg, self.kit.recipe(kg)) if kg else ""
        return self._load_words[kg]


def version_address(version: VersionEntry) -> str:
    """From the top of the site, with a slash at the end."""
    return Address.VERSION.at(programme=version.programme, version=version.name)


def day_address(version: VersionEntry, day: str) -> str:
    """The address of the day with this id."""
    return Address.DAY.at(programme=version.programme, version=version.name, day=day)


def session_address(version: VersionEntry, plan: PlannedSession) -> str:
    """The address of a session."""
    return f"{day_address(version, plan.day)}{session_below_day(plan)}"


def session_below_day(plan: PlannedSession) -> str:
    """The address of a session, relative to that of its day."""
    return Address.SESSION.below(Address.DAY, level=plan.level, week=plan.week)


def exercise_address(exercise_id: str) -> str:
    """The address of an exercise's page."""
    return Address.EXERCISE.at(exercise=exercise_id)


def banners(programme: ProgrammeEntry) -> dict[str, Newer | None]:
    """The banner that each version carries, by its name; None for one that nothing follows."""
    newest = programme.newest_editions()
    editions = {entry.phase: entry for entry in newest}
    starts = [entry.model.starts for entry in newest]
    found: dict[str, Newer | None] = {}
    for version in programme.versions:
        later = bisect_right(starts, version.model.starts)
        if editions[version.phase] is not version:
            found[version.name] = _replaced(version, editions[version.phase])
        else:
            found[version.name] = _followed(programme, newest[later]) if later < len(newest) else None
    return found


def _replaced(version: VersionEntry, newest: VersionEntry) -> Newer:
    words = f"This is edition {version.name}. It was replaced by {newest.name}."
    return Newer(words, version_address(newest), "")


def _followed(programme: ProgrammeEntry, later: VersionEntry) -> Newer:
    words = f"Phase {later.phase}, {later.model.phase}, follows this one."
    return Newer(words, Address.PROGRAMME.at(programme=programme.id), later.model.starts.isoformat())
