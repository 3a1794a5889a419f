"""Tempo: the four counts of a rep."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from ..findings import shown
from .measures import AmountError
from .numbers import Number, number

X_SECONDS = 1
"""Seconds counted for `X`, as fast as control allows. No published value: a convention of this format."""
_COUNT = r"(?:10(?:\.0)?|[0-9](?:\.[05])?|X)"
_TEMPO = re.compile(rf"{_COUNT}-{_COUNT}-{_COUNT}-{_COUNT}\Z")


class Tempo(NamedTuple):
    """Seconds of lowering, pause low, lifting and pause high; `written` is the text of the file."""

    lowering: Number
    low: Number
    lifting: Number
    high: Number
    written: str

    @property
    def counts(self) -> tuple[Number, Number, Number, Number]:
        """The four counts in order."""
        return self.lowering, self.low, self.lifting, self.high

    @property
    def seconds(self) -> Number:
        """One pass through the four counts."""
        return sum(self.counts)

    @property
    def before_pause_high(self) -> Number:
        """Seconds of the first three counts."""
        return self.lowering + self.low + self.lifting


def tempo(raw: object) -> Tempo:
    """The four counts of `3-0-1-0`. Raises AmountError."""
    if isinstance(raw, str):
        return _tempo(raw)
    raise AmountError(f"found {shown(raw)}, allowed {_TEMPO_ALLOWED}", _tempo_hint(str(raw)))


_TEMPO_ALLOWED = "four counts lowering-pause-lifting-pause, each 0 to 10 in whole or half seconds, or X"
_TEMPO_HINT = "write it like 3-0-1-0 or 2-1-X-0"


def _tempo_hint(text: str) -> str:
    """The tempo that was probably meant: without hyphens, with a small x, or with three counts."""
    upper = text.upper()
    counts = list(upper) if re.fullmatch("[0-9X]{3,4}", upper) else re.split("[-–/ ]", upper)
    if len(counts) == 3 and _TEMPO.match("-".join([*counts, "0"])):
        return f"for no pause high, write {'-'.join(counts)}-0"
    return f"write {'-'.join(counts)}" if _TEMPO.match("-".join(counts)) else _TEMPO_HINT


@lru_cache(maxsize=4096)
def _tempo(text: str) -> Tempo:
    if not _TEMPO.match(text):
        raise AmountError(f"found {shown(text)}, allowed {_TEMPO_ALLOWED}", _tempo_hint(text))
    lowering, low, lifting, high = (X_SECONDS if part == "X" else number(part) for part in text.split("-"))
    result = Tempo(lowering, low, lifting, high, text)
    if result.seconds == 0:
        raise AmountError(f"found {shown(text)}, a repetition that takes no time", _TEMPO_HINT)
    return result
