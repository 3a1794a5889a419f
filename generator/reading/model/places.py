"""Where a key belongs that stands at a wrong place, and words that people write for one that is known."""

from __future__ import annotations

from functools import cache

from .base import Model
from .club import Club, Level, Limits, Programme
from .exercise import Exercise
from .schemas import Kind
from .version import Circuit, Day, EveryMinute, Routine, SetsStation, TimedRounds, Version

_LINKS = ("video", "link", "url", "clip")
_MEANT = {
    "notes": "say it in the cues of the exercise, or in the aim of the phase",
    "description": "say it in the cues of the exercise, or in the aim of the phase",
    "weight": "write load: 4 kg",
    "amrap": "as many good reps as fit are work: 30 s; as many rounds, a block of the kind timed rounds",
    "time": "write hold: 30 s, or work: 30 s for as many good reps as fit",
    "duration": "write hold: 30 s, or work: 30 s for as many good reps as fit",
}
_LINK = "a link is clip: of the exercise, in its own file"
_PLACES: dict[Kind, tuple[tuple[str, tuple[type[Model], ...]], ...]] = {
    "version": (
        ("a station", (SetsStation,)),
        ("a block, one level deeper", (Circuit, EveryMinute, TimedRounds)),
        ("a day", (Day,)),
        ("the version, at the beginning of a line", (Version,)),
        ("the programme, in programme.yaml", (Programme, Level, Limits)),
        ("the exercise, in its own file", (Exercise,)),
    ),
    "routine": (
        ("a station", (SetsStation,)),
        ("a block, one level deeper", (Circuit, EveryMinute, TimedRounds)),
        ("the routine, at the beginning of a line", (Routine,)),
        ("the exercise, in its own file", (Exercise,)),
    ),
    "exercise": (("a station, in the file of a version", (SetsStation,)),),
    "programme": (("the version, in its own file", (Version,)), ("the club, in club.yaml", (Club,))),
    "club": (("the programme, in programme.yaml", (Programme,)),),
}


def elsewhere(kind: Kind, key: str) -> str:
    """A hint for a key that is known at another place, or by another word; nothing for other keys."""
    if key.lower() in _LINKS:
        return "write clip: and the link" if kind == "exercise" else _LINK
    return _MEANT.get(key.lower()) or _belongs(kind).get(key, "")


@cache
def _belongs(kind: Kind) -> dict[str, str]:
    found: dict[str, str] = {}
    for place, models in _PLACES.get(kind, ()):
        for model in models:
            for name, field in model.model_fields.items():
                found.setdefault(field.alias or name, f"{field.alias or name} belongs to {place}")
    return found
