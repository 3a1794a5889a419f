"""The typed file kinds. Everything a key may say is here, and the JSON Schemas come from here."""

from .base import FileModel
from .club import Acceptance, Club, Level, Limits, Look, Programme
from .exercise import Exercise, Option
from .fields import DAY_NAMES, ID_PATTERN, LONGEST_ID, WEEKDAY_NAMES, WEEKDAYS
from .forms import FORMS, Form, renew
from .schemas import KINDS, Kind, json_schema
from .validate import block_alone, validate
from .version import (
    MEASURES,
    AnyBlock,
    Circuit,
    Day,
    EveryMinute,
    Routine,
    SetsStation,
    Station,
    StraightSets,
    TimedRounds,
    Version,
)

__all__ = [
    "DAY_NAMES",
    "FORMS",
    "ID_PATTERN",
    "KINDS",
    "LONGEST_ID",
    "MEASURES",
    "WEEKDAYS",
    "WEEKDAY_NAMES",
    "Acceptance",
    "AnyBlock",
    "Circuit",
    "Club",
    "Day",
    "EveryMinute",
    "Exercise",
    "FileModel",
    "Form",
    "Kind",
    "Level",
    "Limits",
    "Look",
    "Option",
    "Programme",
    "Routine",
    "SetsStation",
    "Station",
    "StraightSets",
    "TimedRounds",
    "Version",
    "block_alone",
    "json_schema",
    "renew",
    "validate",
]
