"""A club's pictures: opened within bounds, and published without anything of the file but its pixels."""

import contextlib
import io
import struct
import zlib

import pytest
from phasepress.reading.pictures import NoPictureError, icon, picture, square
from phasepress.reading.source import MOST_BYTES
from PIL import Image, PngImagePlugin

SECRET = "N 53 12, camera of a parent"


def png(size: tuple[int, int] = (200, 120), colour: str = "#1f4e9e", **more: object) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", size, colour).save(file, "PNG", **more)
    return file.getvalue()


def with_place() -> dict[str, bytes]:
    """Pictures that say in every way that these formats have where and when they were taken."""
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", SECRET)
    info.add_itxt("XML:com.adobe.xmp", SECRET)
    exif = Image.Exif()
    exif[0x010E] = SECRET  # ImageDescription, Exif 2.32
    exif[0x0112] = 6  # Orientation: to be turned by 90 degrees
    jpeg = io.BytesIO()
    Image.new("RGB", (200, 120), "#1f4e9e").save(jpeg, "JPEG", exif=exif, comment=SECRET.encode())
    return {"png": png(pnginfo=info, exif=exif, icc_profile=SECRET.encode()), "jpeg": jpeg.getvalue()}


@pytest.mark.parametrize("kind", ["png", "jpeg"])
def test_what_is_published_holds_nothing_of_the_file_but_its_pixels(kind: str) -> None:
    content = with_place()[kind]
    assert SECRET.encode() in content or b"iCCP" in content
    for made in (square(content, 96, 32), square(content, 384), icon(content, 512, "#fff", masked=True)):
        assert SECRET.encode() not in made
        assert {kind for kind, _ in chunks(made)} <= {b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND"}


def chunks(content: bytes) -> list[tuple[bytes, bytes]]:
    """The chunks of a PNG file (W3C PNG, 5.3)."""
    at, found = 8, []
    while at < len(content):
        (length,) = struct.unpack(">I", content[at : at + 4])
        found.append((content[at + 4 : at + 8], content[at + 8 : at + 8 + length]))
        at += 12 + length
    return found


def test_a_picture_that_says_that_it_lies_on_its_side_is_put_upright() -> None:
    """Exif 2.32, Orientation 6: rows are the right-hand side; so 200 by 120 is 120 by 200."""
    made = Image.open(io.BytesIO(square(with_place()["jpeg"], 100)))
    left, above, right, below = made.getchannel("A").point(lambda alpha: 255 * (alpha > 127)).getbbox() or ()
    assert (right - left, below - above) == (60, 100)


@pytest.mark.parametrize("size", [(200, 200), (100, 400), (400, 100)])
def test_a_masked_icon_is_whole_within_the_circle_that_no_device_cuts(size: tuple[int, int]) -> None:
    """W3C Web Application Manifest, "Icon masks and safe zone": a circle with 40 % of the width as its radius."""
    made = Image.open(io.BytesIO(icon(png(size), 512, "#fcfbf7", masked=True))).convert("RGB")
    ground = made.getpixel((0, 0))
    drawn = [(x, y) for x in range(0, 512, 3) for y in range(0, 512, 3) if far(made.getpixel((x, y)), ground)]
    assert drawn
    assert max(((x - 256) ** 2 + (y - 256) ** 2) ** 0.5 for x, y in drawn) <= 0.4 * 512 + 2
    assert len(drawn) > 500, "and it is not lost in the middle"


def far(one: object, other: object) -> bool:
    assert isinstance(one, tuple)
    assert isinstance(other, tuple)
    return sum(abs(a - b) for a, b in zip(one, other, strict=True)) > 60


def header_of(width: int, height: int) -> bytes:
    """A PNG whose header says that it is so large, and which has no pixels."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = [(b"IHDR", head), (b"IDAT", zlib.compress(b"")), (b"IEND", b"")]
    packed = (struct.pack(">I", len(c)) + k + c + struct.pack(">I", zlib.crc32(k + c)) for k, c in parts)
    return b"\x89PNG\r\n\x1a\n" + b"".join(packed)


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "no picture"),
        (b"\x89PNG\r\n\x1a\n", "no picture"),
        (b"GIF89a\1\0\1\0\0\0\0;", "no picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "no picture"),
        (header_of(200, 200), "no picture"),
        (header_of(4_001, 20), "a picture of 4001 by 20 pixels, allowed 96 to 4,000"),
        (header_of(12_000, 12_000), "a picture of too many pixels"),
        (header_of(60_000, 60_000), "a picture of too many pixels"),
        (png((95, 20)), "a picture of 95 by 20 pixels"),
        (png((96, 20)) + bytes(MOST_BYTES), "more than 1,000,000 bytes"),
    ],
    ids=[
        "nothing",
        "its first bytes",
        "another format",
        "svg",
        "no pixels",
        "wide",
        "large",
        "huge",
        "tiny",
        "heavy",
    ],
)
def test_what_is_no_picture_for_a_page_is_refused_with_a_reason(content: bytes, why: str) -> None:
    with pytest.raises(NoPictureError, match=why):
        picture("crest.png", content)


@pytest.mark.parametrize("seed", range(40))
def test_a_broken_file_is_refused_or_read_and_nothing_else(seed: int) -> None:
    content = bytearray(with_place()["png" if seed % 2 else "jpeg"])
    content[(seed * 7919) % len(content)] ^= 1 << seed % 8
    del content[len(content) - (seed * 131) % 400 :]
    with contextlib.suppress(NoPictureError):
        assert picture("crest.png", bytes(content)).content == content
