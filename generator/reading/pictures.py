"""A club's pictures: the only module that names the library that reads them.

A picture is opened within bounds, and what is published is drawn anew in the size that a page needs: nothing
of the file goes on but its pixels, so no place, no device and no date.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass

from PIL import Image, ImageOps

from .source import MOST_BYTES

SUFFIXES = (".png", ".jpg", ".jpeg")
MOST_PIXELS = 4_000
"""Bound on width and height: a phone's photograph fits."""
LEAST_PIXELS = 96
"""Bound on the longer side: less is a blur on an icon of 512 pixels."""
_ICON_COLOURS = 32
_FORMATS = ("PNG", "JPEG")
_SAFE = 0.8
"""The share of an icon's width within which, as a circle, no device cuts: W3C Web Application Manifest, "Icon
masks and safe zone"."""


class NoPictureError(Exception):
    """A file that is no picture that can be used: what it is instead, and how to mend that."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.message, self.hint = message, hint


@dataclass(frozen=True, slots=True)
class Picture:
    """A file in `media/` that is a picture: its name there, and its bytes as they came."""

    name: str
    content: bytes


def picture(name: str, content: bytes) -> Picture:
    """The picture in a file of `media/`, of which `content` is at most one byte more than allowed.

    Raises NoPictureError.
    """
    if len(content) > MOST_BYTES:
        raise NoPictureError(f"the picture has more than {MOST_BYTES:,} bytes", "save it smaller")
    opened(content)
    return Picture(name, content)


def opened(content: bytes) -> Image.Image:
    """The pixels, upright, with red, green, blue and alpha. Raises NoPictureError."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(content), formats=_FORMATS) as found:
                _require_size(f"{found.width} by {found.height}", max(found.size))
                found.load()
                pixels = ImageOps.exif_transpose(found).convert("RGBA")
    except NoPictureError:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _wrong_size("too many") from None
    except Exception:  # What decoders raise over broken files has no common name.
        message = "found a file that is no picture, allowed PNG or JPEG"
        raise NoPictureError(message, "save the picture as PNG, or take the file out") from None
    pixels.info.clear()
    return pixels


def _require_size(said: str, longer: int) -> None:
    if not LEAST_PIXELS <= longer <= MOST_PIXELS:
        raise _wrong_size(said)


def _wrong_size(said: str) -> NoPictureError:
    allowed = f"allowed {LEAST_PIXELS} to {MOST_PIXELS:,} on its longer side"
    return NoPictureError(f"a picture of {said} pixels, {allowed}", "save it in another size")


def square(content: bytes, side: int, colours: int = 0) -> bytes:
    """The picture as a square PNG of so many pixels, with nothing around it where it is not square.

    With `colours`, of at most so many, which makes a small file. Raises NoPictureError.
    """
    drawn = Image.new("RGBA", (side, side))
    _put(drawn, opened(content), side)
    return _png(drawn.quantize(colours, Image.Quantize.FASTOCTREE) if colours else drawn)


def photo(content: bytes) -> tuple[bytes, int, int]:
    """A photograph as a JPEG for a page, with its width and height: as large as a phone shows it sharp.

    Drawn anew from its pixels, so it has no place, device, date or words of the file. Raises NoPictureError.
    """
    found = opened(content)
    scale = min(1.0, LONGEST_PHOTO / max(found.size))
    size = (max(1, round(found.width * scale)), max(1, round(found.height * scale)))
    drawn = Image.new("RGB", size, "white")
    small = found.resize(size, Image.Resampling.LANCZOS)
    drawn.paste(small, mask=small.getchannel("A"))
    for quality in QUALITIES:
        file = io.BytesIO()
        drawn.save(file, "JPEG", quality=quality, optimize=True)
        if file.tell() <= MOST_PHOTO_BYTES:
            break
    return file.getvalue(), *size


LONGEST_PHOTO = 960
"""Pixels on the longer side: 360 across on a phone that draws them with more than two each."""
MOST_PHOTO_BYTES = 120_000
"""What a photograph may weigh where the lesser qualities get it there."""
QUALITIES = (80, 65, 50, 35)


def icon(content: bytes, side: int, ground: str, *, masked: bool) -> bytes:
    """The picture as an icon on a ground, with air around it; a masked one stays whole however it is cut."""
    drawn = Image.new("RGBA", (side, side), ground)
    found = opened(content)
    diagonal = (found.width**2 + found.height**2) ** 0.5
    longest = max(found.size) / diagonal * _SAFE * side if masked else 0.88 * side
    _put(drawn, found, int(longest))
    return _png(drawn.convert("RGB").quantize(_ICON_COLOURS))


def coloured(content: bytes, dark: str, light: str, was: tuple[str, str]) -> bytes:
    """A PNG drawn in two colours, `was`, drawn in two others. What is between stays so; alpha stays."""
    found = opened(content)
    grey = found.convert("L")
    black, white = (Image.new("RGB", (1, 1), one).convert("L").getpixel((0, 0)) for one in was)
    assert isinstance(black, int)
    assert isinstance(white, int)
    drawn = ImageOps.colorize(grey, dark, light, blackpoint=black, whitepoint=white).convert("RGBA")
    drawn.putalpha(found.getchannel("A"))
    return _png(drawn)


def _put(on: Image.Image, found: Image.Image, longest: int) -> None:
    """Draw a picture in the middle, so large that its longer side has so many pixels."""
    scale = longest / max(found.size)
    size = (max(1, round(found.width * scale)), max(1, round(found.height * scale)))
    small = found.resize(size, Image.Resampling.LANCZOS)
    on.alpha_composite(small, ((on.width - size[0]) // 2, (on.height - size[1]) // 2))


def _png(drawn: Image.Image) -> bytes:
    file = io.BytesIO()
    drawn.info.clear()
    drawn.save(file, "PNG", optimize=True)
    return file.getvalue()
