"""What a page can be of: the site, an exercise, a programme, a version, a day, a session.

One leads to the next. Each has the ids of its address, and the words that several of its pages say.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any

from ..comparing import Comparison, Side, compare
from ..computing.facts import ComputedSession, Tree, VersionFacts
from ..computing.phases import Phases
from ..computing.resolve import PlannedSession
from ..drawing.qr import Code, symbol
from ..judging.run import VersionResult
from ..reading.catalogue import Catalogue, ProgrammeEntry, VersionEntry
from ..reading.model import Day
from ..telling.feeds import Training, trainings
from ..telling.tongues import Mark, marking
from ..telling.views.archive import ArchiveRow, archive_row
from ..telling.views.base import Newer, Site, banners
from ..telling.views.day import DayPage, DayViews
from ..telling.views.exercises import ExerciseViews
from ..telling.views.guide import guide
from ..telling.views.programmes import MOST_PHASES, PhaseView, ProgrammePage, phase_view, programme_page
from ..telling.views.safety import growth_line
from ..telling.views.session import session_ribbon
from ..telling.views.sheet_words import SheetWords
from ..telling.views.type_size import ANYWHERE, Setting
from ..telling.views.versions import VersionPage, version_page

Ids = Mapping[str, object]
"""What is filled in for the names of an address."""


@dataclass(kw_only=True)
class OfSite:
    """The whole site. `site_url` is its public address, or empty; `setting` is what sheets are printed with.

    `results` has what the checks found, by programme id and version name. `programmes` and `listed`, the
    addresses for search engines, grow while pages are made.
    """

    catalogue: Catalogue
    site_url: str = ""
    preview: bool = False
    results: Mapping[tuple[str, str], VersionResult] = field(default_factory=dict)
    setting: Setting = ANYWHERE
    programmes: list[ProgrammePage] = field(default_factory=list)
    listed: list[str] = field(default_factory=list)
    ids: Ids = field(default_factory=dict)

    @cached_property
    def site(self) -> Site:
        """What every view may use."""
        return Site(self.catalogue)

    @cached_property
    def mark(self) -> Mark:
        """Says the language of every text of a whole page."""
        return marking(self.catalogue)

    @property
    def has_crest(self) -> bool:
        """Whether the club has a crest, which stands beside the titles of its sheets."""
        return self.catalogue.crest is not None

    @cached_property
    def tree(self) -> Tree:
        """What is worked out for all versions together."""
        return Tree(self.catalogue, self.site.kit)

    @cached_property
    def day_views(self) -> DayViews:
        """The words of days."""
        return DayViews(self.site)

    @cached_property
    def sheet_words(self) -> SheetWords:
        """The words of sheets."""
        return SheetWords(self.site, self.setting)

    @cached_property
    def exercise_views(self) -> ExerciseViews:
        """The words of exercises."""
        return ExerciseViews(self.site)

    @cached_property
    def exercise_names(self) -> dict[str, str]:
        """Names by id."""
        return {name: entry.model.name for name, entry in self.catalogue.exercises.items()}

    def code(self, address: str, label: str, module_mm: float) -> Code:
        """The QR code of a page. What a preview prints is not yet at the public address: it has none."""
        if not self.site_url or self.preview:
            return Code()
        return symbol(f"{self.site_url}{address}", label=label, module_mm=module_mm)

    def of_programmes(self) -> Iterator[OfProgramme]:
        """Every programme."""
        return map(self.of_programme, self.catalogue.programmes.values())

    def of_programme(self, programme: ProgrammeEntry) -> OfProgramme:
        """One of them."""
        return OfProgramme(top=self, programme=programme)

    def of_exercises(self) -> Iterator[OfExercise]:
        """Every exercise."""
        return (OfExercise(top=self, exercise=name) for name in self.catalogue.exercises)


@dataclass(kw_only=True)
class OfExercise:
    """One exercise of the library, by its id."""

    top: OfSite
    exercise: str

    @property
    def ids(self) -> Ids:
        """For its address."""
        return {"exercise": self.exercise}


@dataclass(kw_only=True)
class OfProgramme:
    """One programme. Its own pages are made last, when all of its versions have been gone through.

    `dated` has the first day, edition and archive row of each, `planned` what calendars show.
    """

    top: OfSite
    programme: ProgrammeEntry
    phases: list[PhaseView] = field(default_factory=list)
    dated: list[tuple[date, int, ArchiveRow]] = field(default_factory=list)
    planned: list[Training] = field(default_factory=list)

    @property
    def ids(self) -> Ids:
        """For its address."""
        return {"programme": self.programme.id}

    @property
    def title(self) -> str:
        """The coach's title."""
        return self.programme.model.title

    @cached_property
    def page(self) -> ProgrammePage:
        """The words of its page. Not before its versions."""
        phases = sorted(self.phases, key=lambda phase: phase.starts)
        return programme_page(self.programme, phases, self.top.site_url)

    def of_versions(self) -> Iterator[OfVersion]:
        """Every version, oldest first; each is let go before the next one is worked out."""
        known = Phases(self.top.tree, self.programme)
        before: Side | None = None
        for version in self.programme.versions:
            facts = known.facts(version)
            now = Side(version, facts.sessions, self.top.exercise_names)
            one = self.of_version(facts, compare(before, now) if before else None)
            yield one
            self._take_in(one)
            before = now

    def of_version(self, facts: VersionFacts, compared: Comparison | None = None) -> OfVersion:
        """The version of these facts; `compared` is with the one before it."""
        return OfVersion(within=self, facts=facts, compared=compared)

    def _take_in(self, one: OfVersion) -> None:
        version = one.version
        self.dated.append((version.model.starts, version.edition, archive_row(one.page)))
        if not one.is_replaced:
            self.planned.extend(trainings(version, one.sessions))
        if version in self.newest[-MOST_PHASES:]:
            newest = version is self.newest[-1]
            self.phases.append(phase_view(self.top.site, version, one.sessions, newest=newest))

    @cached_property
    def newest(self) -> list[VersionEntry]:
        """The newest edition of each phase, by the day it starts."""
        return self.programme.newest_editions()

    @cached_property
    def banners(self) -> dict[str, Newer | None]:
        """What leads from each version to a newer one, by its name."""
        return banners(self.programme)


@dataclass(kw_only=True)
class OfVersion:
    """One version of a programme."""

    within: OfProgramme
    facts: VersionFacts
    compared: Comparison | None = None

    @property
    def version(self) -> VersionEntry:
        """The version itself."""
        return self.facts.version

    @property
    def ids(self) -> Ids:
        """For its address."""
        return {**self.within.ids, "version": self.version.name}

    @property
    def top(self) -> OfSite:
        """The site around it."""
        return self.within.top

    @property
    def sessions(self) -> tuple[ComputedSession, ...]:
        """All of them."""
        return self.facts.sessions

    @property
    def newer(self) -> Newer | None:
        """The banner that leads to a newer one."""
        return self.within.banners[self.version.name]

    @property
    def banner(self) -> str:
        """Its words, or nothing."""
        return self.newer.words if self.newer else ""

    @cached_property
    def is_replaced(self) -> bool:
        """Whether there is a newer edition of its phase."""
        return all(version is not self.version for version in self.within.newest)

    @property
    def title(self) -> str:
        """Programme and phase."""
        return f"{self.within.title}, phase {self.version.phase}: {self.version.model.phase}"

    @cached_property
    def page(self) -> VersionPage:
        """The words of its page."""
        programme, site = self.within.programme, self.top.site
        return version_page(site, programme, self.version, self.sessions, self.newer, self.compared)

    def of_days(self) -> Iterator[OfDay]:
        """Every day, in the order of the file."""
        return (OfDay(within=self, day=day) for day in self.version.model.days)


@dataclass(kw_only=True)
class OfDay:
    """One day of a version."""

    within: OfVersion
    day: Day

    @property
    def ids(self) -> Ids:
        """For its address."""
        return {**self.within.ids, "day": self.day.id}

    @cached_property
    def sessions(self) -> list[ComputedSession]:
        """Those of the day, by level and week."""
        return [one for one in self.within.sessions if one.plan.day == self.day.id]

    @cached_property
    def ribbons(self) -> list[str]:
        """What its sessions look like."""
        # Sessions with one running order look the same.
        drawn: dict[int, str] = {}
        for one in self.sessions:
            if id(one.order) not in drawn:
                drawn[id(one.order)] = session_ribbon(one)
        return [drawn[id(one.order)] for one in self.sessions]

    @cached_property
    def growth(self) -> str:
        """The caution for growing knees and heels, where anything of the day lands."""
        return growth_line(one.plan for one in self.sessions)

    @cached_property
    def page(self) -> DayPage:
        """The words of its page."""
        return self.within.top.day_views.page(self.within.version, self.day, self.sessions, self.ribbons)

    def of_levels(self) -> Iterator[OfLevel]:
        """Every level of the day."""
        for level in dict.fromkeys(one.plan.level for one in self.sessions):
            yield OfLevel(within=self, level=level)

    def of_sessions(self) -> Iterator[OfSession]:
        """Every session of the day."""
        for session, ribbon in zip(self.sessions, self.ribbons, strict=True):
            yield OfSession(within=self, session=session, ribbon=ribbon)


@dataclass(kw_only=True)
class OfLevel:
    """One level of a day, over all weeks; by its id."""

    within: OfDay
    level: str

    @property
    def ids(self) -> Ids:
        """For its address."""
        return {**self.within.ids, "level": self.level}

    @property
    def guide(self) -> dict[str, Any]:
        """What the guided session shows of its exercises."""
        return guide(self.within.within.top.site, self._plans)

    @property
    def stills(self) -> str:
        """The drawings of its sheets."""
        exercises = [station.exercise for plan in self._plans for station in plan.stations]
        return self.within.within.top.site.figures.stills(exercises)

    @property
    def _plans(self) -> list[PlannedSession]:
        return [one.plan for one in self.within.sessions if one.plan.level == self.level]


@dataclass(kw_only=True)
class OfSession:
    """One level and week of a day; `ribbon` is what it looks like."""

    within: OfDay
    session: ComputedSession
    ribbon: str

    @property
    def ids(self) -> Ids:
        """For its address."""
        plan = self.session.plan
        return {**self.within.ids, "level": plan.level, "week": plan.week}
