"""The demo site with a script at the head of each page that notes complaints: WebKit's driver tells of none."""

import hashlib
import json
import shutil
from pathlib import Path

from tests.browser import loose

from .driver import WATCH

FRAME = "frame.html"
"""A page without a policy, which may hold another one in a frame."""
_HEAD = '<meta charset="utf-8">\n'


def watched(site: Path, to: Path) -> Path:
    """Copies the site. The lists of what a device keeps are put right, or it would keep nothing."""
    shutil.copytree(site, to)
    (to / "watch.js").write_text(WATCH, encoding="utf-8")
    (to / FRAME).write_text("<!doctype html><meta charset=utf-8><title>Frame</title><body>", encoding="utf-8")
    loose.write(to)
    digests = {}
    for page in to.rglob("index.html"):
        address = page.parent.relative_to(to).as_posix()
        address = "" if address == "." else f"{address}/"
        text = page.read_text(encoding="utf-8")
        assert _HEAD in text
        tag = f'<script src="{"../" * address.count("/")}watch.js"></script>\n'
        page.write_text(text.replace(_HEAD, _HEAD + tag, 1), encoding="utf-8")
        digests[address] = hashlib.sha256(page.read_bytes()).hexdigest()
    for name in to.rglob("*/offline.json"):
        kept = json.loads(name.read_text(encoding="utf-8"))
        for files in (kept["files"], *(phase["files"] for phase in kept["phases"])):
            for address in digests.keys() & files.keys():
                files[address] = digests[address][: len(files[address])]
        name.write_text(json.dumps(kept), encoding="utf-8")
    return to
