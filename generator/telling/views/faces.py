"""How wide letters are, in thousandths of an em: of the typeface of a pack, and of those that phones have."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from unicodedata import combining, east_asian_width

from . import widths

_EM = 1000
_GUESSED = 640
"""A letter that no table has, of a script that the system's own typeface has to write."""


class _Widths(dict[str, int]):
    """The width of every sign: those of the table, others as they are asked for."""

    def __missing__(self, sign: str) -> int:
        wide = 0 if combining(sign) else _EM if east_asian_width(sign) in "WF" else _GUESSED
        self[sign] = wide
        return wide


@dataclass(frozen=True, eq=False)
class Face:
    """A typeface, or the widest of several. `tables` has runs of widths, regular and bold, as in `widths`."""

    tables: tuple[Mapping[int, str], Mapping[int, str]]

    @cached_property
    def _weights(self) -> tuple[_Widths, _Widths]:
        regular, bold = self.tables
        return _read(regular), _read(bold)

    def ems(self, text: str, *, bold: bool = False) -> float:
        """The width of a text in one line, in ems; letters that draw together only make it narrower."""
        return sum(map(self._weights[bold].__getitem__, text)) / _EM


def _read(table: Mapping[int, str]) -> _Widths:
    """A table: its runs begin at the number of a sign, and `-` stands for one that is not there."""
    found = _Widths()
    for first, run in table.items():
        for number, wide in enumerate(run.split(), first):
            if wide != "-":
                found[chr(number)] = int(wide)
    return found


USUAL = Face(widths.USUAL)
"""The widest of what phones and computers usually set a page in."""
PACK = Face(widths.PACK)
"""What a pack is set in; of upright and italic the wider."""
