"""Whether the settings beside a tree say an address that its pages can have."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from ..reading.catalogue import Catalogue
from ..reading.club_folder import settings_of
from ..reading.findings import Finding, shown
from ..reading.public_address import DEMO, is_reserved
from ..reading.source import MOST_BYTES
from .sources import cited

_SITE_URL = re.compile(r"^site_url *: *(?:\"([^\"\n]*)\"|'([^'\n]*)'|([^\s#]*))", re.MULTILINE)
_MEND = "write the club's own address there, such as site_url: https://…"


def address_findings(tree: Path, catalogue: Catalogue) -> Iterator[Finding]:
    """A reserved name as the public address of a club that is not the demo's, or none at all.

    Only the line of the address is read: what else stands in the settings is not ours to judge.
    """
    settings = settings_of(tree)
    if (
        settings is None
        or catalogue.club is None
        or not any(p.versions for p in catalogue.programmes.values())
    ):
        return
    found = _SITE_URL.search(_text(settings))
    address = next((one for one in found.groups() if one), "") if found else ""
    if not address:
        message = (
            "no site_url: sheets have no code to scan, and calendars and feeds no address to subscribe to"
        )
    elif is_reserved(address) and catalogue.club.model.club != DEMO:
        message = f"site_url: found {shown(address)}, a name kept for examples, which leads nowhere"
    else:
        return
    line = _text(settings)[: found.start()].count("\n") + 1 if found else 1
    file = str(tree.parent / settings.name)
    yield Finding("address", "warning", file, line, 1, "", message, _MEND, cited("rfc-2606"))


def _text(settings: Path) -> str:
    with suppress(OSError):
        if settings.is_file():
            with settings.open("rb") as file:
                return file.read(MOST_BYTES).decode("utf-8", "replace")
    return ""
