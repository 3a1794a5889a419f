"""Styles, scripts and pictures of the theme folder, under names that change with their content.

A script names those that it imports as they lie in the theme folder. Each of these becomes the name that the
site has, so that a page and all that it imports are of one build.
"""

from __future__ import annotations

import hashlib
import posixpath
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

_CSS_COMMENT = re.compile(rb"/\*.*?\*/\s*", re.DOTALL)
_IMPORTED = re.compile(r"""((?:\bfrom|\bimport)\s*\(?\s*)(["'])(\.[^"']+)\2""")


class AssetError(Exception):
    """A script that imports one which is not there, or in a circle: a fault of the theme folder."""


@dataclass(frozen=True, slots=True)
class Assets:
    """The files by the names they have in the theme folder: where the site has them, and what is in them."""

    files: Mapping[str, tuple[str, bytes]]

    @property
    def addresses(self) -> dict[str, str]:
        """Where the site has them, by the names they have in the theme folder."""
        return {name: address for name, (address, _) in self.files.items()}


def script(text: str) -> str:
    """A script without the lines that only a developer reads."""
    return "".join(_without_comments(text))


def assets(folder: Path) -> Assets:
    """The assets of every page; what only a developer reads is left behind. Raises AssetError."""
    found = _Found(folder)
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            found.add(path.relative_to(folder).as_posix())
    return Assets(found.files)


def _without_comments(script: str) -> Iterator[str]:
    """The lines of a script less those that are comments alone; what a text in backquotes holds stays."""
    in_text = in_comment = False
    for line in script.splitlines(keepends=True):
        begins = line.lstrip()
        if not in_text and (in_comment or begins.startswith(("//", "/**"))):
            in_comment = not begins.startswith("//") and "*/" not in line
            continue
        in_text ^= line.count("`") % 2 == 1
        yield line


class _Found:
    """The files met so far; those that a script imports are met before it, since its name rests on theirs."""

    def __init__(self, folder: Path) -> None:
        self.files: dict[str, tuple[str, bytes]] = {}
        self._folder = folder
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
        try:
            content = (self._folder / name).read_bytes()
        except FileNotFoundError:
            raise AssetError(f"{self._under_way[-2]} imports {name}, which is not there") from None
        if name.endswith(".css"):
            return _CSS_COMMENT.sub(b"", content)
        if name.endswith(".js"):
            return self._script(name, script(content.decode())).encode()
        return content

    def _script(self, name: str, text: str) -> str:
        here = posixpath.dirname(name)

        def address(imported: re.Match[str]) -> str:
            before, quote, target = imported.groups()
            to = self.add(posixpath.normpath(posixpath.join(here, target)))
            relative = posixpath.relpath(to, posixpath.join("assets", here))
            return f"{before}{quote}{relative if relative.startswith('.') else f'./{relative}'}{quote}"

        return _IMPORTED.sub(address, text)
