"""The icons of the manifest, drawn from the one icon: `python -m tests.browser.icons` draws and writes them."""

import io
import os
import struct
import sys
import zlib
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, sync_playwright

from tests.browser import chromium
from tests.conftest import ROOT

FOLDER = ROOT / "theme_overrides" / "icons"
ICON = "icon.svg"
ROUNDED = ' rx="10"'
# File, pixels, and whether a device cuts it to a shape of its own.
ICONS = (("icon-192.png", 192, False), ("icon-512.png", 512, False), ("icon-maskable.png", 512, True))
# The drawing's far corner lies 26 of 64 from the middle (8 and 22 to 32 and 32); a device may cut at 40 % of the
# width, 25.6 (W3C Web Application Manifest, "Icon masks and safe zone"). At 0.8 there is air.
SMALLER = 0.8


def drawn(maskable: bool) -> str:
    """The SVG of an icon; a maskable one has its ground to the edges and its drawing well inside."""
    svg = (FOLDER / ICON).read_text(encoding="utf-8")
    if not maskable:
        return svg
    assert svg.count(ROUNDED) == 1
    ground, end, drawing = svg.replace(ROUNDED, "").partition("/>")
    at = 32 * (1 - SMALLER)
    group = f'<g transform="translate({at:g} {at:g}) scale({SMALLER})">'
    return ground + end + group + drawing.replace("</svg>", "</g></svg>")


def picture(browser: Browser, maskable: bool, pixels: int) -> bytes:
    """RGBA, row by row, as the browser draws it."""
    context = browser.new_context(viewport={"width": pixels, "height": pixels})
    try:
        page = context.new_page()
        page.set_content(f"<style>body{{margin:0}}svg{{display:block;width:100vw}}</style>{drawn(maskable)}")
        return read(page.screenshot(omit_background=True))
    finally:
        context.close()


def read(png: bytes) -> bytes:
    """RGBA of a PNG, row by row."""
    return Image.open(io.BytesIO(png)).convert("RGBA").tobytes()


def write(pixels: bytes, width: int) -> bytes:
    """A square PNG of RGBA. Rows that differ little from the one above pack best as the difference (filter 2)."""
    stride, raw, above = width * 4, bytearray(), bytes(width * 4)
    for at in range(0, len(pixels), stride):
        row = pixels[at : at + stride]
        raw += b"\2" + bytes((one - other) & 255 for one, other in zip(row, above, strict=True))
        above = row
    head = struct.pack(">IIBBBBB", width, len(pixels) // stride, 8, 6, 0, 0, 0)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(bytes(raw), 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, content) for kind, content in parts)


def _chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


def _main(path: str, to: Path) -> None:
    sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=sandbox)
        for name, pixels, maskable in ICONS:
            png = write(picture(browser, maskable, pixels), pixels)
            (to / name).write_bytes(png)
            print(f"{name}: {len(png)} bytes")
        browser.close()


if __name__ == "__main__":
    found = chromium.find(os.environ)
    sys.exit(_main(found, FOLDER) if found else chromium.HOW_TO_GET_ONE)
