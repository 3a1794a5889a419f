"""What a club's pages wear: its colour in the tokens of styles and in icons, its crest as pictures."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ..reading.catalogue import Catalogue
from ..reading.colours import in_tokens
from ..reading.pictures import coloured, icon, square
from ..reading.theme import tokens

CREST, LARGE_CREST = "icons/crest.png", "icons/crest-large.png"
"""Names by which templates ask for the crest: in the head of pages and on sheets, and on a poster."""
_ICON = "icons/icon.svg"
ICONS = {"icons/icon-192.png": (192, False), "icons/icon-512.png": (512, False)} | {
    "icons/icon-maskable.png": (512, True)
}
"""Icons of the installed site: pixels, and whether a device cuts it to a shape of its own."""
_SMALL = tuple((side, colours) for side in (96, 80, 72, 64, 56) for colours in (32, 16))
"""Pixels and colours of the crest in the head of pages, from the best to the least."""
MOST_SMALL = 1_200
"""Bytes that it may weigh: it is fetched before anything can be read."""
_LARGE, _COLOURS = 384, 64


@dataclass(frozen=True, slots=True)
class Look:
    """A club's colour, `#rrggbb`, and the bytes of its crest; empty where it has none."""

    colour: str = ""
    crest: bytes = b""

    def tokens(self, css: str) -> str:
        """The style of the tokens, in the club's colour."""
        return in_tokens(css, self.colour) if self.colour else css

    def pictures(self, folder: Path) -> dict[str, bytes]:
        """Pictures and icons instead of those of the theme folder, by the names that they have there."""
        drawn = self._coloured(folder) if self.colour else {}
        if self.crest:
            ground = tokens().light["paper"]
            drawn |= {name: icon(self.crest, side, ground, masked=cut) for name, (side, cut) in ICONS.items()}
            drawn |= {CREST: self._small(), LARGE_CREST: square(self.crest, _LARGE, _COLOURS)}
        return drawn

    def _small(self) -> bytes:
        """The best that is light enough; where none is, the least."""
        drawn = b""
        for side, colours in _SMALL:
            drawn = square(self.crest, side, colours)
            if len(drawn) <= MOST_SMALL:
                break
        return drawn

    def _coloured(self, folder: Path) -> dict[str, bytes]:
        """The theme's own icons on the club's colour."""
        was = tokens().light["brand"], tokens().light["paper"]
        drawn = {name: coloured((folder / name).read_bytes(), self.colour, was[1], was) for name in ICONS}
        vector = (folder / _ICON).read_text(encoding="utf-8").replace(was[0], self.colour)
        return {**drawn, _ICON: vector.encode()}


def look_of(catalogue: Catalogue) -> Look:
    """What the club of a tree wears."""
    colour = catalogue.club.model.look.colour if catalogue.club else None
    return Look(colour or "", catalogue.crest.content if catalogue.crest else b"")
