"""How wide the letters of real typefaces are: `python -m tests.unit.typefaces` writes the tables of the generator.

The typeface of packs comes from the package that printing uses. Those that stand for phones and computers are
looked for among the fonts of this machine; for the whole table Debian needs fonts-liberation, fonts-urw-base35,
fonts-dejavu-core, fonts-roboto-unhinted and fonts-inter, or files of these names in a folder that is given.
"""

import io
import subprocess
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from textwrap import wrap

from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.ttLib import TTFont

from generator import typeface
from tests.conftest import ROOT

WIDTHS = ROOT / "generator/views/widths.py"
OUTLINES = ROOT / "generator/pack/outlines.py"
# Regular and bold. Liberation Sans has the widths of Arial, Nimbus Sans those of Helvetica (their descriptions); Inter
# stands for the typeface of phones from Apple, which is no wider (from memory); Roboto is that of Android.
USUAL = (
    ("LiberationSans-Regular.ttf", "LiberationSans-Bold.ttf"),
    ("NimbusSans-Regular.otf", "NimbusSans-Bold.otf"),
    ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"),
    ("Roboto-Regular.ttf", "Roboto-Bold.ttf"),
    ("Inter-Regular.otf", "Inter-Bold.otf"),
)
# Latin, Greek, Cyrillic; more Latin; punctuation; money; arrows; minus, about equal, at most, at least.
EVERYWHERE = (
    range(0x20, 0x530),
    range(0x1E00, 0x1F00),
    range(0x2010, 0x2045),
    range(0x20A0, 0x20C0),
    range(0x2190, 0x2194),
    range(0x2212, 0x2213),
    range(0x2248, 0x2266),
)
# Hebrew, Arabic, Devanagari, Thai, Georgian.
FURTHER = (
    range(0x590, 0x600),
    range(0x600, 0x700),
    range(0x900, 0x980),
    range(0xE00, 0xE60),
    range(0x10A0, 0x1100),
)
DRAWN = "0123456789°"
BY = "Made by `python -m tests.unit.typefaces`, not by hand.\n"


def ems(font: TTFont) -> dict[str, int]:
    """The advance width of every sign, in thousandths of an em, rounded up."""
    unit, advance = font["head"].unitsPerEm, font["hmtx"]
    return {chr(sign): -(-1000 * advance[glyph][0] // unit) for sign, glyph in font.getBestCmap().items()}


def of_packs() -> dict[str, TTFont]:
    return {name: TTFont(io.BytesIO(content)) for name, content in typeface.files().items()}


def pack_widths() -> tuple[dict[str, int], dict[str, int]]:
    fonts = {name: ems(font) for name, font in of_packs().items()}
    return widest([fonts["regular.ttf"], fonts["italic.ttf"]]), fonts["bold.ttf"]


def outlines() -> dict[str, str]:
    """The bold letters that pictures have, as SVG paths in thousandths of an em; up is positive."""
    font = of_packs()["bold.ttf"]
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    found = {}
    for sign in DRAWN:
        pen = SVGPathPen(glyphs, ntos=lambda value: str(round(value)))
        glyphs[names[ord(sign)]].draw(pen)
        found[sign] = pen.getCommands()
    return found


def installed_files() -> list[Path]:
    """The font files of this machine that have letters of Latin."""
    done = subprocess.run(
        ["fc-list", ":lang=en", "--format", "%{file}\n"], capture_output=True, text=True, check=True
    )
    return [path for path in map(Path, done.stdout.splitlines()) if path.suffix in (".ttf", ".otf")]


def installed(names: Iterable[str]) -> dict[str, Path]:
    """The fonts of these file names that this machine has."""
    return {path.name: path for path in installed_files() if path.name in set(names)}


def width_of_a_line(file: Path) -> int:
    signs = ems(TTFont(file))
    return sum(signs.get(sign, 500) for sign in "Twelve squats, 3-1-1-0")


def widest(fonts: Iterable[Mapping[str, int]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for font in fonts:
        for sign, wide in font.items():
            found[sign] = max(wide, found.get(sign, 0))
    return found


def _runs(signs: Mapping[str, int], ranges: Iterable[range]) -> Iterator[str]:
    for run in ranges:
        numbers = " ".join(str(signs.get(chr(sign), "-")) for sign in run)
        lines = "\n".join(f"        {line}" for line in wrap(numbers, 100))
        yield f'        {run.start}: """\n{lines}\n        """,\n'


def _table(name: str, about: str, weights: Iterable[Mapping[str, int]], ranges: Iterable[range]) -> str:
    tables = "".join(f"    {{\n{''.join(_runs(signs, ranges))}    }},\n" for signs in weights)
    return f'{name} = (\n{tables})\n"""{about}"""\n'


def widths_text(folder: Path) -> str:
    found = {path.name: path for path in folder.rglob("*") if path.suffix in (".ttf", ".otf")}
    found |= installed([name for names in USUAL for name in names])
    missing = [name for names in USUAL for name in names if name not in found]
    if missing:
        sys.exit(f"not on this machine: {', '.join(missing)}")
    weights = [widest(ems(TTFont(found[name])) for name in names) for names in zip(*USUAL, strict=True)]
    return (
        f'"""Widths of letters, regular and bold, in thousandths of an em, in runs from the number of a sign.\n\n{BY}"""\n\n'
        + _table("USUAL", "The widest of what phones and computers usually have.", weights, EVERYWHERE)
        + _table("PACK", "FiraGO, of upright and italic the wider.", pack_widths(), (*EVERYWHERE, *FURTHER))
    )


def outlines_text() -> str:
    drawn = "".join(f'    "{sign}": "{path}",\n' for sign, path in outlines().items())
    about = "Bold signs of FiraGO as SVG paths, in thousandths of an em; up is positive."
    return f'"""{about}\n\n{BY}"""\n\nOUTLINES = {{\n{drawn}}}\n'


if __name__ == "__main__":
    WIDTHS.write_text(widths_text(Path(sys.argv[1] if len(sys.argv) > 1 else ".")), encoding="utf-8")
    OUTLINES.write_text(outlines_text(), encoding="utf-8")
