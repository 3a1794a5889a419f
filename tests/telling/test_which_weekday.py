"""Of a choice of weekdays beside jumps every page says which one to take; elsewhere none says a word more.

48 h between sessions of medium or high landings: *Essentials of Strength Training and Conditioning* (from memory).
"""

from pathlib import Path

import pytest
from icalendar import Calendar
from phasepress.computing.phases import computed_sessions
from phasepress.reading.catalogue import VersionEntry, load
from phasepress.telling.feeds import calendar, trainings
from phasepress.telling.views.base import Site
from phasepress.telling.views.pack_choice import Choice
from phasepress.telling.views.pack_cover import cover
from phasepress.telling.views.poster import poster_page
from phasepress.telling.views.programmes import phase_view, programme_page
from phasepress.telling.views.versions import version_page

from tests.fixtures.phases import LEVELS, day, planted, sets, version

JUMPS, QUIET = sets("jump, sets: 2, reps: 5"), sets("squat, sets: 2, reps: 8")


def trial(to: Path, *days: str) -> tuple[Site, VersionEntry]:
    site = Site(load(planted(to, {"1.0": version(*days)}, LEVELS)).catalogue)
    return site, site.catalogue.programmes["trial"].versions[0]


def said(to: Path, on: str, *others: str, blocks: str = QUIET) -> str:
    site, entry = trial(to, *others, day(blocks, name="asked", on=on))
    return site.weekdays.said(entry, entry.model.days[-1])


@pytest.mark.parametrize(
    ("on", "others", "says"),
    [
        ("[tue or wed]", {"[mon]": JUMPS}, "Tuesday or Wednesday (take Wednesday, as Monday has jumps)"),
        ("[tue or wed]", {"[thu]": JUMPS}, "Tuesday or Wednesday (take Tuesday, as Thursday has jumps)"),
        ("[sun or sat]", {"[mon]": JUMPS}, "Sunday or Saturday (take Saturday, as Monday has jumps)"),
        ("[mon or wed]", {"[mon]": JUMPS}, "Monday or Wednesday (take Wednesday, as Monday has jumps)"),
        ("[tue or wed]", {"[mon]": QUIET}, "Tuesday or Wednesday"),
        ("[wed or thu]", {"[mon]": JUMPS}, "Wednesday or Thursday"),
        ("[tue or wed]", {"[mon]": JUMPS, "[thu]": JUMPS}, "Tuesday or Wednesday"),
        ("[tue or wed]", {"[mon or sun]": JUMPS}, "Tuesday or Wednesday"),
        ("[tue]", {"[mon]": JUMPS}, "Tuesday"),
    ],
)
def test_the_weekday_to_take_is_said_with_its_reason(
    on: str, others: dict[str, str], says: str, tmp_path: Path
) -> None:
    days = [day(blocks, name=f"d{at}", on=when) for at, (when, blocks) in enumerate(others.items())]
    assert said(tmp_path, on, *days) == says


def test_low_landings_ask_for_no_day_between(tmp_path: Path) -> None:
    low = sets("bounce, sets: 2, reps: 5")
    assert said(tmp_path, "[tue or wed]", day(low, name="low", on="[mon]")) == "Tuesday or Wednesday"


def test_nothing_is_said_that_the_calendar_does_not_suggest(tmp_path: Path) -> None:
    """Wednesday is beside Thursday's session: no choice keeps days apart, and the calendar takes the first."""
    others = (day(JUMPS, name="a", on="[mon]"), day(QUIET, name="b", on="[thu]"))
    assert said(tmp_path, "[tue or wed]", *others) == "Tuesday or Wednesday"


def test_one_day_of_which_an_entry_is_fixed_and_one_is_not(tmp_path: Path) -> None:
    told = said(tmp_path, "[mon, tue or wed]", blocks=JUMPS)
    assert told == "Monday and Tuesday or Wednesday (take Wednesday, as Monday has jumps)"


def test_pages_poster_cover_and_calendar_say_the_same(tmp_path: Path) -> None:
    site, entry = trial(tmp_path, day(JUMPS, name="a", on="[mon]"), day(QUIET, name="b", on="[tue or wed]"))
    programme = site.catalogue.programmes["trial"]
    facts = tuple(computed_sessions(site.catalogue, entry))
    words = "Tuesday or Wednesday (take Wednesday, as Monday has jumps)"
    about = version_page(site, programme, entry, facts, None, None)
    assert about.days[1].weekdays == words
    assert cover(site, programme, entry, about, facts, Choice(("starter",), (1,))).days[1].weekdays == words
    page = programme_page(programme, [phase_view(site, entry, facts, newest=True)], "")
    assert page.phases[0].days[1].weekdays == words
    assert '"take":[[2,"Wednesday, as Monday has jumps"]]' in page.today
    assert poster_page(site, page, "").days[1][1].startswith(f"{words}, ")
    text = calendar("Trial", trainings(entry, facts), "https://fennmouth.example/", "trial/calendar.ics")
    events = [
        event for event in Calendar.from_ical(text).walk("VEVENT") if event["dtstart"].dt.weekday() == 2
    ]
    (event,) = events
    assert "Of Tuesday or Wednesday take Wednesday, as Monday has jumps." in event["description"]
