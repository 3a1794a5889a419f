"""Field types of the file kinds: each reads one kind of value and says in the JSON Schema what it allows."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Annotated, Any, Literal, NamedTuple

from pydantic import AfterValidator, GetCoreSchemaHandler, GetJsonSchemaHandler, StringConstraints
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from .. import amounts, colours
from ..amounts import AmountError, Number, Varying, WrongPart
from ..escaping import FORBIDDEN_IN_SCHEMA
from ..findings import listed, nearest, shown
from ..pictures import SUFFIXES

DAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WEEKDAY_NAMES = dict(zip(WEEKDAYS, DAY_NAMES, strict=True))
LONGEST_ID = 64
ID_PATTERN = "[a-z0-9]+(-[a-z0-9]+)*"
ID_ALLOWED = "lower-case words joined by hyphens, such as wall-sit"
# Language, script, region, variants: RFC 5646, 2.1, without extensions and private use, which no page needs.
_LANGUAGE = re.compile(
    "[a-z]{2,3}(-[A-Za-z]{3}){0,3}(-[A-Za-z]{4})?(-([A-Za-z]{2}|[0-9]{3}))?"
    "(-([A-Za-z0-9]{5,8}|[0-9][A-Za-z0-9]{3}))*"
)
JsonSchema = dict[str, Any]


class Part(NamedTuple):
    """What pydantic carries from a field's reader to the report: a fault below the field."""

    check: str
    path: tuple[str | int, ...]
    message: str
    hint: str
    at_key: bool = False


def faulty(*parts: Part) -> PydanticCustomError:
    """The error by which a reader reports everything wrong with its value at once."""
    return PydanticCustomError("parts", "see parts", {"parts": list(parts)})


@dataclass(frozen=True, eq=False)
class Reader:
    """Annotation of a field read by `parse`, which raises AmountError; `schema` is its JSON Schema."""

    parse: Callable[[object], Any]
    schema: JsonSchema
    varies: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchema:
        # A copy: what is written into it for one field is not for the next.
        return _by_week_and_level({**self.schema}) if self.varies else {**self.schema}

    def _read(self, raw: object) -> object:
        if self.varies:
            result = amounts.varying(raw, self.parse)
            wrong = result if isinstance(result, list) else []
        else:
            try:
                return self.parse(raw)
            except AmountError as error:
                result, wrong = None, [WrongPart((), error.message, error.hint, error.check)]
        if wrong:
            raise faulty(*(Part(part.check, part.path, part.message, part.hint) for part in wrong))
        return result


def _by_week_and_level(one: JsonSchema) -> JsonSchema:
    weekly = {"type": "array", "items": one, "minItems": 1, "description": "one entry for each week"}
    row = {"anyOf": [one, weekly]}
    level = {"type": "object", "additionalProperties": row, "minProperties": 1}
    return {"anyOf": [one, weekly, {**level, "description": "one entry for each level; other for the rest"}]}


def _text_schema(pattern: str, allowed: str, *examples: str) -> JsonSchema:
    return {"type": "string", "pattern": pattern, "description": allowed, "examples": list(examples)}


_N = r"[0-9]{1,6}(\.[0-9]{1,3})?"
_DURATION = _text_schema(
    rf"^({_N} ?min( ?{_N} ?s)?|{_N} ?s|[0-9]{{1,3}}:[0-5][0-9])$",
    "a duration: 45 s, 2 min, 1 min 30 s or 1:30",
    "45 s",
    "1:30",
)
_MASS = _text_schema(rf"^{_N} ?kg$", "a mass: 4 kg or 2.5 kg", "4 kg")
_DISTANCE = _text_schema(rf"^{_N} ?m$", "a distance: 20 m", "20 m")
_C = r"(10(\.0)?|[0-9](\.[05])?|X)"
_TEMPO = _text_schema(
    rf"^{_C}-{_C}-{_C}-{_C}$", "lowering-pause low-lifting-pause high", "3-0-1-0", "2-1-X-0"
)


def _whole(least: int, most: int, what: str, example: int, varies: bool = False) -> Reader:
    schema = {"type": "integer", "minimum": least, "maximum": most, "examples": [example]}
    return Reader(amounts.count(least, most, f"a whole number of {what}"), schema, varies)


_REPS: JsonSchema = {
    "anyOf": [
        {"type": "integer", "minimum": 0, "maximum": amounts.MOST_REPS},
        {"type": "string", "pattern": "^[0-9]{1,4} ?[-–] ?[0-9]{1,4}$"},
    ],
    "description": "reps, for each side where the exercise is one-sided; or a range, whose upper end counts",
    "examples": [8, "8-10"],
}
MOST_OF_A_SETTING = 120
_SETTING: JsonSchema = {
    "type": "string",
    "minLength": 1,
    "maxLength": MOST_OF_A_SETTING,
    "description": "how hard an exercise is set where no number says it",
    "examples": ["hands at the rail"],
}


def _setting(raw: object) -> str:
    if isinstance(raw, str) and 0 < len(raw.strip()) <= MOST_OF_A_SETTING:
        return " ".join(raw.split())
    hint = "write how it is set, such as setting: one step from the wall"
    raise AmountError(f"found {shown(raw)}, allowed text of 1 to {MOST_OF_A_SETTING} letters", hint)


def _identifier(raw: object) -> str:
    if isinstance(raw, str) and re.fullmatch(ID_PATTERN, raw) and len(raw) <= LONGEST_ID:
        return raw
    raise AmountError(f"found {shown(raw)}, allowed {ID_ALLOWED}", _id_hint(raw))


def _id_hint(raw: object) -> str:
    """The id that was probably meant: ids are the names of files, of levels and of days."""
    words = re.findall("[a-z0-9]+", raw.lower()) if isinstance(raw, str) else []
    return f"write {'-'.join(words)}"[:70] if words else "write one id"


_PICTURE = "the name of a PNG or JPEG file in media/"


def _picture_name(raw: object) -> str:
    stem, _, suffix = raw.rpartition(".") if isinstance(raw, str) else ("", "", "")
    if isinstance(raw, str) and re.fullmatch(ID_PATTERN, stem) and f".{suffix}" in SUFFIXES:
        return raw
    hint = "call the file by lower-case words joined by hyphens, such as crest.png, and write its name alone"
    raise AmountError(f"found {shown(raw)}, allowed {_PICTURE}", hint)


def _day_choice(raw: object) -> tuple[str, ...]:
    words = tuple(raw.split(" or ")) if isinstance(raw, str) else ()
    for word in words or (shown(raw),):
        if word not in WEEKDAYS:
            several = [one for one in re.findall("[a-z]+", str(raw).lower()) if one[:3] in WEEKDAYS]
            hint = nearest(word[:3], WEEKDAYS) or "write mon, or tue or wed for a choice"
            if len(several) > 1:
                hint = f"write {' or '.join(one[:3] for one in several)} for a choice"
            raise AmountError(f"found {shown(raw)}, allowed {listed(WEEKDAYS)}, or a choice of them", hint)
    if len(set(words)) < len(words):
        raise AmountError(f"found {shown(raw)}, a choice that names a day twice", "name each day once")
    return words


def _language(raw: object) -> str:
    if isinstance(raw, str) and _LANGUAGE.fullmatch(raw):
        return raw
    raise AmountError(f"found {shown(raw)}, allowed a language code", "write it like en, or de-CH")


def _date(raw: object) -> date:
    if isinstance(raw, str) and re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", raw) and "1900" <= raw < "9999":
        try:
            return date.fromisoformat(raw)
        except ValueError:
            hint = "look the Monday up in a calendar"
            raise AmountError(f"found {raw}, a day that is not in the calendar", hint) from None
    hint = "write year, month and day with hyphens"
    raise AmountError(f"found {shown(raw)}, allowed a date such as 2027-01-11", hint)


def _monday(raw: object) -> date:
    day = _date(raw)
    if day.weekday() != 0:
        before = day - timedelta(days=day.weekday())
        found = f"found {day}, a {DAY_NAMES[day.weekday()]}, allowed a Monday, on which a week begins"
        hint = f"write {before} or {before + timedelta(days=7)}"
        raise AmountError(found, hint, check="dates")
    return day


def _seconds_per_rep(raw: object) -> Number:
    if isinstance(raw, int | float) and not isinstance(raw, bool) and 0.1 <= raw <= 60:
        return amounts.number(round(Decimal(str(raw)), 3))
    hint = "write the number alone, such as 2 or 2.5"
    raise AmountError(f"found {shown(raw)}, allowed a number of seconds from 0.1 to 60", hint)


MOST_SAID = 200
"""Letters of a coach's line: it is read on the way to a station."""


def _said(raw: object) -> str:
    if isinstance(raw, str) and len(raw) <= MOST_SAID:
        return " ".join(raw.split())
    found = f"a line of {len(raw)} letters" if isinstance(raw, str) else shown(raw)
    raise AmountError(
        f"found {found}, allowed a line of text of at most {MOST_SAID} letters",
        "write one sentence, as you would say it; two quotes with nothing in them say nothing that week",
    )


_SAID = {"type": "string", "maxLength": MOST_SAID, "examples": ["Film one set for me."]}
_ID = _text_schema(f"^{ID_PATTERN}$", ID_ALLOWED, "wall-sit")
Id = Annotated[str, Reader(_identifier, _ID)]
Monday = Annotated[date, Reader(_monday, {"type": "string", "format": "date", "examples": ["2027-01-11"]})]
Colour = Annotated[
    str,
    Reader(
        colours.accent,
        _text_schema("^#[0-9a-fA-F]{6}$", "a colour that can be read on light pages, in quotes", "#0b5e55"),
    ),
]
PictureName = Annotated[
    str,
    Reader(_picture_name, _text_schema(r"^[a-z0-9]+(-[a-z0-9]+)*\.(png|jpe?g)$", _PICTURE, "crest.png")),
]
_ADDRESS = r"^https://[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+(:[0-9]{1,5})?(/[A-Za-z0-9._~!$&'()*+,;=:@%/?#-]*)?$"
_CLIP = "an address of a clip that begins with https://, at most 300 characters"


def _clip(raw: object) -> str:
    if isinstance(raw, str) and len(raw) <= LONGEST_CLIP and re.fullmatch(_ADDRESS, raw):
        return raw
    hint = "copy it from where the clip is shown, without a name or password in it"
    raise AmountError(f"found {shown(raw)}, allowed {_CLIP}", hint)


LONGEST_CLIP = 300
Clip = Annotated[str, Reader(_clip, _text_schema(_ADDRESS, _CLIP, "https://clips.example/step-back"))]
_CHOICE = "|".join(WEEKDAYS)
DayChoice = Annotated[
    tuple[str, ...],
    Reader(
        _day_choice,
        _text_schema(f"^({_CHOICE})( or ({_CHOICE}))*$", "mon, or tue or wed for a choice", "mon"),
    ),
]
Duration = Annotated[Number, Reader(amounts.duration, _DURATION)]
Mass = Annotated[Number, Reader(amounts.mass, _MASS)]
Volume = Annotated[Number, Reader(amounts.volume, _text_schema(rf"^{_N} ?l$", "a volume: 0.5 l", "2 l"))]
Percent = Annotated[Number, Reader(amounts.percent, _text_schema(rf"^{_N} ?%$", "25 %", "25 %"))]
FixedTempo = Annotated[amounts.Tempo, Reader(amounts.tempo, _TEMPO)]
SecondsPerRep = Annotated[Number, Reader(_seconds_per_rep, {"type": "number", "minimum": 0.1, "maximum": 60})]

VaryingId = Annotated[Varying[str], Reader(_identifier, _ID, varies=True)]
VaryingDuration = Annotated[Varying[Number], Reader(amounts.duration, _DURATION, varies=True)]
VaryingMass = Annotated[Varying[Number], Reader(amounts.mass, _MASS, varies=True)]
VaryingDistance = Annotated[Varying[Number], Reader(amounts.distance, _DISTANCE, varies=True)]
VaryingTempo = Annotated[Varying[amounts.Tempo], Reader(amounts.tempo, _TEMPO, varies=True)]
Reps = Annotated[Varying[int], Reader(amounts.reps, _REPS, varies=True)]
Setting = Annotated[Varying[str], Reader(_setting, _SETTING, varies=True)]
Sets = Annotated[Varying[int], _whole(0, 50, "sets", 3, varies=True)]
Rounds = Annotated[Varying[int], _whole(0, 50, "rounds", 3, varies=True)]
Minutes = Annotated[Varying[int], _whole(0, 240, "minutes", 6, varies=True)]
Efforts = Annotated[Varying[int], _whole(0, 10, "effort", 6, varies=True)]
Said = Annotated[Varying[str], Reader(_said, _SAID, varies=True)]
Weeks = Annotated[int, _whole(1, 52, "weeks", 4)]
SessionsPerWeek = Annotated[int, _whole(1, 14, "sessions", 3)]
Age = Annotated[int, _whole(3, 99, "years", 13)]
Positions = Annotated[int, _whole(1, 20, "positions in one rep", 1)]
Contacts = Annotated[int, _whole(0, 50, "landings in one rep", 1)]
Language = Annotated[str, Reader(_language, _text_schema(f"^{_LANGUAGE.pattern}$", "a language code", "en"))]


def _text(most: int) -> StringConstraints:
    """Text for pages and feeds: not empty and bounded; signs that act were taken out, and told, before."""
    plain = f"^[^{FORBIDDEN_IN_SCHEMA}]*$"
    return StringConstraints(strip_whitespace=True, min_length=1, max_length=most, pattern=plain)


def _on_one_line(text: str) -> str:
    """Names and sentences stand on one line wherever they are shown: a new line in one is a space."""
    return " ".join(text.split("\n")) if "\n" in text else text


Line = Annotated[str, _text(400), AfterValidator(_on_one_line)]
Title = Annotated[str, _text(120), AfterValidator(_on_one_line)]
Word = Annotated[str, _text(24), AfterValidator(_on_one_line)]
Prose = Annotated[str, _text(4000)]
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
Pattern = Literal[
    "squat",
    "lunge",
    "hinge",
    "push",
    "pull",
    "brace",
    "rotate",
    "jump",
    "land",
    "carry",
    "locomotion",
    "mobility",
]
Measure = Literal["reps", "hold", "time", "distance"]
Sides = Literal["both", "each", "alternating"]
Begins = Literal["lowering", "lifting"]
Landing = Literal["none", "low", "medium", "high"]
Experience = Literal["beginner", "intermediate", "advanced"]
