"""What stands on every page that prescribes, whatever the coach's files say.

Stopping at pain is a decision of this project; no published threshold is used or shown.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...computing.resolve import PlannedSession, PlannedStation
from ...reading.model import Exercise

STOP = (
    "Stop if something hurts, if you feel dizzy or unwell, or if you can no longer do the movement right. "
    "Tell an adult."
)
ASK = "Not sure, or does it hurt again? Ask your coach, physiotherapist or doctor before you go on."
FIRST = "Do the first session of a phase while your coach or another adult watches."
RULES = "The rules of your club for safeguarding and of your sport's governing body come before this page."
GROWTH = (
    "Knees or heels that get sore from jumping are common while you grow. Leave the jumps out, tell an "
    "adult, and ask your coach, physiotherapist or doctor."
)
HURT = "If something hurts:"
"""What stands before the club's own words on that."""
SIGNED = "Answers for this plan:"
LINES = (STOP, ASK, FIRST, RULES)


def last_line(signed: str) -> str:
    """What stands at the end of a stop rule, with the name of who answers for the plan, if there is one."""
    return f"{ASK} {FIRST} {RULES}" + (f" {SIGNED} {signed}." if signed else "")


def growth_line(sessions: Iterable[PlannedSession]) -> str:
    """The caution for growing knees and heels, where anything lands; else nothing."""
    return GROWTH if any(any(map(lands, session.stations)) for session in sessions) else ""


def lands(exercise: PlannedStation | Exercise) -> bool:
    """Whether something comes down on its feet."""
    return exercise.contacts > 0 or exercise.pattern == "jump"
