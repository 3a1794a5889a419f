"""How much a session asks for."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.limits import BEGINNER_START_CONTACTS, MOST_CONTACTS, cited, outside
from generator.checks.registry import Facts, Raised, SessionFacts, check, in_weeks


@check("contacts")
def landings_in_a_session(facts: Facts) -> Iterator[Raised]:
    """More landings than the level's experience allows; the published numbers themselves are inside."""
    for day, level, sessions in facts.by_day_and_level():
        experience = facts.programme.model.level(level).experience
        most = MOST_CONTACTS[experience]
        over = [s for s in sessions if s.figures.contacts > most]
        if over:
            statement = f"at most {most} for {experience} adults"
            yield _too_many(facts, day, level, over, "essentials-plyometric", statement)
        start = [s for s in sessions if BEGINNER_START_CONTACTS < s.figures.contacts <= most]
        if start and experience == "beginner":
            statement = f"start at 50 to {BEGINNER_START_CONTACTS} at ages 5 to 14"
            yield _too_many(facts, day, level, start, "johnson-2011", statement)


def _too_many(
    facts: Facts, day: str, level: str, over: list[SessionFacts], source: str, statement: str
) -> Raised:
    weeks = in_weeks([s.plan.week for s in over])
    worst = max(s.figures.contacts for s in over)
    message = f"{day}, {level}: up to {worst} landings in {weeks}; {outside(source, statement)}"
    hint = "take jumps out, or accept it with the reason"
    return Raised(
        "note" if source == "johnson-2011" else "warning",
        message,
        facts.day_path(day),
        cited(source),
        day,
        f"{day} {level} {weeks}",
        hint,
    )


@check("contacts")
def landings_that_cannot_be_counted(facts: Facts) -> Iterator[Raised]:
    """A time dose of an exercise with landings, but with no tempo to say how many reps fit."""
    seen: set[tuple[str, str]] = set()
    for session in facts.sessions:
        for block in session.plan.blocks:
            for station in block.stations:
                uncounted = station.measure == "time" and station.contacts and station.rep is None
                if uncounted and (session.plan.day, station.label) not in seen:
                    seen.add((session.plan.day, station.label))
                    message = (
                        f"{session.plan.day}, {station.label}: the landings of {station.exercise} "
                        "cannot be counted, as no tempo says how many reps fit into its time"
                    )
                    hint = "add seconds per rep to the exercise, or tempo to the station"
                    path, day = facts.day_path(session.plan.day), session.plan.day
                    yield Raised("warning", message, path, "the file format", day, day, hint)
