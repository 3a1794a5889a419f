"""Styles, scripts and icons of the theme folder, under names that change with their content.

A script names those that it imports as they lie in the theme folder. Each of these becomes the name that the
site has, so that a page and all that it imports are of one build. A style's imports are put into it, and so
are those of a script that is fetched late (`bundle`): one request, and a third less to fetch than two dozen.
"""

from __future__ import annotations

import hashlib
import posixpath
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

import rjsmin

from ..reading.shipped import THEME
from ..reading.theme import TOKENS
from ..telling.views.shared import WRITTEN
from . import bundling
from .look import Look

_FOLDERS = {"css": (".css",), "icons": (".png", ".svg"), "js": (".js",)}
MISSING = "js/missing.js"
"""The script that stands in the page for a wrong address."""
_NOT_ALONE = (TOKENS, "css/pack.css", "css/review.css", MISSING)
"""What no page of the site asks for: one style is put into others, two are for packs and for the coach's
review."""
_CSS_COMMENT = re.compile(r"/\*.*?\*/\s*", re.DOTALL)
_CSS_IMPORT = re.compile(r"""^@import "(.+?)";\n""", re.MULTILINE)
_IMPORTED = re.compile(r"""((?:\bfrom|\bimport)\s*\(?\s*)(["'])(\.[^"']+)\2""")
_IMPORT_LINE = re.compile(r"""^import \{[^}]*\} from "(.+?)";\n""", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=async |class |const |function |let )", re.MULTILINE)
_TYPE = re.compile(r"/\*\* @(?:type|satisfies) \{.*?\} \*/ ?")

_BUNDLES = {"js/guided/guided.js": "js/page.js"}
"""Scripts that are one file with what they import, and the page's script, whose own imports are there
before."""
_PLAIN = Look()


class AssetError(Exception):
    """A file that imports one which is not there, or in a circle: a fault of the theme folder."""


@dataclass(frozen=True, slots=True)
class Assets:
    """The files by the names they have in the theme folder: where the site has them, and what is in them."""

    files: Mapping[str, tuple[str, bytes]]

    @property
    def addresses(self) -> dict[str, str]:
        """Where the site has them, by the names they have in the theme folder."""
        return {name: address for name, (address, _) in self.files.items()}


def assets(
    folder: Path = THEME, written: Mapping[str, str] = WRITTEN, look: Look = _PLAIN, *, loose: bool = False
) -> Assets:
    """The assets of every page; what only a developer reads is left behind. Raises AssetError.

    `written` has files that are not in the theme folder, by the names that they would have there; `look` is
    what the club's pages wear. `loose` leaves every script a file of its own, for tests that ask one alone.
    """
    bundles = {} if loose else {name: page for name, page in _BUNDLES.items() if (folder / name).exists()}
    found = _Found(folder, written, look, bundles)
    within = {posixpath.dirname(name) for name in bundles}
    names = [
        path.relative_to(folder).as_posix()
        for kind, suffixes in _FOLDERS.items()
        for path in (folder / kind).rglob("*")
        if path.suffix in suffixes
    ]
    for name in sorted({*names, *written, *found.pictures} - {*_NOT_ALONE}):
        if name in bundles or posixpath.dirname(name) not in within:
            found.add(name)
    return Assets(found.files)


def worker(name: str, folder: Path = THEME) -> str:
    """A service worker as one file, with the scripts that it imports put into it. Raises AssetError.

    Not every browser of the site's floor loads a worker as a module (Firefox 115 does not).
    """

    def put_in(line: re.Match[str]) -> str:
        imported = posixpath.normpath(posixpath.join(posixpath.dirname(name), line[1]))
        part = _read(folder, imported, name)
        if _IMPORTED.search(script(part)):
            raise AssetError(f"{name} imports {imported}, which imports another")
        return _EXPORT.sub("", part)

    return script(_IMPORT_LINE.sub(put_in, _read(folder, name, name)))


def script(text: str) -> str:
    """A script without what only a developer reads: comments, types, layout."""
    # A type may stand between backquotes, where all else is a text and stays.
    return str(rjsmin.jsmin(_TYPE.sub("", text)))


def style(folder: Path, name: str, look: Look = _PLAIN) -> str:
    """A style without its comments, on few lines, with what it imports put into it. Raises AssetError."""
    text = _CSS_COMMENT.sub("", _read(folder, name, name))
    here = posixpath.dirname(name)

    def put_in(line: re.Match[str]) -> str:
        imported = posixpath.join(here, line[1])
        part = _CSS_COMMENT.sub("", _read(folder, imported, name))
        return look.tokens(part) if imported == TOKENS else part

    return _CSS_IMPORT.sub(put_in, text).replace("}\n", "}")


def _read(folder: Path, name: str, by: str) -> str:
    try:
        return (folder / name).read_text(encoding="utf-8")
    except FileNotFoundError:
        raise AssetError(f"{by} imports {name}, which is not there") from None


class _Found:
    """The files met so far; those that a script imports are met before it, since its name rests on theirs."""

    def __init__(
        self,
        folder: Path,
        written: Mapping[str, str],
        look: Look,
        bundles: Mapping[str, str] = MappingProxyType({}),
    ) -> None:
        self.files: dict[str, tuple[str, bytes]] = {}
        self.pictures = look.pictures(folder)
        self._look = look
        self._folder = folder
        self._written = written
        self._bundles = bundles
        self._under_way: list[str] = []

    def add(self, name: str) -> str:
        """Where the site has the file."""
        if name not in self.files:
            if name in self._under_way:
                raise AssetError(f"scripts import each other: {' → '.join([*self._under_way, name])}")
            self._under_way.append(name)
            content = self._content(name)
            self._under_way.pop()
            stem, dot, suffix = name.rpartition(".")
            digest = hashlib.sha256(content).hexdigest()[:8]
            self.files[name] = f"assets/{stem}.{digest}{dot}{suffix}", content
        return self.files[name][0]

    def _content(self, name: str) -> bytes:
        if name.endswith(".css"):
            if name in self._written:
                return self._written[name].encode()
            return style(self._folder, name, self._look).encode()
        if name.endswith(".js"):
            if name in self._bundles:
                there = bundling.reached(self._bundles[name], self._text)
                return self._script(name, script(bundling.bundle(name, there, self._text))).encode()
            return self._script(name, script(self._text(name, self._under_way[-2:][0]))).encode()
        return self.pictures[name] if name in self.pictures else (self._folder / name).read_bytes()

    def _text(self, name: str, by: str) -> str:
        return self._written[name] if name in self._written else _read(self._folder, name, by)

    def _script(self, name: str, text: str) -> str:
        here = posixpath.dirname(name)

        def address(imported: re.Match[str]) -> str:
            before, quote, target = imported.groups()
            to = self.add(posixpath.normpath(posixpath.join(here, target)))
            relative = posixpath.relpath(to, posixpath.join("assets", here))
            return f"{before}{quote}{relative if relative.startswith('.') else f'./{relative}'}{quote}"

        return _IMPORTED.sub(address, text)
