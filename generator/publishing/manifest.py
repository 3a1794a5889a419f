"""The manifest of each programme, by which a device installs it (W3C, Web Application Manifest)."""

from __future__ import annotations

import json
import posixpath
from collections.abc import Mapping

from ..reading.addresses import Address
from ..reading.catalogue import Catalogue
from ..reading.theme import tokens

_ICONS = (
    ("icons/icon-192.png", "192x192", "any"),
    ("icons/icon-512.png", "512x512", "any"),
    ("icons/icon-maskable.png", "512x512", "maskable"),
)


def manifests(catalogue: Catalogue, addresses: Mapping[str, str]) -> dict[str, bytes]:
    """Every manifest by the name of its file. `addresses`: where the site has files of the theme folder."""
    club = catalogue.club.model if catalogue.club else None
    return {
        Address.MANIFEST.at(programme=programme.id): _manifest(
            programme.id,
            f"{programme.model.title} – {club.club}" if club else programme.model.title,
            programme.model.title,
            club.language if club else "en",
            addresses,
            (club.look.colour if club else None) or tokens().light["brand"],
        )
        for programme in catalogue.programmes.values()
    }


def _manifest(
    programme: str, name: str, title: str, language: str, addresses: Mapping[str, str], colour: str
) -> bytes:
    """Starts at the programme's page; exercises and log lie in the scope, which is the whole site.

    There is no `id`: the standard then takes the address of that page, which never changes and is another one
    for each of two sites on one host. A relative `id` counts from the top of the host, where they could meet.
    """
    top = posixpath.relpath(".", programme)
    content = {
        "name": name,
        "short_name": title,
        "lang": language,
        "dir": "auto",
        "start_url": "./",
        "scope": f"{top}/",
        "display": "standalone",
        "theme_color": colour,
        "background_color": tokens().light["paper"],
        "icons": [
            {"src": f"{top}/{addresses[icon]}", "sizes": sizes, "type": "image/png", "purpose": purpose}
            for icon, sizes, purpose in _ICONS
        ],
    }
    return json.dumps(content, ensure_ascii=False, indent=1).encode() + b"\n"
