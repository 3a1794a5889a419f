"""Whether a public address is one that nobody can have: a name that is kept for examples."""

from __future__ import annotations

from contextlib import suppress
from urllib.parse import urlsplit

DEMO = "Ravelmouth Juniors"
"""The club of the demo, which no club is; its address is meant to be an example."""
_RESERVED = ("test", "example", "invalid", "localhost", "example.com", "example.net", "example.org")
"""RFC 2606, sections 2 and 3."""


def is_reserved(address: str) -> bool:
    """Whether the host of an address is a name, or below a name, that RFC 2606 keeps for examples."""
    with suppress(ValueError):
        host = (urlsplit(address).hostname or "").rstrip(".")
        return any(f".{host}".endswith(f".{name}") for name in _RESERVED)
    return False


def warning(address: str, club: str) -> str:
    """What to tell a club whose pages are to say an address of nobody's; nothing where all is well."""
    if club == DEMO or not is_reserved(address):
        return ""
    return (
        f"site_url in mkdocs.yml is {address}, a name kept for examples (RFC 2606): what is scanned from "
        "paper or subscribed to leads nowhere. Write the club's own address there"
    )
