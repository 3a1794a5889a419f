"""The addresses that search engines may list, as the sitemap protocol (sitemaps.org, 0.9) writes them."""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape

MOST = 50_000
"""Bound of the protocol on the addresses of one file."""


def sitemap(addresses: Iterable[str], site_url: str) -> bytes:
    """The sitemap; it gives no dates, since the files hold none of when a page was changed."""
    shown = sorted(addresses)[:MOST]
    rows = "".join(f"<url><loc>{escape(site_url + address)}</loc></url>\n" for address in shown)
    head = '<?xml version="1.0" encoding="UTF-8"?>\n<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n'
    return f"{head}{rows}</urlset>\n".encode()
