"""QR codes as the tests read them: by a decoder that has nothing to do with what drew them."""

import re
from collections.abc import Iterator

import pypdfium2
import zxingcpp
from PIL import Image, ImageChops, ImageDraw, ImageFilter

MM = 25.4


def picture(pdf: bytes, dots: int) -> Image.Image:
    """The first page of a PDF file in grey, at so many dots an inch."""
    return next(_pictures(pdf, dots))


def pictures(pdf: bytes, dots: int) -> list[Image.Image]:
    """Every page of a PDF file in grey."""
    return list(_pictures(pdf, dots))


def _pictures(pdf: bytes, dots: int) -> Iterator[Image.Image]:
    for page in pypdfium2.PdfDocument(pdf):
        yield page.render(scale=dots / 72, grayscale=True).to_pil()


def codes(image: Image.Image) -> list[zxingcpp.Barcode]:
    """Every code in a picture."""
    return zxingcpp.read_barcodes(image)


def texts(image: Image.Image) -> list[str]:
    """What the codes in a picture say."""
    return [code.text for code in codes(image)]


def copied(image: Image.Image, dots: int, to: int = 150) -> Image.Image:
    """What a worn copier makes of a page: coarser, laid on askew, blurred, pale, grey ground, grain.

    The amounts are chosen by eye, from memory of such sheets; no source. The grain differs from run to run.
    """
    size = (image.width * to // dots, image.height * to // dots)
    coarse = image.resize(size, Image.Resampling.BOX).filter(ImageFilter.GaussianBlur(0.8))
    pale = coarse.point(lambda value: round(40 + value * 0.7))
    askew = pale.rotate(2, expand=True, fillcolor=200, resample=Image.Resampling.BICUBIC)
    return ImageChops.add(askew, Image.effect_noise(askew.size, 10), scale=1, offset=-128)


def faxed(image: Image.Image, dots: int) -> Image.Image:
    """Black or white, 204 by 196 dots an inch: about the fine resolution of ITU-T T.4 (from memory)."""
    size = (image.width * 204 // dots, image.height * 196 // dots)
    return image.resize(size, Image.Resampling.BOX).point(lambda value: 255 if value > 140 else 0)


def drawn(svg: str, scale: int = 4) -> Image.Image:
    """A code of the site as a picture, its strokes drawn one by one as SVG 2 says; 9.5, `m` and `h`."""
    side = int(re.findall(r'viewBox="0 0 (\d+) \1"', svg)[0])
    image = Image.new("L", (side * scale, side * scale), 255)
    pen = ImageDraw.Draw(image)
    for left, row, right in strokes(svg):
        pen.rectangle((left * scale, row * scale, right * scale - 1, (row + 1) * scale - 1), fill=0)
    return image


def strokes(svg: str) -> list[tuple[int, int, int]]:
    """(left, row, right) of every stroke, in modules."""
    (path,) = re.findall(r'<path d="M0 \.5((?:m-?\d+ \d+h\d+)+)"/>', svg)
    x = y = 0
    found = []
    for across, down, length in re.findall(r"m(-?\d+) (\d+)h(\d+)", path):
        x, y = x + int(across), y + int(down)
        found.append((x, y, x + int(length)))
        x += int(length)
    return found
