"""Several scripts as one file: each within a function of its own, so that their names do not meet.

For scripts as this theme writes them: imports of names alone or of a whole module, at the top, each on a
line of its own; exports of functions, classes and constants where they stand. Anything else is an error, not
a guess.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Collection

Read = Callable[[str, str], str]
"""Gives a script by its name; the second is who asks for it."""
_IMPORT = re.compile(r"""^import (?:\{([^}]*)\}|\* as (\w+)) from "(\.[^"]+)";\n?""", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async function|function|class|const) (\w+))", re.MULTILINE)
_LEFT = re.compile(r"""^(?:import|export)\b.*""", re.MULTILINE)
_STATIC = re.compile(r"""^(?:import|export)\b[^"]*? from "(\.[^"]+)";""", re.MULTILINE)


class BundleError(Exception):
    """A script that cannot be put into one with others: a fault of the theme folder."""


def reached(name: str, read: Read) -> frozenset[str]:
    """A script and all that it imports at once; what it imports later is not among them."""
    found: set[str] = set()
    ahead = [(name, name)]
    while ahead:
        one, by = ahead.pop()
        if one not in found:
            found.add(one)
            ahead += [(_target(one, to), one) for to in _STATIC.findall(read(one, by))]
    return frozenset(found)


def bundle(name: str, there: Collection[str], read: Read) -> str:
    """A script with all that it imports, but for those that are `there` already. Raises BundleError."""
    making = _Bundle(name, there, read)
    making.add(name, name)
    exported = ",".join(making.exports[name])
    return f"{making.head}{''.join(making.parts)}export const {{{exported}}}={making.known[name]};\n"


def _target(by: str, path: str) -> str:
    return posixpath.normpath(posixpath.join(posixpath.dirname(by), path))


class _Bundle:
    def __init__(self, name: str, there: Collection[str], read: Read) -> None:
        self._top, self._there, self._read = name, there, read
        self.head = ""
        self.parts: list[str] = []
        self.known: dict[str, str] = {}
        self.exports: dict[str, list[str]] = {}
        self._under_way: list[str] = []

    def add(self, name: str, by: str) -> str:
        """The constant that holds what a script exports."""
        if name in self.known:
            return self.known[name]
        if name in self._under_way:
            raise BundleError(f"scripts import each other: {' → '.join([*self._under_way, name])}")
        constant = f"${len(self.known) + len(self._under_way)}"
        if name in self._there:
            constant = f"$${len(self.known)}"
            path = posixpath.relpath(name, posixpath.dirname(self._top))
            self.head += f'import * as {constant} from "{path if path.startswith(".") else f"./{path}"}";\n'
        else:
            self._under_way.append(name)
            part = self._part(name, self._read(name, by))
            self._under_way.pop()
            self.parts.append(f"const {constant}=(()=>{{\n{part}}})();\n")
        self.known[name] = constant
        return constant

    def _part(self, name: str, text: str) -> str:
        def taken(line: re.Match[str]) -> str:
            names, whole, path = line.groups()
            constant = self.add(_target(name, path), name)
            return f"const {whole or '{' + re.sub(r' as ', ':', names).strip() + '}'}={constant};\n"

        text = _IMPORT.sub(taken, text)
        self.exports[name] = _EXPORT.findall(text)
        text = _EXPORT.sub("", text)
        left = _LEFT.search(text)
        if left:
            raise BundleError(f"{name} has an import or export that is not known here: {left[0]}")
        return f"{text.rstrip()}\nreturn{{{','.join(self.exports[name])}}};"
