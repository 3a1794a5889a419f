"""The templates: one a page kind, author text always escaped, and what every page says."""

from __future__ import annotations

import base64
import hashlib
from functools import lru_cache
from typing import Any

from jinja2 import BytecodeCache, Environment, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup

from ..drawing.ribbon import HATCH
from ..reading.addresses import Address
from ..reading.shipped import THEME
from ..telling.views import safety
from ..telling.views.sheet_tables import SAYS, WAY
from ..telling.views.words import EFFORT

_POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'{inline}; img-src 'self' data:; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"
)
CACHED_MACROS = {
    "stop": ("parts", "stop"),
    "folded_stop": ("parts", "folded_stop"),
    "how": ("parts", "how"),
    "opening_sheet": ("parts", "sheet"),
    "opening_order": ("parts", "order"),
    "ways": ("parts", "ways"),
    "foot": ("frame", "foot"),
}
"""Macros with their files, by the names under which templates find them with their texts cached: for what
stands word for word on many pages."""
_CACHED_TEXTS = 1024
WORDS = {"SAYS": SAYS, "WAY": WAY}
"""What the build counts on when it fits a sheet to its page."""


class _Compiled(BytecodeCache):
    """Compiled templates, kept from one build of a preview to the next; one that has changed is not used."""

    def __init__(self) -> None:
        self._by_key: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key in self._by_key:
            bucket.bytecode_from_string(self._by_key[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._by_key[bucket.key] = bucket.bytecode_to_string()


COMPILED = _Compiled()


def policy(*, preview: bool, inline: str = "") -> str:
    """The content security policy. It lets an `inline` script run, which stands in the page word for word; in
    a preview any, as the preview's own reloads the page."""
    if preview:
        return _POLICY.format(inline=" 'unsafe-inline'")
    return _POLICY.format(inline=f" {hashed(inline)}" if inline else "")


def hashed(text: str) -> str:
    """What a policy lets through that stands in a page word for word (CSP 3, 2.3.1, hash-source)."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


class Templates:
    """The templates of the theme folder, each compiled once."""

    def __init__(self, *, root: str | None = None, ours: str = "", **shared: object) -> None:
        """`shared` is what every template knows. `root` is what links begin with, instead of the way to the
        top of the site. `ours` is what marks a text of ours that stands where a club's words may stand."""
        self._root = root
        self._by_name: dict[str, Any] = {}
        self._environment = Environment(
            loader=FileSystemLoader(THEME / "templates"),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
            bytecode_cache=COMPILED,
        )
        self._environment.globals.update(
            Address=Address,
            safety=safety,
            effort=EFFORT,
            hatch=HATCH,
            ours=Markup(ours),
            **WORDS,
            **shared,
        )
        files: dict[str, Any] = {
            name: self._environment.get_template(f"{name}.html").module for name in ("parts", "frame")
        }
        self._environment.globals.update(files)
        for name, (file, macro) in CACHED_MACROS.items():
            cached = lru_cache(maxsize=_CACHED_TEXTS)(getattr(files[file], macro))
            self._environment.globals[name] = cached

    def text(self, template: str, address: str, **words: object) -> str:
        """A template filled in, for a page at `address`."""
        if template not in self._by_name:
            self._by_name[template] = self._environment.get_template(template)
        root = self._root if self._root is not None else "../" * address.count("/") or "./"
        text: str = self._by_name[template].render(root=root, address=address, **words)
        return text
